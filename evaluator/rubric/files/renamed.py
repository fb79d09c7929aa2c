"""What checks, outcomes and jobs were called before: so that every answer that was ever given is still read.

An entry says what an id was, what it is now, and what becomes of its answers. A check that was measured and is now a
choice keeps the standard by which its readings are judged.
"""

from collections.abc import Iterable, Mapping
from typing import Annotated

from pydantic import Field

from ..written.checks import TOGETHER, Measure, StandardHere
from ..written.kinds import Id, Text, Whole, Written
from ..written.work import Job


class Renamed(Written):
    """A check of before. `now` is the check that asks it today; without it nobody asks it any more, unless the rubric
    still has it, and only outcomes of it were renamed.

    `outcomes`: what its outcomes are now, as an outcome of that check or as check.outcome; several joined by "+" where
    one look has become two. `standard` and `measure`: how its readings were judged. `numbers`: for counts, the outcome
    from this number on.
    """

    was: Id
    now: Id | None = None
    outcomes: dict[Id, Text] = {}
    measure: Measure | None = None
    standard: StandardHere | None = None
    numbers: dict[Annotated[Whole, Field(ge=0)], Id] = {}
    why: Text

    def all_today(self, outcome: str) -> tuple[tuple[str, str], ...]:
        """Checks and outcomes of today for an outcome of before; the check is empty where nobody asks it any more."""
        found = []
        for said in self.outcomes.get(outcome, outcome).split(TOGETHER):
            check, dot, other = said.partition(".")
            found.append((check, other) if dot else (self.now or "", said))
        return tuple(found)

    def today(self, outcome: str) -> tuple[str, str]:
        """The first of them."""
        return self.all_today(outcome)[0]


def todays_names(jobs: Iterable[Job]) -> dict[str, str]:
    """The id of today for each id of before."""
    return {old: job.job for job in jobs for old in job.was}


def with_todays_names(data: object, names: Mapping[str, str]) -> object:
    """The data of a file with every job of before under its id of today; in ways of several jobs too."""
    if isinstance(data, str):
        return TOGETHER.join(names.get(one, one) for one in data.split(TOGETHER)) if _names_one(data, names) else data
    if isinstance(data, list):
        return [with_todays_names(one, names) for one in data]
    if isinstance(data, Mapping):
        return {names.get(key, key): with_todays_names(one, names) for key, one in data.items()}
    return data


def _names_one(text: str, names: Mapping[str, str]) -> bool:
    return any(one in names for one in text.split(TOGETHER))
