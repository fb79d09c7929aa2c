"""The budget curve as a plot: what score each sum can buy, a level from step to step, each step numbered."""

from collections.abc import Sequence

from ..basis import show
from ..result.model.work import Budget
from .plots import BOTTOM, LEFT, SIZE, TOP, axes, polyline, span
from .rules import Scale
from .shapes import Dot, Figure, Label, Line, Shape

HEIGHT = 72.0
APART = 3.4  # mm between two numbers that both fit
ROOM = 1.06  # of the dearest step: the curve goes on a little behind it
Place = tuple[float, float]


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
