"""The outline of a violin, its sound holes and arches, and cuts across it, in millimetres of a full-size violin.

x runs from the centre line to the right of who looks at the top, y from the neck edge of the top to the end button.
Body 355, upper bout 168, middle 112, lower 207 and stop 195 mm are the usual measures; the curves between them are
drawn by eye from memory. The cuts are the side between the plates, and the top across at the bridge.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, hypot, pi, sin

from .pen import Fill, Mark, Pen, Point, Step

BODY_LENGTH_MM = 355.0
STOP_MM = 195.0
Cubic = tuple[float, float, float, float, float, float]
Stroke = tuple[Point, tuple[Cubic, ...]]

UPPER: Stroke = ((0, 0), ((50, 0, 84, 22, 84, 68), (84, 90, 71, 103, 71, 115), (71, 120, 74.5, 122.6, 80.5, 123.4)))
MIDDLE: Stroke = ((79, 130.2), ((67, 132.5, 56, 147, 56, 171), (56, 197, 70, 209.5, 94, 214.6)))
LOWER: Stroke = (
    (95.8, 221.6),
    ((90.5, 222.2, 87.6, 226, 89, 233), (92.5, 248, 103.5, 256, 103.5, 286), (103.5, 332, 58, 355, 0, 355)),
)
_F_SPINE: Stroke = (
    (26.5, 162),
    ((24.5, 153, 35, 149.5, 36, 164), (37, 180, 39, 205, 42, 216), (44.5, 229, 57, 231, 56.5, 221)),
)
UPPER_EYE, LOWER_EYE = ((27.3, 163.5), 3.2), ((55.5, 220.5), 4.2)
RIB_MM, RIB_THICK_MM, PLATE_MM = 28.0, 1.3, 3.2
TOP_WIDTH_MM = 117.0  # across the middle bouts at the bridge, overhang included
UPRIGHT: tuple[Point, ...] = ((0, 0), (0, RIB_MM / 2), (0, RIB_MM))
Dent = tuple[float, float, float]


def along(stroke: Stroke, steps: int = 6) -> tuple[Point, ...]:
    """Points of a stroke, `steps` to each of its cubics."""
    (ax, ay), cubics = stroke
    points: list[Point] = [(ax, ay)]
    for bx, by, cx, cy, dx, dy in cubics:
        for i in range(1, steps + 1):
            t = i / steps
            u = 1 - t
            k = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
            across = k[0] * ax + k[1] * bx + k[2] * cx + k[3] * dx
            points.append((across, k[0] * ay + k[1] * by + k[2] * cy + k[3] * dy))
        ax, ay = dx, dy
    return tuple(points)


def beside(points: Sequence[Point], distance: float) -> tuple[Point, ...]:
    """A parallel line, to the right of who walks along the points on a sheet where y counts down."""
    moved: list[Point] = []
    for i, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = points[max(i - 1, 0)], points[min(i + 1, len(points) - 1)]
        length = hypot(bx - ax, by - ay) or 1.0
        moved.append((x - (by - ay) / length * distance, y + (bx - ax) / length * distance))
    return tuple(moved)


def _half() -> list[Step]:
    return [*UPPER[1], MIDDLE[0], *MIDDLE[1], LOWER[0], *LOWER[1]]


def _back_up() -> list[Step]:
    """The left half, from the end button up to the neck."""
    steps: list[Step] = []
    for start, cubics in (LOWER, MIDDLE, UPPER):
        ends = [start, *((c[4], c[5]) for c in cubics)]
        if steps:
            steps.append((-ends[-1][0], ends[-1][1]))
        for (x, y), (x1, y1, x2, y2, *_) in zip(ends[-2::-1], cubics[::-1], strict=True):
            steps.append((-x2, y2, -x1, y1, -x, y))
    return steps


def body(pen: Pen, mark: Mark = "ink", fill: Fill | None = "tint") -> None:
    """The closed outline of top or back, origin at the neck edge."""
    pen.trace((0, 0), [*_half(), *_back_up()], mark, fill, closed=True)


def right_side(pen: Pen, mark: Mark = "ink") -> None:
    """The right half of the outline as an open line."""
    pen.trace((0, 0), _half(), mark)


def f_hole(pen: Pen, fill: Fill = "ink", mark: Mark = "bare") -> None:
    """The right sound hole: a band about an S, 6 mm wide in its middle, and an eye at either end."""
    spine = along(_F_SPINE, 5)
    last = len(spine) - 1
    sides: tuple[list[Point], list[Point]] = ([], [])
    for i, here in enumerate(spine):
        width = 1.1 + 2.0 * sin(pi * i / last) ** 1.5
        a, b = spine[max(i - 1, 0)], spine[min(i + 1, last)]
        length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        off = ((b[1] - a[1]) / length * width, (b[0] - a[0]) / length * width)
        sides[0].append((here[0] - off[0], here[1] + off[1]))
        sides[1].append((here[0] + off[0], here[1] - off[1]))
    for centre, radius in (UPPER_EYE, LOWER_EYE):
        pen.disc(centre, radius, mark=mark, fill=fill)
    pen.region(sides[0], sides[1][::-1], mark=mark, fill=fill)


def f_holes(pen: Pen) -> None:
    """Both sound holes of a top."""
    f_hole(pen)
    f_hole(pen.mirrored())


def arch(width: float, height: float, steps: int = 24, hollow: float = 0.45) -> tuple[Point, ...]:
    """A plate's arch across, a curtate cycloid: x from 0 to `width`, height above the edge.

    `hollow` is how far the drawing point lies from the middle of the rolling circle, in its radius: 0 gives a sine, 1 a
    cusp at the edge.
    """
    turns = [2 * pi * i / steps for i in range(steps + 1)]
    return tuple((width * (t - hollow * sin(t)) / (2 * pi), height * (1 - cos(t)) / 2) for t in turns)


def crossing(first: Sequence[Point], second: Sequence[Point]) -> tuple[int, int, Point] | None:
    """Where two lines meet, the latest place along the first: its stretch in each, and the point; else None."""
    for i in range(len(first) - 2, -1, -1):
        for j in range(len(second) - 1):
            shares = _shares(first[i], first[i + 1], second[j], second[j + 1])
            if shares is not None:
                (ax, ay), (bx, by) = first[i], first[i + 1]
                return i, j, (ax + shares * (bx - ax), ay + shares * (by - ay))
    return None


def _shares(a: Point, b: Point, c: Point, d: Point) -> float | None:
    """How far along a-b it meets c-d, 0 to 1."""
    across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    if not across:
        return None
    s = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across
    t = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])) / across
    return s if 0 <= s <= 1 and 0 <= t <= 1 else None


def half_width(y: float) -> float:
    """How far the plates reach from the centre line at a height, 0 above and below them."""
    for (x0, y0), (x1, y1) in pairwise(_SIDE):
        if y0 <= y <= y1 and y1 > y0:
            return x0 + (x1 - x0) * (y - y0) / (y1 - y0)
    return 0.0


_SIDE = along(UPPER) + along(MIDDLE) + along(LOWER)


def within(points: Sequence[Point], margin: float = 2.0) -> tuple[tuple[Point, ...], ...]:
    """The stretches of a line that lie on the plate, `margin` from its edge."""
    runs: list[list[Point]] = [[]]
    for point in points:
        if abs(point[0]) <= half_width(point[1]) - margin:
            runs[-1].append(point)
        elif runs[-1]:
            runs.append([])
    return tuple(tuple(run) for run in runs if len(run) > 1)


def straight(x: float, margin: float = 2.0) -> tuple[tuple[Point, ...], ...]:
    """A line of grain beside the centre line, where it lies on the plate: ends of each stretch."""
    found = within(tuple((x, float(y)) for y in range(0, 356, 3)), margin)
    return tuple((run[0], run[-1]) for run in found)


def lying(pen: Pen, scale: float = 0.62) -> Pen:
    """The pen for a whole body on a sheet: neck to the left, the side of the thinnest string above."""
    return pen.at(120 - BODY_LENGTH_MM / 2 * scale, 75, scale, turn=-90)


def side(pen: Pen, face: tuple[Point, ...] = UPRIGHT, face_mark: Mark = "ink", linings: Mark | None = None) -> Pen:
    """The side between top and back: origin where its outer face meets the top, 3.7 units to a millimetre.

    `face` is its outer line from top to back; `linings` the mark of both linings, None for a side without.
    """
    near = pen.at(86, 24, 3.7)
    for y, way in ((0.0, -1), (RIB_MM, 1)):
        near.region(
            ((32, y), (-2.4, y)),
            ((-2.4, y), (-2.9, y + 1.6 * way), (-1.4, y + 3.6 * way), (2, y + 3.4 * way)),
            ((2, y + 3.4 * way), (8, y + 3.2 * way), (18, y + 4 * way), (32, y + 4.9 * way)),
        )
    near.region(face, tuple((x + RIB_THICK_MM, y) for x, y in face)[::-1], fill="shade")
    for y, way in ((0.0, 1), (RIB_MM, -1)):
        if linings is not None:
            inner = RIB_THICK_MM
            near.shape((inner, y), (4, y), (3.4, y + 4 * way), (inner, y + 7.6 * way), mark=linings)
    near.curve(*face, mark=face_mark)
    return near


def _sunk(x: float, dents: tuple[Dent, ...]) -> float:
    """How much lower than its arch the top lies at x; a dent is where its middle lies, its depth and half its width."""
    return sum(deep / (1 + ((x - at) / wide) ** 4) for at, deep, wide in dents)


def top_across(pen: Pen, dents: tuple[Dent, ...] = (), high: float = 22) -> tuple[Pen, tuple[Point, ...]]:
    """The top across at the bridge from the lower end; the pen in millimetres from its middle, y up, and its arch.

    Where it is dented, the arch as it was is drawn hidden.
    """
    near = pen.at(120, 104, 1.9, up=True)
    true = tuple((x - TOP_WIDTH_MM / 2, y) for x, y in arch(TOP_WIDTH_MM, high, 24))
    outer = tuple((x, y - _sunk(x, dents)) for x, y in true)
    near.region(outer, tuple((x, y - PLATE_MM) for x, y in outer)[::-1])
    if dents:
        near.curve(*true, mark="hidden")
    return near, outer
