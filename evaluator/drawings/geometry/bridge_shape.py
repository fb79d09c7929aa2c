"""The shape of a violin bridge in millimetres, y counting up from the belly: carved and raw, front and side."""

from collections.abc import Sequence
from itertools import pairwise
from math import sqrt

from .pen import Mark, Pen, Point

HEIGHT_MM, FOOT_THICK_MM, TOP_THICK_MM = 33.0, 4.3, 1.3
# The thinnest string lies some 1.5 mm lower than the thickest: the crest leans to its side.
CREST_RADIUS_MM, CREST_HALF_MM, LEAN = 42.0, 18.9, 0.035
STRING_SPAN_MM = 33.5
STRINGS_MM = tuple(STRING_SPAN_MM * share for share in (-1 / 2, -1 / 6, 1 / 6, 1 / 2))

Edge = tuple[Point, ...]
# The right half from the middle of the arch to the crest, in smooth edges with corners between.
CARVED: tuple[Edge, ...] = (
    ((0, 10.2), (4.4, 9.7), (7.6, 8.6), (10.0, 6.8), (10.7, 4.4), (10.2, 2.2), (9.0, 0)),
    ((9.0, 0), (20.8, 0)),
    ((20.8, 0), (20.9, 1.1), (20.2, 1.6)),
    ((20.2, 1.6), (17.9, 2.6), (16.6, 4.6), (16.7, 8.0), (17.4, 11.2)),
    ((17.4, 11.2), (18.0, 12.6), (17.2, 13.6), (15.6, 13.1)),
    ((15.6, 13.1), (12.6, 12.6), (9.8, 14.6), (9.0, 17.8), (10.4, 20.6), (13.0, 20.9), (14.6, 19.2)),
    ((14.6, 19.2), (16.4, 17.6), (18.2, 18.9), (19.3, 22.6), (19.7, 26.0), (18.9, 29.0)),
)
HEART: Edge = ((0, 16.2), (1.6, 17.6), (3.9, 18.6), (5.0, 20.8), (3.4, 22.4), (1.5, 21.6), (1.4, 24.0), (0, 25.6))
KIDNEY = 5
RAW: tuple[Edge, ...] = (
    ((0, 8.2), (4.0, 7.8), (7.0, 6.8), (8.8, 5.0), (8.8, 2.4), (7.8, 0)),
    ((7.8, 0), (21.0, 0)),
    ((21.0, 0), (21.1, 2.6), (20.4, 3.6)),
    ((20.4, 3.6), (18.9, 4.8), (18.0, 6.6), (18.1, 9.4), (18.6, 12.0)),
    ((18.6, 12.0), (19.2, 13.4), (18.4, 14.6), (17.0, 14.4)),
    ((17.0, 14.4), (14.6, 13.9), (12.4, 15.2), (11.8, 17.4), (12.8, 19.4), (14.4, 19.8), (15.6, 18.9)),
    ((15.6, 18.9), (17.4, 17.9), (19.2, 19.4), (20.0, 23.0), (20.2, 28.0), (20.0, 31.4)),
)
RAW_HEART: Edge = ((0, 17.2), (1.2, 18.3), (3.0, 19.1), (3.7, 20.6), (2.6, 21.7), (1.2, 21.1), (1.0, 22.8), (0, 24.0))


def crest_y(x: float, radius: float = CREST_RADIUS_MM, lean: float = LEAN) -> float:
    """Height of the crest at x mm from the middle; the thinnest string (x > 0) lies lower."""
    return HEIGHT_MM - radius + sqrt(radius**2 - x**2) - lean * x


def crest(
    radius: float = CREST_RADIUS_MM, lean: float = LEAN, half: float = CREST_HALF_MM, raise_mm: float = 0
) -> Edge:
    """The curve on which the strings lie, from right to left."""
    xs = (half * (1 - at / 6) for at in range(13))
    return tuple((x, crest_y(x, radius, lean) + raise_mm) for x in xs)


def left_of(edge: Sequence[Point]) -> Edge:
    """An edge of the other half, walked the other way."""
    return tuple((-x, y) for x, y in reversed(edge))


def _front(pen: Pen, half: tuple[Edge, ...], heart: Edge, top: Edge, look: Mark) -> None:
    wing = half[-1]
    wings = ((*wing[:-1], top[0]), (top[-1], *left_of(wing)[1:]))
    rest = half[:-1]
    pen.region(*rest, wings[0], top, wings[1], *(left_of(edge) for edge in reversed(rest)))
    pen.region(heart, left_of(heart), fill="sheet", mark=look)
    if look != "ink":
        for one in (pen, pen.mirrored()):
            one.curve(*half[KIDNEY], mark=look)


def front(pen: Pen, radius: float = CREST_RADIUS_MM, lean: float = LEAN, look: Mark = "ink") -> None:
    """The carved bridge from the tailpiece, thinnest string on the right; `look` is the mark of its openings."""
    _front(pen, CARVED, HEART, crest(radius, lean), look)


def raw_front(pen: Pen, look: Mark = "ink") -> None:
    """The bridge as it left the packet: thick feet and legs, small openings, no cut on the crest."""
    _front(pen, RAW, RAW_HEART, crest(CREST_RADIUS_MM, 0, 20.0, 3.6), look)


def side(pen: Pen, lean: float = 0, top: float = TOP_THICK_MM, bow: float = 0, foot: float = FOOT_THICK_MM) -> None:
    """The bridge from its side, tailpiece on the right; origin under its right face, which is square at lean 0.

    `lean` mm that the top has moved to the left; `bow` mm that the middle has bent to the right.
    """
    heights = (0, 8, 16.5, 25, HEIGHT_MM)
    swell = (0, 0.25, 0.35, 0.3, 0)  # the front is slightly rounded
    back = tuple((-lean * y / HEIGHT_MM + bow * (1 - (2 * y / HEIGHT_MM - 1) ** 2), y) for y in heights)
    wide = tuple(foot + (top - foot) * y / HEIGHT_MM + more for y, more in zip(heights, swell, strict=True))
    face = tuple((x - thick, y) for (x, y), thick in zip(back, wide, strict=True))
    pen.region(back, (back[-1], face[-1]), tuple(reversed(face)), (face[0], back[0]))


def strings_on(
    pen: Pen, places: Sequence[float] = STRINGS_MM, radius: float = CREST_RADIUS_MM, big: float = 0.75
) -> None:
    """The strings end on, as they lie on the crest."""
    for x in places:
        pen.disc((x, crest_y(x, radius) + big * 0.6), big, fill="ink")


def wood_at(y: float) -> tuple[tuple[float, float], ...]:
    """Where there is wood in the right half of the carved bridge at height y below its crest: from, to."""
    found = []
    for edge in (*CARVED, HEART):
        for (x1, y1), (x2, y2) in pairwise(edge):
            if min(y1, y2) <= y < max(y1, y2):
                found.append(x1 + (x2 - x1) * (y - y1) / (y2 - y1))
    solid_middle = y > CARVED[0][0][1] and not HEART[0][1] <= y < HEART[-1][1]
    ends = sorted(found) if not solid_middle else [0.0, *sorted(found)]
    return tuple(zip(ends[::2], ends[1::2], strict=False))
