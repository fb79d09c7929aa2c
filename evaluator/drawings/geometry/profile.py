"""A violin from the side, in millimetres: x from the neck edge of the top towards the end button, y up from that edge.

Overstand 6, projection 27, bridge 33, arch 15 and rib 30 mm are common practice; the curves between are from memory.
"""

from collections.abc import Sequence
from math import hypot

from .bridge_shape import side
from .outline import BODY_LENGTH_MM, STOP_MM
from .pen import Pen, Point, on_arc

NUT_X, BOARD_END_X, TAIL_TOP_X = -130.0, 140.0, 243.0
ARCH_MM, RIB_MM, EDGE_MM, OVERSTAND_MM = 15.0, 30.0, 4.0, 6.0
BOARD_SIDE_MM, BOARD_MIDDLE_MM = 5.5, 11.0
PROJECTION_MM, BRIDGE_MM = 27.0, 33.0


def belly_y(x: float) -> float:
    """Height of the top along its middle: flat at the ends, full over most of its length."""
    share = min(1.0, max(0.0, min(x, BODY_LENGTH_MM - x) / 120))
    return ARCH_MM * (1 - (1 - share) ** 2)


def board_y(x: float, projection: float = PROJECTION_MM) -> float:
    """Top of the board along its middle, and its line on to the bridge."""
    at_body = OVERSTAND_MM + BOARD_MIDDLE_MM
    return at_body + (belly_y(STOP_MM) + projection - at_body) * x / STOP_MM


def string_y(x: float, bridge: float = BRIDGE_MM, projection: float = PROJECTION_MM) -> float:
    """Height of a string between nut and bridge."""
    nut = board_y(NUT_X, projection) + 1.0
    return nut + (belly_y(STOP_MM) + bridge - nut) * (x - NUT_X) / (STOP_MM - NUT_X)


def along(low: float, high: float, count: int = 12) -> tuple[float, ...]:
    """`count` places from low to high."""
    return tuple(low + (high - low) * at / (count - 1) for at in range(count))


def belly(pen: Pen, low: float = 0, high: float = BODY_LENGTH_MM, inside: bool = True) -> None:
    """The line of the top, and thin its underside."""
    xs = along(low, high)
    pen.curve(*((x, belly_y(x)) for x in xs))
    if inside:
        pen.curve(*((x, belly_y(x) - 3) for x in xs if belly_y(x) > 3), mark="thin")


def body(pen: Pen, low: float = 0, high: float = BODY_LENGTH_MM) -> None:
    """Top, ribs and back from the side; cut off where `low` or `high` lie within."""
    floor = -EDGE_MM - RIB_MM
    top = tuple((x, belly_y(x)) for x in along(low, high))
    back = tuple((x, floor - EDGE_MM - 0.9 * belly_y(x)) for x in along(high, low))
    pen.region(top, (top[-1], back[0]), back, (back[-1], top[0]), mark="bare")
    pen.curve(*top)
    pen.curve(*back)
    for y in (-EDGE_MM, floor):
        pen.line((low, y), (high, y))
    for x, inwards in ((0.0, 3.0), (BODY_LENGTH_MM, -3.0)):
        if x in {low, high}:
            pen.line(
                (x, 0), (x, -EDGE_MM), (x + inwards, -EDGE_MM), (x + inwards, floor), (x, floor), (x, floor - EDGE_MM)
            )


def board(pen: Pen, low: float = NUT_X, high: float = BOARD_END_X, projection: float = PROJECTION_MM) -> None:
    """The board from the side, its middle seen above its edge; from `low` to `high`, where it is cut off."""
    drop = BOARD_MIDDLE_MM - BOARD_SIDE_MM
    top = [(x, board_y(x, projection)) for x in (low, high)]
    under = [(x, y - BOARD_MIDDLE_MM) for x, y in top]
    pen.shape(*top, *reversed(under), fill="dark")
    pen.line(*((x, y - drop) for x, y in top), mark="thin")


