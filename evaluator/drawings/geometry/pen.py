"""A pen: lines, curves and a few words, kept as shapes that know neither page nor paper.

A sheet is 240 wide and 150 high, y counting down, as on a screen. `at` gives the same pen with an origin, a scale and a
turn of its own, so that a bridge can be drawn in millimetres, once, and set where it is wanted. Weights and colours are
names of what a line says (see `Mark`), so that a page can show them by day and night and a paper in black.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, radians, sin, tan
from typing import Literal

WIDTH, HEIGHT = 240.0, 150.0
# ink: what is seen. thin: what lies behind, and grain. hidden: an edge under something, broken. guide: a help line.
# look: the one thing to look at, in the accent. bare: a surface without an outline.
Mark = Literal["ink", "thin", "hidden", "guide", "look", "bare"]
# dark: ebony, and what is black by day and night.
Fill = Literal["tint", "shade", "sheet", "ink", "dark", "look"]
Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]
# A straight step to (x, y), or a cubic through two handles to (x, y).
Step = tuple[float, float] | tuple[float, float, float, float, float, float]
LETTER = 15.0


@dataclass(frozen=True, slots=True)
class Trace:
    """One stroke from `start` through its steps, closed or not, perhaps with a surface."""

    start: Point
    steps: tuple[Step, ...]
    mark: Mark = "ink"
    fill: Fill | None = None
    closed: bool = False

    def points(self) -> tuple[Point, ...]:
        """Every point and handle: the stroke lies within their hull."""
        pairs = [self.start]
        for step in self.steps:
            pairs += [(step[at], step[at + 1]) for at in range(0, len(step), 2)]
        return tuple(pairs)


@dataclass(frozen=True, slots=True)
class Word:
    """A word or figure on the sheet; `x` is its start, middle or end by `anchor`, `y` its foot line."""

    x: float
    y: float
    text: str
    anchor: Anchor = "middle"
    mark: Mark = "ink"


Shape = Trace | Word


@dataclass(frozen=True, slots=True)
class Placing:
    """Where a drawing's own points lie on the sheet: x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, point: Point) -> Point:
        x, y = point
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def then_inside(self, inner: "Placing") -> "Placing":
        """The placing of something that is placed by `inner` within this one."""
        e, f = self((inner.e, inner.f))
        return Placing(
            self.a * inner.a + self.c * inner.b, self.b * inner.a + self.d * inner.b,
            self.a * inner.c + self.c * inner.d, self.b * inner.c + self.d * inner.d, e, f,
        )  # fmt: skip


