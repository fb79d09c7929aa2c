"""Tailpiece, cord, saddle, end button and clamp: from the side, from above and cut. Millimetres of a violin."""

from functools import partial

from ..geometry import outline, plan, profile
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point, on_arc

END = outline.BODY_LENGTH_MM
MIDDLE_Y = -profile.EDGE_MM - profile.RIB_MM / 2


def _lower_end(pen: Pen) -> Pen:
    """The lower half of the body from the side, bridge on the left."""
    mm = pen.at(-196, 84, 1.14, up=True)
    profile.body(mm, 182, END)
    profile.bridge(mm)
    profile.button(mm)
    return mm


def _cord(pen: Pen, long: float) -> None:
    """The tailpiece hung with its cord; `long` mm of cord before the saddle."""
    mm = _lower_end(pen)
    top_x = profile.TAIL_TOP_X + 5 - long
    profile.tailpiece(mm, top_x, 106)
    tip = (top_x + 106, 9.0 + 0.35 * long)
    mm.line((182, 46.5), (195.5, 48), (top_x + 1, 36))
    profile.saddle(mm)
    mm.curve(tip, (END - 4, 9.2), (END + 2, 3), (END + 4.5, MIDDLE_Y + 4), mark="look" if long else "ink")
    if not long:
        mm.arrow((END - 6, 34), (END - 5, 11))


def _tuner(pen: Pen, touches: bool) -> None:
    """The upper end of the tailpiece cut lengthwise, with one fine tuner over the top."""
    pen.region(
        ((8, 116), (120, 122), (232, 134)),
        ((232, 134), (232, 144)),
        ((232, 144), (120, 132), (8, 126)),
        ((8, 126), (8, 116)),
    )
    pen.region(((70, 46), (232, 74)), ((232, 74), (232, 92)), ((232, 92), (76, 62)), ((76, 62), (70, 46)), fill="dark")
    pen.line((2, 26), (64, 40))
    deep = 119.0 if touches else 92.0
    screw_x = 122.0
    pen.box(screw_x - 4, 22, 8, 52, fill="shade")
    pen.box(screw_x - 11, 12, 22, 11, fill="shade")
    lever: tuple[Point, ...] = (
        (60, 40),
        (66, 34),
        (74, 42),
        (84, 64),
        (screw_x + 4, deep - 8),
        (screw_x + 6, deep - 2),
        (screw_x - 4, deep - 1),
        (78, 76),
    )
    pen.shape(*lever, mark="look", fill="tint")
    if touches:
        pen.disc((screw_x, 121), 9, mark="look", fill=None)
    else:
        pen.span((screw_x, deep + 1), (screw_x, 121), tick=4)


def _end_of_top(pen: Pen) -> Pen:
    """The lower end of the top from above, saddle at the bottom, large."""
    mm = pen.at(120, 130, 2.5).at(0, -END)
    lower = tuple(point for point in outline.along(outline.LOWER, 12) if point[1] > 326 and point[0] < 47)
    far = lower[0]
    for one in (mm, mm.mirrored()):
        one.region(lower, (lower[-1], (0, 306)), ((0, 306), (far[0], 306)), ((far[0], 306), far), mark="bare")
        one.curve(*lower)
    for distance in (4.0, 5.2):
        line = tuple(point for point in outline.beside(lower, distance) if point[0] > 18)
        for one in (mm, mm.mirrored()):
            one.curve(*line, mark="thin")
    for x in (-36, -28, -20, -12, -4, 4, 12, 20, 28, 36):
        mm.line((x, 306), (x, 341 if abs(x) < 20 else 334), mark="thin")
    return mm


def _saddle_shape(pen: Pen, half: float) -> None:
    face: tuple[Point, ...] = ((-half, END + 0.4), (0, END + 1.4), (half, END + 0.4))
    pen.region(
        face, (face[-1], (half, END - 7)), ((half, END - 7), (-half, END - 7)), ((-half, END - 7), face[0]), fill="dark"
    )


def _saddle(pen: Pen, jammed: bool) -> None:
    mm = _end_of_top(pen)
    half = 16.5
    room = 0.0 if jammed else 1.1
    mm.line((-half - room, END - 0.4), (-half - room, END - 7.2), (half + room, END - 7.2), (half + room, END - 0.4))
    _saddle_shape(mm, half)
    for way in (-1, 1):
        if jammed:
            mm.curve((way * half, END - 7), (way * (half + 0.5), END - 16), (way * half, END - 27), mark="look")
        else:
            mm.line((way * (half + 0.55), END - 0.6), (way * (half + 0.55), END - 6.8), mark="look")


