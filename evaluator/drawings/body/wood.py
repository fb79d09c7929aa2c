"""The wood of top and back: how it was cut, shaped and joined, its flame, and how thick it is left."""

from functools import partial
from math import pi, sin

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.outline import arch, body, f_holes, lying, straight, within
from ..geometry.pen import Pen, Point

_LAMP = 7.0
_PLATE_MM = 180.0  # how wide a plate is drawn in section
_MARKED = (5, 9, 13)  # rings to look at, of the 17 that are drawn
_GRAIN_MM = (4.0, 9.0, 15.0, 22.0, 30.0, 39.0, 49.0, 60.0, 72.0, 85.0, 98.0)


def _straight_grain(pen: Pen) -> None:
    near = lying(pen)
    body(near)
    for x in _GRAIN_MM:
        for side in (1, -1):
            for first, last in straight(x * side):
                near.line(first, last, mark="thin")
    near.line((0, 1), (0, 354), mark="look")
    f_holes(near)


def _slab_grain(pen: Pen) -> None:
    near = lying(pen)
    body(near)
    for at in range(10):
        tip, wide = 12.0 + 34 * at, 2.0
        flame = tuple(
            (10 + side * wide * (y - tip) ** 0.6 + 4 * sin(y / 45), y)
            for side, ys in ((-1, range(355, int(tip), -9)), (1, range(int(tip) + 1, 356, 9)))
            for y in map(float, ys)
        )
        for run in within(flame):
            near.curve(*run[::3], run[-1], mark="thin")
    for x in (72, 84, 96, -62, -73, -84, -95):
        for first, last in straight(x):
            near.line(first, last, mark="thin")
    f_holes(near)
    near.disc((34, 268), 5, mark="look", tall=1.7)
    near.disc((34, 268), 2, mark="look", fill="look", tall=1.7)
    for wide in (10, 15):
        near.curve((34 - wide * 0.6, 240), (34 - wide, 268), (34 - wide * 0.6, 297), mark="look")
        near.curve((34 + wide * 0.6, 240), (34 + wide, 268), (34 + wide * 0.6, 297), mark="look")


def _lamp(pen: Pen, x: float, y: float) -> None:
    pen.disc((x, y), _LAMP, mark="look", fill=None)
    for turn in range(0, 360, 45):
        ray = pen.at(x, y, turn=turn)
        ray.line((_LAMP + 3, 0), (_LAMP + 8, 0), mark="look")


def _stripe(pen: Pen, x: float, y: float, shift: float) -> None:
    """A stripe of flame across a piece 92 wide: not straight, and never quite like its neighbour."""
    top = tuple((x + 92 * i / 4, y + 2.6 * sin(i * 1.3 + shift) + i * 1.2) for i in range(5))
    low = tuple((px, py + 6.5 + 1.5 * sin(i + shift)) for i, (px, py) in enumerate(top))
    pen.region(top, low[::-1], mark="bare", fill="shade")


def _flame(pen: Pen, moves: bool) -> None:
    for i, x in enumerate((22.0, 126.0)):
        pen.box(x, 42, 92, 100)
        start = 44.5 + (8 if moves and i else 0)
        for at in range(6):
            _stripe(pen, x, start + 15.2 * at, at * 1.1)
        for grain in (18, 37, 56, 75):
            pen.line((x + grain, 43), (x + grain, 141), mark="guide")
        _lamp(pen, x + (8 if i == 0 else 84), 20)


def _board(pen: Pen) -> None:
    """A piece of a plate as at a sound hole: its cut edge in front, its face running back."""
    pen.shape((18, 76), (184, 76), (226, 20), (60, 20))
    pen.shape((18, 76), (184, 76), (184, 132), (18, 132), fill="sheet")
    for i in range(1, 14):
        x = 18 + 166 * i / 14
        pen.line((x, 76), (x + 42, 20), mark="thin")


def _solid(pen: Pen) -> None:
    _board(pen)
    for i in range(1, 14):
        x = 18 + 166 * i / 14
        pen.line((x, 76), (x - 3, 132), mark="thin")
    pen.line((143, 20), (101, 76), (98, 132), mark="look")


def _layers(pen: Pen) -> None:
    _board(pen)
    for i in range(1, 14):
        x = 18 + 166 * i / 14
        pen.line((x, 76), (x, 90), mark="thin")
        pen.line((x, 118), (x, 132), mark="thin")
    for y in (97, 104, 111):
        pen.line((18, y), (184, y), mark="thin")
    for y in (90, 118):
        pen.line((18, y), (184, y), mark="look")


