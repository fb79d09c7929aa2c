"""What is inside: linings, corner blocks, bass bar, sound holes. Sections look from the lower end towards the neck."""

from functools import partial
from itertools import pairwise

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.outline import PLATE_MM, RIB_THICK_MM, arch, beside, body, f_hole, f_holes, lying, side, top_across
from ..geometry.pen import Pen, Point

_RIB = 30.0  # height of the sides in section, millimetres
_HALF = 56.0  # half the width at the middle bout


def _lined(pen: Pen) -> None:
    side(pen, linings="look").arrow((17, 12), (5.2, 4.4))


def _unlined(pen: Pen) -> None:
    near = side(pen)
    near.arrow((17, 12), (3.2, 1.4))
    near.line((0, 0), (RIB_THICK_MM, 0), mark="look")


_UPPER_RIB: tuple[Point, ...] = ((18, 62), (58, 40), (98, 35), (136, 47), (166, 67), (198, 77), (224, 75))
_MIDDLE_RIB: tuple[Point, ...] = ((224, 87), (200, 88), (174, 96), (156, 110), (148, 128), (146, 144))


def _corner_ribs(pen: Pen) -> None:
    """The sides at a corner from above, plate off: two ribs whose ends are glued face to face."""
    pen.region(_UPPER_RIB, beside(_UPPER_RIB, 6)[::-1], fill="shade")
    pen.region(_MIDDLE_RIB, beside(_MIDDLE_RIB, 6)[::-1], fill="shade")


def _block(pen: Pen) -> None:
    upper = beside(_UPPER_RIB, 6)[2:]
    middle = beside(_MIDDLE_RIB, 6)[:4]
    pen.region(upper, middle, (middle[-1], (118, 96), (100, 70), upper[0]), mark="look", fill="tint")
    for i in range(4):
        pen.curve((112 + 11 * i, 52 + 6 * i), (116 + 11 * i, 66 + 5 * i), (126 + 9 * i, 82 + 2.5 * i), mark="thin")


def _no_block(pen: Pen) -> None:
    pen.arrow((104, 104), (178, 84))


def _sham(pen: Pen) -> None:
    upper, middle = beside(_UPPER_RIB, 6), beside(_MIDDLE_RIB, 6)
    pen.region((upper[3], upper[4]), ((160, 84), middle[3]), (middle[3], (140, 80), upper[3]), mark="look", fill="tint")


def _corner(pen: Pen, kind: str) -> None:
    _corner_ribs(pen)
    {"block": _block, "none": _no_block, "sham": _sham}[kind](pen)


_TOP: tuple[Point, ...] = tuple((x - _HALF - 2.5, y + 3.5) for x, y in arch(2 * _HALF + 5, 13, 16))


def _belly(pen: Pen) -> Pen:
    """The body cut across at the bridge: x from its middle, y up from the upper edge of the sides, millimetres."""
    near = pen.at(120, 46, 1.9, up=True)
    for way in (1, -1):
        half = near if way > 0 else near.mirrored()
        half.box(_HALF - 1.4, -_RIB, 1.4, _RIB, fill="shade")
        half.shape((_HALF - 1.4, 0), (_HALF - 4, 0), (_HALF - 1.4, -7), mark="thin")
        half.shape((_HALF - 1.4, -_RIB), (_HALF - 4, -_RIB), (_HALF - 1.4, 7 - _RIB), mark="thin")
    near.region(_TOP, tuple((x, y - PLATE_MM) for x, y in _TOP)[::-1])
    back = tuple((x - _HALF - 2.5, -_RIB - 3.5 - y) for x, y in arch(2 * _HALF + 5, 12, 16))
    inner = tuple((x, y + PLATE_MM) for x, y in back)
    near.region(back, inner[::-1])
    return near


def _under(x: float) -> float:
    """Height of the top's inner face beside its middle."""
    for (x0, y0), (x1, y1) in pairwise(_TOP):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0) - PLATE_MM
    return 0.0


def _bar(pen: Pen) -> None:
    near = _belly(pen)
    near.shape(
        (-19, _under(19)),
        (-13.5, _under(13.5)),
        (-14, 2),
        (-15.2, 0.5),
        (-17, 0.5),
        (-18.4, 2),
        mark="look",
        fill="tint",
    )
    _post(near)


def _post(near: Pen) -> None:
    near.box(17, -_RIB - 11.5, 6, _under(20) + _RIB + 11.5, mark="thin")


def _no_bar(pen: Pen) -> None:
    near = _belly(pen)
    face = tuple((float(x), _under(x)) for x in (-32, -26, -20, -14, -8, -2))
    near.region(face, (face[-1], (-9, 7.6), (-14, 5.4), (-19, 5.2), (-25, 6.6), face[0]), mark="look", fill="tint")
    _post(near)


