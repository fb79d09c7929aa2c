"""The bow's stick and head: straight, curved, whole; and how length, camber, balance are measured."""

from functools import partial

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, Point
from .bow_shape import END_X, FROG_X, FRONT, HAIR_Y, HEAD_X, STICK_Y, head, whole

_MIDDLE = (HEAD_X + FROG_X) / 2


def _from_above(pen: Pen, swing: float) -> None:
    """The stick from above, frog at the right; its middle lies `swing` to one side."""
    xs = (14.0, 60.0, 110.0, 160.0, 206.0)
    bend = (0.0, 0.75, 1.0, 0.6, 0.0)
    near = tuple((x, 75 + swing * b - 2.2 - 0.5 * i) for i, (x, b) in enumerate(zip(xs, bend, strict=True)))
    far = tuple((x, 75 + swing * b + 2.2 + 0.5 * i) for i, (x, b) in enumerate(zip(xs, bend, strict=True)))
    pen.box(174, 66, 36, 18, fill="sheet", mark="thin")
    pen.region(near, far[::-1])
    pen.shape((8, 75), (14, 71), (34, 71), (34, 79), (14, 79), fill="sheet")
    pen.box(206, 70, 16, 10, fill="shade")
    pen.line((6, 75), (232, 75), mark="look" if not swing else "hidden")
    if swing:
        pen.arrow((110, 75 + swing + 30), (110, 75 + swing + 8))


def _from_the_tip(pen: Pen, twist: float) -> None:
    """Along the stick from its tip: the head in front, the frog far behind it."""
    pen.shape((94, 40), (146, 40), (146, 118), (94, 118), mark="thin", fill="sheet")
    pen.line((94, 106), (146, 106), mark="thin")
    near = pen.at(120, 42, turn=twist)
    near.region(
        ((-11, 0), (-11, -8), (0, -14), (11, -8), (11, 0)), ((11, 0), (14, 36), (17, 58)), ((17, 58), (-17, 58)),
        ((-17, 58), (-14, 36), (-11, 0)),
    )  # fmt: skip
    near.line((0, -14), (0, 58), mark="thin")
    near.line((-17, 58), (17, 58), mark="look")


def _tight(pen: Pen, middle: float) -> None:
    whole(pen.at(0, 6), middle, stick="look")
    if middle:
        pen.disc((_MIDDLE, HAIR_Y + 6 - 4.2), 3.6, mark="thin", fill="shade")


def _gap(pen: Pen) -> None:
    whole(pen, 14, hair=0.6)
    low = STICK_Y + 14 + 4
    pen.span((_MIDDLE, low), (_MIDDLE, HAIR_Y + 0.5), tick=9)
    pen.arrow((_MIDDLE, 116), (_MIDDLE, HAIR_Y + 4))


def _length(pen: Pen) -> None:
    whole(pen, 12)
    first, last = HEAD_X - 1, END_X - 4
    pen.span((first, 118), (last, 118))
    pen.line((first, HAIR_Y + 4), (first, 118), mark="guide")
    pen.line((last, STICK_Y + 7), (last, 118), mark="guide")


def _balance(pen: Pen) -> None:
    whole(pen.at(0, -20), 12, ribbon="thin")
    point = FRONT - 50
    low = STICK_Y - 20 + 14.6
    pen.disc((point, low + 10), 9.5, fill="sheet")
    pen.arc((point, low + 10), 6.5, 215, 325, mark="thin")
    pen.span((point, 104), (FRONT, 104))
    pen.line((FRONT, HAIR_Y - 16), (FRONT, 104), mark="guide")


def _close(pen: Pen) -> Pen:
    return pen.at(34, 24, 3.9)


def _head_whole(pen: Pen) -> None:
    near = _close(pen)
    head(near)
    near.disc((25, 16.4), 5, mark="look", fill=None)


def _head_cracked(pen: Pen) -> None:
    near = _close(pen)
    head(near)
    near.curve((24.1, 16.4), (19, 15), (13, 12.2), (9.2, 11.1), mark="look")
    near.arrow((40, 14.6), (25.6, 16))


