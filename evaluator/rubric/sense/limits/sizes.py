"""Rows of a standard that jump against their neighbours in size, contradict them, or claim more than they can know.

Instruments of one family are built to one pattern, so a figure goes down from size to size about as a power of the
length: ln(figure) falls along a straight line over ln(length). A row that leaves that line by more than its own band
allows, a smaller size with the larger figure, or a doubtful row with a narrower band than the surest one is a slip of
the pen far more often than a fact. The length is that of the family's own table (`SCALES`).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ....basis.problem import Message, Messages
from ...rubric import Rubric
from ...written.surroundings import StandardRow, StandardTable
from ..slip import Slip

MESSAGES: Messages = {
    "standard.rises": Message(
        "{size} has {value:g}, and the larger {other} only {before:g}.",
        "Look at both rows; a smaller size seldom has the larger figure.",
    ),
    "standard.jumps": Message(
        "from {other} to {size} it goes from {before:g} to {value:g}; as the other sizes go it would be about "
        "{expected:g}.",
        "Look at both rows, and at which of the two has the better source.",
    ),
    "standard.surer_than_known": Message(
        "for its size the band of {size} is less than half as wide as that of {other}, on doubtful sources.",
        "Widen it to {low:g} to {high:g} or so, or name a better source.",
    ),
}
SCALES = ("body_length", "bow_length")  # the table that tells how large a size is
# A step that leaves the line by less than this share of the figure is rounding. Judged on our own tables, in which
# the steps that makers publish leave it by up to 6 % where the band is wide.
JUMP = 0.05
# A row may leave the line by this share of half its own band: within it nobody can tell.
OF_THE_BAND = 0.5
# A doubtful row may have a band this much narrower, for its size, than that of the largest size.
NARROWEST = 0.5


@dataclass(frozen=True, slots=True)
class _Point:
    """One row: where it stands in the table, ln(length) of its sizes, its middle figure, half its band as a share."""

    at: int
    size: str
    last: str
    length: float
    value: float
    half: float
    row: StandardRow


def size_slips(rubric: Rubric, table: StandardTable) -> Iterator[Slip]:
    """Every row of the table that does not go with its neighbours in size."""
    lengths = _lengths(rubric)
    for series in _series(rubric, table, lengths):
        yield from _falls(table, series)
        if table.standard not in SCALES:
            yield from _line_slips(table, series)
        yield from _band_slips(table, series)


def _lengths(rubric: Rubric) -> dict[str, float]:
    """Length of each size in the unit of the family's own table, where it has one."""
    table = next((rubric.standards[name] for name in SCALES if name in rubric.standards), None)
    rows = [row for row in table.rows if row.family == rubric.family] if table else []
    return {size: middle for row in rows for size in row.size if (middle := _middle(row)) is not None and middle > 0}


def _middle(row: StandardRow) -> float | None:
    if row.target is not None:
        return row.target
    return None if row.low is None or row.high is None else (row.low + row.high) / 2


def _series(rubric: Rubric, table: StandardTable, lengths: dict[str, float]) -> Iterator[list[_Point]]:
    """Rows of one style, one kind of string and one instrument, from the largest size to the smallest."""
    rows = [(at, row) for at, row in enumerate(table.rows) if row.family == rubric.family and row.size]
    kinds = dict.fromkeys((row.style, row.strings, _instrument(row.size[0])) for _, row in rows)
    for style, strings, instrument in kinds:
        points = [
            point
            for at, row in rows
            if (row.style, row.strings, _instrument(row.size[0])) == (style, strings, instrument)
            and (point := _point(at, row, lengths)) is not None
        ]
        yield sorted(points, key=lambda one: -one.length)


def _instrument(size: str) -> str:
    """What a bow's size is for: "cello" of "cello 3/4"; empty where the size names none."""
    first = size.split(maxsplit=1)[0]
    return first if first.isalpha() else ""


def _point(at: int, row: StandardRow, lengths: dict[str, float]) -> _Point | None:
    middle = _middle(row)
    known = [math.log(lengths[size]) for size in row.size if size in lengths]
    if middle is None or middle <= 0 or len(known) < len(row.size):
        return None
    half = (row.high - row.low) / 2 / middle if row.low is not None and row.high is not None else math.inf
    return _Point(at, row.size[0], row.size[-1], sum(known) / len(known), middle, half, row)


def _falls(table: StandardTable, series: Sequence[_Point]) -> Iterator[Slip]:
    for larger, smaller in pairwise(series):
        if smaller.value > larger.value and smaller.length < larger.length:
            words = {"size": smaller.size, "other": larger.last, "value": smaller.value, "before": larger.value}
            yield Slip("standard.rises", "standards", table.standard, ("rows", smaller.at), words)


def _line_slips(table: StandardTable, series: Sequence[_Point]) -> Iterator[Slip]:
    """Steps that leave the line from the largest to the smallest size."""
    if len(series) < 3 or series[0].length <= series[-1].length:
        return
    power = math.log(series[0].value / series[-1].value) / (series[0].length - series[-1].length)
    for larger, smaller in pairwise(series):
        expected = larger.value * math.exp(power * (smaller.length - larger.length))
        off = abs(math.log(smaller.value / expected))
        if off > max(JUMP, OF_THE_BAND * min(larger.half, smaller.half)) and smaller.value <= larger.value:
            words = {"size": smaller.size, "other": larger.last, "value": smaller.value, "before": larger.value}
            yield Slip(
                "standard.jumps",
                "standards",
                table.standard,
                ("rows", smaller.at),
                {**words, "expected": _rounded(expected)},
            )


def _band_slips(table: StandardTable, series: Sequence[_Point]) -> Iterator[Slip]:
    first = series[0] if series else None
    if first is None or not math.isfinite(first.half):
        return
    for one in series[1:]:
        if one.row.confidence == "low" and one.half < NARROWEST * first.half:
            low, high = (_rounded(one.value * (1 + side * first.half)) for side in (-1, 1))
            words = {"size": one.size, "other": first.size, "low": low, "high": high}
            yield Slip("standard.surer_than_known", "standards", table.standard, ("rows", one.at), words)


def _rounded(value: float) -> float:
    """Three figures, enough to write into a row."""
    return float(f"{value:.3g}")
