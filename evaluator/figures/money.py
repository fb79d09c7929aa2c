"""Money on figures: what to offer and pay at most, what it costs to own, what reaches an owner, what a budget buys."""

from collections.abc import Sequence
from math import ceil, floor

from ..basis import show
from ..result.model.work import Budget
from .plots import BOTTOM, LEFT, SIZE, TOP, axes, polyline, span
from .rules import Mark, Scale, nice_step, rule
from .shapes import Dot, Figure, Label, Line, Shape

NARROW_MM = 78.0
HEIGHT = 72.0
APART = 3.4  # mm between two numbers that both fit
ROOM = 1.06  # of the dearest step: the curve goes on a little behind it
Place = tuple[float, float]


def price_rule(offer: float, ceiling: float, asking: float | None, currency: str, width: float = 160.0) -> Figure:
    """What to offer, what to pay at most, and the asking price on one rule of money."""
    marks = [Mark(ceiling, f"at most {ceiling:,.0f}", "ink")]
    if 0 < offer < ceiling and offer != asking:
        marks.insert(0, Mark(offer, f"offer {offer:,.0f}", "good"))
    if asking is not None:
        marks.append(Mark(asking, f"asked {asking:,.0f}", "accent"))
    top = max((mark.value for mark in marks), default=0.0)
    high = top * 1.12 if top > 0 else 100.0
    step = nice_step(high, 6)
    said = "; ".join(mark.text for mark in marks)
    return rule(0, ceil(high / step) * step, marks, f"Prices in {currency}: {said}.", width=width)


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


def budget_figure(budget: Budget, currency: str, width: float = 160.0, height: float = HEIGHT) -> Figure | None:
    """Score over money; None where no work gains anything. Numbers stand for the rows of the list beside it.

    A broken line stands at the first step that brings two thirds of all that work can bring.
    """
    steps = budget.steps
    if len(steps) < 2:
        return None
    low, high = span([step.score for step in steps])
    end = steps[-1].cost * ROOM
    x = Scale(0.0, end, LEFT, width - LEFT - 6.0)
    y = Scale(low, high, height - BOTTOM, -(height - BOTTOM - TOP))
    shapes = axes(x, y, (), f"Money spent on work, {currency}", "Score after it")
    places = [(x.at(step.cost), y.at(step.score)) for step in steps]
    enough = budget.enough
    if enough is not None and enough < len(steps) - 1:
        at, up = places[enough]
        shapes.append(Line(at, up, at, y.at(low), "soft", 0.25, dashed=True))
    shapes.append(polyline(_stairs([*places, (x.at(end), places[-1][1])]), "accent", 0.6))
    shapes += _numbered(places, enough)
    first, full = steps[0], steps[-1]
    alt = (
        f"Without work the score is {first.score:.0f}; {show.money(round(full.cost), currency)} bring it to "
        f"{full.score:.0f} in {len(steps) - 1} {'step' if len(steps) == 2 else 'steps'}."
    )
    return Figure(width, height, tuple(shapes), alt)


def _stairs(places: Sequence[Place]) -> list[Place]:
    """Level from each place to below the next, then straight up to it."""
    corners: list[Place] = [places[0]]
    for at, up in places[1:]:
        corners += [(at, corners[-1][1]), (at, up)]
    return corners


def _numbered(places: Sequence[Place], enough: int | None) -> list[Shape]:
    """A dot at each step, and its number where it does not run into that of a step that must have one."""
    shapes: list[Shape] = [Dot(at, up, 0.9, "ink") for at, up in places]
    must = [number for number in (enough, len(places) - 1) if number]
    taken: list[float] = []
    for number in dict.fromkeys((*must, *range(1, len(places)))):
        at, up = places[number]
        if any(abs(at - other) < APART for other in taken):
            continue
        near = at - LEFT < APART  # beside the axis the number would lie on its numerals
        place = (at + 1.4, up + 3.6) if near else (at - 0.8, up - 1.6)
        shapes.append(Label(*place, str(number), SIZE, "start" if near else "end", "ink", True))
        taken.append(at)
    return shapes
