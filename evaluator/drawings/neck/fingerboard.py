"""The fingerboard: its end seen from the bridge, and cut lengthwise. Millimetres of a violin."""

from functools import partial
from math import sqrt

from ..geometry import profile
from ..geometry.bridge_shape import STRINGS_MM
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point

HALF_MM, SIDE_MM, RADIUS_MM = 21.0, 5.4, 42.0


def top_y(x: float, radius: float = RADIUS_MM) -> float:
    """Height of the board's face above the upper edge of its sides."""
    return sqrt(radius**2 - x**2) - sqrt(radius**2 - HALF_MM**2)


def face(radius: float = RADIUS_MM) -> tuple[Point, ...]:
    """The face across, from left to right."""
    xs = (HALF_MM * (at / 6 - 1) for at in range(13))
    return tuple((x, top_y(x, radius)) for x in xs)


def _under(thick: float) -> tuple[Point, ...]:
    """The underside of the end, hollowed parallel to the face, from right to left."""
    return ((18, -SIDE_MM), (15, top_y(15) - thick), (0, top_y(0) - thick), (-15, top_y(15) - thick), (-18, -SIDE_MM))


def end(pen: Pen, fill_dark: bool = True, thick: float = 6.0) -> None:
    """The end of the board from the bridge, hollowed underneath; y = 0 where the face meets the sides."""
    corner = (HALF_MM, -SIDE_MM)
    under = _under(thick)
    pen.region(
        face(), ((HALF_MM, 0), corner), (corner, under[0]), under, (under[-1], (-HALF_MM, -SIDE_MM)),
        ((-HALF_MM, -SIDE_MM), (-HALF_MM, 0)), fill="dark" if fill_dark else "tint",
    )  # fmt: skip


def _material(pen: Pen, dyed: bool) -> None:
    mm = pen.at(120, 88, 4.6, up=True)
    if not dyed:
        end(mm)
        mm.arrow((7, -12.5), (4, -1.6))
        return
    end(mm)
    skin = 1.0
    inner = tuple((x * 0.955, y - skin) for x, y in face())
    low = (20.05, -SIDE_MM)
    mm.region(
        inner,
        (inner[-1], low),
        (low, _under(6)[0]),
        _under(6),
        (_under(6)[-1], (-20.05, -SIDE_MM)),
        mark="thin",
        fill="shade",
    )
    mm.arrow((7, -12.5), (4, -1.6))


def _cut(pen: Pen, thin: bool) -> Pen:
    """The last part of the board cut lengthwise along its middle, the bridge to the right."""
    mm = pen.at(20, 50, 2.9, up=True)
    top = ((0, 0), (62, 6.2))
    edges: tuple[tuple[Point, ...], ...]
    if thin:
        edges = (((62, 6.2), (62, 2.6)), ((62, 2.6), (40, -3.0), (20, -7.2), (0, -10.2)))
    else:
        edges = (((62, 6.2), (62, -3.4)), ((62, -3.4), (0, -10.2)))
    mm.region(top, *edges, ((0, -10.2), (0, 0)), fill="dark")
    profile.broken(mm, ((0, 2.2), (0, -12.4)))
    mm.curve((0, -24.4), (20, -22), (42, -20.6), (70, -20))
    mm.curve((0, -27.4), (20, -25), (42, -23.6), (70, -23), mark="thin")
    return mm


def _undercut(pen: Pen, thin: bool) -> None:
    mm = _cut(pen, thin)
    if thin:
        mm.curve((62, 2.6), (40, -3.0), (20, -7.2), (0, -10.2), mark="look")
    else:
        mm.line((62, 6.2), (62, -3.4), (0, -10.2), mark="look")


def _wear(pen: Pen, deep: float) -> None:
    """Across the board near the nut: worn under the strings."""
    mm = pen.at(120, 96, 4.6, up=True)
    mm.region(face(), ((HALF_MM, 0), (HALF_MM, -SIDE_MM)), ((HALF_MM, -SIDE_MM), (-HALF_MM, -SIDE_MM)), fill="dark")
    for at, x in enumerate(STRINGS_MM):
        mm.disc((x, top_y(x) + 2.3), 0.45 + 0.1 * (3 - at), fill="sheet")
        if deep:
            wide = 1.7
            pit = (
                (x - wide, top_y(x - wide)),
                (x - 0.6, top_y(x) - deep),
                (x + 0.6, top_y(x) - deep),
                (x + wide, top_y(x + wide)),
            )
            above = ((x + wide, top_y(x + wide) + 0.4), (x - wide, top_y(x - wide) + 0.4))
            mm.region(pit, (pit[-1], above[0]), above, (above[-1], pit[0]), mark="bare", fill="sheet")
            mm.curve(*pit, mark="look")
    if not deep:
        mm.curve(*face(), mark="look")


