"""What is held of the instrument: scores, findings, readings against their standards, causes, and every check.

Scores are 0..100, probabilities and worths shares 0..1, all rounded for reading.
"""

from dataclasses import dataclass
from typing import Annotated, TypeAlias

from pydantic import Field

from ...assessment.model import Level, Statement
from ...rubric.model import Channel, Confidence, Kind, OutcomeClass, Urgency
from .record import Record


def _nothing(value: object) -> bool:
    return not value


@dataclass(frozen=True, slots=True, kw_only=True)
class Span(Record):
    """The expected value, and the 5th and 95th percentile of the draws."""

    expected: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DomainScore(Record):
    as_it_stands: Span
    after_work: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding(Record):
    """A fault that is believed. `cures` are the ways to mend it in words, `cured_by` the same by their jobs' ids."""

    title: str
    term: str | None
    part: str
    means: str | None
    inherent: bool
    urgency: Urgency
    cures: tuple[str, ...]
    check: str
    outcome: str
    class_: Annotated[OutcomeClass, Field(alias="class")]
    probability: float
    level: Level
    say: str
    required: bool
    seen: bool
    cured_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured(Record):
    """A reading against its standard: `probability` that it meets it; `low` and `high` None where it is open there."""

    check: str
    ask: str
    term: str | None
    probability: float
    statement: Statement
    value: float
    standard_uncertainty: float
    unit: str
    low: float | None
    high: float | None
    target: float | None
    confidence: Confidence
    settle: str | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(Record):
    """A sentence of a trail with the steps below it."""

    say: str
    because: tuple["Steps", ...]


Steps: TypeAlias = "str | Step"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail(Record):
    """Why a check counts as it does: its share of the score, the points it takes, its cause, and the steps."""

    share: float
    takes: float
    cause: str | None
    steps: tuple[Steps, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause(Record):
    """What makes several checks go wrong together: its chance before any look (`prior`) and now, and what moved it."""

    say: str
    if_not: str
    about: str
    prior: float
    probability: float
    signs: tuple[str, ...]
    why: tuple[Steps, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(Record):
    """What somebody recorded for a check: `outcome` is None where only a reading was given."""

    answer: str
    outcome: str | None
    seen_by: Channel
    tool: str | None
    note: str
    photos: Annotated[tuple[str, ...], Field(exclude_if=_nothing)] = ()
    by: Annotated[str, Field(exclude_if=_nothing)] = ""
    at: Annotated[str, Field(exclude_if=_nothing)] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance(Record):
    """An outcome with its probability."""

    outcome: str
    say: str
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Record):
    """Everything about a check that counts here: what was recorded, what is believed, and why."""

    check: str
    part: str
    ask: str
    term: str | None
    kind: Kind
    drawing: Annotated[str | None, Field(exclude_if=_nothing)] = None
    minutes: float
    seen: bool
    clash: bool
    postponed: str | None
    observations: tuple[Answer, ...]
    belief: tuple[Chance, ...]
    worth: float
    worth_after_work: float
    because: tuple[str, ...]
    why: Trail
