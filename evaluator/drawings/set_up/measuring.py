"""Where to put the ruler on the whole instrument: lengths, stops, widths, and the line of the strings."""

from functools import partial

from ..geometry import outline, plan, profile
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen
from ..neck import head

SCALE = 0.42  # from the nut to the end button, lying on the sheet


def _lying(pen: Pen, y: float = 80) -> Pen:
    """A pen for the instrument from the nut on, which lies to the left."""
    return pen.at(72, y, SCALE, turn=-90)


def _strung(pen: Pen, tail_aside: float = 0) -> Pen:
    mm = _lying(pen)
    outline.body(mm)
    outline.f_holes(mm)
    plan.board(mm)
    plan.tailpiece(mm, tail_aside)
    plan.strings(mm, tail_aside=tail_aside)
    plan.bridge(mm)
    return mm


def _sheet_x(y: float) -> float:
    """Where y of the plan lies on the sheet."""
    return 72 + y * SCALE


def _between(pen: Pen, first: float, last: float, at: float, text: str = "") -> None:
    """A measure along the instrument from y `first` to y `last`, `at` on the sheet."""
    for y in (first, last):
        pen.line((_sheet_x(y), at), (_sheet_x(y), 80), mark="guide")
    pen.span((_sheet_x(first), at), (_sheet_x(last), at), text)


def _string_length(pen: Pen) -> None:
    _strung(pen)
    _between(pen, plan.NUT_Y, outline.STOP_MM, 22)


def _neck_stop(pen: Pen) -> None:
    _strung(pen)
    _between(pen, plan.NUT_Y, 0, 40)


def _body_stop(pen: Pen) -> None:
    _strung(pen)
    _between(pen, 0, outline.STOP_MM, 22)


def _ratio(pen: Pen) -> None:
    _strung(pen)
    _between(pen, plan.NUT_Y, 0, 22, "neck")
    _between(pen, 0, outline.STOP_MM, 22, "body")


def _afterlength(pen: Pen) -> None:
    _strung(pen)
    _between(pen, plan.NUT_Y, outline.STOP_MM, 22, "6")
    _between(pen, outline.STOP_MM, plan.TAIL_STRING_Y, 22, "1")


def _back(pen: Pen) -> Pen:
    """The back with its button, upper end on the left."""
    mm = pen.at(16, 75, 0.6, turn=-90)
    mm.region(((-10.5, 1), (-10.2, -6), (-6.5, -12), (0, -13), (6.5, -12), (10.2, -6), (10.5, 1)))
    outline.body(mm)
    mm.line((0, 0), (0, 355), mark="thin")
    return mm


def _body_length(pen: Pen) -> None:
    mm = _back(pen)
    mm.span((0, 0), (0, outline.BODY_LENGTH_MM))


def _width(pen: Pen, y: float, half: float) -> None:
    mm = _back(pen)
    mm.span((-half, y), (half, y))


def _line_up(pen: Pen, aside: float) -> None:
    """From the board to the end button; the tailpiece `aside` mm at its upper end."""
    mm = pen.at(-12, 75, 0.7, turn=-90)
    for one in (mm, mm.mirrored()):
        for stroke in (outline.MIDDLE, outline.LOWER):
            one.curve(*outline.along(stroke, 3))
        one.line(outline.along(outline.MIDDLE)[-1], outline.LOWER[0])
    outline.f_holes(mm)
    plan.board(mm, 40)
    plan.tailpiece(mm, aside)
    plan.strings(mm, 40, aside * 0.35, aside)
    plan.bridge(mm, aside * 0.35)
    mm.line((0, 32), (0, 359), mark="look")


