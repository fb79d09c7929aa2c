"""Where top and back crack, how an arch sinks, and how repairs and worm look. A body lies neck to the left."""

from functools import partial

from ..geometry import plan
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.outline import Dent, body, f_hole, f_holes, lying, top_across
from ..geometry.pen import Pen, Point


def _crack(near: Pen, *points: Point) -> None:
    near.curve(*points, mark="look")


def _front(pen: Pen) -> Pen:
    near = lying(pen)
    body(near)
    f_holes(near)
    near.box(-20, 193, 41, 4, mark="thin")
    plan.board(near, low=0)
    near.box(-17, 348, 34, 7, mark="thin")
    return near


def _top_cracks(pen: Pen) -> None:
    near = _front(pen)
    _crack(near, (25, 350), (27, 320), (26, 296))
    _crack(near, (-22, 350), (-23, 330), (-22, 308))
    _crack(near, (57, 227), (60, 255), (59, 278))
    _crack(near, (-28, 158), (-27, 120), (-29, 84))
    _crack(near, (44, 14), (46, 44), (45, 66))
    _crack(near, (70, 268), (72, 300), (70, 326))


def _wing(pen: Pen, whole: bool) -> None:
    near = pen.at(48, 75 - 191 * 1.7, 1.7)
    near.box(-18, 149, 118, 85, mark="bare")
    for x in (-12.0, -4.0, 2.0, 8.0, 15.0, 23.0, 31.0, 40.0, 49.0, 58.0, 67.0, 77.0, 88.0):
        near.line((x, 150), (x, 233), mark="guide")
    f_hole(near)
    if whole:
        near.disc((46.5, 214), 9, mark="look", fill=None)
        near.disc((32.8, 169), 9, mark="look", fill=None)
    else:
        _crack(near, (49.8, 220), (50.4, 205), (49.6, 186), (50.6, 168))
        _crack(near, (32.0, 164), (30.6, 180), (31.4, 200), (30.6, 214))


def _back_cracks(pen: Pen) -> None:
    near = lying(pen)
    near.region(((-10.5, 2), (-10, -7), (0, -12), (10, -7), (10.5, 2)), mark="ink")
    body(near)
    near.line((0, 1), (0, 354), mark="thin")
    near.disc((-21, 201), 3.2, mark="hidden", fill=None)
    _crack(near, (-20, 160), (-21, 200), (-20, 244))
    _crack(near, (8, -8), (8.6, 10), (8, 40))
    _crack(near, (52, 300), (53, 322), (52, 334))
    near.word((-48, 201), "post")


def _arch(pen: Pen, dents: tuple[Dent, ...]) -> None:
    near, outer = top_across(pen, dents)
    for at, _, _ in dents:
        near.arrow((at, 40), (at, 26))
    if not dents:
        near.curve(*outer, mark="look")


def _square(near: Pen, x: float, y: float, size: float) -> None:
    near.shape((x, y - size), (x + size, y), (x, y + size), (x - size, y), mark="ink", fill="sheet")
    for at in (-0.5, 0.0, 0.5):
        reach = size * (1 - abs(at)) * 0.8
        near.line((x + at * size, y - reach), (x + at * size, y + reach), mark="thin")


def _inside_grain(pen: Pen) -> None:
    pen.box(12, 14, 216, 122)
    for at in range(1, 10):
        pen.line((13, 14 + 12.2 * at), (227, 14 + 12.2 * at), mark="guide")


def _cleats(pen: Pen) -> None:
    _inside_grain(pen)
    pen.curve((14, 74), (70, 76), (140, 73), (200, 75), mark="look")
    for x in (48.0, 106.0, 164.0):
        _square(pen, x, 75, 15)


def _lumps(pen: Pen) -> None:
    _inside_grain(pen)
    pen.curve((14, 74), (70, 76), (140, 73), (226, 75), mark="look")
    pen.blob((34, 58), (70, 50), (96, 62), (100, 88), (72, 100), (38, 92), mark="thin", fill="shade")
    pen.shape((44, 62), (88, 66), (84, 90), (42, 86), fill="sheet")
    for at in (68.0, 74.0, 80.0):
        pen.line((46, at), (84, at + 3), mark="thin")
    pen.blob((136, 66), (160, 56), (188, 68), (182, 92), (150, 94), mark="thin", fill="shade")
    pen.shape((150, 50), (176, 58), (166, 102), (140, 94), fill="sheet")