def _bar_plan(pen: Pen) -> Pen:
    near = lying(pen)
    body(near)
    f_holes(near)
    near.shape((-15, 45), (-10.5, 45), (-14.5, 310), (-19.5, 310), mark="hidden", fill=None)
    near.box(-20, 193.5, 41, 4, mark="thin")
    return near


def _bar_crack(pen: Pen) -> None:
    near = _bar_plan(pen)
    near.curve((-15, 110), (-16, 150), (-15.5, 200), (-17.5, 250), (-17, 278), mark="look")
    near.word((-57, 70), "bar", mark="ink")
    near.arrow((-48, 60), (-17, 74), mark="thin")


def _bar_sunk(pen: Pen) -> None:
    near, _ = top_across(pen, ((-17, 4.2, 12),), high=17)
    near.box(-19, -1, 5, 9.6, mark="thin")
    near.line((-21.4, 12), (-20.4, 10.2), (-21, 9.4), (-20.2, 8), mark="look")
    near.arrow((-21, 32), (-21, 16))


def _notched(near: Pen) -> None:
    """A sound hole with the two small notches that mark the place of the bridge."""
    f_hole(near)
    near.shape((35.6, 193), (32.4, 194.6), (35.8, 195.6), mark="bare", fill="ink")
    near.shape((40.6, 193.4), (44, 194.6), (40.8, 196), mark="bare", fill="ink")


def _pair(pen: Pen, crude: bool) -> None:
    near = pen.at(120, 75 - 192 * 1.6, 1.6)
    near.line((0, 150), (0, 234), mark="guide")
    _notched(near)
    other = near.mirrored()
    _notched(other.at(3, -8, turn=1.8) if crude else other)
    ends = ((-50, 188), (50, 195)) if crude else ((-52, 194), (52, 194))
    near.line(*ends, mark="look")


def _window(pen: Pen, rough: bool) -> None:
    """A piece of the inside with a block and a lining along its upper edge."""
    pen.box(14, 14, 212, 122)
    for x in range(30, 226, 18):
        pen.line((x, 52), (x, 135), mark="guide")
    if rough:
        pen.region(((14, 36), (60, 42), (96, 33), (130, 44), (172, 36), (226, 43)), ((226, 14), (14, 14)), fill="shade")
        for i in range(9):
            pen.curve((26 + 20 * i, 130), (38 + 20 * i, 92), (60 + 17 * i, 60), mark="thin")
        for i in range(10):
            x = 24 + 21 * i
            pen.curve((x, 42), (x + 4, 47), (x + 1, 52), mark="look")
    else:
        pen.box(14, 14, 212, 20, fill="shade")
        pen.line((14, 34), (226, 34), mark="look")


DRAWINGS = (
    Drawing(
        "linings",
        "The side between top and back, cut across",
        (
            right("Linings: strips along both edges of the side, so that the glue has something to hold.", _lined),
            wrong("None: the plates hold on the bare edge of the side, little over a millimetre.", _unlined),
        ),
    ),
    Drawing(
        "corner_blocks",
        "A corner inside, with the plate taken off",
        (
            right("A block fills the corner, and both sides are glued to it.", partial(_corner, kind="block")),
            wrong("Nothing: the two sides hold each other.", partial(_corner, kind="none")),
            wrong("A thin piece that only looks like a block from the sound hole.", partial(_corner, kind="sham")),
        ),
    ),
    Drawing(
        "bass_bar",
        "The body cut across at the bridge, from the lower end; soundpost on the right",
        (
            right("A bar of its own, glued in on the side of the thickest string.", _bar),
            wrong("A swelling left in the top's own wood.", _no_bar),
        ),
    ),
    Drawing(
        "bass_bar_crack",
        "Where the bass bar lies, and the top cut across",
        (
            plain("The crack runs beside the bar; thickest string's side below, neck to the left.", _bar_crack),
            wrong("Cracked and sunk: the side of the bar lies lower than the other.", _bar_sunk),
        ),
    ),
    Drawing(
        "sound_holes",
        "Both sound holes from the front",
        (
            right(
                "A pair: their middle notches lie on one level line, and the curves flow.", partial(_pair, crude=False)
            ),
            wrong("One sits higher and leans more than the other.", partial(_pair, crude=True)),
        ),
    ),
    Drawing(
        "inside_work",
        "A piece of the inside with a lining along its edge",
        (
            right("Smooth wood, linings with clean edges.", partial(_window, rough=False)),
            wrong("Marks of saw and gouge, loose fibres, ragged linings.", partial(_window, rough=True)),
        ),
    ),
)
