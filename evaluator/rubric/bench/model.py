"""The facts of rubrics/bench.yaml: what a luthier measures at the bench, where, in which unit, and for which jobs."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from ..written.kinds import Family, Id, Text, Written

Figure = Annotated[float, Field(strict=True, ge=-1000, le=1000)]


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