def _scale(pen: Pen) -> None:
    """From the side, lying on a cloth on a kitchen scale, strung, without chin rest and shoulder rest."""
    mm = pen.at(99, 62, 0.375, up=True)
    profile.neck(mm)
    head.head(mm.at(profile.NUT_X, profile.board_y(profile.NUT_X), turn=7), piece=False)
    profile.body(mm)
    profile.board(mm)
    profile.bridge(mm)
    profile.tailpiece(mm)
    profile.saddle(mm)
    profile.button(mm)
    profile.strings(mm)
    pen.curve((116, 81.5), (140, 84), (166, 84.4), (192, 84), (216, 81.5), mark="thin")
    pen.box(112, 86, 108, 5, fill="shade")
    pen.shape((126, 91), (206, 91), (222, 118), (110, 118))
    pen.box(146, 97, 40, 15, mark="look", fill="sheet")
    pen.word((166, 109.5), "g", mark="look")


def _halves(pen: Pen, uneven: float) -> None:
    """The top lying down; the lower half is the mirror of the upper one, or bulges and falls in."""
    mm = outline.lying(pen, 0.6)
    outline.right_side(mm)
    if uneven:
        other = mm.at(0, 0, 1)
        edges = [
            tuple(
                (-x * (1 + uneven * (0.9 if y < 130 else -0.75 if y < 216 else 0.55)), y + uneven * 60)
                for x, y in outline.along(stroke)
            )
            for stroke in (outline.UPPER, outline.MIDDLE, outline.LOWER)
        ]
        edges[0] = ((0.0, 0.0), *edges[0][2:])
        edges[2] = (*edges[2][:-1], (0.0, outline.BODY_LENGTH_MM))
        for edge, after in zip(edges, (*edges[1:], ()), strict=True):
            other.curve(*edge, mark="look")
            if after:
                other.line(edge[-1], after[0], mark="look")
        outline.right_side(mm.mirrored(), mark="hidden")
    else:
        outline.right_side(mm.mirrored(), mark="look")
    outline.f_hole(mm)
    outline.f_hole(mm.mirrored().at(0, uneven * 70, 1))
    mm.line((0, -8), (0, 363), mark="guide")


ABOVE = "From above, nut on the left"
BACK = "The back, its button on the left"
DRAWINGS = (
    Drawing(
        "string_length",
        ABOVE,
        (plain("From the front edge of the nut to the top of the bridge, along a string.", _string_length),),
    ),
    Drawing(
        "neck_stop",
        ABOVE,
        (plain("From the front edge of the nut to the edge of the top, beside the neck.", _neck_stop),),
    ),
    Drawing(
        "body_stop",
        ABOVE,
        (plain("From the edge of the top beside the neck to the inner notches of the sound holes.", _body_stop),),
    ),
    Drawing(
        "stop_ratio",
        ABOVE,
        (
            plain(
                "Neck to body as 2 to 3 on violin and viola, 7 to 10 on a cello: there the hand finds its notes.",
                _ratio,
            ),
        ),
    ),
    Drawing(
        "afterlength",
        ABOVE,
        (
            plain(
                "From the bridge to where the string meets the tailpiece: about a sixth of the long part.", _afterlength
            ),
        ),
    ),
    Drawing(
        "body_length",
        BACK,
        (plain("Over the back without the button, with a tape that follows the arch.", _body_length),),
    ),
    Drawing(
        "lower_bout",
        BACK,
        (plain("The widest place below the waist, straight across.", partial(_width, y=286, half=103.5)),),
    ),
    Drawing(
        "weighing",
        "On a kitchen scale, seen from the side",
        (plain("Strung, without chin rest and shoulder rest, a cloth below, your hands close by.", _scale),),
    ),
    Drawing(
        "string_line",
        "From above, the board on the left, the end button on the right",
        (
            right("Strings, board, bridge and tailpiece share one middle line.", partial(_line_up, aside=0)),
            wrong("The tailpiece hangs to one side and draws the bridge with it.", partial(_line_up, aside=15)),
        ),
    ),
    Drawing(
        "outline_halves",
        "The outline from above, neck end on the left",
        (
            right("Both halves match, and each curve flows into the next.", partial(_halves, uneven=0)),
            wrong(
                "One half bulges, its corners and sound hole stand elsewhere. Dashed: the match.",
                partial(_halves, uneven=0.12),
            ),
        ),
    ),
)
