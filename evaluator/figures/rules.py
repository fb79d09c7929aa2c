"""The one recurring figure is a steel rule: a scale with fine ticks and numerals, soft bands for ranges, firm marks for
values and a word above each mark, so that nothing is said by colour alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from .shapes import Anchor, Box, Figure, Label, Line, Role, Shape


@dataclass(frozen=True, slots=True)
class Mark:
    """A value on a rule with the word above it; `low`..`high` is its range (a soft band)."""

    value: float
    text: str
    role: Role = "ink"
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Scale:
    """A stretch of values laid over `width` mm from `left`."""

    low: float
    high: float
    left: float
    width: float

    def at(self, value: float) -> float:
        """Millimetres from the left edge; a value outside lies at the end of the scale."""
        share = (value - self.low) / (self.high - self.low)
        return self.left + self.width * min(1.0, max(0.0, share))


MARGIN = 6.0
LETTER = 0.6  # width of a bold letter of a wide screen face as a share of its height, for keeping labels apart
NUMERAL = 2.9  # size of the numerals under the ticks, in millimetres
SIZES = (3.3, 2.9, 2.5, 2.1)  # of the letters over a mark, in millimetres
ASIDE = 0.9  # between a mark's line and a label beside it
ANCHOR_COST: dict[Anchor, float] = {"middle": 0.0, "start": 0.4, "end": 0.4}
STEPS = (1.0, 2.0, 5.0, 10.0)


def nice_step(span: float, pieces: int) -> float:
    """The smallest step of 1, 2 or 5 times a power of ten that cuts `span` into at most `pieces`."""
    raw = span / pieces
    power = 10.0 ** floor(log10(raw))
    return next(step * power for step in STEPS if step * power >= raw * 0.999999)


def numeral(value: float, step: float) -> str:
    digits = max(0, -floor(log10(step) + 1e-9))
    return f"{value:,.{digits}f}"


def _ticks(scale: Scale, base: float, pieces: int = 6) -> list[Shape]:
    """The edge of the rule with three lengths of tick and numerals under the long ones, as many as find room."""
    widest = max(len(numeral(end, nice_step(scale.high - scale.low, pieces))) for end in (scale.low, scale.high))
    room = int(scale.width / (widest * NUMERAL * LETTER + ASIDE))
    major = nice_step(scale.high - scale.low, max(2, min(pieces, room)))
    minor = major / 10
    edge = Line(scale.left, base, scale.left + scale.width, base, "ink", 0.3)
    ticks: list[Line] = []
    numerals: list[Shape] = []
    first, last = ceil(scale.low / minor - 1e-9), floor(scale.high / minor + 1e-9)
    for tick in range(first, last + 1):
        length = 3.2 if tick % 10 == 0 else 2.2 if tick % 5 == 0 else 1.3
        x = scale.at(tick * minor)
        ticks.append(Line(x, base, x, base + length, "ink" if tick % 10 == 0 else "soft", 0.25 if tick % 5 else 0.3))
        if tick % 10 == 0:
            numerals.append(Label(x, base + 6.6, numeral(tick * minor, major), NUMERAL, "middle", "soft"))
    # Those of one length follow each other: a page writes them as one path.
    return [edge, *sorted(ticks, key=lambda tick: (tick.role, tick.width)), *numerals]


@dataclass(frozen=True, slots=True)
class _Placed:
    mark: Mark
    row: int
    x: float
    anchor: Anchor


def _placed(marks: Sequence[Mark], scale: Scale, size: float, width: float) -> list[_Placed] | None:
    """Where each label stands: row 0 is nearest the rule; no label overlaps another or is crossed by another's line.

    Of all ways to set the labels over or beside their lines, in as many rows as there are marks, the one that keeps
    most of them low and over their marks; None where letters of this size leave no way.
    """
    order = sorted(marks, key=lambda mark: mark.value)
    ways = [
        sorted(
            (_Placed(mark, row, scale.at(mark.value), anchor) for row in range(len(order)) for anchor in ANCHOR_COST),
            key=_cost,
        )
        for mark in order
    ]
    ways = [[one for one in some if _inside(one, size, width)] or some[:1] for some in ways]
    best: list[_Placed] = []
    lowest = float("inf")

    def search(chosen: list[_Placed], cost: float) -> None:
        nonlocal best, lowest
        if cost >= lowest:
            return
        if len(chosen) == len(ways):
            best, lowest = chosen, cost
            return
        for one in ways[len(chosen)]:
            if not any(_clash(one, other, size) for other in chosen):
                search([*chosen, one], cost + _cost(one))

    search([], 0.0)
    return best if len(best) == len(order) else None


def _fitting(marks: Sequence[Mark], scale: Scale, width: float) -> tuple[float, list[_Placed]]:
    """The largest letters that leave every label readable, and where the labels then stand."""
    for size in SIZES:
        found = _placed(marks, scale, size, width)
        if found is not None:
            return size, found
    order = sorted(marks, key=lambda mark: mark.value)
    return SIZES[-1], [_Placed(mark, row, scale.at(mark.value), "middle") for row, mark in enumerate(order)]


def _cost(one: _Placed) -> float:
    return one.row + ANCHOR_COST[one.anchor]


def _extent(one: _Placed, size: float) -> tuple[float, float]:
    """Left and right end of a label, in millimetres."""
    wide = len(one.mark.text) * size * LETTER
    left = {"start": one.x + ASIDE, "middle": one.x - wide / 2, "end": one.x - ASIDE - wide}[one.anchor]
    return left, left + wide


def _inside(one: _Placed, size: float, width: float) -> bool:
    left, right = _extent(one, size)
    return left >= 0 and right <= width


def _clash(one: _Placed, other: _Placed, size: float) -> bool:
    """Whether two labels of a row touch or stand in another order than their marks, or the line of the higher one runs
    through the lower one's label.
    """
    (left, right), (start, end) = _extent(one, size), _extent(other, size)
    if one.row == other.row:
        swapped = (one.x - other.x) * (left + right - start - end) < 0
        return swapped or (left < end + ASIDE and start < right + ASIDE)
    x, (first, last) = (one.x, (start, end)) if one.row > other.row else (other.x, (left, right))
    return first - ASIDE / 2 < x < last + ASIDE / 2


def rule(
    low: float,
    high: float,
    marks: Sequence[Mark],
    alt: str,
    *,
    width: float = 160.0,
    arrow: tuple[float, float] | None = None,
    span: tuple[float | None, float | None, str] | None = None,
) -> Figure:
    """A steel rule from `low` to `high` with marks; `arrow` joins two values, `span` shades a standard and names it."""
    scale = Scale(low, high, MARGIN, width - 2 * MARGIN)
    size, placed = _fitting(marks, scale, width)
    rows = 1 + max((one.row for one in placed), default=0)
    step = size * 1.45
    base = rows * step + 6.0
    shapes: list[Shape] = []
    below = 0.0
    if span is not None:
        start = scale.at(low if span[0] is None else span[0])
        end = scale.at(high if span[1] is None else span[1])
        shapes += [
            Box(start, base - 3.4, end - start, 3.4, "good", 0.22),
            Line(start, base - 3.4, end, base - 3.4, "good", 0.5),
        ]
        shapes.append(Label((start + end) / 2, base + 11.2, span[2], 2.9, "middle", "good"))
        below = 4.6
    for one in placed:
        mark, x, top = one.mark, one.x, base - 4.2 - one.row * step
        if mark.low is not None and mark.high is not None:
            left = scale.at(mark.low)
            shapes.append(Box(left, base - 2.6, scale.at(mark.high) - left, 2.6, mark.role, 0.25))
        aside = {"start": ASIDE, "end": -ASIDE, "middle": 0.0}[one.anchor]
        shapes.append(Line(x, top - (2.4 if aside else 0.0), x, base + 0.6, mark.role, 0.7))
        shapes.append(Label(x + aside, top - (0.2 if aside else 1.2), mark.text, size, one.anchor, mark.role, True))
    if arrow is not None:
        shapes += _arrow(scale.at(arrow[0]), scale.at(arrow[1]), base - 1.3)
    shapes += _ticks(scale, base)
    return Figure(width, base + 8.0 + below, tuple(shapes), alt)


def _arrow(start: float, end: float, y: float) -> list[Shape]:
    if abs(end - start) < 4:
        return []
    tip = end - 0.9 if end > start else end + 0.9
    back = -1.8 if end > start else 1.8
    return [
        Line(start + (0.9 if end > start else -0.9), y, tip, y, "ink", 0.35),
        Line(tip, y, tip + back, y - 1.0, "ink", 0.35),
        Line(tip, y, tip + back, y + 1.0, "ink", 0.35),
    ]


Scored = tuple[float | None, float, float]


def score_rule(
    now: Scored,
    after: Scored | None,
    width: float = 160.0,
    usual: float | None = None,
) -> Figure:
    """Score as it stands and after the work, each (expected, low, high) of 100, as two marks on one rule; `usual`, a
    third mark, is the score of such an instrument before anybody looks. Without an expected score only the range of
    what it may be is drawn; `after` is None where no work is planned.
    """
    if now[0] is None or (after and after[0] is None):
        low, high = now[1:]
        alt = f"Too little was seen for a score: it may be anything between {low:.0f} and {high:.0f} of 100."
        return rule(
            0, 100, [Mark((low + high) / 2, f"between {low:.0f} and {high:.0f}", "soft", low, high)], alt, width=width
        )
    marks = [Mark(now[0], f"as it stands {now[0]:.0f}", "ink", now[1], now[2])]
    alt = f"Score {now[0]:.0f} of 100 as it stands, between {now[1]:.0f} and {now[2]:.0f}"
    if after and after[0] is not None:
        marks.append(Mark(after[0], f"after the work {after[0]:.0f}", "accent", after[1], after[2]))
        alt += f"; {after[0]:.0f} after the work, between {after[1]:.0f} and {after[2]:.0f}"
    alt += "."
    if usual is not None:
        marks.append(Mark(usual, f"usual {usual:.0f}", "soft"))
        alt += f" Usual for such an instrument: {usual:.0f}."
    arrow = (now[0], after[0]) if after and after[0] is not None else None
    return rule(0, 100, marks, alt, width=width, arrow=arrow)
