"""The handle of a bow: frog, screw, hair, leather and winding."""

from functools import partial
from math import cos, radians, sin

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point
from .bow_shape import frog, stick_and_button


def _close(pen: Pen) -> Pen:
    return pen.at(80, 52, 2.4)


def _parts(pen: Pen) -> None:
    near = _close(pen)
    stick_and_button(near)
    frog(near)
    for text, word, tip in (
        ("ring", (-16, 30), (2, 17)),
        ("eye", (20, 34), (25, 13)),
        ("slide", (46, 36), (34, 19.8)),
        ("button", (50, -15.5), (56, -8.6)),
    ):
        near.word(word, text)
        x, y = word
        near.arrow((x, y - 6 if y > 0 else y + 1.5), tip, head=5)


def _stamp(pen: Pen) -> None:
    near = _close(pen)
    stick_and_button(near)
    frog(near)
    near.box(6, -7.6, 26, 4.4, mark="look", fill=None)
    for i in range(6):
        near.line((9 + 4 * i, -6.6), (9 + 4 * i, -4.2), mark="thin")
    near.arrow((19, -17), (19, -9))


def _octagon(size: float) -> tuple[Point, ...]:
    return tuple((size * cos(radians(22.5 + 45 * i)), size * sin(radians(22.5 + 45 * i))) for i in range(8))


def _end_on(pen: Pen, rock: float, gap: float) -> None:
    """Stick and frog cut across: the frog rides on the three lower faces of the stick; 6 units to a millimetre."""
    stick = _octagon(28)
    near = pen.at(120, 46)
    seat = pen.at(120, 46, turn=rock)
    low = 28 * cos(radians(22.5)) + gap
    half = 28 * sin(radians(22.5))
    side = 28 * cos(radians(22.5)) + gap * 0.6
    seat.shape(
        (-side - 4, half + 1),
        (-side + 1, half + 1),
        (-half - gap * 0.4, low),
        (half + gap * 0.4, low),
        (side - 1, half + 1),
        (side + 4, half + 1),
        (side + 6, 88),
        (-side - 6, 88),
    )
    seat.line((-side - 6, 78), (side + 6, 78), mark="thin")
    near.shape(*stick, fill="shade")
    near.disc((0, 0), 5, mark="thin", fill="sheet")
    if rock:
        near.line(stick[2], stick[1], mark="look")
        near.arrow((70, 60), (70, 90))
        near.arrow((-70, 90), (-70, 60))
    else:
        near.line(stick[0], stick[1], stick[2], stick[3], mark="look")


def _screw(pen: Pen, eyelet: float, room: float) -> None:
    """Stick and frog cut open lengthwise; the eyelet hangs from the frog on the screw, in a slot of the stick."""
    pen.box(14, 38, 180, 34)
    shift = eyelet - 152
    hollow = tuple((x + shift, y) for x, y in ((84, 72), (77, 82), (79, 96), (72, 106), (56, 109)))
    pen.region(
        hollow,
        (hollow[-1], (56 + shift, 132)),
        ((180 + shift, 135), (192 + shift, 132), (194 + shift, 122)),
        ((194 + shift, 122), (194 + shift, 72)),
        fill="sheet",
    )
    pen.shape((84, 46), (160, 46), (160, 72), (84, 72), mark="thin", fill="shade")
    pen.box(70, 51, 150, 8, fill="sheet")
    for i in range(9):
        x = 76 + 8.6 * i
        pen.line((x, 51), (x + 4, 59), mark="thin")
    pen.box(196, 36, 30, 38, fill="shade")
    pen.region(
        ((eyelet - 8, 47), (eyelet + 8, 47)),
        ((eyelet + 8, 63), (eyelet + 3, 63)),
        ((eyelet + 3, 90), (eyelet - 3, 90)),
        ((eyelet - 3, 63), (eyelet - 8, 63)),
        mark="look",
        fill="sheet",
    )
    if room:
        pen.span((eyelet + 10, 80 + 24), (158, 80 + 24))
        pen.line((158, 72), (158, 104), mark="guide")
    else:
        pen.arrow((128, 112), (151, 92))


def _ribbon(pen: Pen, one_sided: bool) -> None:
    """The hair from below, frog at the right."""
    pen.region(((182, 42), (226, 42)), ((226, 108), (182, 108)), fill="tint")
    pen.box(172, 44, 18, 62, fill="shade")
    pen.shape((10, 75), (22, 62), (34, 58), (34, 92), (22, 88), fill="sheet")
    for i in range(13):
        left, far = 61 + 28 * i / 12, 48 + 54 * i / 12
        if one_sided and i in (8, 9, 11):
            continue
        if one_sided and i in (10, 12):
            pen.curve((34, left), (100, (left + far) / 2 + 9), (172, far), mark="look")
        else:
            pen.line((34, left), (172, far), mark="thin")
    if not one_sided:
        for left, far in ((61, 48), (89, 102)):
            pen.line((34, left), (172, far), mark="look")