def _camber(pen: Pen, even: bool) -> None:
    """The face across and the strings over it."""
    mm = pen.at(120, 100, 4.6, up=True)
    if even:
        end(mm)
        mm.curve(*face(), mark="look")
    else:
        worn = ((-21, 0), (-14, 4.2), (-7, 5.2), (-3, 6.2), (0, 5.0), (7, 3.1), (14, 1.6), (21, 0))
        under = _under(6)
        mm.region(
            worn,
            ((21, 0), (21, -5.4)),
            ((21, -5.4), under[0]),
            under,
            (under[-1], (-21, -5.4)),
            ((-21, -5.4), (-21, 0)),
            fill="dark",
        )
        mm.curve(*worn, mark="look")
    for at, x in enumerate(STRINGS_MM):
        mm.disc((x * 0.95, top_y(x * 0.95) + 4.6 + 0.5 * (3 - at)), 0.5 + 0.1 * (3 - at), fill="sheet")


def _edge(pen: Pen) -> None:
    mm = pen.at(112, 92, 4.4, up=True)
    end(mm)
    for y in (0, -SIDE_MM):
        mm.line((21.3, y), (25.6, y), mark="guide")
    mm.span((24.4, 0), (24.4, -SIDE_MM))


def _width(pen: Pen) -> None:
    mm = pen.at(120, 96, 4.4, up=True)
    end(mm)
    for x in (-21, 21):
        mm.line((x, 0.4), (x, 10.4), mark="guide")
    mm.span((-21, 9.2), (21, 9.2), "width")


def _action_at(pen: Pen, thickest: bool) -> None:
    """The four strings over the end of the board, and the height of one outer string."""
    mm = pen.at(116 if thickest else 104, 98, 4.2, up=True)
    end(mm)
    for at, x in enumerate(STRINGS_MM):
        mm.disc((x * 0.95, top_y(x * 0.95) + 5.9 - 0.55 * at), 0.65 - 0.12 * at, fill="sheet")
    x = STRINGS_MM[0 if thickest else 3] * 0.95
    y = top_y(x)
    out = -1.0 if thickest else 1.0
    low, high = y, y + (5.9 - 0.65 if thickest else 4.25 - 0.29)
    mm.line((x, low), (x + out * 8.4, low), mark="guide")
    mm.line((x, high), (x + out * 8.4, high), mark="guide")
    mm.span((x + out * 7.2, low), (x + out * 7.2, high), tick=3)


END = "The end of the board, seen from the bridge"


DRAWINGS = (
    Drawing(
        "board_material",
        END,
        (
            right("Dark all the way through, underneath as well.", partial(_material, dyed=False)),
            wrong("A black skin on pale wood: look underneath, where it was not dyed.", partial(_material, dyed=True)),
        ),
    ),
    Drawing(
        "board_undercut",
        "The end of the board over the top, cut lengthwise",
        (
            right("Hollowed underneath, and thin towards its end.", partial(_undercut, thin=True)),
            wrong("A square block, as thick as it came.", partial(_undercut, thin=False)),
        ),
    ),
    Drawing(
        "board_wear",
        "Across the board and its strings, the wear exaggerated",
        (
            right("One even curve under the strings.", partial(_wear, deep=0)),
            wrong("Troughs under the strings: they buzz, and the notes go sour.", partial(_wear, deep=1.3)),
        ),
    ),
    Drawing(
        "board_camber",
        END,
        (
            right("Round and even, and the strings follow it.", partial(_camber, even=True)),
            wrong("A ridge and a flat side: no bridge can fit it.", partial(_camber, even=False)),
        ),
    ),
    Drawing("board_edge", END, (plain("Measure the upright side alone, not the round of the face.", _edge),)),
    Drawing("board_width", END, (plain("From side to side at the very end.", _width),)),
    Drawing(
        "action_low",
        END,
        (
            plain(
                "From the face of the board to the underside of the thickest string.",
                partial(_action_at, thickest=True),
            ),
        ),
    ),
    Drawing(
        "action_high",
        END,
        (
            plain(
                "From the face of the board to the underside of the thinnest string.",
                partial(_action_at, thickest=False),
            ),
        ),
    ),
)
