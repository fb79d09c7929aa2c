"""Rules of money for decisions: what a candidate costs to own, and what reaches an owner; one scale for all beside."""

from collections.abc import Sequence
from math import ceil, floor

from .rules import Mark, nice_step, rule
from .shapes import Figure

NARROW_MM = 78.0


def scale_of(amounts: Sequence[float]) -> tuple[float, float]:
    """A low and a high end on whole steps for figures that are to be read beside each other; zero is on it."""
    lowest, highest = min(0.0, *amounts), max(0.0, *amounts)
    if highest - lowest <= 0:
        return 0.0, 100.0
    step = nice_step((highest - lowest) * 1.1, 4)
    low = floor(lowest / step) * step
    return low, max(ceil(highest * 1.06 / step) * step, low + step)


def cost_rule(asking: float, cost: float, p80: float, scale: tuple[float, float], width: float = NARROW_MM) -> Figure:
    """Asked, and to own at its standard, with a band up to what four of five cases stay within."""
    marks = [Mark(cost, f"to own {cost:,.0f}", "accent", cost, max(p80, cost))]
    if round(asking) != round(cost):
        marks.insert(0, Mark(asking, f"asked {asking:,.0f}", "ink"))
    alt = f"Asked {asking:,.0f}; to own at its standard {cost:,.0f}, in four of five cases not above {p80:,.0f}."
    return rule(*scale, marks, alt, width=width)


def offer_rule(to_owner: float, expected: float, scale: tuple[float, float], width: float = NARROW_MM) -> Figure:
    """What reaches the owner, and what it is on average where it may not sell."""
    if round(to_owner) == round(expected):
        return rule(
            *scale, [Mark(to_owner, f"{to_owner:,.0f}", "accent")], f"{to_owner:,.0f} to the owner.", width=width
        )
    marks = [Mark(expected, f"mean {expected:,.0f}", "accent"), Mark(to_owner, f"sold {to_owner:,.0f}", "ink")]
    alt = f"{to_owner:,.0f} to the owner if it sells, {expected:,.0f} on average."
    return rule(*scale, marks, alt, width=width)
