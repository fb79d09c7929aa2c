"""What the trade knows beside the looks: what an owner meets, rooms over a year, and what is measured at the bench.

The facts of rubrics/owning.yaml (what a player wears out, when a repair is worth it, usual terms of renting), of
rubrics/seasons.yaml (rooms over a year, good air, usual sizes, what fine tuners weigh) and of rubrics/bench.yaml (what
a luthier measures at the bench, where, in which unit, and for which jobs).
"""

from typing import Annotated, Self

from pydantic import Field, model_validator

from .written.kinds import Confidence, Family, Id, NotNegative, PartGrade, Positive, Share, Text, Tier, Written

Humidity = Annotated[float, Field(strict=True, ge=0, le=100)]
Degrees = Annotated[float, Field(strict=True, ge=-30, le=50)]
Millimetres = Annotated[float, Field(strict=True, gt=0, le=1000)]
Grams = Annotated[float, Field(strict=True, ge=0, le=50)]
MONTHS = 12
Figure = Annotated[float, Field(strict=True, ge=-1000, le=1000)]


class Told(Written):
    """Facts with where they are from and how sure that is."""

    sources: Annotated[tuple[Text, ...], Field(min_length=1)]
    confidence: Confidence


class Habits(Written):
    """What a player of so many hours wears out in a year, in pieces."""

    hours: Positive
    string_sets: NotNegative
    rehairs: NotNegative
    light_services: NotNegative
    full_services: NotNegative


class Wear(Told):
    """Habits by hours, the fewest first, and the grade of strings that suits each standard."""

    years: Annotated[tuple[Habits, ...], Field(min_length=2)]
    strings: dict[Tier, PartGrade]


class Repairing(Told):
    """Shares of the ready value: work that is a small part of it, a large part, and what nobody can know."""

    small_part: Share
    large_part: Share
    unknown: Share


class Renting(Told):
    """Usual terms of renting for a child: amounts in the money of the default shop, rent and care a month."""

    months: Annotated[int, Field(strict=True, ge=1, le=240)]
    rent: NotNegative
    care: NotNegative
    credit_share: Share
    price: NotNegative
    resale_share: Share
    promised_share: Share


class Owning(Written):
    """The whole file."""

    habits: Wear
    repairing: Repairing
    renting: Renting


class Climate(Told):
    """Twelve months of a room from January: relative humidity (of 100) and temperature (degrees Celsius)."""

    climate: Id
    say: Text
    humidity: tuple[Humidity, ...]
    temperature: tuple[Degrees, ...]

    @model_validator(mode="after")
    def a_whole_year(self) -> Self:
        for months in (self.humidity, self.temperature):
            if len(months) != MONTHS:
                raise ValueError(f"{len(months)} months are no year: give twelve, from January")
        return self


class GoodAir(Told):
    """Humidity that makers advise, of 100; `little_swing`: moisture (%) of wood that hardly anybody notices."""

    low: Humidity
    high: Humidity
    least: Humidity
    little_swing: Annotated[float, Field(strict=True, ge=0, le=30)]

    @model_validator(mode="after")
    def in_order(self) -> Self:
        if not self.least <= self.low < self.high:
            raise ValueError("least, low and high must rise")
        return self


class Sizes(Told):
    """Usual sizes in mm: across the lower bout, and of a peg at its thick end. A family without one has none."""

    lower_bout: dict[Family, Millimetres]
    peg: dict[Family, Millimetres]


class Action(Told):
    """How much higher the strings stand in the damp season, in words that end a sentence."""

    say: dict[Family, Text]


class Tuner(Written):
    """Mass in grams of one fine tuner of a violin: between near-limits `low` and `high`, most often `likely`."""

    tuner: Id
    say: Text
    low: Grams
    likely: Grams
    high: Grams

    @model_validator(mode="after")
    def in_order(self) -> Self:
        if not self.low < self.likely < self.high:
            raise ValueError("low, likely and high must rise")
        return self


class Tuners(Told):
    kinds: Annotated[tuple[Tuner, ...], Field(min_length=1)]


class Seasons(Written):
    """The whole file."""

    climates: Annotated[tuple[Climate, ...], Field(min_length=1)]
    air: GoodAir
    sizes: Sizes
    action: Action
    tuners: Tuners

    @model_validator(mode="after")
    def each_once(self) -> Self:
        for names in ([one.climate for one in self.climates], [one.tuner for one in self.tuners.kinds]):
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise ValueError(f"{', '.join(twice)} stands twice")
        return self

    @property
    def rooms(self) -> dict[str, Climate]:
        """The climates by id."""
        return {one.climate: one for one in self.climates}


class BenchMeasure(Written):
    """One measure, read at each of its `places`; between `at_least` and `at_most`, in `unit`. `jobs`: ids of the jobs
    for which it is wanted as found and after; it can be noted for any other.
    """

    measure: Id
    say: Text
    how: Text
    unit: Text
    at_least: Figure
    at_most: Figure
    places: Annotated[tuple[Text, ...], Field(min_length=1, max_length=16)]
    families: Annotated[tuple[Family, ...], Field(min_length=1)]
    jobs: tuple[Id, ...] = ()

    @model_validator(mode="after")
    def a_range(self) -> Self:
        if self.at_least >= self.at_most:
            raise ValueError("at_least must be below at_most")
        return self


class Bench(Written):
    """The whole file, in the order in which it is shown."""

    bench: Annotated[tuple[BenchMeasure, ...], Field(min_length=1)]

    def of(self, family: str) -> tuple[BenchMeasure, ...]:
        """What is measured on an instrument of this family."""
        return tuple(one for one in self.bench if family in one.families)