class Pen:
    """Draws onto one sheet; every method takes points in the pen's own measure."""

    def __init__(self, sheet: list[Shape] | None = None, placing: Placing | None = None) -> None:
        self._sheet: list[Shape] = [] if sheet is None else sheet
        self._placing = placing or Placing()

    def shapes(self) -> tuple[Shape, ...]:
        """All that was drawn, the lowest first."""
        return tuple(self._sheet)

    def at(self, x: float = 0, y: float = 0, scale: float = 1, turn: float = 0, up: bool = False) -> "Pen":
        """This pen with its origin at (x, y), units of `scale`, turned clockwise by `turn` degrees.

        `up`: y counts upwards from there, as heights do.
        """
        way = radians(turn)
        flip = -1.0 if up else 1.0
        inner = Placing(
            scale * cos(way), scale * sin(way), -flip * scale * sin(way), flip * scale * cos(way), x, y
        )  # fmt: skip
        return Pen(self._sheet, self._placing.then_inside(inner))

    def mirrored(self) -> "Pen":
        """This pen with left and right changed about its origin."""
        return Pen(self._sheet, self._placing.then_inside(Placing(a=-1.0)))

    def trace(
        self, start: Point, steps: Iterable[Step], mark: Mark = "ink", fill: Fill | None = None, closed: bool = False
    ) -> None:
        """A stroke of straight steps (x, y) and cubics (x1, y1, x2, y2, x, y)."""
        placed = tuple(_placed(self._placing, step) for step in steps)
        self._sheet.append(Trace(self._placing(start), placed, mark, fill, closed))

    def line(self, *points: Point, mark: Mark = "ink") -> None:
        """Straight from point to point."""
        self.trace(points[0], points[1:], mark)

    def shape(self, *points: Point, mark: Mark = "ink", fill: Fill | None = "tint") -> None:
        """A closed figure with straight sides."""
        self.trace(points[0], points[1:], mark, fill, closed=True)

    def box(
        self, x: float, y: float, width: float, height: float, mark: Mark = "ink", fill: Fill | None = "tint"
    ) -> None:
        """A rectangle from one corner."""
        self.shape((x, y), (x + width, y), (x + width, y + height), (x, y + height), mark=mark, fill=fill)

    def curve(self, *points: Point, mark: Mark = "ink") -> None:
        """Smoothly through the points."""
        self.trace(points[0], smooth(points), mark)

    def blob(self, *points: Point, mark: Mark = "ink", fill: Fill | None = "tint") -> None:
        """A closed figure, smooth through the points."""
        self.trace(points[0], smooth(points, closed=True), mark, fill, closed=True)

    def region(self, *edges: Sequence[Point], mark: Mark = "ink", fill: Fill | None = "tint") -> None:
        """A closed figure of several edges, each smooth, with a corner where two meet."""
        start = edges[0][0]
        steps: list[Step] = []
        here = start
        for edge in edges:
            if edge[0] != here:
                steps.append(edge[0])
            steps += smooth(edge)
            here = edge[-1]
        self.trace(start, steps, mark, fill, closed=True)

    def arc(self, centre: Point, radius: float, start: float, end: float, mark: Mark = "ink", tall: float = 1) -> None:
        """Part of a circle from `start` to `end` degrees, from the right and towards growing y; `tall` stretches y."""
        points, steps = round_steps(centre, radius, start, end, tall)
        self.trace(points, steps, mark)

    def disc(
        self, centre: Point, radius: float, mark: Mark = "ink", fill: Fill | None = "tint", tall: float = 1
    ) -> None:
        """A full circle, or an ellipse by `tall`."""
        start, steps = round_steps(centre, radius, 0, 360, tall)
        self.trace(start, steps, mark, fill, closed=True)

    def arrow(self, tail: Point, tip: Point, mark: Mark = "look", head: float = 6) -> None:
        """A line with a head at `tip`; the head keeps its size on the sheet."""
        (x0, y0), (x1, y1) = self._placing(tail), self._placing(tip)
        sheet = Pen(self._sheet)
        sheet.line((x0, y0), (x1, y1), mark=mark)
        sheet.line(*_head((x0, y0), (x1, y1), head), mark=mark)

    def span(self, first: Point, last: Point, text: str = "", mark: Mark = "look", tick: float = 5) -> None:
        """A measure between two points: a line, a tick at each end, and its figure over the middle."""
        (x0, y0), (x1, y1) = self._placing(first), self._placing(last)
        sheet = Pen(self._sheet)
        length = hypot(x1 - x0, y1 - y0) or 1.0
        dx, dy = -(y1 - y0) / length * tick, (x1 - x0) / length * tick
        sheet.line((x0, y0), (x1, y1), mark=mark)
        for x, y in ((x0, y0), (x1, y1)):
            sheet.line((x - dx, y - dy), (x + dx, y + dy), mark=mark)
        if text and abs(x1 - x0) >= abs(y1 - y0):
            sheet.word(((x0 + x1) / 2, min(y0, y1) - tick - 2), text, mark=mark)
        elif text:
            sheet.word((max(x0, x1) + tick + 3, (y0 + y1) / 2 + LETTER / 3), text, anchor="start", mark=mark)

    def word(self, place: Point, text: str, anchor: Anchor = "middle", mark: Mark = "ink") -> None:
        """A word on the sheet; its size does not follow the pen's scale."""
        x, y = self._placing(place)
        self._sheet.append(Word(x, y, text, anchor, mark))


