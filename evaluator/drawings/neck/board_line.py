"""The line of the board from the side: on its neck, hollow along its length, up to the bridge, below the strings."""

from functools import partial

from ..geometry import profile
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen


def _sight(pen: Pen, depth: float, hump: float = 0, straightedge: bool = True) -> Pen:
    """The board from the side with its hollow far overdrawn, and a straight edge on it; units of the sheet."""
    xs = profile.along(12, 228, 19)

    def dip(x: float) -> float:
        share = (x - 12) / 216
        return (
            72
            + depth * 4 * share * (1 - share) * (1 - 0.25 * (share - 0.5))
            - hump * max(0.0, 1 - abs(share - 0.72) / 0.2) ** 2
        )

    line = tuple((x, dip(x)) for x in xs)
    if straightedge and depth:
        level = 72 - max(0.0, 72 - min(y for _, y in line))
        pen.region(
            line,
            (line[-1], (228, level)),
            ((228, level), (12, level)),
            ((12, level), line[0]),
            mark="bare",
            fill="look",
        )
    pen.region(line, (line[-1], (228, 102)), ((228, 102), (12, 102)), ((12, 102), line[0]), fill="dark")
    top = min(72.0, *(y for _, y in line))
    pen.box(8, top - 16, 224, 16, fill="sheet")
    return pen


def _hollow(pen: Pen) -> None:
    _sight(pen, 11)


def _hump(pen: Pen) -> None:
    _sight(pen, 5, hump=13)


def _joint(pen: Pen, gap: float) -> None:
    """Neck and board from the side at the body."""
    mm = pen.at(134, 62, 1.9, up=True)
    profile.belly(mm, 0, 52, inside=False)
    mm.line((3, -4), (52, -4))
    mm.line((3, -4), (3, -38))
    mm.line((0, -38), (52, -38))
    profile.neck(mm, -62)
    tip = (-62, profile.board_y(-62) - 11)
    root = (0.0, profile.board_y(0) - 11)
    far = (52, profile.board_y(52))
    top = (-62, tip[1] + 11 + gap)
    mm.shape(top, far, (52, far[1] - 9), (0, root[1] + gap * 0.5), (-62, tip[1] + gap), fill="dark")
    if gap:
        mm.shape((-62, tip[1]), root, (0, root[1] + gap * 0.5), (-62, tip[1] + gap), mark="look", fill="look")
    else:
        mm.line(tip, root, mark="look")
    profile.broken(mm, ((-62, top[1] + 3), (-62, tip[1] - 12)))


def _projection(pen: Pen, projection: float, measure: bool = False) -> None:
    """The line of the board carried on to the bridge."""
    mm = pen.at(44, 96, 0.84, up=True)
    profile.body(mm, 0, 225)
    profile.neck(mm, -48, projection)
    profile.board(mm, -48, projection=projection)
    profile.bridge(mm)
    profile.broken(mm, ((-48, profile.board_y(-48, projection) + 5), (-48, profile.board_y(-48, projection) - 25)))
    mm.line((20, profile.board_y(20, projection) + 1), (216, profile.board_y(216, projection) + 1), mark="look")
    if measure:
        y = profile.belly_y(195)
        mm.line((203, y), (224, y), mark="guide")
        mm.line((214, profile.board_y(195)), (224, profile.board_y(195)), mark="guide")
        mm.span((219, y), (219, profile.board_y(195)), tick=4)


def _action(pen: Pen, high: float) -> None:
    """Board end, string and bridge from the side; the room under the string in the accent."""
    mm = pen.at(-102, 146, 1.68, up=True)
    profile.belly(mm, 63, 202, inside=False)
    low = (66.0, profile.board_y(66) + high * 0.62)
    bridge = profile.belly_y(195) + 27 + high * 1.25
    over = low[1] + (bridge - low[1]) * (140 - 66) / (195 - 66)
    mm.shape((66, profile.board_y(66)), (140, profile.board_y(140)), (140, over), low, mark="bare", fill="look")
    profile.board(mm, 66)
    mm.region(
        ((193, 15), (194.8, bridge)),
        ((194.8, bridge), (196, bridge)),
        ((196, bridge), (197.2, 15)),
        ((197.2, 15), (193, 15)),
    )
    mm.line(low, (195.5, bridge), (202, bridge - 2))


SIDE = "Board, bridge and body from the side"


DRAWINGS = (
    Drawing(
        "board_hollow",
        "A straight edge along the board, the gap much exaggerated",
        (
            right("One smooth, slight hollow from end to end.", _hollow),
            wrong("A hump: the straight edge rocks on it, and strings buzz.", _hump),
        ),
    ),
    Drawing(
        "board_joint",
        "Neck and board from the side",
        (
            right("The board lies tight on the neck from end to end.", partial(_joint, gap=0)),
            wrong("A gap that opens when the board is lifted: the glue has let go.", partial(_joint, gap=3.4)),
        ),
    ),
    Drawing(
        "board_projection",
        SIDE,
        (
            right("A ruler on the board meets the bridge just below its top.", partial(_projection, projection=27)),
            wrong(
                "The ruler meets it far below: the neck has sunk, or was set too low.",
                partial(_projection, projection=15),
            ),
        ),
    ),
    Drawing(
        "projection",
        SIDE,
        (
            plain(
                "Carry the line of the board to the bridge, and measure up to it from the top.",
                partial(_projection, projection=27, measure=True),
            ),
        ),
    ),
    Drawing(
        "action",
        "String and board from the side, near the bridge",
        (
            right("A little room, growing evenly towards the bridge.", partial(_action, high=4.5)),
            wrong("So much room that the fingers must work, above all high up.", partial(_action, high=11)),
        ),
    ),
)
