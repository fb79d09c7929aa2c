"""The neck: its joint and button, its line and its shape in the hand. Millimetres of a violin."""

from functools import partial

from ..geometry import outline, plan, profile
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point, on_arc

FLOOR = -2 * profile.EDGE_MM - profile.RIB_MM


def _heel(pen: Pen, gap: float) -> None:
    """Heel and body from the side, the button below; the gap is widest there, where the strings pull it open."""
    mm = pen.at(138, 64, 2.05, up=True)
    profile.belly(mm, 0, 46, inside=False)
    ribs: tuple[Point, ...] = ((3, -4), (46, -4), (46, -34), (3, -34))
    mm.shape(*ribs)
    mm.line((0, 0), (0, -4), (46, -4))
    mm.line((46, -38), (-9, -38), (-10, -36), (-9, -34), (46, -34))
    lean = gap / 36
    moved = mm.at(0, 0, turn=-57.3 * lean)
    profile.neck(moved, -55)
    profile.board(moved, -55, 42)
    if gap:
        mm.shape((0, 0), (3, -4), (3, -34), (-34 * lean, -34), mark="look", fill="look")
    else:
        mm.line((0, 6), (0, 0), (3, -4), (3, -34), mark="look")
    profile.broken(moved, ((-55, profile.board_y(-55) + 4), (-55, profile.board_y(-55) - 24)))


def _button(pen: Pen, broken: bool) -> None:
    """The upper end of the back, with the button above it."""
    mm = pen.at(120, 46, 2.15)
    upper = outline.along(outline.UPPER, 8)
    half = tuple(point for point in upper if point[0] <= 54 and point[1] < 60)
    button: tuple[Point, ...] = tuple((x * 10.5 / 13, y) for x, y in on_arc((0, 0), 13, 180, 360, 13))
    far = half[-1]
    for one in (mm, mm.mirrored()):
        one.region(half, (far, (far[0], 46)), ((far[0], 46), (0, 46)), ((0, 46), half[0]), mark="bare")
        one.curve(*half)
    mm.region(button, (button[-1], button[0]), mark="bare")
    mm.curve(*button)
    for distance in (4.0, 5.2):
        line = tuple((x, y) for x, y in outline.beside(half, distance))
        mm.curve(*line, mark="thin")
        mm.mirrored().curve(*line, mark="thin")
    mm.line((0, 0), (0, 46), mark="thin")
    if broken:
        mm.curve((-10.6, -0.6), (-6, 1.6), (-2, 0.8), (3, 2.6), (7, 1.4), (10.6, -0.4), mark="look")
        mm.curve((-10.6, -0.6), (-14, 3), (-15.4, 9), (-15, 16), mark="look")
    else:
        mm.curve(*button, mark="look")


def _aim(pen: Pen, turn: float) -> None:
    """From above, nut to the left; the middle of the board carried on over the bridge."""
    mm = pen.at(87, 75, 0.6, turn=-90)
    neck = mm.at(0, 0, turn=turn)
    plan.body_to(mm, 248)
    plan.board(neck)
    plan.bridge(mm)
    neck.line((0, -130), (0, 240), mark="look")


def _straight(pen: Pen, bend: float) -> None:
    """Neck and board from the side between nut and heel, a string over them."""
    xs = profile.along(16, 190, 13)

    def bow(x: float) -> float:
        share = (x - 16) / 174
        return bend * 4 * share * (1 - share) + 4 * share * (1 - share)

    face = tuple((x, 62 + bow(x)) for x in xs)
    glue = tuple((x, 74 + bow(x)) for x in reversed(xs))
    under: tuple[Point, ...] = ((192, 132), (184, 112), (168, 98 + bow(168)), (100, 93 + bow(100)), (16, 90))
    pen.region(
        (glue[0], (228, 74)),
        ((228, 74), (228, 132)),
        ((228, 132), (192, 132)),
        under,
        (under[-1], glue[-1]),
        glue[::-1],
    )
    if bend:
        pen.region(face, (face[-1], face[0]), mark="bare", fill="look")
    pen.region(
        face,
        (face[-1], (232, 60)),
        ((232, 60), (232, 71)),
        ((232, 71), glue[0]),
        glue,
        (glue[-1], face[0]),
        fill="dark",
    )
    pen.shape((9, 90), (9, 58), (16, 57), (16, 90))
    pen.line((9, 57), (236, 46))
    if not bend:
        pen.curve(*face, mark="look")


