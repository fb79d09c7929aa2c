"""The soundpost: in the body cut across at the bridge, from above beside the foot, and close up. In mm of a violin."""

from functools import partial

from ..geometry import outline
from ..geometry.bridge_shape import front
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen
from ..geometry.profile import ARCH_MM, EDGE_MM, RIB_MM

HALF_MM, PLATE_MM, POST_MM = 60.0, 3.0, 6.0
FLOOR = -EDGE_MM - RIB_MM - EDGE_MM
POST_X = 17.0
BACK_MM = 14.0


def top_y(x: float) -> float:
    """Outside of the top, x mm from its middle, above its edge."""
    share = min(1.0, abs(x) / HALF_MM)
    return ARCH_MM * (1 - share**2) ** 2 * (1 + 0.55 * share**2)


def _plate(pen: Pen, way: float, base: float, arch: float, bump: float = 0) -> None:
    """One plate cut across; `way` 1 arches up, -1 down; `bump` raises it over the post."""
    xs = [HALF_MM * (at / 12 - 1) for at in range(25)]

    def height(x: float) -> float:
        return top_y(x) * arch / ARCH_MM + bump * max(0.0, 1 - ((x - POST_X) / 15) ** 2)

    outer = tuple((x, base + way * height(x)) for x in xs)
    inner = tuple(
        (x, base + way * (height(x) - PLATE_MM if abs(x) < 50 else -EDGE_MM))
        for x in reversed(xs)
        if not 46 < abs(x) < 55
    )
    pen.region(outer, (outer[-1], inner[0]), inner, (inner[-1], outer[0]))


def _box(pen: Pen) -> None:
    """Top, back, ribs and bass bar cut across under the bridge, thinnest string on the right."""
    for x in (-56.0, 54.0):
        pen.shape((x, -EDGE_MM), (x + 2, -EDGE_MM), (x + 2, FLOOR + EDGE_MM), (x, FLOOR + EDGE_MM))
    _plate(pen, 1, 0, ARCH_MM)
    _plate(pen, -1, FLOOR, BACK_MM)
    under = top_y(-15) - PLATE_MM
    pen.shape((-18, under - 0.7), (-12.4, under + 0.8), (-13.4, under - 9), (-16.8, under - 9))


def _ends(x: float) -> tuple[float, float]:
    """Inside heights of top and back at x."""
    return top_y(x) - PLATE_MM, FLOOR - top_y(x) * BACK_MM / ARCH_MM + PLATE_MM


def _post(pen: Pen, head: float = POST_X, foot: float = POST_X) -> None:
    """The post with its ends at `head` and `foot`."""
    half = POST_MM / 2
    pen.shape(
        (head - half, _ends(head - half)[0]), (head + half, _ends(head + half)[0]),
        (foot + half, _ends(foot + half)[1]), (foot - half, _ends(foot - half)[1]), mark="look",
    )  # fmt: skip


def _across(pen: Pen) -> Pen:
    mm = pen.at(120, 70, 1.36, up=True)
    _box(mm)
    front(mm.at(0, ARCH_MM - 0.9, 1))
    return mm


def _standing(pen: Pen, fallen: bool) -> None:
    mm = _across(pen)
    if not fallen:
        _post(mm)
        return
    mm.at(-22, FLOOR - 8.6, 1, turn=4).box(0, 0, 54, POST_MM, mark="look")


def _upright(pen: Pen, lean: float) -> None:
    _post(_across(pen), POST_X, POST_X + lean)


def _above(pen: Pen, behind: float, x: float, faint: bool = False) -> Pen:
    """The bridge from above and the post under the top, tailpiece below; `behind` mm back from the foot."""
    mm = pen.at(96, 50, 4.2)
    mm.box(-20.8, -4.3, 41.6, 4.3, fill="sheet")
    for low in (-20.8, 9.2):
        mm.box(low, -4.3, 11.6, 4.3, fill="shade")
    mm.line((0, -10), (0, 21), mark="guide")
    mm.disc((x, behind + POST_MM / 2), POST_MM / 2, mark="hidden" if faint else "look", fill="tint")
    return mm


def _position(pen: Pen, behind: float, x: float) -> None:
    _above(pen, behind, x)


