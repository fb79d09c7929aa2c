"""Where a buzz comes from."""

from .model import Drawing, plain
from .outline import body, f_holes, lying
from .pen import Pen


def _front(pen: Pen) -> Pen:
    """A top with its fittings, neck to the left."""
    near = lying(pen)
    body(near)
    f_holes(near)
    near.region(((-8, 352), (-9, 300), (-15, 262), (-20, 248)), ((20, 248), (15, 262), (9, 300), (8, 352)), mark="thin")
    near.blob((-30, 330), (-62, 312), (-88, 322), (-72, 342), (-40, 351), mark="thin", fill="sheet")
    for x in (-8.2, -2.7, 2.7, 8.2):
        near.line((x * 0.7, 0), (x * 1.6, 248), mark="thin")
    near.shape((-12, 0), (12, 0), (20, 132), (-20, 132), mark="thin")
    near.box(-20.5, 193, 41, 5, fill="sheet")
    return near


def _buzzes(pen: Pen) -> None:
    near = _front(pen)
    for x, y in ((14, 256), (-58, 338), (49, 214), (14, 124), (88, 84), (-66, 112), (-15, 160)):
        near.disc((x, y), 9, mark="look", fill=None)


DRAWINGS = (
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
