"""Risks of accepting and refusing by a measurement, over what a process makes.

JCGM 106:2012, clause 9.5: with a normal law of the process and a normal reading, the consumer's global risk is the
chance that an item is bad and accepted, the producer's that it is good and refused.
"""

from collections.abc import Callable

from ...basis.chance import normal_density, normal_within

Limits = tuple[float | None, float | None]
_STEPS = 2000  # even; Simpson's rule is then right to 1e-9 on these smooth pieces
_REACH = 9.0


def global_risks(mean: float, sd: float, u: float, tolerance: Limits, acceptance: Limits) -> tuple[float, float]:
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