def neck_under(x: float, projection: float = PROJECTION_MM) -> float:
    """The underside of the neck between nut and heel: slowly thicker, then turning into the heel."""
    thick = 8.5 + 1.5 * (x - NUT_X) / -NUT_X + (0.011 * (x + 46) ** 2 if x > -46 else 0)
    return board_y(x, projection) - BOARD_MIDDLE_MM - thick


def neck(pen: Pen, low: float = NUT_X, projection: float = PROJECTION_MM) -> None:
    """Neck and heel under the board, down to the button."""
    floor = -2 * EDGE_MM - RIB_MM
    glue = [(x, board_y(x, projection) - BOARD_MIDDLE_MM) for x in (low, 0)]
    heel: list[Point] = [(-9, floor), (-9.3, -29), (-11.5, -19)]
    under = (
        *heel,
        *((x, neck_under(x, projection)) for x in (-18, -26, -36, -50, -75, -105) if x > low),
        (low, neck_under(low)),
    )
    inner: tuple[Point, ...] = ((0, glue[1][1]), (0, 0), (3, -EDGE_MM), (3, floor + EDGE_MM), (0, floor))
    pen.region(
        (glue[0], glue[1]),
        inner[:2],
        inner[1:3],
        inner[2:4],
        inner[3:],
        (inner[-1], under[0]),
        under,
        (under[-1], glue[0]),
    )


def bridge(pen: Pen, lean: float = 0) -> None:
    """The bridge at the stop."""
    side(pen.at(STOP_MM + 2, belly_y(STOP_MM), 1), lean)


def saddle(pen: Pen) -> None:
    """The saddle at the end of the top."""
    end = BODY_LENGTH_MM
    pen.region(
        ((end - 9, 3.4), (end - 6, 7.4), (end - 2.5, 8), (end, 5)),
        ((end, 5), (end, 0)),
        ((end, 0), (end - 9, 0)),
        fill="dark",
    )


def tailpiece(pen: Pen, top_x: float = TAIL_TOP_X, length: float = 108) -> None:
    """The tailpiece from the side, the cord over the saddle and round the end button."""
    tip = (top_x + length, 9.0)
    pen.region(
        ((top_x, 37), (top_x + 0.6 * length, 22), (tip[0], tip[1] + 2)), ((tip[0], tip[1] + 2), (tip[0], tip[1] - 2)),
        ((tip[0], tip[1] - 2), (top_x + 0.6 * length, 16), (top_x + 2, 31)), ((top_x + 2, 31), (top_x, 37)),
        fill="dark",
    )  # fmt: skip


def button(pen: Pen) -> None:
    """The end button in the middle of the rib, and the cord down to it."""
    end = BODY_LENGTH_MM - 3
    middle = -EDGE_MM - RIB_MM / 2
    pen.region(
        ((end, middle + 4), (end + 4, middle + 4)), ((end + 4, middle + 4), (end + 9, middle + 7)),
        on_arc((end + 9, middle), 7, -90, 90, 7)[::-1], ((end + 9, middle - 7), (end + 4, middle - 4)),
        ((end + 4, middle - 4), (end, middle - 4)), fill="dark",
    )  # fmt: skip


def strings(pen: Pen, low: float = NUT_X, tail_x: float = TAIL_TOP_X, bridge_mm: float = BRIDGE_MM) -> None:
    """One string from the nut, or from `low`, over the bridge to the tailpiece."""
    crest = (STOP_MM + 0.5, belly_y(STOP_MM) + bridge_mm)
    pen.line((low, string_y(low, bridge_mm)), crest, (tail_x, 36))


def broken(pen: Pen, ends: Sequence[Point]) -> None:
    """A wavy line where a drawing breaks off, through the points."""
    (x1, y1), (x2, y2) = ends
    wave, count = hypot(x2 - x1, y2 - y1) / 14, 4
    points = [
        (x1 + (x2 - x1) * at / count + (wave if at % 2 else -wave) * (0 < at < count), y1 + (y2 - y1) * at / count)
        for at in range(count + 1)
    ]
    pen.curve(*points, mark="thin")
