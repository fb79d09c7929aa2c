"""Plots as lists of shapes: curves over two axes, each curve named at its end, so that colour never speaks alone."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from .rules import LETTER, Scale, nice_step, numeral
from .shapes import Anchor, Curve, Dot, Figure, Label, Line, Role, Shape

LEFT, TOP, BOTTOM, SIZE = 13.0, 8.0, 12.0, 3.0
Points = Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Series:
    """A curve of (x, y) with its name, written at its right end."""

    say: str
    points: Points
    role: Role = "ink"
    width: float = 0.5


@dataclass(frozen=True, slots=True)
class Spot:
    """A marked place on a plot."""

    x: float
    y: float
    text: str


def polyline(points: Points, role: Role = "ink", width: float = 0.4) -> Curve:
    """Straight pieces from point to point, as a curve."""
    steps = pairwise(points)
    return Curve(points[0], tuple((*a, *b, *b) for a, b in steps), role, width)


def axes(x: Scale, y: Scale, names: Sequence[str], x_say: str, y_say: str) -> list[Shape]:
    """Hairlines with numerals; `names` stand under the whole numbers of x instead of them."""
    bottom, top = y.at(y.low), y.at(y.high)
    shapes: list[Shape] = [Label(0.0, top - 3.6, y_say, SIZE, "start", "soft")]
    step = nice_step(y.high - y.low, 5)
    for i in range(ceil(y.low / step - 1e-9), floor(y.high / step + 1e-9) + 1):
        level = y.at(i * step)
        shapes.append(Line(x.left, level, x.left + x.width, level, "ink" if i == 0 else "line", 0.25))
        shapes.append(Label(x.left - 1.2, level + 1.0, numeral(i * step, step), SIZE, "end", "soft"))
    shapes.append(Line(x.left, bottom, x.left + x.width, bottom, "ink", 0.3))
    across = 1.0 if names else nice_step(x.high - x.low, max(3, int(x.width / 16)))
    for i in range(ceil(x.low / across - 1e-9), floor(x.high / across + 1e-9) + 1):
        place = x.at(i * across)
        text = names[i] if names else numeral(i * across, across)
        shapes.append(Line(place, bottom, place, bottom + 1.3, "ink", 0.25))
        shapes.append(Label(place, bottom + 4.6, text, SIZE, "middle", "soft"))
    shapes.append(Label(x.left + x.width / 2, bottom + 9.2, x_say, SIZE, "middle", "soft"))
    return shapes


def _apart(levels: Sequence[float], least: float) -> list[float]:
    """The levels moved down as little as keeps them `least` apart, in their order."""
    order = sorted(range(len(levels)), key=lambda i: levels[i])
    found = list(levels)
    for before, after in pairwise(order):
        found[after] = max(found[after], found[before] + least)
    return found


def span(values: Sequence[float]) -> tuple[float, float]:
    """Round ends around the values."""
    low, high = min(values), max(values)
    if high - low <= 1e-9 * max(1.0, abs(high)):
        room = max(abs(high) * 0.1, 1e-6)
        low, high = low - room, high + room
    step = nice_step(high - low, 5)
    return floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step


def chart(
    series: Sequence[Series],
    x_say: str,
    y_say: str,
    alt: str,
    *,
    width: float = 160.0,
    height: float = 70.0,
    names: Sequence[str] = (),
    spot: Spot | None = None,
    y_span: tuple[float, float] | None = None,
) -> Figure:
    """Curves over two axes with numerals; `names` label the whole numbers of x, `spot` marks one place in words."""
    right = 3.0 + max((len(one.say) for one in series), default=0) * SIZE * LETTER
    points = [point for one in series for point in one.points]
    low, high = y_span or span([y for _, y in points] + ([spot.y] if spot else []))
    xs = [x for x, _ in points]
    x = Scale(min(xs), max(xs), LEFT, width - LEFT - right)
    y = Scale(low, high, height - BOTTOM, -(height - BOTTOM - TOP))
    shapes = axes(x, y, names, x_say, y_say)
    ends = _apart([y.at(one.points[-1][1]) for one in series], SIZE * 1.25)
    for one, level in zip(series, ends, strict=True):
        shapes.append(polyline([(x.at(a), y.at(b)) for a, b in one.points], one.role, one.width))
        shapes.append(Label(x.left + x.width + 1.5, level + 1.0, one.say, SIZE, "start", one.role))
    if spot is not None and x.low <= spot.x <= x.high:
        shapes += _marked(spot, x, y, points)
    return Figure(width, height, tuple(shapes), alt)


def _marked(spot: Spot, x: Scale, y: Scale, points: Points) -> list[Shape]:
    """A dot with its text on the side where the curve does not run: under a rising one to the right, and so on."""
    at, up = x.at(spot.x), y.at(spot.y)
    late = at > x.left + x.width * 0.6
    rising = points[-1][1] > points[0][1]
    below = rising != late and up < y.at(y.low) - 6
    anchor: Anchor = "end" if late else "start"
    text = Label(at + (-2 if late else 2), up + (5.0 if below else -2.6), spot.text, SIZE, anchor, "accent", True)
    return [Dot(at, up, 1.1, "accent"), text]


def stacked(figures: Sequence[tuple[str, Figure]], alt: str) -> Figure:
    """Figures under each other, each with its title."""
    shapes: list[Shape] = []
    top = 0.0
    for title, figure in figures:
        shapes.append(Label(0.0, top + 4.0, title, 3.4, "start", "ink", True))
        shapes += [moved(shape, top + 6.0) for shape in figure.shapes]
        top += figure.height + 8.0
    return Figure(max(figure.width for _, figure in figures), top, tuple(shapes), alt)


def moved(shape: Shape, down: float) -> Shape:
    """The shape `down` mm lower."""
    match shape:
        case Line():
            return Line(shape.x1, shape.y1 + down, shape.x2, shape.y2 + down, shape.role, shape.width, shape.dashed)
        case Dot():
            return Dot(shape.x, shape.y + down, shape.radius, shape.role, shape.filled)
        case Label():
            return Label(shape.x, shape.y + down, shape.text, shape.size, shape.anchor, shape.role, shape.strong)
        case Curve():
            segments = tuple((a, b + down, c, d + down, e, f + down) for a, b, c, d, e, f in shape.segments)
            return Curve((shape.start[0], shape.start[1] + down), segments, shape.role, shape.width, shape.fill)
        case _:
            return type(shape)(shape.x, shape.y + down, shape.width, shape.height, shape.role, shape.opacity)