def _arched(thick_middle: float, thick_side: float, even: bool) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """The two faces of a plate across, y up, both drawn for a plate 180 wide: outside and inside."""
    outer = arch(_PLATE_MM, 34, 18, 0.1 if even else 0.35)
    inner = []
    for x, y in outer:
        share = sin(pi * x / _PLATE_MM) ** 2
        thick = thick_side + (thick_middle - thick_side) * share
        inner.append((x, y - thick))
    return outer, tuple(inner)


def _plate(pen: Pen, thick_middle: float, thick_side: float, even: bool = False) -> Pen:
    near = pen.at(12, 104, 1.2, up=True)
    outer, inner = _arched(thick_middle, thick_side, even)
    near.region(outer, inner[::-1])
    return near


def _carved(pen: Pen) -> None:
    near = _plate(pen, 14, 12)
    outer, inner = _arched(14, 12, even=False)
    for i in range(1, 18):
        (x, top), (_, low) = outer[i], inner[i]
        near.line((x, low + 1), (x, top - 1), mark="thin")
    for i in _MARKED:
        near.line((outer[i][0], inner[i][1]), outer[i], mark="look")


def _pressed(pen: Pen) -> None:
    near = pen.at(12, 104, 1.2, up=True)
    outer = arch(_PLATE_MM, 34, 18, 0.0)
    slopes = [34 * pi / _PLATE_MM * sin(2 * pi * x / _PLATE_MM) for x, _ in outer]
    inner = tuple((x + 12 * s / (1 + s * s) ** 0.5, y - 12 / (1 + s * s) ** 0.5)
                  for (x, y), s in zip(outer, slopes, strict=True))  # fmt: skip
    near.region(outer, inner[::-1])
    for i in range(1, 18):
        near.line(inner[i], outer[i], mark="look" if i in _MARKED else "thin")


def _thickness(pen: Pen, middle: float, side: float) -> None:
    near = _plate(pen, middle, side)
    near.arrow((90, 58), (90, 36))
    near.arrow((90, 34 - middle - 22), (90, 34 - middle - 2))


def _joint(pen: Pen, open_end: bool) -> None:
    near = lying(pen)
    body(near)
    for at in range(17):
        for side in (1, -1):
            slant = tuple((side * x, 14 + 20 * at + (0.22 * x)) for x in (1.5, *range(6, 106, 6)))
            for run in within(slant, 4):
                near.line(run[0], run[-1], mark="thin")
    if open_end:
        near.line((0, 2), (0, 250))
        near.shape((0, 250), (3.6, 354), (-3.6, 354), mark="look", fill="sheet")
    else:
        near.line((0, 2), (0, 353), mark="look")


DRAWINGS = (
    Drawing(
        "top_grain",
        "The top from the front, neck to the left",
        (
            right("Straight lines from end to end, closer together towards the middle.", _straight_grain),
            wrong("Cut from the side of the log: arches instead of lines, and a knot.", _slab_grain),
        ),
    ),
    Drawing(
        "flame",
        "One piece of the back under a lamp, first from the left, then from the right",
        (
            right("Grown: what was dark turns bright as the lamp moves.", partial(_flame, moves=True)),
            wrong("Painted: the stripes stay where they are.", partial(_flame, moves=False)),
        ),
    ),
    Drawing(
        "solid_wood",
        "The edge of a sound hole, close up: the cut edge in front, the face behind it",
        (
            right("Solid: each line of the face runs on down the edge.", _solid),
            wrong("Layers: glue lines along the edge, the middle one crosswise.", _layers),
        ),
    ),
    Drawing(
        "carved_plate",
        "A plate cut across, with the rings of the tree in its end grain",
        (
            right("Carved: the rings stand upright, and the wood is thicker or thinner where that serves.", _carved),
            wrong("Pressed: the rings lean with the bend, and it is the same thickness all over.", _pressed),
        ),
    ),
    Drawing(
        "centre_joint",
        "The back from outside, neck to the left",
        (
            right(
                "Two halves from one piece: the flame is mirrored, the joint a hairline.",
                partial(_joint, open_end=False),
            ),
            wrong("Open at the lower end, where it opens first.", partial(_joint, open_end=True)),
        ),
    ),
    Drawing(
        "plate_thickness",
        "A plate cut across at its middle, its thickness drawn much too large",
        (
            plain(
                "Top: nearly the same all over. Measure between the sound holes.",
                partial(_thickness, middle=13, side=12),
            ),
            plain(
                "Back: thickest in the middle, half as much towards the sides.", partial(_thickness, middle=20, side=10)
            ),
        ),
    ),
)
