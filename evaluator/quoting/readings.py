"""Readings of the bench: as found and after the work, at each place of a measure, kept as they were typed.

A record holds the words of its measure and place, so an order of years ago reads the same whatever the file says by
then. What was typed was read once before it was kept; it is read again wherever it is shown.
"""

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from ..basis.problem import Message, Messages, Problem, problem
from ..basis.show import bare_figure, number, with_unit
from ..basis.typed.quantities import Between, Quantity, read_quantity
from ..basis.units import METRIC, ShownUnits, convert
from ..rubric.knowledge import BenchMeasure

BARE = re.compile(r"[0-9.,/ ;±+\u00bc-\u00be-]+")  # a number, a fraction or a number with its doubt, and no unit

MESSAGES: Messages = {
    "bench.outside": Message("{shown} is not between {low} and {high}.", "Read it again, or write its unit behind it."),
}


@dataclass(frozen=True, slots=True)
class BenchReading:
    """One place of a measure: what was read before and after the work, as typed; empty where nobody has read it.

    `unit`: what a number without a unit is in.
    """

    measure: str
    say: str
    place: str
    unit: str
    found: str = ""
    after: str = ""

    @property
    def key(self) -> tuple[str, str]:
        return self.measure, self.place

    @property
    def noted(self) -> bool:
        return bool(self.found or self.after)


@dataclass(frozen=True, slots=True)
class Measured:
    """One measure with all its places; `wanted`: a job of the order asks for it."""

    measure: BenchMeasure
    wanted: bool
    readings: tuple[BenchReading, ...]

    @property
    def noted(self) -> int:
        """At how many places something was read."""
        return sum(one.noted for one in self.readings)


def measured(
    known: Sequence[BenchMeasure], readings: Sequence[BenchReading], jobs: Collection[str]
) -> tuple[Measured, ...]:
    """Every measure that is known for this instrument, those that its jobs want first."""
    kept = {one.key: one for one in readings}
    rows = []
    for one in known:
        empty = (BenchReading(one.measure, one.say, place, one.unit) for place in one.places)
        here = tuple(kept.get(blank.key, blank) for blank in empty)
        rows.append(Measured(one, any(job in jobs for job in one.jobs), here))
    return tuple(sorted(rows, key=lambda row: not row.wanted))


def with_reading(readings: Sequence[BenchReading], new: BenchReading) -> tuple[BenchReading, ...]:
    """The readings with this one in the place of the one before; one that says nothing is taken out."""
    if not any(one.key == new.key for one in readings):
        return (*readings, new) if new.noted else tuple(readings)
    changed = (new if one.key == new.key else one for one in readings)
    return tuple(one for one in changed if one.noted)


def read(text: str, measure: BenchMeasure, where: str) -> Quantity | Problem:
    """What was typed, in the measure's unit and between its bounds, or one sentence about why not."""
    between = Between(measure.at_least, measure.at_most)
    found = read_quantity(text, measure.unit, where, spread=True, between=between)
    if isinstance(found, Problem) or between.holds(found.value):
        return found
    low, high, shown = (
        with_unit(number(value), measure.unit) for value in (measure.at_least, measure.at_most, found.value)
    )
    return problem(MESSAGES, "bench.outside", where, shown=shown, low=low, high=high)


def told(text: str, unit: str, units: ShownUnits = METRIC) -> str:
    """What was typed as papers and pages show it: '3.5 mm', '3.5 ± 0.2 mm', '0.138 in'; empty where nothing was."""
    found = read_quantity(text, unit, spread=True) if text else None
    if found is None or isinstance(found, Problem):
        return text
    to = units.of(unit)
    value = bare_figure(convert(found.value, unit, to), to)
    doubt = f" ± {bare_figure(convert(found.plus_minus, unit, to), to)}" if found.plus_minus else ""
    return with_unit(f"{value}{doubt}", to)


def with_its_unit(text: str, own: str, other: str) -> str:
    """'0.028 in' for a bare number that is in its `own` unit where the `other` would be thought of; else as typed."""
    return f"{text} {own}" if own != other and text and BARE.fullmatch(text) else text


def moved_to(reading: BenchReading, which: str, text: str) -> BenchReading:
    """The reading with what was read `which`: found or after."""
    return replace(reading, found=text) if which == "found" else replace(reading, after=text)