def _saddle_crack(pen: Pen) -> None:
    mm = _end_of_top(pen)
    _saddle_shape(mm, 16.5)
    mm.curve((16.5, END - 7), (17.2, END - 18), (16.4, END - 30), (17, END - 44), mark="look")
    mm.arrow((32, END - 34), (19.5, END - 28))


def _button(pen: Pen, tilt: float) -> None:
    """The lower end cut through the end button; block, rib, and the pull of the cord."""
    mm = pen.at(132, 84, 2.7, up=True)
    mm.shape((-38, 19), (0, 19), (0, -15), (-38, -15), mark="bare")
    for y in (15.4, 10.6, 5.8, -6.6, -11.4):
        mm.line((-36, y), (-19.5, y - 0.8), mark="thin")
    mm.line((-19, 15), (-19, -15))
    mm.shape((-38, 19), (3, 19), (3, 15), (-38, 15))
    mm.shape((-38, -15), (3, -15), (3, -19), (-38, -19))
    mm.box(-1.2, -15, 1.2, 30, fill="shade")
    near = mm.at(0, 0, turn=tilt)
    if tilt:
        mm.shape((-19, 5.4), (0, 7.6), (0, 3), (-19, 3), mark="look", fill="look")
    near.shape((-21, -3), (0, -3.9), (0, 3.9), (-21, 3), fill="dark")
    near.region(
        ((0, 4), (2, 7.4), (4.5, 7.4)), ((4.5, 7.4), (5.5, 3.4)), ((5.5, 3.4), (7, 3.4)),
        on_arc((9.5, 0), 6.6, 110, -110, 9), ((7, -3.4), (5.5, -3.4)), ((5.5, -3.4), (4.5, -7.4)),
        ((4.5, -7.4), (2, -7.4), (0, -4)), ((0, -4), (0, 4)), fill="dark",
    )  # fmt: skip
    mm.curve((-16, 25.4), (-2, 25), (4.6, 20), (6.2, 3.2 if not tilt else 4.6))
    mm.region(((-6, 19), (-4, 23.4), (0, 24.4), (3.4, 22)), ((3.4, 22), (3.4, 19)), ((3.4, 19), (-6, 19)), fill="dark")
    if not tilt:
        mm.line((0, 6), (0, -6), mark="look")


def _endpin(pen: Pen, bad: bool) -> None:
    """The lower end of a cello and its pin, leaning to the floor."""
    pen.line((6, 142), (234, 142))
    mm = pen.at(84, 50, 1, turn=32)
    mm.region(((-40, -32), (-18, -30), (0, -23)), ((0, -23), (0, 23)), ((0, 23), (-18, 30), (-40, 32)), mark="bare")
    mm.curve((-40, -32), (-18, -30), (0, -23))
    mm.curve((-40, 32), (-18, 30), (0, 23))
    mm.line((0, -23), (0, 23))
    mm.line((-40, -25), (-3, -20), (-3, 20), (-40, 25), mark="thin")
    mm.shape((0, -12), (6, -12), (13, -7), (13, 7), (6, 12), (0, 12), fill="dark")
    mm.shape((13, -3), (13, 3), (-34, 3), (-34, -3), mark="hidden", fill=None)
    if bad:
        above: tuple[Point, ...] = ((13, -3), (50, -7), (84, -3), (112, 12), (126, 28))
        below: tuple[Point, ...] = ((119, 32), (107, 17), (81, 3), (49, -1), (13, 3))
        mm.region(above, (above[-1], below[0]), below, (below[-1], above[0]), mark="look")
    else:
        mm.shape((13, -3), (156, -3), (172, 0), (156, 3), (13, 3), mark="look", fill="tint")


def _clamp(pen: Pen, crushed: bool) -> None:
    """The clamp of a chin rest on the sides, seen from the end; the seam below it."""
    mm = pen.at(120, 42, 2.1, up=True)
    top, floor = 0.0, -38.0
    sink = 2.2 if crushed else 0.0
    for base, way in ((top, 1), (floor, -1)):
        outer = tuple((x, base + way * 5 * (1 - (x / 56) ** 2)) for x in (-54, -36, -18, 0, 18, 36, 54))
        inner_y = base - way * 4
        pen_edge = (outer[-1], (54, inner_y)), ((54, inner_y), (-54, inner_y)), ((-54, inner_y), outer[0])
        mm.region(outer, *pen_edge)
    mm.box(-51, floor + 4, 102, -8 - floor)
    for x in (-16.0, 16.0):
        mm.box(x - 1.5, floor + 2 - 6, 3, 52, fill="shade")
        mm.box(x - 3, -24, 6, 10, fill="shade")
    mm.box(-24, floor - 10 + sink, 48, 4, fill="shade")
    mm.box(-24, floor - 6 + sink, 48, 2.6, fill="dark")
    mm.region(
        ((-28, 7.6), (0, 12), (28, 7.6)), ((28, 7.6), (28, 5)), ((28, 5), (-28, 5)), ((-28, 5), (-28, 7.6)), fill="dark"
    )
    if crushed:
        mm.region(
            ((-30, floor + 4), (0, floor + 6.6), (30, floor + 4)),
            ((30, floor + 4), (-30, floor + 4)),
            mark="look",
            fill="look",
        )
    else:
        mm.line((-46, floor + 4), (46, floor + 4), mark="look")


