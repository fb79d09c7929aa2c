"""Where a buzz comes from."""

from ..geometry import plan
from ..geometry.model import Drawing, plain
from ..geometry.outline import body, f_holes, lying
from ..geometry.pen import Pen


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
