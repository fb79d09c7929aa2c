"""The map: every finding's number in a column beside the view that shows it, with a line to its place.

No number hides another, however many there are: where a column is full, the figure grows. What lies on no one place is
listed below.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..shapes import Dot, Figure, Label, Line, Shape
from .places import FROM_FRONT, place_of
from .views import DEPTH, DRAWN, FOOT, PIN, TOP, WIDTHS, Point, Sheet, View

DISC = 2.05  # radius of a disc in millimetres
APART = 4.4  # between the middles of two discs in a column
ROOM = 5.0  # between a column and the widest place of its view
SCALE = 0.17  # of a violin on paper
VIEWS: tuple[View, ...] = ("front", "back", "side")
SAYS: Mapping[View, str] = {"front": "Front", "back": "Back", "side": "Side"}
BOW_WIDE, BOW_SCALE = 160.0, 0.42
LETTER = 1.55  # millimetres that a figure of a listed number takes


@dataclass(frozen=True, slots=True)
class Spot:
    """A finding on the map."""

    number: int
    check: str
    part: str


@dataclass(frozen=True, slots=True)
class Target:
    """A number and the place on the figure that it belongs to."""

    number: int
    x: float
    y: float


def mapped(spots: Sequence[Spot], family: str, size: float = 1.0, *, views: Sequence[View] = VIEWS) -> Figure | None:
    """The instrument with these findings on it; None when none of them has a place on it.

    `size` scales the drawing, not its numbers. The front is always drawn, the others of `views` where they show a
    finding. The alternative text says where each number is.
    """
    placed = [spot for spot in spots if place_of(spot.check, spot.part) is not None]
    if not placed:
        return None
    elsewhere = [spot.number for spot in spots if spot not in placed]
    if family == "bow":
        shapes, width, height = _bow(placed)
    else:
        shapes, width, height = _body(placed, family, SCALE * size, views)
    said = "; ".join(f"{part} {', '.join(map(str, numbers))}" for part, numbers in _by_part(placed).items())
    listed = _listed(elsewhere, width, height)
    height += 4.4 * len(listed)
    alt = f"Where the findings are: {said}."
    if elsewhere:
        alt += f" On no one place: {', '.join(map(str, elsewhere))}."
    return Figure(width, height, (*shapes, *listed), alt)


def _by_part(spots: Sequence[Spot]) -> Mapping[str, list[int]]:
    found: dict[str, list[int]] = {}
    for spot in spots:
        found.setdefault(spot.part.replace("bow_", "").replace("_", " "), []).append(spot.number)
    return found


def _listed(numbers: Sequence[int], width: float, below: float) -> list[Shape]:
    """Lines of the numbers that lie on no one place."""
    lines = ["On no one place:"] if numbers else []
    for i, number in enumerate(numbers):
        word = f" {number}{'' if i == len(numbers) - 1 else ','}"
        if (len(lines[-1]) + len(word)) * LETTER > width:
            lines.append(word.strip())
        else:
            lines[-1] += word
    return [Label(0, below + 3.4 + 4.4 * i, line, 2.9, "start", "soft") for i, line in enumerate(lines)]


def _body(spots: Sequence[Spot], family: str, scale: float, views: Sequence[View]) -> tuple[list[Shape], float, float]:
    """The views beside each other, each between its two columns; and how wide and high that is."""
    by_view: dict[View, list[tuple[int, float, float]]] = {"front": []}
    for spot in spots:
        view, x, y = _seen(spot, views)
        by_view.setdefault(view, []).append((spot.number, x, y))
    depth = DEPTH.get(family, 1.0)
    foot = 364.0 + PIN if family == "cello" else FOOT
    most = max(len(found) for found in by_view.values())
    room = (foot - TOP) * scale
    high = max(room, (most + 1) // 2 * APART + 2)
    left, shapes = 0.0, []
    for view in (one for one in VIEWS if one in by_view):
        deep = depth if view == "side" else 1.0
        low, top = WIDTHS[view]
        middle = left + 2 * DISC + ROOM - low * deep * scale
        right = middle + top * deep * scale + ROOM
        sheet = Sheet(middle, -TOP * scale + (high - room) / 2 + 1, scale, deep)
        shapes += DRAWN[view](sheet, family)
        targets = [Target(number, *sheet.at(x, y)) for number, x, y in by_view[view]]
        shapes += _numbers(targets, middle, (left + DISC + 0.3, right + DISC), (DISC + 0.5, high - DISC))
        if len(by_view) > 1:
            shapes.append(Label(middle, high + 5, SAYS[view], 2.9, "middle", "soft"))
        left = right + 2 * DISC + 1.0
    return shapes, left, high + (7 if len(by_view) > 1 else 2)


def _seen(spot: Spot, views: Sequence[View]) -> tuple[View, float, float]:
    found = place_of(spot.check, spot.part)
    assert found is not None
    if found[0] in views:
        return found
    return ("front", *FROM_FRONT.get(spot.part, (0.0, 45.0)))


def _numbers(
    targets: Sequence[Target], middle: float, columns: tuple[float, float], span: tuple[float, float]
) -> list[Shape]:
    """Two columns of discs, each in the order of its places from the top, with a line from each to its place."""
    sides = _shared_out(targets, middle)
    set_at = [
        (target, (x, y), (x + inner * DISC, y))
        for x, inner, found in zip(columns, (1, -1), sides, strict=True)
        for target, y in zip(found, _spread([one.y for one in found], *span), strict=True)
    ]
    return _led(set_at)


def _led(set_at: Sequence[tuple[Target, Point, Point]]) -> list[Shape]:
    """Numbers in their discs, each with a line from the edge of its disc to its place: (target, disc, edge)."""
    lines = [Line(*edge, target.x, target.y, "accent", 0.15) for target, _, edge in set_at]
    places = dict.fromkeys((target.x, target.y) for target, _, _ in set_at)
    discs: list[Shape] = []
    for target, (x, y), _ in set_at:
        discs.append(Dot(x, y, DISC, "accent", filled=False))
        size = 2.7 if target.number < 100 else 2.1  # three figures stay within their disc
        discs.append(Label(x, y + 0.35 * size, str(target.number), size, "middle", "accent", True))
    return [*lines, *(Dot(x, y, 0.5, "accent") for x, y in places), *discs]


def _shared_out(targets: Sequence[Target], middle: float) -> tuple[list[Target], list[Target]]:
    """Left and right column, each by height; neither holds more than half and one."""
    by_side = sorted(targets, key=lambda one: (one.x - middle, one.number))
    lefts = sum(1 for one in by_side if one.x < middle)
    least, most = len(by_side) // 2, (len(by_side) + 1) // 2
    cut = min(max(lefts, least), most)

    def order(one: Target) -> tuple[float, int]:
        return one.y, one.number

    return sorted(by_side[:cut], key=order), sorted(by_side[cut:], key=order)


def _spread(wanted: Sequence[float], first: float, last: float) -> list[float]:
    """Heights as near to those wanted as they go, `APART` from each other and within the span."""
    found: list[float] = []
    for y in wanted:
        found.append(max(y, first, found[-1] + APART if found else first))
    limit = last
    for i in range(len(found) - 1, -1, -1):
        found[i] = min(found[i], limit)
        limit = found[i] - APART
    return found


def _bow(spots: Sequence[Spot]) -> tuple[list[Shape], float, float]:
    """The bow lying, its numbers in rows above and below."""
    rows = 1 + len(spots) * APART / (2 * (BOW_WIDE - 2 * DISC))
    deep = int(rows) * APART
    sheet = Sheet(BOW_WIDE / 2, deep + 12.0, BOW_SCALE)
    shapes = DRAWN["bow"](sheet, "bow")
    targets = []
    for spot in spots:
        found = place_of(spot.check, spot.part)
        assert found is not None
        targets.append(Target(spot.number, *sheet.at(*found[1:])))
    targets.sort(key=lambda one: (one.x, one.number))
    set_at = []
    for side, found_here in ((-1, targets[::2]), (1, targets[1::2])):
        heights = [sheet.top + side * (9.0 + row * APART) for row in range(int(rows))]
        for i, (target, x) in enumerate(zip(found_here, _along(found_here, int(rows)), strict=True)):
            y = heights[i % int(rows)]
            set_at.append((target, (x, y), (x, y - side * DISC)))
    return [*shapes, *_led(set_at)], BOW_WIDE, 2 * deep + 24.0


def _along(targets: Sequence[Target], rows: int) -> list[float]:
    """Where along the bow each stands; those of one row are far enough from each other."""
    step = APART / rows
    found: list[float] = []
    for one in targets:
        found.append(max(one.x, DISC + 0.3, found[-1] + step if found else 0.0))
    limit = BOW_WIDE - DISC - 0.3
    for i in range(len(found) - 1, -1, -1):
        found[i] = min(found[i], limit)
        limit = found[i] - step
    return found
