"""The bridge: how it stands, how it is cut and carved; from the tailpiece or from the side."""

from functools import partial

from ..geometry import outline
from ..geometry.bridge_shape import HEIGHT_MM, STRINGS_MM, front, raw_front, side, wood_at
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen


def _stance(pen: Pen, lean: float) -> None:
    """Side view with the belly below and a string over it."""
    mm = pen.at(128, 128, 2.9, up=True)
    mm.curve((-42, 0.6), (-20, 0.2), (0, 0), (36, -0.9))
    mm.curve((-42, -2.4), (-20, -2.8), (0, -3), (36, -3.9), mark="thin")
    side(mm, lean)
    mm.line((-42, 25.2), (-0.7 - lean, HEIGHT_MM), (36, 22.6))
    mm.line((0, -0.2), (0, 38.5), mark="look")
    mm.line((0, 2.6), (2.6, 2.6), (2.6, 0), mark="look")
    pen.word((198, 40), "tailpiece")
    pen.word((44, 40), "board")


def _warp(pen: Pen, bow: float) -> None:
    """Side view, larger, with the edge of a card against the face towards the tailpiece."""
    mm = pen.at(112, 138, 3.4, up=True)
    mm.line((-22, 0), (26, 0))
    side(mm, 0, bow=bow)
    mm.shape((bow, 0.5), (bow, 36), (13 + bow, 36), (13 + bow, 0.5), mark="look", fill=None)
    mm.at(7 + bow, 15, 1).word((0, 0), "card", mark="look")


def _carved(pen: Pen, raw: bool) -> None:
    """The front, and beside it the side."""
    mm = pen.at(82, 134, 3.2, up=True)
    if raw:
        raw_front(mm, look="look")
        side(mm.at(44, 0, 1), top=2.9, foot=5.6)
    else:
        front(mm, look="look")
        side(mm.at(44, 0, 1))


def _taper(pen: Pen, top: float) -> None:
    mm = pen.at(125, 138, 3.6, up=True)
    mm.line((-24, 0), (24, 0))
    side(mm, top=top)
    mm.arrow((9, 34.5), (0.8, 33.6))
    mm.arrow((-11, 34.5), (-top - 0.8, 33.6))


def _thickness(pen: Pen) -> None:
    mm = pen.at(110, 132, 3.3, up=True)
    mm.line((-24, 0), (30, 0))
    side(mm)
    mm.line((-6.5, 33.6), (-1.3, 33.6), mark="guide")
    mm.arrow((-7.5, 35.6), (-1.45, 35.6))
    mm.arrow((6.2, 35.6), (0.15, 35.6))
    mm.at(8, 34.2, 1).word((0, 0), "top", "start", mark="look")
    mm.arrow((-10.5, 2.2), (-4.45, 2.2))
    mm.arrow((6.2, 2.2), (0.15, 2.2))
    mm.at(8, 0.9, 1).word((0, 0), "foot", "start", mark="look")


def _foot(pen: Pen, gap: float) -> None:
    """One foot, large, on the arch of the belly."""
    mm = pen.at(104, 104, 8.4, up=True)

    def belly(x: float) -> float:
        return -0.009 * (x + 4) ** 2

    xs = (-9.5, -6, -2, 2, 6, 10, 13)
    mm.region(tuple((x, belly(x)) for x in xs), ((13, belly(13) - 2.6), (0, -2.9), (-9.5, -3.0)))
    sole = tuple((x, belly(x) + gap * max(0.0, (x + 6) / 12) ** 1.3) for x in (-6, -3, 0, 3, 6))
    high = sole[-1][1]
    toe = ((6, high), (6.2, high + 0.6), (5.6, 1.5 + high))
    leg = ((5.6, 1.5 + high), (2.8, 2.6 + high / 2), (1.4, 4.8), (1.2, 10.5))
    inner = ((-4.6, 10.5), (-4.4, 6.2), (-4.9, 2.6), (-6, sole[0][1]))
    mm.region(sole, toe, leg, (leg[-1], inner[0]), inner)
    if gap:
        ground = tuple((x, belly(x)) for x in (6, 3, 0, -3, -6))
        mm.region(sole, ((6, high), (6, belly(6))), ground, mark="look", fill="look")
    else:
        mm.curve(*sole, mark="look")


def _figure(pen: Pen, freckles: bool) -> None:
    """The front with its figure: fine level lines, or short flecks."""
    mm = pen.at(120, 134, 3.3, up=True)
    front(mm, lean=0)
    for row in range(18):
        y = 1.3 + 1.6 * row
        for low, high in wood_at(y):
            for one in (mm, mm.mirrored()):
                _figure_row(one, low, high, y, 0.5 + 1.3 * (row % 2) if freckles else None)


