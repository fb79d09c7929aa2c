"""The budget curve as a plot: what score each sum can buy, a level from step to step, each step numbered."""

from collections.abc import Sequence

from ..basis import show
from ..estimate.budget import Step
from .figures import Dot, Figure, Label, Scale
from .plots import BOTTOM, LEFT, SIZE, TOP, axes, polyline, span

HEIGHT = 72.0
APART = 3.4  # mm between two numbers that both fit


def budget_figure(steps: Sequence[Step], currency: str, width: float = 160.0) -> Figure | None:
    """Score over money; None where no work gains anything. Numbers stand for the rows of the list beside it."""
    if len(steps) < 2:
        return None
    low, high = span([step.score for step in steps])
    end = steps[-1].cost * 1.06
    x = Scale(0.0, end, LEFT, width - LEFT - 6.0)
    y = Scale(low, high, HEIGHT - BOTTOM, -(HEIGHT - BOTTOM - TOP))
    shapes = axes(x, y, (), f"Money spent on work, {currency}", "Score after it")
    corners: list[tuple[float, float]] = []
    for step in steps:
        if corners:
            corners.append((step.cost, corners[-1][1]))
        corners.append((step.cost, step.score))
    corners.append((end, steps[-1].score))
    shapes.append(polyline([(x.at(a), y.at(b)) for a, b in corners], "accent", 0.6))
    last = -APART
    for number, step in enumerate(steps):
        at, up = x.at(step.cost), y.at(step.score)
        shapes.append(Dot(at, up, 0.9, "ink"))
        if number and at - last >= APART:
            near = at - LEFT < APART  # beside the axis the number would lie on its numerals
            place = (at + 1.4, up + 3.6) if near else (at - 0.8, up - 1.6)
            shapes.append(Label(*place, str(number), SIZE, "start" if near else "end", "ink", True))
            last = at
    first, full = steps[0], steps[-1]
    alt = (
        f"Without work the score is {first.score:.0f}; {show.money(full.cost, currency)} bring it to {full.score:.0f} "
        f"in {len(steps) - 1} steps."
    )
    return Figure(width, HEIGHT, tuple(shapes), alt)
