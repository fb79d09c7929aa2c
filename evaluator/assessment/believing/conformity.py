"""Whether a reading meets its standard: a probability, one of five statements, and the risks of accepting by it.

Never a bare pass at the limit. Evaluation of measurement data - The role of measurement uncertainty in conformity
assessment (JCGM 106:2012), clause 7: with a normal law and no other knowledge the true value is N(reading, u^2), and
the probability of conformity is its mass between the limits. Clause 9.5: with a normal law of the process and a normal
reading, the consumer's global risk is the chance that an item is bad and accepted, the producer's that it is good and
refused.
"""

import math
from collections.abc import Callable

from ...basis.chance import normal_density, normal_within
from ...rubric.rubric import Limits, Rubric
from ...rubric.written.checks import Check
from ...rubric.written.surroundings import Tool
from ..model import Conformity, Statement
from ..observing.uncertainty import in_quadrature, tool_uncertainty
from ..reasons.facts import Settle

# At least this probable for the first three statements, more than this for the fourth.
STATEMENTS: tuple[tuple[float, Statement], ...] = ((0.95, "meets"), (0.75, "probably"))
MORE_THAN: tuple[tuple[float, Statement], ...] = ((0.25, "cannot_tell"), (0.05, "probably_not"))
DECIDED = frozenset({"meets", "does_not"})
Sides = tuple[float | None, float | None]  # the lower and the upper limit, None where there is none
_STEPS = 2000  # even; Simpson's rule is then right to 1e-9 on these smooth pieces
_REACH = 9.0  # standard deviations


def conformity_probability(low: float | None, high: float | None, value: float, u: float) -> float:
    """Probability that the true value lies within the limits, no other knowledge (JCGM 106, 7.2 to 7.4)."""
    return normal_within(low, high, value, u)


def statement_of(probability: float) -> Statement:
    """The statement that may be made at this probability of conformity."""
    for least, statement in STATEMENTS:
        if probability >= least:
            return statement
    for limit, statement in MORE_THAN:
        if probability > limit:
            return statement
    return "does_not"


def with_prior(prior_mean: float, prior_u: float, value: float, u: float) -> tuple[float, float]:
    """Value and standard uncertainty after a normal prior is joined to a reading (JCGM 106, 6.3 and annex A)."""
    precision = 1.0 / prior_u**2 + 1.0 / u**2
    return (prior_mean / prior_u**2 + value / u**2) / precision, 1.0 / math.sqrt(precision)


def conformity(
    rubric: Rubric,
    check_id: str,
    limits: Limits,
    value: float,
    u: float,
    tool: str | None,
    prior: tuple[float, float] | None = None,
) -> Conformity:
    """The statement on one check's value, with what would settle it where it is open.

    `prior` is what was known before the reading, as mean and standard uncertainty; without it the reading stands alone.
    """
    if prior is not None:
        value, u = with_prior(*prior, value, u)
    probability = conformity_probability(limits.low, limits.high, value, u)
    statement = statement_of(probability)
    settle = None if statement in DECIDED else _settle(rubric, check_id, limits, value, u, tool)
    return Conformity(
        check_id,
        value,
        u,
        limits.unit,
        limits.low,
        limits.high,
        limits.target,
        probability,
        statement,
        limits.confidence,
        limits.sources,
        settle,
    )


def _settle(rubric: Rubric, check_id: str, limits: Limits, value: float, u: float, used: str | None) -> Settle:
    """The plainest tool with which the same reading would decide, or why none would."""
    check = rubric.checks[check_id]
    if check.measure is None:
        return Settle(code="finer_parts")
    unit = check.measure.unit
    for tool in _finer_tools(rubric, check, used):
        doubt = _u(tool, unit)
        if doubt < u and statement_of(conformity_probability(limits.low, limits.high, value, doubt)) in DECIDED:
            return Settle(code="finer_tool", tool=tool.say, step=tool.step, unit=tool.unit)
    return Settle(code="on_limit")


def _finer_tools(rubric: Rubric, check: Check, used: str | None) -> list[Tool]:
    """The check's other tools, from coarse to fine: no finer one is asked for than is needed.

    It is bound to them: a rule that reaches down to the soundpost is not to be had by naming a thickness gauge.
    """
    measure = check.measure
    if measure is None:
        return []
    named = (rubric.tools[name] for name in measure.tools if name in rubric.tools and name != used)
    return sorted(named, key=lambda one: -_u(one, measure.unit))


def _u(tool: Tool, unit: str) -> float:
    return in_quadrature(*tool_uncertainty(tool, unit))


def global_risks(mean: float, sd: float, u: float, tolerance: Sides, acceptance: Sides) -> tuple[float, float]:
    """(consumer's, producer's) global risk; `sd` of the process and `u` of the reading above 0."""

    def bad_and_accepted(x: float) -> float:
        return normal_density((x - mean) / sd) / sd * normal_within(*acceptance, x, u)

    def good_and_refused(x: float) -> float:
        return normal_density((x - mean) / sd) / sd * (1.0 - normal_within(*acceptance, x, u))

    low, high = tolerance
    bottom, top = mean - _REACH * sd, mean + _REACH * sd
    start = bottom if low is None else min(max(low, bottom), top)
    end = top if high is None else min(max(high, bottom), top)
    consumer = 0.0 if low is None else _simpson(bad_and_accepted, bottom, start)
    consumer += 0.0 if high is None else _simpson(bad_and_accepted, end, top)
    return consumer, _simpson(good_and_refused, start, end)


def _simpson(f: Callable[[float], float], start: float, end: float) -> float:
    if end <= start:
        return 0.0
    step = (end - start) / _STEPS
    inner = sum(f(start + i * step) * (4 if i % 2 else 2) for i in range(1, _STEPS))
    return (f(start) + inner + f(end)) * step / 3


def least_probability(cost_of_wrong_yes: float, cost_of_wrong_no: float) -> float:
    """The probability of conformity from which accepting is the cheaper choice: C_a / (C_a + C_r)."""
    return cost_of_wrong_yes / (cost_of_wrong_yes + cost_of_wrong_no)


def rectangular_conformity(low: float | None, high: float | None, value: float, half_width: float) -> float:
    """Probability of conformity when only bounds value +- half_width (above 0) are known: the overlap's share."""
    bottom, top = value - half_width, value + half_width
    start = bottom if low is None else max(low, bottom)
    end = top if high is None else min(high, top)
    return max(0.0, end - start) / (2.0 * half_width)
