"""The bridge: from the front, from the side, and close up where foot and strings meet it. Millimetres of a violin."""

from functools import partial
from math import sqrt

from .model import Drawing, right, wrong
from .pen import Pen, Point

HEIGHT_MM, FOOT_THICK_MM, TOP_THICK_MM = 33.0, 4.3, 1.3
CREST_RADIUS_MM, CREST_HALF_MM, LEAN = 42.0, 18.9, 0.035
# Half of the outline from the middle of the arch to the crest, in smooth edges with corners between; y counts up.
ARCH: tuple[Point, ...] = ((0, 10.2), (4.4, 9.7), (7.6, 8.6), (10.0, 6.8), (10.7, 4.4), (10.2, 2.2), (9.0, 0))
TOE: tuple[Point, ...] = ((9.0, 0), (20.8, 0), (20.9, 1.1), (20.2, 1.6))
LEG: tuple[Point, ...] = ((20.2, 1.6), (17.9, 2.6), (16.6, 4.6), (16.7, 8.0), (17.4, 11.2))
HIP: tuple[Point, ...] = ((17.4, 11.2), (18.0, 12.6), (17.2, 13.6), (15.6, 13.1))
KIDNEY: tuple[Point, ...] = (
    (15.6, 13.1),
    (12.6, 12.6),
    (9.8, 14.6),
    (9.0, 17.8),
    (10.4, 20.6),
    (13.0, 20.9),
    (14.6, 19.2),
)
WING: tuple[Point, ...] = ((14.6, 19.2), (16.4, 17.6), (18.2, 18.9), (19.3, 22.6), (19.7, 26.0), (18.9, 29.0))
HEART: tuple[Point, ...] = (
    (0, 16.2),
    (1.6, 17.6),
    (3.9, 18.6),
    (5.0, 20.8),
    (3.4, 22.4),
    (1.5, 21.6),
    (1.4, 24.0),
    (0, 25.6),
)
BLANK: tuple[Point, ...] = ((18.9, 0), (20.8, 0), (20.9, 2.6), (19.6, 3.6), (18.3, 5.6), (18.2, 9.0), (18.6, 12.2))


def crest_y(x: float, radius: float = CREST_RADIUS_MM, lean: float = LEAN) -> float:
    """Height of the crest at x mm from the middle; the thinnest string (x > 0) lies lower."""
    return HEIGHT_MM - radius + sqrt(radius**2 - x**2) - lean * x


def crest(radius: float = CREST_RADIUS_MM, lean: float = LEAN) -> tuple[Point, ...]:
    """The curve on which the strings lie, from right to left."""
    xs = (CREST_HALF_MM * (1 - at / 6) for at in range(13))
    return tuple((x, crest_y(x, radius, lean)) for x in xs)


def _left(edge: tuple[Point, ...]) -> tuple[Point, ...]:
    return tuple((-x, y) for x, y in reversed(edge))


def _joined(edge: tuple[Point, ...], last: Point) -> tuple[Point, ...]:
    return (*edge[:-1], last)


def front(pen: Pen, radius: float = CREST_RADIUS_MM, lean: float = LEAN) -> None:
    """The carved bridge from the tailpiece: legs, heart, kidneys; treble on the right. Origin on the belly, y up."""
    top = crest(radius, lean)
    wing_right, wing_left = _joined(WING, top[0]), (top[-1], *_left(WING)[1:])
    half = (ARCH, TOE, LEG, HIP, KIDNEY, wing_right)
    other = (wing_left, _left(KIDNEY), _left(HIP), _left(LEG), _left(TOE), _left(ARCH))
    pen.region(*half, top, *other)
    pen.region(HEART, _left(HEART), fill="sheet")


def side(pen: Pen, lean: float = 0, top: float = TOP_THICK_MM, bow: float = 0) -> None:
    """The bridge from its treble side, tailpiece on the right: its right face square at lean 0. Origin under that face.

    `lean` mm that the top has moved to the left; `bow` mm that the middle has bent.
    """
    back = tuple((-lean * y / HEIGHT_MM - bow * (1 - (2 * y / HEIGHT_MM - 1) ** 2), y) for y in (0, 8, 16.5, 25, 33))
    widths = (FOOT_THICK_MM, 3.9, 3.2, 2.4, top) if top < 2 else (top + 0.2, top + 0.2, top + 0.1, top, top)
    face = tuple((x - wide, y) for (x, y), wide in zip(back, widths, strict=True))
    pen.region(back, (back[-1], face[-1]), tuple(reversed(face)), (face[0], back[0]))


def _on_the_belly(pen: Pen, lean: float) -> None:
    """Side view with belly and string over the bridge."""
    mm = pen.at(128, 128, 2.9, up=True)
    mm.curve((-42, 0.6), (-20, 0.2), (0, 0), (36, -0.9))
    mm.curve((-42, -2.4), (-20, -2.8), (0, -3), (36, -3.9), mark="thin")
    side(mm, lean)
    mm.line((-42, 25.2), (-0.7 - lean, 33), (36, 22.6))
    mm.line((0, -0.2), (0, 38.5), mark="look")
    mm.line((0, 2.6), (2.6, 2.6), (2.6, 0), mark="look")
    pen.word((128 + 2.9 * 24, 40), "tailpiece")
    pen.word((128 - 2.9 * 29, 40), "board")


STANCE = Drawing(
    "bridge_stance",
    "Bridge from the side, tailpiece on the right",
    (
        right("The face towards the tailpiece stands square to the top.", partial(_on_the_belly, lean=0)),
        wrong(
            "The strings have pulled its top towards the board: soon it bends, or falls.",
            partial(_on_the_belly, lean=5),
        ),
    ),
)


def _foot(pen: Pen, gap: float) -> None:
    """One foot, ten times as large, on the arch of the belly."""
    mm = pen.at(104, 104, 8.4, up=True)

    def belly(x: float) -> float:
        return -0.009 * (x + 4) ** 2

    xs = (-9.5, -6, -2, 2, 6, 10, 13)
    mm.region(tuple((x, belly(x)) for x in xs), ((13, belly(13) - 2.6), (0, -2.9), (-9.5, -3.0)))
    sole = tuple((x, belly(x) + gap * max(0.0, (x + 6) / 12) ** 1.3) for x in (-6, -3, 0, 3, 6))
    high = sole[-1][1]
    toe = ((6, high), (6.2, high + 0.6), (5.6, 1.5 + high))
    leg = ((5.6, 1.5 + high), (2.8, 2.6 + high / 2), (1.4, 4.8), (1.2, 10.5))
    inner = ((-4.6, 10.5), (-4.4, 6.2), (-4.9, 2.6), (-6, sole[0][1]))
    mm.region(sole, toe, leg, (leg[-1], inner[0]), inner)
    if gap:
        mm.region(
            sole, ((6, high), (6, belly(6))), tuple((x, belly(x)) for x in (6, 3, 0, -3, -6)), mark="look", fill="look"
        )
    else:
        mm.curve(*sole, mark="look")


FEET = Drawing(
    "bridge_feet",
    "One foot of the bridge on the top, close up",
    (
        right("The whole sole lies on the wood. No light comes through.", partial(_foot, gap=0)),
        wrong("Light shows under the foot: it carries on one edge and dents the top.", partial(_foot, gap=0.9)),
    ),
)

DRAWINGS = (STANCE, FEET)
