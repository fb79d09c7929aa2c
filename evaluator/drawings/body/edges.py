"""The edge of the plates: border line, corners, how far it stands out, and wear. Millimetres unless said."""

from collections.abc import Sequence

from ..geometry.model import Drawing, right, wrong
from ..geometry.outline import LOWER, MIDDLE, along, beside, crossing
from ..geometry.pen import Pen, Point

# A piece of the top cut out at its upper end: its section in front, its face running back. Sheet units, 12 to a mm.
_FACE: tuple[Point, ...] = (
    (26, 112), (29, 98), (40, 90), (54, 91), (66, 96), (74, 98), (90, 98), (106, 95), (146, 85), (192, 70),
)  # fmt: skip
_BACK = (36.0, -48.0)
_STRIPS = (74.0, 79.0, 85.0, 90.0)
_GROOVE = 24.0
STRIPS_MM = (4.2, 4.6, 5.1, 5.5)  # edges of the three strips, from the edge of the plate
# The lower right corner close up: where the origin of the body lies on the sheet, the scale, and what is in sight.
_CLOSE = 8.0
_ORIGIN = (140 - 86 * _CLOSE, 72 - 219.5 * _CLOSE)
_SIGHT = (70.0, 210.7, 229.0)


def _shifted(points: tuple[Point, ...], depth: float) -> tuple[Point, ...]:
    return tuple((x + _BACK[0] * depth, y + _BACK[1] * depth) for x, y in points)


def _block(pen: Pen) -> None:
    pen.region(_FACE, ((192, 70), (228, 22)), _shifted(_FACE, 1)[::-1], fill="tint")
    pen.region(((26, 130), (26, 112)), _FACE, ((192, 70), (192, 130)), fill="sheet")


def _grain(pen: Pen, depth: float) -> None:
    left = tuple(p for p in _FACE[3:] if p[0] <= _STRIPS[0])
    rest = tuple(p for p in _FACE if p[0] >= _STRIPS[-1])
    pen.curve(*_shifted(left, depth), mark="thin")
    pen.curve(*_shifted(rest, depth), mark="thin")


def _grain_lines(pen: Pen) -> None:
    for depth in (0.1, 0.28, 0.46, 0.64, 0.82):
        _grain(pen, depth)


def _strip(pen: Pen, left: float, wide: float, y: float = 98) -> None:
    (dx, dy) = _BACK
    pen.shape((left, y), (left + wide, y), (left + wide + dx, y + dy), (left + dx, y + dy), mark="bare", fill="ink")


def _inlaid(pen: Pen) -> None:
    _block(pen)
    _grain_lines(pen)
    pale, end = _STRIPS[1], _STRIPS[2]
    pen.shape((pale, 98), (end, 98), (end + 36, 50), (pale + 36, 50), mark="bare", fill="sheet")
    for left in (_STRIPS[0], _STRIPS[2]):
        _strip(pen, left, 5)
        pen.box(left, 98, 5, _GROOVE, mark="bare", fill="ink")
    pen.line((70, 98 + _GROOVE + 2), (94, 98 + _GROOVE + 2), mark="look")


def _painted(pen: Pen) -> None:
    _block(pen)
    _grain_lines(pen)
    for left in (_STRIPS[0], _STRIPS[2] + 3):
        _strip(pen, left, 2.5)
    for depth in (0.1, 0.28, 0.46, 0.64, 0.82):
        dx, dy = depth * _BACK[0], depth * _BACK[1]
        pen.line((_STRIPS[0] + dx, 98 + dy), (_STRIPS[-1] + dx, 98 + dy), mark="look")


def _corner(pen: Pen) -> Pen:
    """A pen in millimetres about the lower right corner of a plate, with its edge drawn."""
    near = pen.at(*_ORIGIN, _CLOSE)
    upper, lower = _in_sight(along(MIDDLE, 14)), _in_sight(along(LOWER, 14))
    foot = (_SIGHT[0], lower[-1][1])
    near.region(upper, (upper[-1], lower[0]), lower, (foot, (_SIGHT[0], upper[0][1])), mark="bare")
    near.curve(*upper)
    near.line(upper[-1], lower[0])
    near.curve(*lower)
    return near


def _in_sight(points: Sequence[Point]) -> tuple[Point, ...]:
    left, top, bottom = _SIGHT
    return tuple(p for p in points if p[0] > left and top < p[1] < bottom)


def _mitre(distance: float) -> tuple[tuple[Point, ...], Point, tuple[Point, ...]]:
    """The parallel lines at a distance from both edges, cut where they meet, and the point.

    All distances begin and end at the same places of the edge, so that strips are cut off square.
    """
    top, bottom = along(MIDDLE, 20), along(LOWER, 20)
    start = next(i for i, p in enumerate(beside(top, STRIPS_MM[0])) if p[0] > _SIGHT[0] and p[1] > _SIGHT[1])
    end = next(i for i, p in enumerate(bottom) if p[1] > _SIGHT[2] - 1)
    upper, lower = beside(top, distance), beside(bottom, distance)
    met = crossing(upper, lower)
    i, j, point = met if met is not None else (len(upper) - 1, 0, lower[0])
    return upper[start : i + 1], point, lower[j + 1 : end]