def _width(pen: Pen) -> None:
    pen.box(156, 26, 66, 98)
    pen.box(132, 30, 34, 90, fill="shade")
    for i in range(16):
        y = 35 + 80 * i / 15
        pen.line((14, 39 + 72 * i / 15), (132, y), mark="thin")
    pen.span((118, 35), (118, 115))


def _handle(pen: Pen) -> Pen:
    near = pen.at(176, 60, 1.5)
    stick_and_button(near.at(-22, 0), left=-92)
    frog(near.at(-22, 0))
    return near.at(-22, 0)


def _wrapped(pen: Pen) -> None:
    near = _handle(pen)
    near.box(-24, -9.8, 22, 11, mark="look", fill="shade")
    for i in range(20):
        near.line((-84 + 3 * i, -9.2), (-83 + 3 * i, 0.8), mark="ink")


def _unwrapped(pen: Pen) -> None:
    near = _handle(pen)
    near.region(
        ((-24, -9.8), (-8, -9.8)),
        ((-8, -9.8), (-4, -15), (0, -14)),
        ((0, -14), (-4, -6), (-8, 1.2)),
        ((-8, 1.2), (-24, 1.2)),
        mark="look",
        fill="shade",
    )
    for at in (0, 1, 2, 3, 6, 7, 10, 11, 12, 15):
        near.line((-84 + 3.6 * at, -9.2), (-82.6 + 3.6 * at, 0.8), mark="ink")
    near.curve((-66, 0.8), (-62, 12), (-52, 8), (-48, 18), mark="look")


def _butt(pen: Pen, worn: bool) -> None:
    """The handle below the leather, and the end of the stick seen end-on beside it."""
    top: tuple[Point, ...] = ((10, 52), (80, 52), (140, 52))
    low: tuple[Point, ...] = ((140, 92), (80, 92), (10, 92))
    if worn:
        low = ((140, 92), (96, 92), (78, 86), (58, 79), (38, 86), (24, 92), (10, 92))
    pen.region(top, (top[-1], low[0]), low)
    pen.line((10, 64), (140, 64), mark="thin")
    pen.line((10, 80), (32 if worn else 140, 80), mark="thin")
    near = pen.at(192, 72)
    near.shape(*_octagon(30), fill="sheet")
    near.disc((0, 0), 7, fill="shade")
    if worn:
        pen.line((84, 80), (140, 80), mark="thin")
        pen.curve(*low[2:6], mark="look")
        near.line((6, -4), (12, -9), (16, -15), (22, -20), mark="look")
    else:
        pen.line((24, 92), (96, 92), mark="look")
        near.disc((0, 0), 13, mark="look", fill=None)


DRAWINGS = (
    Drawing(
        "bow_parts",
        "The handle of the bow from the side",
        (plain("Ring, eye, slide and button: metal, wear and style should be of one kind.", _parts),),
    ),
    Drawing(
        "bow_stamp",
        "The handle of the bow from the side",
        (plain("A name, if there is one, stands just above the frog. By itself it proves nothing.", _stamp),),
    ),
    Drawing(
        "bow_frog_fit",
        "Stick and frog cut across",
        (
            right("The frog lies close on the lower faces of the stick.", partial(_end_on, rock=0.0, gap=0.0)),
            wrong("It touches on one side only and rocks.", partial(_end_on, rock=8.0, gap=5.0)),
        ),
    ),
    Drawing(
        "bow_screw",
        "Handle cut open: the screw of the button pulls the eyelet, and the frog with it",
        (
            right("Tight, and the eyelet still has a way to go.", partial(_screw, eyelet=118.0, room=1.0)),
            wrong(
                "The eyelet is at the end of its slot before the hair is tight.",
                partial(_screw, eyelet=152.0, room=0.0),
            ),
        ),
    ),
    Drawing(
        "bow_hair",
        "The hair from below, frog at the right",
        (
            right("An even ribbon, full from side to side.", partial(_ribbon, one_sided=False)),
            wrong("Thin and slack on one side: it pulls the stick askew.", partial(_ribbon, one_sided=True)),
        ),
    ),
    Drawing(
        "bow_hair_width",
        "The frog from below with its ring, hair leaving to the left",
        (plain("Measure across the hair, close to the ring.", _width),),
    ),
    Drawing(
        "bow_grip",
        "Leather and winding in front of the frog",
        (
            right("The winding lies close and the leather covers its end.", _wrapped),
            wrong("Wire loose, leather lifting: the thumb wears away bare wood.", _unwrapped),
        ),
    ),
    Drawing(
        "bow_handle",
        "The handle below the leather from the side, and the end of the stick",
        (
            right("Edges still there, the screw hole round and whole.", partial(_butt, worn=False)),
            wrong("A hollow from the thumb, a crack at the screw hole.", partial(_butt, worn=True)),
        ),
    ),
)
