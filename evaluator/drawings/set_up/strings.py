"""Strings: close up, cut across, and under one finger."""

from functools import partial

from ..geometry import plan
from ..geometry.bridge_shape import STRINGS_MM
from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Pen, on_arc

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


def _cut(pen: Pen, core: str) -> None:
    """A string cut across: its winding, and a core of steel, of threads or of gut."""
    centre = (120.0, 75.0)
    if core == "steel":
        pen.disc(centre, 46, fill="shade")
        pen.disc(centre, 36, fill="tint")
        pen.disc(centre, 20, mark="look", fill="shade")
        return
    pen.disc(centre, 62, fill="shade")
    pen.disc(centre, 51, fill="tint")
    if core == "gut":
        pen.disc(centre, 42, mark="look", fill="sheet")
        for radius in (30.0, 18.0):
            pen.arc(centre, radius, 200, 340, mark="look")
            pen.arc(centre, radius, 20, 160, mark="look")
        return
    for radius, count in ((0.0, 1), (14.0, 6), (28.0, 12), (40.0, 18)):
        for place in on_arc(centre, radius, 0, 360, count + 1)[:count]:
            pen.disc(place, 5.6, mark="look", fill=None)


def _fifth(pen: Pen) -> None:
    """Part of the board from above; one finger lies flat across two strings."""
    mm = pen.at(75, 75, 2.0, turn=-90).at(0, 60)
    for at, x in enumerate(STRINGS_MM):
        near, far = (x * (plan.STRINGS_AT_NUT + 0.00157 * (y - plan.NUT_Y)) for y in (-92.0, 20.0))
        mm.line((near, -92), (far, 20), mark="ink" if at in {1, 2} else "thin")
    for way in (-1, 1):
        low, high = (way * (plan.NUT_HALF_MM + 0.0333 * (y - plan.NUT_Y)) for y in (-92.0, 20.0))
        mm.line((low, -92), (high, 20))
    finger = ((30, -27), (4, -26), (-5, -25), (-9.5, -30), (-5, -36), (4, -37), (30, -39))
    mm.region(finger, (finger[-1], finger[0]), mark="look")
    mm.curve((-2.5, -27.5), (-6.4, -30.5), (-2.5, -33.5), mark="thin")


CUT = "A string cut across, much enlarged"
DRAWINGS = (
    Drawing(
        "string_cores",
        CUT,
        (
            plain("Steel: one wire or a thin rope. Thin, bright, steady in tune.", partial(_cut, core="steel")),
            plain("Synthetic: many fine threads under the winding. Warmer.", partial(_cut, core="threads")),
            plain("Gut: one thick, twisted core. Rich, and slow to settle.", partial(_cut, core="gut")),
        ),
    ),
    Drawing(
        "string_fifth",
        "The board from above, nut on the left",
        (plain("One finger flat across two strings gives a fifth: try it all the way up.", _fifth),),
    ),
    Drawing(
        "string_winding",
        "A string under a strong glass",
        (
            right("Clean, smooth, every turn close to the next.", partial(_winding, worn=False)),
            wrong("The winding has opened: soon it breaks, and it buzzes.", partial(_winding, worn=True)),
        ),
    ),
)