def _fine_point(pen: Pen) -> None:
    near = _corner(pen)
    lines = [_mitre(distance) for distance in STRIPS_MM]
    for outer, inner in ((lines[0], lines[1]), (lines[2], lines[3])):
        near.shape(
            *outer[0], outer[1], *outer[2], *inner[2][::-1], inner[1], *inner[0][::-1], mark="bare", fill="ink"
        )  # fmt: skip
    (x, y), (x1, y1) = lines[0][1], lines[1][1]
    near.region(((x1, y1), (x, y - 0.2), (x + 1.5, y - 0.6)), ((x + 1.5, y - 0.6), (x, y + 0.3), (x1, y1)), fill="ink")
    near.disc((x - 0.2, y), 2.6, mark="look", fill=None)


def _ragged(pen: Pen) -> None:
    near = _corner(pen)
    lines = [_mitre(distance) for distance in STRIPS_MM]
    for outer, inner in ((lines[0], lines[1]), (lines[2], lines[3])):
        cut = min(len(outer[0]), len(inner[0])) - 1
        near.shape(*outer[0][:cut], *inner[0][:cut][::-1], mark="bare", fill="ink")
        near.shape(*outer[2][4:], *inner[2][3:][::-1], mark="bare", fill="ink")
    x, y = lines[0][1]
    near.blob((x - 3.6, y - 0.7), (x - 1, y - 0.6), (x + 0.6, y + 0.2), (x - 1, y + 1.5), (x - 2.6, y + 2), mark="thin",
              fill="shade")  # fmt: skip
    near.disc((x - 1.2, y + 0.5), 3.3, mark="look", fill=None)


def _edge_section(pen: Pen, overhang: float) -> Pen:
    """The edge of the top across, on its side and lining; origin where the side's face meets the top."""
    near = pen.at(84, 72, 11)
    out = -overhang
    near.box(0, 0, 1.2, 6.6, fill="shade")
    near.shape((1.2, 0), (3.4, 0), (2.0, 5.4), (1.2, 6), fill="tint")
    near.region(
        ((out + 0.6, 0), (out + 0.1, -0.5)),
        (
            (out + 0.1, -0.5),
            (out, -2),
            (out + 0.7, -3.6),
            (out + 2, -4.1),
            (out + 4, -3.6),
            (out + 6, -3.5),
            (13.4, -5.4),
        ),
        ((13.4, -5.4), (13.4, -2.6)),
        ((13.4, -2.6), (9, -1.6), (6.5, -0.6), (5.6, 0)),
        ((5.6, 0), (out + 0.6, 0)),
    )
    for at in (3.9, 4.8):
        near.box(out + at, -3.6, 0.4, 1.9, mark="bare", fill="ink")
    return near


def _stands_out(pen: Pen) -> None:
    near = _edge_section(pen, 2.6)
    near.span((-2.6, 2.4), (0, 2.4))
    near.line((-2.6, -1), (-2.6, 2.4), mark="guide")


def _flush(pen: Pen) -> None:
    near = _edge_section(pen, 0.1)
    near.arrow((-5.5, 1.5), (-0.4, 0.3))


_TIP: tuple[Point, ...] = (*along(MIDDLE, 14)[-2:], *along(LOWER, 14)[:8])


def _crisp(pen: Pen) -> None:
    near = _corner(pen)
    _border(near)
    near.line(*_TIP, mark="look")


def _border(near: Pen) -> None:
    for distance in (STRIPS_MM[0], STRIPS_MM[-1]):
        first, point, last = _mitre(distance)
        near.curve(*first, point, mark="thin")
        near.curve(point, *last, mark="thin")


def _worn(pen: Pen) -> None:
    near = _corner(pen)
    _border(near)
    jagged = (_TIP[-1], (91.4, 221.6), (90.4, 219), (92, 217.2), (90.2, 215.4), _TIP[0])
    near.region(
        ((97, 212), (97, 223.5)),
        ((97, 223.5), jagged[0]),
        jagged,
        (jagged[-1], (_TIP[0][0], 212)),
        mark="bare",
        fill="sheet",
    )
    near.line(*_TIP, mark="hidden")
    near.curve(*jagged, mark="look")


DRAWINGS = (
    Drawing(
        "purfling",
        "A piece of the top at its upper end, cut through, grain running towards the edge",
        (
            right(
                "Inlaid: three strips in a groove. The grain stops at the first and begins again behind the last.",
                _inlaid,
            ),
            wrong("Drawn on: the grain runs straight on between the lines, and no groove lies below.", _painted),
        ),
    ),
    Drawing(
        "purfling_corner",
        "A corner of the plate, close up",
        (
            right("The strips meet in one fine point that leans into the corner.", _fine_point),
            wrong("The strips stop short and the gap is filled.", _ragged),
        ),
    ),
    Drawing(
        "edge_overhang",
        "The edge cut across: the top above, the side and its lining below",
        (
            right("The edge stands out beyond the side. Measure from its outermost point.", _stands_out),
            wrong("Level with the side: the next knock lands on the seam.", _flush),
        ),
    ),
    Drawing(
        "corner_wear",
        "A corner of the plate seen from above",
        (
            right("Corner and edge are whole. Edges that hands have rounded are normal.", _crisp),
            wrong("A piece is gone as far as the border line.", _worn),
        ),
    ),
)
