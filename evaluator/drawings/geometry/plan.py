"""A strung violin from above, in the millimetres of `outline`: y counts from the neck edge to the end button."""

from . import outline
from .bridge_shape import STRINGS_MM
from .pen import Pen, Point

NUT_Y, BOARD_END_Y, TAIL_TOP_Y, TAIL_END_Y = -130.0, 140.0, 242.0, 349.0
NUT_HALF_MM, BOARD_HALF_MM, STRINGS_AT_NUT = 12.0, 21.0, 16.4 / 33.5
TAIL_STRING_Y = TAIL_TOP_Y + 7
TAIL_END_HALF_MM = 9.0


def board(pen: Pen, low: float = NUT_Y) -> None:
    """The board from `low` to its end, and the nut."""
    half = NUT_HALF_MM + (BOARD_HALF_MM - NUT_HALF_MM) * (low - NUT_Y) / (BOARD_END_Y - NUT_Y)
    pen.shape((-half, low), (half, low), (BOARD_HALF_MM, BOARD_END_Y), (-BOARD_HALF_MM, BOARD_END_Y), fill="dark")
    if low == NUT_Y:
        pen.box(-NUT_HALF_MM, NUT_Y - 5.5, 2 * NUT_HALF_MM, 5.5)


def head(pen: Pen) -> None:
    """Peg box, scroll and pegs, seen from above, in few lines."""
    top = NUT_Y - 5.5
    right_edge: tuple[Point, ...] = ((11.6, top), (10.5, top - 30), (8, top - 62), (6, top - 76))
    scroll: tuple[Point, ...] = (
        (6, top - 76),
        (7, top - 84),
        (20, top - 92),
        (19, top - 100),
        (8, top - 106),
        (0, top - 107),
    )
    sides = (
        right_edge,
        scroll,
        tuple((-x, y) for x, y in reversed(scroll)),
        tuple((-x, y) for x, y in reversed(right_edge)),
    )
    pen.region(*sides, (sides[-1][-1], right_edge[0]))
    for at, y in enumerate((top - 14, top - 29, top - 44, top - 58)):
        one = pen if at in {1, 2} else pen.mirrored()
        one.shape((10.5, y - 2), (27, y - 3), (27, y + 3), (10.5, y + 2), fill="dark")
        one.disc((34, y), 8, fill="dark", tall=0.55)


def bridge(pen: Pen, aside: float = 0, down: float = 0) -> None:
    """The bridge from above, at the stop."""
    pen.box(-20.8 + aside, outline.STOP_MM - 2 + down, 41.6, 4.3)


def tailpiece(pen: Pen, aside: float = 0) -> None:
    """The tailpiece and its cord to the end; `aside` moves its upper end."""
    top: tuple[Point, ...] = ((-22 + aside, TAIL_TOP_Y + 4), (aside, TAIL_TOP_Y), (22 + aside, TAIL_TOP_Y + 4))
    right_edge: tuple[Point, ...] = (top[-1], (16 + aside * 0.7, 285), (10, 340), (TAIL_END_HALF_MM, TAIL_END_Y))
    left_edge: tuple[Point, ...] = ((-TAIL_END_HALF_MM, TAIL_END_Y), (-10, 340), (-16 + aside * 0.7, 285), top[0])
    pen.region(top, right_edge, (right_edge[-1], left_edge[0]), left_edge, fill="dark")
    for x in (-3.5, 3.5):
        pen.line((x, TAIL_END_Y), (x, outline.BODY_LENGTH_MM))


def strings(pen: Pen, low: float = NUT_Y, aside: float = 0, tail_aside: float = 0, nut_aside: float = 0) -> None:
    """Four strings from `low` over the bridge to the tailpiece; `aside`s of bridge, tailpiece and nut."""
    for x in STRINGS_MM:
        nut, over = x * STRINGS_AT_NUT + nut_aside, x + aside
        share = (low - NUT_Y) / (outline.STOP_MM - NUT_Y)
        pen.line(
            (nut + (over - nut) * share, low),
            (over, outline.STOP_MM),
            (x * 0.8 + tail_aside, TAIL_STRING_Y),
            mark="thin",
        )


def body_to(pen: Pen, low: float) -> None:
    """The outline and the sound holes down to y = `low`, where the drawing breaks off."""
    lower = (point for point in outline.along(outline.LOWER, 8) if point[1] <= low)
    edges = (outline.along(outline.UPPER), outline.along(outline.MIDDLE), tuple(lower))
    for one in (pen, pen.mirrored()):
        one.region(*edges, (edges[-1][-1], (0, edges[-1][-1][1])), ((0, edges[-1][-1][1]), (0, 0)), mark="bare")
    for one in (pen, pen.mirrored()):
        for edge, after in zip(edges, (*edges[1:], ()), strict=True):
            one.curve(*edge)
            if after:
                one.line(edge[-1], after[0])
    outline.f_holes(pen)


def whole(pen: Pen, neck_turn: float = 0, tail_aside: float = 0) -> None:
    """The instrument from the scroll to the end button; the neck turned about where it meets the body, in degrees."""
    neck = pen.at(0, 0, turn=neck_turn)
    head(neck)
    outline.body(pen)
    outline.f_holes(pen)
    board(neck)
    tailpiece(pen, tail_aside)
    bridge(pen)
