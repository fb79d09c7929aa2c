"""The nut: from the end of the board, along the strings, and from the side. In mm of a violin, grooves enlarged."""

from functools import partial
from math import acos, degrees

from ..geometry.bridge_shape import STRINGS_MM
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point, on_arc

HALF_MM, SPAN_MM = 12.0, 16.4
PLACES = tuple(x * SPAN_MM / 33.5 for x in STRINGS_MM)
THICK = (0.85, 0.75, 0.65, 0.5)  # half-thickness of the strings, enlarged


def board_y(x: float) -> float:
    """Face of the board at the nut above its edge."""
    return 2.2 * (1 - (x / HALF_MM) ** 2)


def top_y(x: float) -> float:
    """Top of the nut above the edge of the board."""
    return board_y(x) + 2.4 - 0.9 * (abs(x) / HALF_MM) ** 3


def _face() -> tuple[Point, ...]:
    return tuple((HALF_MM * (at / 6 - 1), board_y(HALF_MM * (at / 6 - 1))) for at in range(13))


def _groove(x: float, radius: float, deep: float) -> tuple[Point, ...]:
    """The line of the nut's top through one groove; `deep` in thicknesses of the string."""
    level = top_y(x)
    middle = level + radius - 2 * radius * deep
    if middle - level >= 0:
        half = degrees(acos((middle - level) / radius))
        return on_arc((x, middle), radius, 270 - half, 270 + half, 7)
    return ((x - radius, level), *on_arc((x, middle), radius, 180, 360, 7), (x + radius, level))


def _between(first: Point, last: Point) -> tuple[Point, ...]:
    """The rounded top of the nut from one groove or side to the next."""
    xs = [first[0] + (last[0] - first[0]) * share for share in (0.08, 0.3, 0.5, 0.7, 0.92)]
    return (first, *((x, top_y(x)) for x in xs), last)


def nut(pen: Pen, places: tuple[float, ...] = PLACES, deep: float = 0.5) -> None:
    """Nut and end of the board behind it, thickest string on the left."""
    edges: list[tuple[Point, ...]] = []
    here: Point = (-HALF_MM, 0.6)
    for x, radius in zip(places, THICK, strict=True):
        groove = _groove(x, radius, deep)
        edges += [_between(here, groove[0]), groove[:2], groove[1:-1], groove[-2:]]
        here = groove[-1]
    edges += [_between(here, (HALF_MM, 0.6)), ((HALF_MM, 0.6), (HALF_MM, -5.5)), ((HALF_MM, -5.5), (-HALF_MM, -5.5))]
    pen.region(*edges)
    pen.region(_face(), ((HALF_MM, 0), (HALF_MM, -5.5)), ((HALF_MM, -5.5), (-HALF_MM, -5.5)), fill="dark")
    for x, radius in zip(places, THICK, strict=True):
        pen.disc((x, top_y(x) + radius - 2 * radius * deep), radius, fill="sheet")


def _notches(pen: Pen, good: bool) -> None:
    mm = pen.at(120, 88, 9, up=True)
    if good:
        nut(mm)
        for x, radius in zip(PLACES, THICK, strict=True):
            mm.curve(*_groove(x, radius, 0.5), mark="look")
        return
    places = (-8.4, -3.4, 2.0, 8.0)
    nut(mm, places, deep=1.15)
    for x, radius in zip(places, THICK, strict=True):
        mm.line(*_groove(x, radius, 1.15), mark="look")


def _card(pen: Pen, high: float) -> None:
    """The first part of the board from the side, a string from the nut, and a card under it."""
    pen.shape((30, 92), (232, 84), (232, 122), (30, 122), fill="dark")
    top = 92 - high
    pen.region(
        ((14, 122), (14, top + 10)),
        ((14, top + 10), (17, top + 2), (24, top - 0.5), (30, top)),
        ((30, top), (30, 122)),
        ((30, 122), (14, 122)),
    )
    pen.line((2, top + 14), (24, top - 1), (232, 68 - high * 0.8))
    pen.shape((36, 91.4), (90, 89.2), (90, 86.2), (36, 88.4), mark="look", fill="look")


def _height(pen: Pen, thickest: bool) -> None:
    mm = pen.at(126 if thickest else 114, 86, 8.2, up=True)
    nut(mm, deep=0.4)
    at, out = (0, -1.0) if thickest else (3, 1.0)
    x, radius = PLACES[at], THICK[at]
    low, high = board_y(x), top_y(x) - 0.8 * radius
    for y in (low, high):
        mm.line((x, y), (x + out * 5.4, y), mark="guide")
    mm.span((x + out * 4.8, low), (x + out * 4.8, high), tick=3)


def _spacing(pen: Pen) -> None:
    mm = pen.at(120, 96, 8.2, up=True)
    nut(mm)
    for x in (PLACES[0], PLACES[3]):
        mm.line((x, top_y(x)), (x, 7.6), mark="guide")
    mm.span((PLACES[0], 6.9), (PLACES[3], 6.9), "middle to middle")


END = "The nut, seen along the strings from the board"
DRAWINGS = (
    Drawing(
        "nut_notches",
        END,
        (
            right("Round grooves half as deep as each string, evenly spread.", partial(_notches, good=True)),
            wrong("Sunk deep, unevenly spread: the strings jam and sit low.", partial(_notches, good=False)),
        ),
    ),
    Drawing(
        "nut_card",
        "Nut, string and board from the side, a card under the string",
        (
            right("The card has just room.", partial(_card, high=6)),
            wrong("Much air over the card: the first notes are hard to press.", partial(_card, high=22)),
        ),
    ),
    Drawing(
        "nut_low",
        END,
        (plain("From the board to the underside of the thickest string.", partial(_height, thickest=True)),),
    ),
    Drawing(
        "nut_high",
        END,
        (plain("From the board to the underside of the thinnest string.", partial(_height, thickest=False)),),
    ),
    Drawing("nut_spacing", END, (plain("From the middle of one outer string to the middle of the other.", _spacing),)),
)
