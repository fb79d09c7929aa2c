"""The facts of rubrics/seasons.yaml: rooms over a year, good air, usual sizes, and what fine tuners weigh."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from ..written.kinds import Family, Id, Text, Written
from .model import Told

Humidity = Annotated[float, Field(strict=True, ge=0, le=100)]
Degrees = Annotated[float, Field(strict=True, ge=-30, le=50)]
Millimetres = Annotated[float, Field(strict=True, gt=0, le=1000)]
Grams = Annotated[float, Field(strict=True, ge=0, le=50)]
MONTHS = 12


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
