"""The sides, and where a buzz comes from: seams that open and are heard, cracks and bulges, and how to measure."""

from ..geometry import plan
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.outline import RIB_MM, body, f_holes, lying, side
from ..geometry.pen import Pen, Point


def _long_arch(width: float, high: float) -> tuple[Point, ...]:
    return ((0, 0), (width * 0.06, 1.5), (width * 0.25, high * 0.75), (width * 0.52, high), (width * 0.8, high * 0.7),
            (width * 0.94, 1.5), (width, 0))  # fmt: skip


def _side(pen: Pen) -> None:
    """The body lying on its back, from the side of the thickest string; neck to the left."""
    for y, way in ((50.0, -1), (106.0, 1)):
        arched = tuple((12 + x, y + way * (6 + h)) for x, h in _long_arch(216, 15))
        pen.region(((12, y), arched[0]), arched, (arched[-1], (228, y)))
    pen.shape((16, 50), (224, 50), (224, 106), (16, 106), fill="sheet")
    for x in (88.0, 146.0):
        pen.line((x, 50), (x, 106), mark="thin")
        pen.line((x + 3, 50), (x + 3, 106), mark="thin")


def _seam_open(pen: Pen) -> None:
    _side(pen)
    pen.region(((30, 106), (52, 103), (80, 106)), ((80, 106), (52, 108.5), (30, 106)), mark="look", fill="look")
    pen.arrow((60, 76), (54, 100))


def _knock(pen: Pen) -> None:
    near = lying(pen)
    body(near)
    for x, y in _KNOCKS:
        for way in (1, -1):
            near.disc((way * x, y), 4.5, mark="look", fill="sheet")


_KNOCKS = (
    (26, 9),
    (66, 32),
    (76, 74),
    (66, 108),
    (51, 150),
    (53, 190),
    (80, 226),
    (94, 262),
    (92, 306),
    (58, 339),
    (18, 347),
)


def _rib_cracks(pen: Pen) -> None:
    _side(pen)
    pen.curve((160, 70), (180, 68), (200, 71), (224, 69), mark="look")
    pen.curve((92, 84), (112, 86), (132, 84), mark="look")
    pen.curve((30, 92), (48, 90), (60, 92), mark="look")


def _upright(pen: Pen) -> None:
    near = side(pen, face_mark="look", linings="thin")
    near.line((-5.5, -1), (-5.5, 29), mark="guide")


def _bulged(pen: Pen) -> None:
    near = side(pen, ((0, 0), (-2.6, 8), (-3.6, 14), (-2.6, 20), (0, RIB_MM)), "look", "thin")
    near.line((-5.5, -1), (-5.5, 29), mark="guide")


def _height(pen: Pen) -> None:
    near = side(pen, linings="thin")
    near.span((-9, 0), (-9, RIB_MM))
    for y in (0, RIB_MM):
        near.line((-9, y), (0, y), mark="guide")


def _front(pen: Pen) -> Pen:
    """A top with its fittings, neck to the left."""
    near = lying(pen)
    body(near)
    f_holes(near)
    near.blob((-30, 330), (-62, 312), (-88, 322), (-72, 342), (-40, 351), mark="thin", fill="sheet")
    plan.board(near, low=0)
    plan.tailpiece(near)
    plan.bridge(near)
    plan.strings(near, low=plan.BOARD_END_Y)
    return near


def _buzzes(pen: Pen) -> None:
    near = _front(pen)
    for x, y in ((14, 256), (-58, 338), (49, 214), (14, 124), (88, 84), (-66, 112), (-15, 160)):
        near.disc((x, y), 9, mark="look", fill=None)


DRAWINGS = (
    Drawing(
        "open_seam",
        "Where to knock, and the body from the side",
        (
            plain(
                "Knock all round, close to the edge, with the soft of a knuckle. A sound seam answers dully.", _knock
            ),
            wrong("It clicks or buzzes where side and plate have come apart.", _seam_open),
        ),
    ),
    Drawing(
        "rib_cracks",
        "The body from the side, neck to the left",
        (plain("Cracks in the sides run lengthwise, most often near the lower end and in the waist.", _rib_cracks),),
    ),
    Drawing(
        "rib_bulge",
        "The side between top and back, cut across",
        (
            right("The side stands straight between the plates.", _upright),
            wrong("It bulges: the plates have shrunk, or the glue of the linings let go.", _bulged),
        ),
    ),
    Drawing(
        "rib_height",
        "The side between top and back, cut across",
        (plain("Measure the side alone, without the thickness of top and back.", _height),),
    ),
    Drawing(
        "buzz_places",
        "The top from the front, neck to the left: what may buzz",
        (
            plain(
                "Seams, sound hole, bass bar, end of the board, fine tuner, chin rest: press each while it sounds.",
                _buzzes,
            ),
        ),
    ),
)
