"""Strings close up."""

from functools import partial

from .model import Drawing, right, wrong
from .pen import Pen

TOP, BOTTOM = 56.0, 94.0


def _winding(pen: Pen, worn: bool) -> None:
    """A wound string along its length: close turns, or turns that have opened over the core."""
    gap = (104.0, 142.0) if worn else (0.0, 0.0)
    if worn:
        pen.box(gap[0] - 6, 66, gap[1] - gap[0] + 12, 18, fill="shade")
        for at in range(5):
            x = gap[0] - 4 + 10 * at
            pen.line((x, 84), (x + 8, 66), mark="thin")
    x = 8.0
    while x < 226:
        if not (worn and gap[0] - 10 < x < gap[1]):
            pen.region(
                ((x, BOTTOM), (x + 2.5, BOTTOM + 2.5), (x + 5.5, BOTTOM)), ((x + 5.5, BOTTOM), (x + 9.5, TOP)),
                ((x + 9.5, TOP), (x + 7, TOP - 2.5), (x + 4, TOP)), ((x + 4, TOP), (x, BOTTOM)),
            )  # fmt: skip
        x += 5.5
    if worn:
        pen.curve((102, 58), (110, 40), (124, 34), (128, 46), (118, 52), mark="look")
        pen.curve((142, 94), (136, 110), (124, 116), (118, 106), mark="look")
    else:
        pen.line((10, TOP - 5), (230, TOP - 5), mark="look")


DRAWINGS = (
    Drawing(
        "string_winding",
        "A string under a strong glass",
        (
            right("Clean, smooth, every turn close to the next.", partial(_winding, worn=False)),
            wrong("The winding has opened: soon it breaks, and it buzzes.", partial(_winding, worn=True)),
        ),
    ),
)