def _count(pen: Pen, number: int) -> None:
    """The tailpiece from above, strings to the left."""
    mm = pen.at(-388, 75, 1.7, turn=-90)
    plan.tailpiece(mm)
    for at, x in enumerate((14.5, 5.0, -5.0, -14.5)):
        y = plan.TAIL_TOP_Y + 8
        mm.line((x * 1.05, 237), (x, y), mark="ink")
        if at < number:
            mm.box(x - 2, y, 4, 15, mark="look", fill="shade")
            mm.disc((x, y + 19), 4.6, mark="look", fill="tint")
        else:
            mm.disc((x, y + 2), 1.8, fill="sheet")
            mm.line((x, y + 3), (x, y + 9))


def _kind(pen: Pen, built_in: bool) -> None:
    """The tailpiece from above: slots only, or a tuner sunk in at each string."""
    mm = pen.at(-388, 75, 1.7, turn=-90)
    plan.tailpiece(mm)
    mm.line((-20.5, 252), (0, 249.6), (20.5, 252), mark="look" if not built_in else "ink")
    for x in (14.5, 5.0, -5.0, -14.5):
        mm.line((x * 1.05, 234), (x, 256))
        if built_in:
            mm.box(x - 2.4, 256, 4.8, 16, mark="look", fill="shade")
            mm.disc((x, 278), 3.4, mark="look", fill="tint")
        else:
            mm.disc((x, 258), 1.8, fill="sheet")
            mm.line((x, 259), (x, 266))


SIDE = "The lower end from the side, bridge on the left"
SADDLE = "The lower end of the top from above, the saddle in its edge"
DRAWINGS = (
    Drawing(
        "tail_cord",
        SIDE,
        (
            right("The tailpiece ends level with the ridge that the cord runs over.", partial(_cord, long=0)),
            wrong("Cord too long: the tailpiece has come close to the bridge.", partial(_cord, long=22)),
        ),
    ),
    Drawing(
        "tailpiece_kinds",
        "The tailpiece from above, strings from the left",
        (
            plain("Hard wood: a ridge, and a slot for each knot or ball.", partial(_kind, built_in=False)),
            plain("Light composite or alloy: a tuner built in for each string.", partial(_kind, built_in=True)),
        ),
    ),
    Drawing(
        "tuner_count",
        "The tailpiece from above, strings from the left",
        (
            plain("One, on the thinnest string.", partial(_count, number=1)),
            plain("Four, one on each string.", partial(_count, number=4)),
        ),
    ),
    Drawing(
        "tuner_touches",
        "A fine tuner from the side, the top below it",
        (
            right("Screwed half in, its lever keeps clear of the top.", partial(_tuner, touches=False)),
            wrong("Screwed right in, the lever digs into the top.", partial(_tuner, touches=True)),
        ),
    ),
    Drawing(
        "saddle_fit",
        SADDLE,
        (
            right("A hair of space at both ends.", partial(_saddle, jammed=False)),
            wrong("Jammed: when the top shrinks, it cracks at the corners.", partial(_saddle, jammed=True)),
        ),
    ),
    Drawing("saddle_crack", SADDLE, (plain("Cracks begin at the corners and follow the grain.", _saddle_crack),)),
    Drawing(
        "end_button",
        "The lower end cut lengthwise through the button",
        (
            right("Tight in its block, its collar flat on the rib.", partial(_button, tilt=0)),
            wrong("The cord has tipped it upwards and crushed the hole.", partial(_button, tilt=9)),
        ),
    ),
    Drawing(
        "endpin",
        "The lower end of a cello and its pin",
        (
            right("Straight, with a sharp point, the socket tight.", partial(_endpin, bad=False)),
            wrong("Bent and blunt: it slips.", partial(_endpin, bad=True)),
        ),
    ),
    Drawing(
        "chin_rest_clamp",
        "The clamp of the chin rest, seen from the lower end",
        (
            right("Cork under both jaws, the seam behind the lower one closed.", partial(_clamp, crushed=False)),
            wrong("Screwed too tight: the edge is pressed in, and the seam gapes.", partial(_clamp, crushed=True)),
        ),
    ),
)