def _figure_row(pen: Pen, low: float, high: float, y: float, first: float | None) -> None:
    if first is None:
        pen.line((low and low + 0.6, y), (high - 0.6, y), mark="look")
        return
    x = low + first
    while x + 1.2 < high:
        pen.line((x, y), (x + 0.8, y), mark="look")
        x += 2.6


def _position(pen: Pen, aside: float, up: float) -> None:
    """The top between the sound holes; the small notches at the stop."""
    mm = pen.at(120, 76, 1.75).at(0, -outline.STOP_MM)
    outline.f_holes(mm)
    for one in (mm, mm.mirrored()):
        for x, way in ((35.6, -1.0), (42.0, 1.0)):
            one.shape((x, 193.4), (x + way * 2.4, 195), (x, 196.6), mark="bare", fill="ink")
    mm.line((-58, 195), (58, 195), mark="look")
    mm.line((0, 153), (0, 237), mark="look")
    for x in STRINGS_MM:
        mm.line((x * 0.92, 153), (x + aside, 195 - up), (x * 0.78, 237), mark="thin")
    mm.box(-20.8 + aside, 193 - up, 41.6, 4.3)


def _legs(pen: Pen, out: float) -> None:
    """The bridge of a cello from the front; its legs lean `out` units apart at the feet."""
    pen.blob((66, 34), (92, 24), (120, 21), (148, 24), (174, 34), (168, 62), (144, 74), (120, 68), (96, 74), (72, 62))
    for way in (-1, 1):
        inner, outer = 120 + way * 22, 120 + way * 44
        foot = way * out
        pen.shape((inner, 66), (outer, 60), (outer + foot, 126), (inner + foot, 126), mark="bare")
        pen.line((outer, 60), (outer + foot, 126))
        pen.line((inner, 66), (inner + foot, 126), mark="look")
        lift = 4 if out else 0
        pen.shape(
            (inner + foot - way * 8, 126 - lift), (outer + foot + way * 8, 126), (outer + foot + way * 8, 132),
            (inner + foot - way * 8, 132 - lift), fill="shade",
        )  # fmt: skip
    pen.line((20, 133), (220, 133), mark="thin")


DRAWINGS = (
    Drawing(
        "bridge_stance",
        "Bridge from the side, tailpiece on the right",
        (
            right("The face towards the tailpiece stands square to the top.", partial(_stance, lean=0)),
            wrong(
                "The strings have pulled its top towards the board: soon it bends, or falls.", partial(_stance, lean=5)
            ),
        ),
    ),
    Drawing(
        "bridge_feet",
        "One foot of the bridge on the top, close up",
        (
            right("The whole sole lies on the wood. No light comes through.", partial(_foot, gap=0)),
            wrong("Light shows under the foot: it carries on one edge and dents the top.", partial(_foot, gap=0.9)),
        ),
    ),
    Drawing(
        "bridge_warp",
        "Bridge from the side, the edge of a card against it",
        (
            right("The card touches from foot to crest.", partial(_warp, bow=0)),
            wrong("Bent: the card touches in the middle only.", partial(_warp, bow=3.2)),
        ),
    ),
    Drawing(
        "bridge_carved",
        "Bridge from the front, and its thickness from the side",
        (
            right("Openings cut wide, slim ankles, thin feet, thin at the top.", partial(_carved, raw=False)),
            wrong(
                "As it left the packet: small openings, thick feet, thick all the way up.", partial(_carved, raw=True)
            ),
        ),
    ),
    Drawing(
        "bridge_taper",
        "Bridge from the side, tailpiece on the right",
        (
            right("It grows thin towards the strings, to a fine edge.", partial(_taper, top=1.3)),
            wrong("Nearly as thick at the top as at the feet.", partial(_taper, top=3.4)),
        ),
    ),
    Drawing(
        "bridge_thickness",
        "Where to put the caliper, bridge from the side",
        (plain("Top: at the edge, between two strings. Foot: across its sole, front to back.", _thickness),),
    ),
    Drawing(
        "bridge_figure",
        "The two faces of one bridge",
        (
            plain("Towards the tailpiece: fine level lines.", partial(_figure, freckles=False)),
            plain("Towards the board: short flecks, like freckles.", partial(_figure, freckles=True)),
        ),
    ),
    Drawing(
        "bridge_position",
        "The top between the sound holes, scroll end at the top",
        (
            right("In the middle, level with the small inner notches.", partial(_position, aside=0, up=0)),
            wrong("Too far to one side, and towards the board.", partial(_position, aside=5, up=9)),
        ),
    ),
    Drawing(
        "bridge_legs",
        "The bridge of a cello from the front",
        (
            right("The inner sides of the legs run straight down and both feet lie flat.", partial(_legs, out=0)),
            wrong("The legs have spread, and the feet stand on their outer edges.", partial(_legs, out=18)),
        ),
    ),
)
