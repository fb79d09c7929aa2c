"""What tells the hand of the maker: edge, arch, joints, heel, matching wood; and what tells of an opened body.

Sections and pieces close up, in units of the sheet, drawn by eye.
"""

from functools import partial

from ..geometry.model import Drawing, right, wrong
from ..geometry.outline import arch
from ..geometry.pen import Pen, Point

_LIVELY: tuple[Point, ...] = (
    (36, 92),
    (34, 82),
    (44, 72),
    (58, 75),
    (72, 86),
    (90, 90),
    (116, 84),
    (160, 64),
    (214, 46),
)
_FLAT: tuple[Point, ...] = ((34, 78), (96, 76), (126, 74), (164, 62), (214, 46))
_BACK, _SIDE, _HEAD = (24.0, 108.0), (124.0, 146.0), (164.0, 214.0)
_CLEAN_HEEL: tuple[Point, ...] = ((16, 64), (70, 67), (98, 78), (114, 100), (120, 126))
_ROUGH_HEEL: tuple[Point, ...] = ((16, 66), (56, 62), (72, 76), (88, 74), (96, 94), (112, 96), (108, 112), (122, 126))


def _edge(pen: Pen, face: tuple[Point, ...]) -> None:
    """The edge of the top cut across, its outer side on the left."""
    pen.region(face, (face[-1], (214, 66)), ((214, 66), (150, 86), (96, 108)), ((96, 108), (34, 108)), mark="bare")
    pen.curve((214, 66), (150, 86), (96, 108))
    pen.line((96, 108), (34, 108), face[0])
    pen.curve(*face, mark="look")


def _arching(pen: Pen, lumpy: bool) -> None:
    near = pen.at(20, 104, up=True)
    high: tuple[Point, ...] = tuple(arch(200, 44))
    if lumpy:
        high = (
            (0, 0),
            (16, 2),
            (36, 8),
            (52, 36),
            (66, 41),
            (126, 41),
            (140, 34),
            (150, 40),
            (164, 26),
            (182, 5),
            (200, 0),
        )
    near.region(high, tuple((x, y - 7) for x, y in high)[::-1], mark="bare")
    near.curve(*high, mark="look")
    near.curve(*((x, y - 7) for x, y in high))


def _striped(pen: Pen, sides: tuple[float, float], lean: float, step: float) -> None:
    """A piece of wood with its flame: stripes that rise by `lean` across it, `step` apart."""
    left, end = sides
    pen.box(left, 22, end - left, 106)
    at = 30 + max(0.0, -lean)
    while at + max(0.0, lean) < 126:
        pen.line((left + 2, at + lean), (end - 2, at), mark="thin")
        at += step


def _woods(pen: Pen, alike: bool) -> None:
    _striped(pen, _BACK, 12, 9)
    _striped(pen, _SIDE, 3 if alike else 0, 9 if alike else 200)
    _striped(pen, _HEAD, 7 if alike else -9, 9 if alike else 4)
    pen.arrow((135, 146), (135, 131))
    pen.arrow((189, 146), (189, 131))


def _corner(pen: Pen, gap: float) -> None:
    """Two sides meeting at a corner, between top and back, seen from outside."""
    for y in (28, 108):
        pen.box(20, y, 200, 12, fill="sheet")
    pen.region(((28, 40), (28, 108)), ((28, 108), (112, 108)), ((112, 108), (112, 40)))
    pen.region(((112, 40), (112, 108)), ((112, 108), (212, 108)), ((212, 108), (212, 40)), fill="shade")
    if not gap:
        pen.line((112, 40), (112, 108), mark="look")
        return
    wide = gap / 2
    pen.region(
        ((112 - wide, 40), (115 - wide, 62), (110 - wide, 84), (113 - wide, 108)),
        ((113 - wide, 108), (112 + wide, 108)),
        ((112 + wide, 108), (116 + wide, 80), (110 + wide, 58), (113 + wide, 40)), mark="look", fill="sheet",
    )  # fmt: skip