def _plate(pen: Pen, broken: bool) -> None:
    """The face of the head from below, nose to the left; drawn six times its size."""
    edge: tuple[Point, ...] = ((30, 75), (58, 60), (110, 50), (190, 45))
    pen.region(edge, ((190, 45), (190, 105)), tuple((x, 150 - y) for x, y in edge)[::-1], fill="sheet")
    pen.shape((96, 60), (160, 58), (160, 92), (96, 90), fill="shade")
    for i in range(7):
        y = 62 + 4.4 * i
        pen.line((160, y), (226, y), mark="thin")
    if broken:
        pen.line((82, 55), (76, 64), (81, 72), (75, 82), (80, 94), mark="look")
        pen.line((96, 76), (81, 72), mark="look")
    else:
        pen.curve((58, 60), (44, 66), (30, 75), mark="look")
        pen.curve((58, 90), (44, 84), (30, 75), mark="look")


def _stick_piece(pen: Pen) -> None:
    pen.region(((10, 60), (230, 54)), ((230, 98), (10, 92)), mark="bare")
    pen.line((10, 60), (230, 54))
    pen.line((230, 98), (10, 92))
    for y in (67.0, 74.0, 80.0, 86.0):
        pen.line((12, y), (228, y + (y - 76) * 0.24), mark="guide")


def _scratch(pen: Pen) -> None:
    _stick_piece(pen)
    for x in (70.0, 78.0, 84.0):
        pen.line((x, 70), (x + 46, 78), mark="look")


def _crack(pen: Pen) -> None:
    _stick_piece(pen)
    pen.curve((62, 93), (92, 86), (118, 76), (150, 64), (172, 55.6), mark="look")
    pen.curve((62, 93), (94, 87.4), (120, 77.6), (150, 65.4), (172, 55.6), mark="look")


def _weight(pen: Pen) -> None:
    whole(pen.at(0, -26), 14, hair=3)
    pen.box(88, 62, 54, 24)
    pen.region(
        ((70, 88), (74, 86)), ((156, 86), (160, 88)), ((160, 88), (172, 122)), ((172, 122), (58, 122)), fill="shade"
    )
    pen.box(92, 100, 46, 16, fill="sheet")
    pen.word((115, 113), "gram", mark="look")


DRAWINGS = (
    Drawing(
        "bow_straightness",
        "The bow from above, and along the stick from its tip",
        (
            right("Straight from frog to tip, slack and tight.", partial(_from_above, swing=0.0)),
            wrong("It swings to one side. At playing tension that hinders the hand.", partial(_from_above, swing=16.0)),
            wrong("The head is twisted: its face stands askew to the frog.", partial(_from_the_tip, twist=14.0)),
        ),
    ),
    Drawing(
        "bow_camber",
        "The bow at playing tension, a pencil between hair and stick",
        (
            right("The stick still curves towards the hair.", partial(_tight, middle=13.0)),
            wrong("The curve is gone: the stick is straight as soon as it is tight.", partial(_tight, middle=0.0)),
        ),
    ),
    Drawing(
        "bow_camber_gap",
        "The bow with its hair slack",
        (plain("Measure from the stick to the hair at the middle of the bow.", _gap),),
    ),
    Drawing(
        "bow_length",
        "The bow from the side",
        (plain("Measure from the nose of the head to the end of the wood, without the button.", _length),),
    ),
    Drawing(
        "bow_balance",
        "The bow lying on one finger",
        (plain("Where it balances, measure from the finger to the front edge of the frog.", _balance),),
    ),
    Drawing(
        "bow_head",
        "The head from the side",
        (
            right("Whole. Look hardest at the narrow part behind the plate.", _head_whole),
            wrong("A crack runs up from there. Under tension the head can break off.", _head_cracked),
        ),
    ),
    Drawing(
        "bow_tip_plate",
        "The face of the head from below, the hair leaving to the right",
        (
            right("The plate is whole as far as its point.", partial(_plate, broken=False)),
            wrong(
                "Cracked at the pocket of the hair, and the point has nothing to hold it.", partial(_plate, broken=True)
            ),
        ),
    ),
    Drawing(
        "bow_stick_crack",
        "A piece of the stick, close up",
        (
            right("Scratches lie in the varnish and stop; a fingernail slides over them.", _scratch),
            wrong("A crack runs slantwise with the grain, through both edges; it catches the nail.", _crack),
        ),
    ),
    Drawing(
        "bow_weight",
        "The bow on a scale, a small box between them",
        (plain("Hair slack. On a small box nothing but the box touches the bow.", _weight),),
    ),
)
