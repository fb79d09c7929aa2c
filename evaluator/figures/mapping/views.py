"""The instrument from front, back and side, as lines: x from the middle, y from the top of the body, in millimetres.

The body is the usual outline of a violin (355 long, bouts 168, 112 and 207, stop 195). A viola has the same form; a
cello has deeper ribs, a higher bridge and an endpin (its usual measures, brought to that length of body). From memory.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from ..shapes import Curve, Dot, Line, Role, Shape

View = Literal["front", "back", "side", "bow"]
Point = tuple[float, float]
Segment = tuple[float, float, float, float, float, float]

# Right half of the body, from the neck down to the end button.
_BODY: tuple[Segment, ...] = (
    (52, 0, 84, 24, 84, 70),
    (84, 98, 71, 112, 78, 130),
    (64, 133, 56, 148, 56, 166),
    (56, 188, 68, 212, 92, 214),
    (88, 232, 103.5, 246, 103.5, 280),
    (103.5, 330, 56, 355, 0, 355),
)
TOP, FOOT = -217.0, 364.0  # of the scroll and of the end button
PIN = 78.0  # how far a cello's endpin stands out on the drawing
DEPTH: Mapping[str, float] = {"cello": 1.6}  # of what is seen from the side, beside a violin's
WIDTHS: Mapping[View, tuple[float, float]] = {"front": (-104, 104), "back": (-104, 104), "side": (-31, 62)}


@dataclass(frozen=True, slots=True)
class Sheet:
    """Where a view lies on the figure: its middle, the top of the body, millimetres of paper a millimetre; how deep."""

    middle: float
    top: float
    scale: float
    depth: float = 1.0

    def at(self, x: float, y: float) -> Point:
        return self.middle + x * self.scale * self.depth, self.top + y * self.scale

    def curve(self, start: Point, segments: Sequence[Segment], width: float = 0.4, fill: Role | None = None) -> Curve:
        moved = tuple((*self.at(a, b), *self.at(c, d), *self.at(e, f)) for a, b, c, d, e, f in segments)
        return Curve(self.at(*start), moved, "ink", width, fill)

    def path(
        self, points: Sequence[Point], width: float = 0.3, role: Role = "ink", dashed: bool = False
    ) -> list[Shape]:
        moved = [self.at(x, y) for x, y in points]
        return [Line(*a, *b, role, width, dashed) for a, b in pairwise(moved)]

    def dot(self, x: float, y: float, radius: float, filled: bool = False) -> Dot:
        return Dot(*self.at(x, y), radius * self.scale, "ink", filled)


def _body(sheet: Sheet) -> list[Shape]:
    def half(side: int) -> Curve:
        segments = [(side * a, b, side * c, d, side * e, f) for a, b, c, d, e, f in _BODY]
        return sheet.curve((0, 0), segments, 0.45, "tint")

    return [half(1), half(-1)]


def _head(sheet: Sheet) -> list[Shape]:
    """Pegbox, pegs and scroll, from front or back."""
    shapes = sheet.path([(-12, -130), (-10, -198), (10, -198), (12, -130)])
    for y, side in ((-145, 1), (-158, -1), (-171, 1), (-184, -1)):
        shapes += sheet.path([(side * 10, y), (side * 30, y)], 0.6)
    return [*shapes, sheet.dot(0, -207, 10)]


def _pin(sheet: Sheet, family: str) -> list[Shape]:
    if family == "cello":
        return [*sheet.path([(-4, 355), (-4, 364), (4, 364), (4, 355)]), *sheet.path([(0, 364), (0, 364 + PIN)], 0.6)]
    return [sheet.dot(0, 358, 5)]


def _front(sheet: Sheet, family: str) -> list[Shape]:
    shapes = [*_body(sheet), *_head(sheet), *_pin(sheet, family)]
    board = [(-12, -130), (12, -130), (21, 140), (-21, 140), (-12, -130)]
    tail = [(-11, 250), (11, 250), (20, 340), (-20, 340), (-11, 250)]
    for points in (board, tail, [(-21, 195), (21, 195)]):
        shapes += sheet.path(points)
    for x in (-8.0, -3.0, 3.0, 8.0):
        shapes += sheet.path([(x * 0.7, -130), (x * 2, 195), (x, 250)], 0.15, "soft")
    for side in (1, -1):
        hole = (side * 44, 158, side * 30, 226, side * 58, 222)
        shapes += [
            sheet.curve((side * 22, 160), [hole], 0.5),
            sheet.dot(side * 24, 162, 4),
            sheet.dot(side * 56, 220, 5),
        ]
    return shapes


def _back(sheet: Sheet, family: str) -> list[Shape]:
    button = ((-13, -14, 13, -14, 13, 1),)
    neck = sheet.path([(-11, -130), (-13, -10)]) + sheet.path([(11, -130), (13, -10)])
    joint = sheet.path([(0, -8), (0, 355)], 0.15, "soft")
    return [*_body(sheet), *joint, *neck, sheet.curve((-13, 1), button), *_head(sheet), *_pin(sheet, family)]


def _side(sheet: Sheet, family: str) -> list[Shape]:
    """Back at the left, strings at the right."""
    shapes: list[Shape] = [
        sheet.curve((15, 2), ((27, 50, 31, 150, 30, 195), (29, 260, 24, 320, 15, 353)), 0.4, "tint"),
        sheet.curve((-15, 2), ((-27, 50, -30, 150, -30, 190), (-29, 260, -24, 320, -15, 353)), 0.4, "tint"),
        *sheet.path([(15, 2), (15, 353), (-15, 353), (-15, 2), (15, 2)], 0.4),
        *sheet.path([(15, 120), (-15, 120)], 0.15, "soft"),
        *sheet.path([(15, 216), (-15, 216)], 0.15, "soft"),
        sheet.curve((-15, 0), ((-12, -18, 4, -22, 5, -34), (6, -60, 5, -100, 3, -128))),
        *sheet.path([(15, 0), (15, -12), (12, -130), (17, -130), (44, 140), (39, 140), (15, -12)]),
        sheet.curve((12, -130), ((8, -150, 2, -180, 1, -196),)),
        sheet.curve((3, -128), ((-4, -140, -12, -170, -13, -188),)),
        sheet.dot(-8, -203, 12),
        sheet.dot(-8, -203, 6),
        *sheet.path([(29, 190), (59, 192), (59, 197), (29, 199)], 0.4),
        *sheet.path([(17, -130), (60, 194), (34, 250), (17, 352)], 0.15, "soft"),
        *sheet.path([(34, 250), (21, 340)], 0.9),
        *sheet.path([(-29, 203), (29, 203)], 0.3, "soft", True),
    ]
    shapes += [sheet.dot(x, y, 3.2, True) for x, y in ((6, -145), (2, -158), (0, -171), (-3, -184))]
    return [*shapes, *_pin(sheet, family)]


def _bow(sheet: Sheet, _family: str) -> list[Shape]:
    shapes: list[Shape] = [sheet.curve((-165, -6), ((-60, 3, 60, 3, 165, -8),), 0.7)]
    shapes += sheet.path([(-165, -6), (-166, 8), (140, 8), (140, -5)])
    return [*shapes, *sheet.path([(140, 8), (163, 8), (165, -8)])]


DRAWN = {"front": _front, "back": _back, "side": _side, "bow": _bow}