def _end_block(pen: Pen, loose: bool) -> None:
    """The lower end cut lengthwise: top above, back below, the side at the right, and the block behind it."""
    aside = 7 if loose else 0
    pen.box(20, 24, 200, 9, fill="sheet")
    pen.box(20, 118, 200, 10, fill="sheet")
    pen.box(200, 33, 7, 85, fill="shade")
    pen.box(136 - aside, 33, 64, 85)
    for x in (146, 156, 166, 176, 186):
        pen.line((x - aside, 36), (x - aside, 115), mark="thin")
    if loose:
        pen.shape((193, 33), (200, 33), (200, 118), (193, 118), mark="bare", fill="look")
        pen.line((151, 33), (153, 60), (150, 88), (152, 118), mark="look")
    else:
        pen.line((200, 33), (200, 118), mark="look")


def _heel(pen: Pen, under: tuple[Point, ...]) -> None:
    """The heel from the side, body at the right."""
    pen.box(150, 40, 74, 10, fill="sheet")
    pen.box(150, 116, 74, 10, fill="sheet")
    pen.box(154, 50, 70, 66, fill="shade")
    pen.region(((16, 36), (150, 36)), ((150, 36), (150, 126)), ((150, 126), under[-1]), under[::-1], mark="bare")
    pen.line((16, 36), (150, 36), (150, 126), under[-1])
    pen.curve(*under, mark="look")


def _rough_heel(pen: Pen) -> None:
    _heel(pen, _ROUGH_HEEL)
    for x, y in ((84, 62), (96, 74), (108, 82), (118, 96)):
        pen.line((x, y), (x + 10, y - 7), mark="thin")


def _seam(pen: Pen, opened: bool) -> None:
    """The edge of the top on the side, from outside."""
    pen.box(20, 44, 200, 18, fill="sheet")
    pen.box(26, 62, 188, 58, fill="tint")
    if not opened:
        pen.line((20, 62), (220, 62), mark="look")
        return
    for x in (52, 92, 140, 178):
        pen.shape((x, 62), (x + 5, 57), (x + 12, 62), (x + 6, 68), mark="look", fill="look")
    pen.blob((104, 62), (116, 63), (126, 62), (120, 72), (112, 70), mark="thin", fill="shade")
    pen.line((26, 76), (214, 78), mark="hidden")


DRAWINGS = (
    Drawing(
        "edge_work",
        "The edge of the top cut across",
        (
            right("A rounded border, then a clean channel, then the arch begins.", partial(_edge, face=_LIVELY)),
            wrong("Square and flat: no channel, and the border was never rounded.", partial(_edge, face=_FLAT)),
        ),
    ),
    Drawing(
        "arching_made",
        "The top cut across, the height exaggerated",
        (
            right("The arch rises full and smooth, both sides alike.", partial(_arching, lumpy=False)),
            wrong("A flat middle, a lump, and a slope like the side of a box.", partial(_arching, lumpy=True)),
        ),
    ),
    Drawing(
        "woods_alike",
        "Pieces of back, side and head beside each other",
        (
            right("The stripes are alike in width and colour.", partial(_woods, alike=True)),
            wrong("The side has no stripes, and those of the head are narrower and slant the other way.",
                  partial(_woods, alike=False)),
        ),
    ),
    Drawing(
        "rib_corners",
        "A corner of the sides from outside",
        (
            right("The joint is one fine line from edge to edge.", partial(_corner, gap=0)),
            wrong("A wide uneven joint, filled.", partial(_corner, gap=12)),
        ),
    ),
    Drawing(
        "end_blocks",
        "The lower end cut lengthwise, the block inside",
        (
            right("The block is whole and lies tight on the side, on top and back.", partial(_end_block, loose=False)),
            wrong("The block has come away from the side, and a split runs along its grain.",
                  partial(_end_block, loose=True)),
        ),
    ),
    Drawing(
        "heel_finish",
        "The heel of the neck from the side, body at the right",
        (
            right("One clean curve from the neck to the button.", partial(_heel, under=_CLEAN_HEEL)),
            wrong("Lumps, and marks of tools left standing.", _rough_heel),
        ),
    ),
    Drawing(
        "opened_before",
        "The seam of the top from the side",
        (
            right("One even line: it does not seem to have been opened.", partial(_seam, opened=False)),
            wrong("Small marks of a knife, new glue, and a step in the varnish below.", partial(_seam, opened=True)),
        ),
    ),
)  # fmt: skip
