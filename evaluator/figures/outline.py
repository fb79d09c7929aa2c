"""An outline of the instrument with the numbers of the findings on it, drawn from geometry.

The body is the usual outline scaled from a violin's body length, bouts and stop (355, 168, 112 and 207, 195 mm); it
stands for any instrument of the violin family. A bow is a long shallow curve with head and frog.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from .rules import Curve, Dot, Figure, Label, Line, Shape

MOST_AT_A_PART = 4  # discs that fit at one place beside its neighbours
APART = 4.3  # millimetres between the middles of two discs
DISC = 2.05  # radius of a disc in millimetres
Segment = tuple[float, float, float, float, float, float]

# Right half of the body, from the neck down to the end button; x from the centre line, y from the top, in mm.
_BODY: tuple[Segment, ...] = (
    (52, 0, 84, 24, 84, 70),
    (84, 98, 71, 112, 78, 130),
    (64, 133, 56, 148, 56, 166),
    (56, 188, 68, 212, 92, 214),
    (88, 232, 103.5, 246, 103.5, 280),
    (103.5, 330, 56, 355, 0, 355),
)
# Where each part lies on the drawing, in the same millimetres; numbers are set around it.
_PLACES: Mapping[str, tuple[float, float]] = {
    "head": (0, -182),
    "neck": (0, -78),
    "fingerboard": (0, 45),
    "bridge": (0, 195),
    "inside": (62, 150),
    "strings": (0, 120),
    "tail": (0, 300),
    "edges": (88, 62),
    "wood": (-62, 290),
    "varnish": (62, 290),
    "ribs": (-98, 235),
    "cracks": (-62, 130),
    "sound": (62, 225),
    "whole": (-84, 62),
    "bow_head": (-150, -12),
    "bow_stick": (0, -14),
    "bow_hair": (0, 14),
    "bow_frog": (150, 12),
    "bow_play": (75, -14),
}
_BOW_PARTS = {"bow_stick", "bow_head", "bow_frog", "bow_hair", "bow_play"}


def _half(scale: float, middle: float, top: float, side: int) -> Curve:
    def at(x: float, y: float) -> tuple[float, float]:
        return middle + side * x * scale, top + y * scale

    segments = tuple((*at(a, b), *at(c, d), *at(e, f)) for a, b, c, d, e, f in _BODY)
    return Curve(at(0, 0), segments, "ink", 0.45)


def _straight(points: Sequence[tuple[float, float]], scale: float, middle: float, top: float) -> list[Shape]:
    moved = [(middle + x * scale, top + y * scale) for x, y in points]
    return [Line(x1, y1, x2, y2, "ink", 0.3) for (x1, y1), (x2, y2) in pairwise(moved)]


def _violin(scale: float, middle: float, top: float) -> list[Shape]:
    shapes: list[Shape] = [_half(scale, middle, top, side) for side in (1, -1)]
    board = [(-12, -130), (12, -130), (21, 140), (-21, 140), (-12, -130)]
    tail = [(-11, 250), (11, 250), (20, 342), (-20, 342), (-11, 250)]
    bridge = [(-20.5, 195), (20.5, 195)]
    head = [(-12, -130), (-11, -196), (11, -196), (12, -130)]
    for points in (board, tail, bridge, head):
        shapes += _straight(points, scale, middle, top)
    for x in (-8.0, -3.0, 3.0, 8.0):
        shapes += [
            Line(middle + x * scale * 0.7, top - 130 * scale, middle + x * scale * 1.6, top + 250 * scale, "line", 0.2)
        ]
    shapes.append(Dot(middle, top - 206 * scale, 10 * scale, "ink", filled=False))
    for y, side in ((-145, 1), (-158, -1), (-171, 1), (-184, -1)):
        shapes.append(Line(middle, top + y * scale, middle + side * 26 * scale, top + y * scale, "ink", 0.5))
    for side in (1, -1):
        start = (middle + side * 22 * scale, top + 160 * scale)
        hole = (
            middle + side * 44 * scale,
            top + 158 * scale,
            middle + side * 30 * scale,
            top + 226 * scale,
            middle + side * 58 * scale,
            top + 222 * scale,
        )
        shapes.append(Curve(start, (hole,), "ink", 0.5))
    return shapes


def _bow(scale: float, middle: float, top: float) -> list[Shape]:
    def at(x: float, y: float) -> tuple[float, float]:
        return middle + x * scale, top + y * scale

    start, end = at(-165, -6), at(165, -8)
    stick = (*at(-60, 3), *at(60, 3), *end)
    shapes: list[Shape] = [Curve(start, (stick,), "ink", 0.7)]
    shapes += _straight([(-165, -6), (-166, 8), (140, 8), (140, -5)], scale, middle, top)
    shapes += _straight([(140, 8), (163, 8), (165, -8)], scale, middle, top)
    return shapes


def _numbers(spots: Sequence[tuple[int, str]], scale: float, middle: float, top: float) -> list[Shape]:
    """The numbers of each part, two a row; those beyond the fourth place are counted, and stand in the list."""
    by_part: dict[str, list[int]] = {}
    for number, part in spots:
        by_part.setdefault(part, []).append(number)
    shapes: list[Shape] = []
    for part, numbers in by_part.items():
        place = _PLACES.get(part)
        if place is None:
            continue
        x0, y0 = middle + place[0] * scale, top + place[1] * scale
        shown = numbers if len(numbers) <= MOST_AT_A_PART else numbers[: MOST_AT_A_PART - 1]
        for i in range(min(len(numbers), MOST_AT_A_PART)):
            x = x0 + (i % 2 - (min(len(numbers), 2) - 1) / 2) * APART
            y = y0 + i // 2 * APART
            if i < len(shown):
                shapes += [Dot(x, y, DISC, "sheet"), Dot(x, y, DISC, "accent", filled=False)]
            text = str(shown[i]) if i < len(shown) else f"+{len(numbers) - len(shown)}"
            shapes.append(Label(x, y + 0.95, text, 2.7, "middle", "accent", True))
    return shapes


def outline(spots: Sequence[tuple[int, str]], family: str, size: float = 1.0) -> Figure | None:
    """The instrument with numbered findings (number, part); None when no finding has a place on it.

    `size` scales the drawing of a violin, not its numbers: 0.8 is enough for a handful.
    """
    placed = [(number, part) for number, part in spots if part in _PLACES]
    if not placed:
        return None
    said = ", ".join(f"{number} at the {part.replace('bow_', '').replace('_', ' ')}" for number, part in placed)
    if family == "bow":
        scale, middle, top = 0.42, 80.0, 14.0
        shapes = _bow(scale, middle, top)
        figure = (160.0, 28.0)
        placed = [(number, part) for number, part in placed if part in _BOW_PARTS]
    else:
        scale, middle, top = 0.17 * size, 24.0, 38.0 * size
        shapes = _violin(scale, middle, top)
        figure = (48.0, 101.0 * size)
    return Figure(*figure, tuple(shapes + _numbers(placed, scale, middle, top)), f"Where the findings are: {said}.")