def _joined(pen: Pen, step: float, glue: bool) -> None:
    """A glued crack in section, cleat below, drawn very large."""
    for x, y in ((14.0, 0.0), (121.0, step)):
        pen.box(x, 56 + y, 105, 34)
        for i in range(1, 8):
            pen.line((x + 13 * i, 57 + y), (x + 13 * i, 89 + y), mark="guide")
    if glue:
        pen.blob((104, 52), (112, 44), (126, 46), (137, 58), (124, 68), (118, 58), mark="look", fill="look")
        pen.blob((110, 92), (118, 108), (134, 112), (136, 99), (122, 92), mark="thin", fill="shade")
        pen.line((120, 56), (120, 99), mark="look")
    else:
        pen.shape((88, 90), (152, 90), (138, 104), (102, 104))
        pen.line((120, 56), (120, 90), mark="look")


def _worm(pen: Pen) -> None:
    pen.shape((16, 62), (196, 62), (226, 22), (46, 22))
    pen.shape((16, 62), (196, 62), (196, 124), (16, 124), fill="sheet")
    for x, y in ((70.0, 46.0), (102.0, 36.0), (128.0, 50.0), (170.0, 40.0)):
        pen.disc((x, y), 4, mark="look", fill="dark", tall=0.6)
    for start, path in (
        ((66, 62), ((72, 80), (98, 88), (130, 84), (150, 98), (184, 102))),
        ((124, 62), ((122, 74), (108, 98), (74, 104), (44, 112))),
    ):
        for shift in (0.0, 5.0):
            pen.curve((start[0] + shift, start[1]), *((x + shift, y + shift * 0.4) for x, y in path), mark="thin")
    pen.blob((186, 128), (196, 122), (212, 128), (216, 134), (182, 134), mark="thin", fill="shade")
    pen.arrow((214, 104), (204, 120))


DRAWINGS = (
    Drawing(
        "top_cracks",
        "The top from the front, neck to the left",
        (plain("Where tops crack: from the sound holes, beside the board and the saddle, at the edges.", _top_cracks),),
    ),
    Drawing(
        "wing_crack",
        "A sound hole close up, with the grain of the top",
        (
            right(
                "The tongues of wood beside the hole are whole. They stand on short grain and break first.",
                partial(_wing, whole=True),
            ),
            wrong(
                "Cracks run from the hole along the grain, across the root of the tongue.", partial(_wing, whole=False)
            ),
        ),
    ),
    Drawing(
        "back_cracks",
        "The back from outside, its button on the left",
        (
            plain(
                "The crack where the soundpost stands is the grave one; one into the button comes next.", _back_cracks
            ),
        ),
    ),
    Drawing(
        "arching",
        "The top cut across at the bridge, from the lower end, its arch drawn too high",
        (
            right("Both sides alike, one flowing curve.", partial(_arch, dents=())),
            wrong("Sunk on the side of the bass bar.", partial(_arch, dents=((-17.0, 6.5, 15.0),))),
            wrong("Pushed up over the soundpost.", partial(_arch, dents=((21.0, -4.5, 8.0),))),
        ),
    ),
    Drawing(
        "cleats",
        "The inside of the top with a glued crack",
        (
            right("Small thin squares, few, their grain across the crack, no glue around them.", _cleats),
            wrong("Heavy pieces in pools of glue, and the crack runs on.", _lumps),
        ),
    ),
    Drawing(
        "repair_quality",
        "A glued crack cut across, drawn very large",
        (
            right("Level, tight and clean. A thin cleat lies below.", partial(_joined, step=0, glue=False)),
            wrong("One side stands higher, and glue stands out of the joint.", partial(_joined, step=9, glue=True)),
        ),
    ),
    Drawing(
        "woodworm",
        "A piece of wood cut open",
        (plain("Round holes the size of a pinhead, tracks inside, and fine pale dust where worm is alive.", _worm),),
    ),
)
