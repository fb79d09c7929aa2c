"""Whether a reading meets its standard, as a probability and as one of five statements, never a bare pass at the limit.

Evaluation of measurement data - The role of measurement uncertainty in conformity assessment (JCGM 106:2012), clause
7: with a normal law and no other knowledge the true value is N(reading, u^2), and the probability of conformity is
its mass between the limits.
"""

import math

from ...basis.chance import normal_within
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


def statement_of(probability: float) -> Statement:
    """The statement that may be made at this probability of conformity."""
    for least, statement in STATEMENTS:
        if probability >= least:
            return statement
    for limit, statement in MORE_THAN:
        if probability > limit:
            return statement
    return "does_not"


def conformity_probability(low: float | None, high: float | None, value: float, u: float) -> float:
    """Probability that the true value lies within the limits, no other knowledge (JCGM 106, 7.2 to 7.4)."""
    return normal_within(low, high, value, u)


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
