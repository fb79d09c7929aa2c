"""What papers and photos are about: the label, and the photos that show where faults hide."""

from functools import partial
from math import cos, sin, sqrt

from ..geometry import plan, profile
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.outline import STOP_MM, body, f_holes, lying
from ..geometry.pen import Pen, spiral


def _label_place(pen: Pen) -> None:
    near = lying(pen)
    body(near)
    near.shape((-50, 166), (-25, 166), (-25, 218), (-50, 218), mark="look", fill="shade")
    f_holes(near)
    plan.board(near, low=0)
    near.box(-20, 193, 41, 4, mark="thin")


def _label(pen: Pen) -> None:
    pen.box(36, 30, 168, 90, fill="sheet")
    pen.box(41, 35, 158, 80, mark="thin", fill=None)
    pen.word((120, 60), "made after")
    pen.word((120, 80), "a great name", mark="look")
    pen.word((120, 103), "in the year 1")
    pen.curve((170, 104), (174, 96), (180, 103), (185, 97), mark="thin")


def _small(pen: Pen, x: float, y: float) -> Pen:
    pen.box(x, y, 68, 60, fill="sheet", mark="thin")
    return pen.at(x + 34, y + 30)


def _photos(pen: Pen) -> None:
    front = _small(pen, 10, 10).at(-28, 0, 0.158, turn=-90)
    body(front)
    f_holes(front)
    back = _small(pen, 86, 10).at(-28, 0, 0.158, turn=-90)
    body(back)
    back.line((0, 0), (0, 355), mark="look")
    side = _small(pen, 162, 10)
    side.box(-28, -6, 56, 12)
    for way in (-1, 1):
        side.curve((-29, way * 6), (-12, way * 11), (4, way * 12), (29, way * 6))
    side.curve((4, 1), (16, 0), (27, 1.5), mark="look")
    scroll = _small(pen, 10, 80).at(6, 0)
    scroll.curve(*spiral((-4, -6), 15, 3, 2.2, 150, 19))
    scroll.curve((-17, 1.5), (-14, 14), (-16, 26))
    scroll.curve((6, 6), (-2, 14), (-4, 26))
    scroll.line((-12, 18), (-3, 17), mark="look")
    button = _small(pen, 86, 80)
    button.region(
        ((-30, 26), (-26, 4), (-10, -4)),
        ((-10, -4), (-9, -18), (0, -23), (9, -18), (10, -4)),
        ((10, -4), (26, 4), (30, 26)),
    )
    button.curve((-14, 4), (0, -1), (14, 4), mark="thin")
    button.line((2, -20), (3, 2), mark="look")
    foot = _small(pen, 162, 80)
    foot.curve((-30, 20), (0, 10), (30, 20))
    foot.shape((-7, 11), (8, 12), (5, -20), (-5, -22), fill="tint")
    foot.line((-7, 11), (8, 12), mark="look")


def _face(pen: Pen) -> None:
    pen.disc((120, 75), 62)


def _chord(at: float) -> float:
    """Half the length of a line across the round piece, `at` from its middle."""
    return sqrt(max(0.0, 58.0**2 - at * at))


def _ivory(pen: Pen) -> None:
    """Two sets of lines that cross at a wide angle."""
    _face(pen)
    for turn in (-32, 32):
        near = pen.at(120, 75, turn=turn)
        for i in range(-4, 5):
            half = _chord(12.0 * i)
            near.curve((-half, 12.0 * i), (0, 12.0 * i - 4), (half, 12.0 * i), mark="look" if i in (-1, 0) else "thin")


def _bone(pen: Pen) -> None:
    """Small dark pores and short streaks."""
    _face(pen)
    for i in range(42):
        away, way = 54 * ((i + 0.5) / 42) ** 0.5, i * 2.39996
        x, y = 120 + away * cos(way), 75 + away * sin(way)
        if i % 5 == 2:
            pen.line((x - 3, y), (x + 3, y - 1), mark="look")
        else:
            pen.disc((x, y), 1.1, mark="look" if i % 4 == 0 else "thin", fill="ink")


def _plastic(pen: Pen) -> None:
    """Nothing but a seam and a few bubbles."""
    _face(pen)
    pen.line((62, 83), (178, 67), mark="look")
    for x, y, size in ((96, 46, 4.0), (142, 98, 3.0), (150, 48, 2.4)):
        pen.disc((x, y), size, mark="look", fill="sheet")


def _cased(pen: Pen, lid: float) -> None:
    """An instrument lying in its case, cut open lengthwise; `lid` is where its lining lies, in mm above the top."""
    near = pen.at(88, 82, 0.37, up=True)
    floor = -78.0
    near.shape((-222, floor - 12), (386, floor - 12), (386, lid + 14), (-222, lid + 14), fill="tint")
    near.shape((-212, floor), (376, floor), (376, lid), (-212, lid), mark="thin", fill="sheet")
    near.shape((-130, floor), (-70, floor), (-76, -8), (-124, -8), mark="thin")
    for x in (8.0, 306.0):
        near.box(x, floor, 38, 35, mark="thin")
    nut = profile.board_y(profile.NUT_X)
    near.region(
        ((-130, nut), (-160, nut - 3), (-184, nut - 1), (-196, nut - 6)),
        ((-196, nut - 6), (-204, nut - 18), (-196, nut - 30), (-184, nut - 30), (-178, nut - 26)),
        ((-178, nut - 26), (-150, nut - 26), (-130, nut - 16)),
    )
    near.disc((-191, nut - 18), 5, mark="thin", fill=None)
    for x in (-172.0, -157.0, -142.0):
        near.disc((x, nut - 13), 3.4, mark="thin", fill="dark")
    profile.neck(near)
    profile.board(near)
    profile.body(near)
    profile.tailpiece(near)
    profile.bridge(near)
    profile.strings(near)
    near.line((-212, lid), (376, lid), mark="look")
    if lid < 60:
        near.disc((STOP_MM, 44), 22, mark="look", fill=None)


DRAWINGS = (
    Drawing(
        "label",
        "The label: where it is, and what it may say",
        (
            plain("Look in through the sound hole on the side of the thickest string; neck to the left.", _label_place),
            plain("A great name there is most often the name of the model.", _label),
        ),
    ),
    Drawing(
        "photo_set",
        "Six photos of places where faults hide",
        (plain("Front, back, each side, scroll with its pegs, button and heel, bridge from the side.", _photos),),
    ),
    Drawing(
        "ivory_or_not",
        "The end face of a pale part under a glass",
        (
            plain("Ivory: two sets of fine lines cross. It is protected; papers are needed.", _ivory),
            plain("Bone: small dark pores and short streaks.", _bone),
            plain("Plastic: no lines, perhaps a seam or bubbles.", _plastic),
        ),
    ),
    Drawing(
        "case_fit",
        "The case cut open lengthwise, the instrument in it",
        (
            right("Bridge and strings are well clear of the lid.", partial(_cased, lid=88.0)),
            wrong("The lid presses on the bridge.", partial(_cased, lid=48.0)),
        ),
    ),
)