def _in_hand(pen: Pen, club: bool) -> None:
    """Neck and board cut across in first position."""
    mm = pen.at(120, 58, 4.4, up=True)
    half, edge = 13.0, 5.0
    face = tuple((half * (at / 4 - 1), 3.0 * (1 - (at / 4 - 1) ** 2)) for at in range(9))
    mm.region(face, ((half, 0), (half, -edge)), ((half, -edge), (-half, -edge)), fill="dark")
    if club:
        back: tuple[Point, ...] = (
            (half, -edge),
            (13.4, -12),
            (10.5, -16.4),
            (0, -17.6),
            (-10.5, -16.4),
            (-13.4, -12),
            (-half, -edge),
        )
    else:
        back = ((half, -edge), (11.6, -9.2), (7.4, -12.8), (0, -14.4), (-7.4, -12.8), (-11.6, -9.2), (-half, -edge))
    mm.region(back, (back[-1], back[0]))
    mm.curve(*back, mark="look")


def _thick(pen: Pen, x: float) -> None:
    """Neck and board from the side, and where the caliper goes."""
    mm = pen.at(184, 60, 1.25, up=True)
    profile.body(mm, 0, 40)
    profile.neck(mm)
    profile.board(mm, high=42)
    y = profile.board_y(x)
    mm.box(profile.NUT_X - 5, profile.board_y(-130) - 12, 5, 13.5)
    mm.arrow((x, y + 17), (x, y + 0.8))
    mm.arrow((x, y - 38), (x, y - 20.6 - (1.4 if x > -60 else 0)))


def _overstand(pen: Pen) -> None:
    mm = pen.at(98, 62, 2.25, up=True)
    profile.neck(mm, -30)
    profile.board(mm, -30, 46)
    profile.broken(mm, ((-30, profile.board_y(-30) + 2), (-30, profile.board_y(-30) - 24)))
    profile.belly(mm, 0, 42, inside=False)
    mm.line((0, 0), (0, -4), (42, -4))
    mm.line((3, -4), (3, -27))
    under = profile.board_y(6) - profile.BOARD_MIDDLE_MM
    mm.line((0, 0), (24, 0), mark="guide")
    mm.line((0, 6), (24, 6), mark="guide")
    mm.span((16, 0), (16, under - 0.6), tick=4)


DRAWINGS = (
    Drawing(
        "neck_heel",
        "Where the neck meets the body, from the side",
        (
            right("Tight all round: heel, ribs, edge and button.", partial(_heel, gap=0)),
            wrong("A gap opens, widest at the button: the strings pull the neck out.", partial(_heel, gap=6)),
        ),
    ),
    Drawing(
        "neck_button",
        "The upper end of the back, with its button",
        (
            right("Button and back are one piece of wood.", partial(_button, broken=False)),
            wrong("Cracks run across its root and into the back.", partial(_button, broken=True)),
        ),
    ),
    Drawing(
        "neck_aim",
        "From above, nut on the left",
        (
            right("The middle of the board points to the middle of the bridge.", partial(_aim, turn=0)),
            wrong("It points past it: the strings run off to one side of the board.", partial(_aim, turn=2.6)),
        ),
    ),
    Drawing(
        "neck_straight",
        "Neck and board from the side, the bend exaggerated",
        (
            right("Nearly straight, with the slight hollow of a good board.", partial(_straight, bend=0)),
            wrong("Bowed: the strings lie high in the middle.", partial(_straight, bend=13)),
        ),
    ),
    Drawing(
        "neck_shape",
        "Neck and board cut across, in first position",
        (
            right("Round and slim, falling away under the thumb.", partial(_in_hand, club=False)),
            wrong("Square shoulders, thick as a club.", partial(_in_hand, club=True)),
        ),
    ),
    Drawing(
        "neck_thick_first",
        "Neck and board from the side, nut on the left",
        (plain("Caliper over neck and board together, where the first finger plays.", partial(_thick, x=-108)),),
    ),
    Drawing(
        "neck_thick_heel",
        "Neck and board from the side, nut on the left",
        (plain("Caliper over neck and board together, just before the heel begins.", partial(_thick, x=-42)),),
    ),
    Drawing(
        "overstand",
        "Neck and top from the side",
        (plain("From the edge of the top straight up to the underside of the board.", _overstand),),
    ),
)