def _placed(placing: Placing, step: Step) -> Step:
    if len(step) == 2:
        return placing(step)
    x1, y1, x2, y2, x, y = step
    return (*placing((x1, y1)), *placing((x2, y2)), *placing((x, y)))


def _head(tail: Point, tip: Point, size: float) -> tuple[Point, Point, Point]:
    way = atan2(tip[1] - tail[1], tip[0] - tail[0])
    ends = [(tip[0] - size * cos(way + turn), tip[1] - size * sin(way + turn)) for turn in (-0.45, 0.45)]
    return ends[0], tip, ends[1]


def smooth(points: Sequence[Point], closed: bool = False) -> list[Step]:
    """Cubics through the points, each leaving a point in the direction of its neighbours (Catmull-Rom, by chords)."""
    count = len(points)
    if count < 3:
        return list(points[1:])
    steps: list[Step] = []
    for at in range(count if closed else count - 1):
        p1, p2 = points[at], points[(at + 1) % count]
        p0 = points[at - 1] if closed or at else p1
        p3 = points[(at + 2) % count] if closed or at + 2 < count else p2
        h1, h2 = _handle(p0, p1, p2), _handle(p3, p2, p1)
        steps.append((*h1, *h2, *p2))
    return steps


def _handle(before: Point, here: Point, after: Point) -> Point:
    """The handle of `here` towards `after`: a third of the way, in the direction that both neighbours ask for."""
    near, far = hypot(here[0] - before[0], here[1] - before[1]), hypot(after[0] - here[0], after[1] - here[1])
    if min(near, far) < 1e-6:
        return here[0] + (after[0] - here[0]) / 3, here[1] + (after[1] - here[1]) / 3
    behind, ahead = far / near, near / far
    third = far / (near + far) / 3
    return (
        here[0] + third * ((here[0] - before[0]) * behind + (after[0] - here[0]) * ahead),
        here[1] + third * ((here[1] - before[1]) * behind + (after[1] - here[1]) * ahead),
    )


def round_steps(centre: Point, radius: float, start: float, end: float, tall: float = 1) -> tuple[Point, list[Step]]:
    """Where an arc begins, and its cubics: one for each quarter turn or less."""
    parts = max(1, round(abs(end - start) / 90 + 0.49))
    turn = radians(end - start) / parts
    pull = 4 / 3 * tan(turn / 4)
    x, y = centre
    first = radians(start)
    steps: list[Step] = []
    for part in range(parts):
        one, two = first + part * turn, first + (part + 1) * turn
        unit = (
            cos(one) - pull * sin(one), sin(one) + pull * cos(one),
            cos(two) + pull * sin(two), sin(two) - pull * cos(two), cos(two), sin(two),
        )  # fmt: skip
        x1, y1, x2, y2, x3, y3 = unit
        r, t = radius, radius * tall
        steps.append((x + r * x1, y + t * y1, x + r * x2, y + t * y2, x + r * x3, y + t * y3))
    return (x + radius * cos(first), y + radius * tall * sin(first)), steps


def on_arc(centre: Point, radius: float, start: float, end: float, count: int = 9) -> tuple[Point, ...]:
    """`count` points of an arc, degrees as in `Pen.arc`."""
    way = (radians(start + (end - start) * at / (count - 1)) for at in range(count))
    return tuple((centre[0] + radius * cos(one), centre[1] + radius * sin(one)) for one in way)


def spiral(centre: Point, first: float, last: float, turns: float, start: float, count: int) -> tuple[Point, ...]:
    """`count` points of a spiral whose radius shrinks by an equal share each step, from `first` to `last`."""
    found = []
    for at in range(count):
        share = at / (count - 1)
        radius, way = first * (last / first) ** share, radians(start) + 2 * pi * turns * share
        found.append((centre[0] + radius * cos(way), centre[1] + radius * sin(way)))
    return tuple(found)