def _fit(pen: Pen, square: bool) -> None:
    """The upper end of the post against the slope of the top."""
    mm = pen.at(120, 62, 9, up=True)

    def slope(x: float) -> float:
        return -0.26 * x - 0.012 * x * x

    xs = (-11.0, -7.0, -3.0, 1.0, 5.0, 9.0, 11.5)
    under = tuple((x, slope(x)) for x in xs)
    mm.region(
        under,
        (under[-1], (11.5, slope(11.5) + 5)),
        tuple((x, slope(x) + 5) for x in reversed(xs)),
        ((-11, slope(-11) + 5), under[0]),
    )
    half = POST_MM / 2
    if square:
        level = slope(half)
        mm.shape((-half, level), (half, level), (half, -8.6), (-half, -8.6))
        gap = tuple((x, slope(x)) for x in (half, 1, -1, -half))
        mm.region(gap, (gap[-1], (-half, level)), ((-half, level), gap[0]), mark="look", fill="look")
    else:
        top = tuple((x, slope(x)) for x in (-half, -1, 1, half))
        mm.region(top, (top[-1], (half, -8.6)), ((half, -8.6), (-half, -8.6)), ((-half, -8.6), top[0]))
        mm.curve(*top, mark="look")
    for x in (-2, -1, 0.2, 1.2, 2.2):
        mm.line((x, -2.4), (x, -8.2), mark="thin")


def _level(pen: Pen, bump: float) -> None:
    """The top across at the sound holes, in slanting light; the bump exaggerated."""
    mm = pen.at(120, 92, 1.86, up=True)
    _plate(mm, 1, 0, ARCH_MM, bump)
    for x in (-40, 40):
        y = top_y(x)
        mm.shape((x - 2.4, y + 3), (x + 2.4, y + 3), (x + 2.4, y - 5.6), (x - 2.4, y - 5.6), mark="bare", fill="sheet")
    xs = [POST_X + way for way in (-16, -10, -5, 0, 5, 10, 16)]
    mm.curve(*((x, top_y(x) + bump * max(0.0, 1 - ((x - POST_X) / 15) ** 2) + 0.4) for x in xs), mark="look")
    bottom = top_y(POST_X) + bump - PLATE_MM - 0.4
    mm.shape((POST_X - 3, bottom), (POST_X + 3, bottom), (POST_X + 3, -24), (POST_X - 3, -24))


def _top_crack(pen: Pen) -> None:
    mm = pen.at(120, 76, 1.75).at(0, -outline.STOP_MM)
    outline.f_holes(mm)
    mm.box(-20.8, 193, 41.6, 4.3)
    mm.curve((16.4, 236), (16.8, 222), (16.2, 210), (16.6, 198.4), mark="look")
    mm.curve((16.4, 191.8), (16.8, 182), (16.3, 170), (16.7, 160), mark="look")
    mm.disc((POST_X, 203), POST_MM / 2, mark="hidden", fill=None)


def _back_crack(pen: Pen) -> None:
    """The whole back from behind, its upper end on the left."""
    mm = outline.lying(pen)
    outline.body(mm)
    mm.line((0, 0), (0, 355), mark="thin")
    mm.curve((-16.5, 252), (-17.4, 232), (-16.2, 204), (-17.2, 176), (-16.4, 158), mark="look")
    mm.disc((-POST_X, 203), 6, mark="hidden", fill=None)


ACROSS = "The body cut across at the bridge, seen from the tailpiece"
ABOVE = "The bridge from above, tailpiece below"
DRAWINGS = (
    Drawing(
        "post_standing",
        ACROSS,
        (
            right(
                "The post stands under one foot, the bass bar runs under the other.", partial(_standing, fallen=False)
            ),
            wrong(
                "The post has fallen. Slacken all four strings, each a little in turn.", partial(_standing, fallen=True)
            ),
        ),
    ),
    Drawing(
        "post_upright",
        ACROSS,
        (
            right("It stands upright.", partial(_upright, lean=0)),
            wrong("It leans: it touches with its edges and dents the wood.", partial(_upright, lean=11)),
        ),
    ),
    Drawing(
        "post_position",
        ABOVE,
        (
            right("A little behind the foot, and level with its outer part.", partial(_position, behind=3, x=POST_X)),
            wrong("Far behind, and towards the middle.", partial(_position, behind=12, x=9.5)),
        ),
    ),
    Drawing(
        "post_fit",
        "The upper end of the post against the top, close up",
        (
            right("Cut to the slope of the top, it touches all over.", partial(_fit, square=False)),
            wrong("Cut square: it stands on one edge, with a gap beside it.", partial(_fit, square=True)),
        ),
    ),
    Drawing(
        "post_tension",
        "The top across at the sound holes, the bump exaggerated",
        (
            right("Both sides rise alike.", partial(_level, bump=0)),
            wrong("Raised over the post: it is too long, or wedged too hard.", partial(_level, bump=7)),
        ),
    ),
    Drawing(
        "post_crack_top",
        "The top between the sound holes, scroll end at the top",
        (plain("Along the grain, over the post, before and behind the foot.", _top_crack),),
    ),
    Drawing(
        "post_crack_back",
        "The back from behind, its upper end on the left",
        (plain("Along the grain, over the place of the post.", _back_crack),),
    ),
)
