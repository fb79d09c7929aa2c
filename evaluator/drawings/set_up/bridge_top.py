"""The top of the bridge: grooves, parchment, the curve under the strings and their spread, and its height."""

from functools import partial
from itertools import pairwise
from math import acos, degrees

from ..geometry.bridge_shape import HEIGHT_MM, STRINGS_MM, crest_y, front, strings_on
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point, on_arc


def _groove(x: float, radius: float, depth: float) -> tuple[tuple[Point, ...], ...]:
    """The edges of a groove that holds a string `depth` mm deep in a level surface at 0, from left to right."""
    middle = radius - depth
    if depth <= radius:
        half = degrees(acos(middle / radius))
        return (on_arc((x, middle), radius, 270 - half, 270 + half, 7),)
    walls = ((x - radius, 0), (x - radius, middle)), ((x + radius, middle), (x + radius, 0))
    return walls[0], on_arc((x, middle), radius, 180, 360, 7), walls[1]


def _notches(pen: Pen, depth: float) -> None:
    """A piece of the crest with two strings end on; `depth` in thicknesses of the string."""
    mm = pen.at(120, 70, 16, up=True)
    strings = ((-3.4, 1.1), (3.4, 0.9))
    grooves = [edge for x, r in strings for edge in _groove(x, r, 2 * r * depth)]
    left, right_ = (-6.6, 0.0), (6.6, 0.0)
    mm.region(
        (left, grooves[0][0]), *grooves, (grooves[-1][-1], right_), (right_, (6.6, -4.2)), ((6.6, -4.2), (-6.6, -4.2))
    )
    for x, r in strings:
        mm.disc((x, r - 2 * r * depth), r, mark="look", fill="sheet")
        mm.disc((x, r - 2 * r * depth), r * 0.45, mark="thin", fill=None)


def _parchment(pen: Pen, there: bool) -> None:
    """The end of the crest under the thinnest string."""
    mm = pen.at(88, 66, 9, up=True)
    depth = 0.3 if there else 2.6
    x, r = 4.5, 0.55
    groove = _groove(x, r, min(depth, 2.6))
    top = (((-8, 0.6), (-4, 0.3), groove[0][0]), *groove, (groove[-1][-1], (7.6, -0.6)))
    mm.region(*top, ((7.6, -0.6), (9.0, -3.4), (9.2, -8.4)), ((9.2, -8.4), (-8, -8.4)))
    if there:
        skin = ((1.2, 0.1), (2.8, 0.06), (x - 0.6, 0.1), (x, -0.25), (x + 0.6, 0.1), (7.6, -0.4), (8.4, -2.2))
        above = tuple((px + 0.1, py + 0.5) for px, py in reversed(skin))
        mm.region(skin, (skin[-1], above[0]), above, (above[-1], skin[0]), mark="look", fill="shade")
    mm.disc((x, r - depth + (0.45 if there else 0)), r, mark="ink" if there else "look", fill="sheet")


def _arch(pen: Pen, radius: float, hits: float) -> None:
    """Four strings on the crest and the hair of a bow on one of them; `hits`: how far the hair tips, degrees."""
    mm = pen.at(120, 144, 3.4, up=True)
    front(mm, radius)
    strings_on(mm, radius=radius)
    x = STRINGS_MM[1]
    mm.at(x, crest_y(x, radius) + 1.35, turn=hits).line((-24, 0), (30, 0), mark="look")


def _crest_gauge(pen: Pen) -> None:
    """A template with a round edge laid on the crest."""
    mm = pen.at(120, 146, 3.1, up=True)
    front(mm, lean=0)
    top = tuple((x, crest_y(x, lean=0)) for x in (-22, -14, -7, 0, 7, 14, 22))
    mm.region(top, (top[-1], (22, 43)), ((22, 43), (-22, 43)), mark="look", fill=None)
    mm.at(0, 37.5).word((0, 0), "gauge", mark="look")


def _height(pen: Pen) -> None:
    mm = pen.at(88, 134, 3.1, up=True)
    mm.curve((-27, -1.0), (-20, -0.1), (0, 0.3), (20, -0.1), (38, -1.4))
    front(mm)
    mm.line((0, HEIGHT_MM), (27, HEIGHT_MM), mark="guide")
    mm.line((0, 0.3), (27, 0.3), mark="guide")
    mm.span((26, 0.3), (26, HEIGHT_MM), "height")


def _spacing(pen: Pen) -> None:
    mm = pen.at(120, 142, 3.1, up=True)
    front(mm)
    strings_on(mm)
    for x in (STRINGS_MM[0], STRINGS_MM[3]):
        mm.line((x, crest_y(x) + 1.5), (x, 39.5), mark="guide")
    mm.span((STRINGS_MM[0], 38.5), (STRINGS_MM[3], 38.5), "middle to middle")


def _spread(pen: Pen, places: tuple[float, ...]) -> None:
    mm = pen.at(120, 142, 3.3, up=True)
    front(mm)
    strings_on(mm, places)
    for x, y in pairwise(places):
        mm.span((x, 37.5), (y, 37.5), tick=4)


DRAWINGS = (
    Drawing(
        "bridge_notches",
        "The edge of the bridge and two strings, seen along the strings",
        (
            right("A third of each string lies in its groove, the rest stands above.", partial(_notches, depth=1 / 3)),
            wrong("Sunk in: the groove grips the string, deadens it and cuts it.", partial(_notches, depth=1.3)),
        ),
    ),
    Drawing(
        "bridge_parchment",
        "The bridge under its thinnest string, seen along the string",
        (
            right("A scrap of parchment carries the string.", partial(_parchment, there=True)),
            wrong("Bare wood: the string saws its way in.", partial(_parchment, there=False)),
        ),
    ),
    Drawing(
        "bridge_arch",
        "Four strings on the bridge, and the hair of the bow",
        (
            right("On one string the hair clears its neighbours.", partial(_arch, radius=42, hits=5.6)),
            wrong("Too flat: the hair touches a second string.", partial(_arch, radius=90, hits=-2)),
        ),
    ),
    Drawing(
        "bridge_radius",
        "A template on the crest of the bridge, from the front",
        (plain("Try round templates until one touches all the way along.", _crest_gauge),),
    ),
    Drawing(
        "bridge_height",
        "Where to measure the height of the bridge",
        (plain("In the middle, from the top to the crest.", _height),),
    ),
    Drawing(
        "bridge_spacing",
        "Where to measure between the outer strings",
        (plain("From the middle of one outer string to the middle of the other.", _spacing),),
    ),
    Drawing(
        "bridge_spread",
        "Four strings on the bridge, seen from the tailpiece",
        (
            right("Three equal gaps, the same distance from both ends.", partial(_spread, places=STRINGS_MM)),
            wrong("One gap wide, one narrow.", partial(_spread, places=(-16.7, -7.8, 6.2, 15.0))),
        ),
    ),
)
