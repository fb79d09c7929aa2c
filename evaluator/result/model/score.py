"""What is held of the instrument: scores, findings, readings against their standards, causes, and every check.

Scores are 0..100, probabilities and worths shares 0..1, all rounded for reading.
"""

from typing import Annotated

from pydantic import Field

from ...assessment.model import Level, Statement
from ...assessment.reasons.facts import AsWritten, BeliefFact, InTheWay, SeenSign, Settle
from ...assessment.reasons.steps import Fact
from ...basis.frozen import dataclass
from ...basis.record import SPARED, Record
from ...rubric.written.kinds import Channel, Confidence, Domain, Kind, OutcomeClass, Urgency


def _is_none(value: object) -> bool:
    return value is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Span(Record):
    """The expected value, and the 5th and 95th percentile of the draws."""

    expected: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Score(Record):
    """The same of the whole score: `expected` is None where too little was seen for a number, and its range is all that
    can be said."""

    expected: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DomainScore(Record):
    as_it_stands: Span
    after_work: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Deduction(Record):
    """Points that something took from the score, in one domain; all of them add up to what is missing from 100.

    `check` and `outcome` are None for what is usual where nobody looked. `waits`: it is to be judged again once
    something else is put right. `set_aside`: it no longer applies because of another answer, and counts as given.
    """

    check: str | None
    outcome: str | None
    domain: Domain
    points: float
    waits: bool
    set_aside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Band(Record):
    """The band of words that the score lies in, from `at_least` of 100 on."""

    band: str
    say: str
    at_least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Record):
    """Of `of` instruments of the class `making`, looked at in the same places, `better` are better."""

    making: str
    better: int
    of: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding(Record):
    """A fault that is believed. `cures` are the ways to mend it in words, `cured_by` the same by their jobs' ids.

    `points` that it takes from the score, None where there is no number. `waits`: to be judged again, so no work yet.
    """

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
    points: float | None = None
    waits: bool = False


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
    settle: Settle | AsWritten | None
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(Record):
    """A fact of a trail with the steps below it."""

    fact: Annotated[Fact, Field(discriminator="code")]
    because: Annotated[tuple["Step", ...], SPARED] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail(Record):
    """Why a check counts as it does: its share of the score, the points it takes, its cause, and the steps."""

    share: float
    takes: float
    cause: str | None
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause(Record):
    """What makes several checks go wrong together: its chance before any look (`prior`) and now, and what moved it."""

    say: str
    if_not: str
    about: str
    prior: float
    probability: float
    signs: tuple[SeenSign | AsWritten, ...]
    why: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(Record):
    """What somebody recorded for a check: the readings as typed, or the phrase of the outcome; empty where it could not
    be told. `outcome` is None where only a reading was given.
    """

    answer: str
    outcome: str | None
    seen_by: Channel
    tool: str | None
    note: str
    photos: Annotated[tuple[str, ...], SPARED] = ()
    by: Annotated[str, SPARED] = ""
    at: Annotated[str, SPARED] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance(Record):
    """An outcome with its probability, and what it counts where it is the answer (0..1; None where not kept)."""

    outcome: str
    say: str
    probability: float
    counts: Annotated[float | None, Field(exclude_if=_is_none)] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness(Record):
    """The drawing of a fault, by name, and the outcomes that it shows."""

    drawing: str
    outcomes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Record):
    """Everything about a check that counts here: what was recorded, what is believed, and why.

    `waits_for`: what has to be put right before it can be judged, each as "check.outcome". `likeness`: which outcomes
    are drawn; None where the rubric says nothing of it, so that its own drawing stands for all.
    """

    check: str
    part: str
    ask: str
    term: str | None
    kind: Kind
    drawing: Annotated[str | None, SPARED] = None
    likeness: Likeness | None
    minutes: float
    seen: bool
    clash: bool
    postponed: InTheWay | AsWritten | None
    waits_for: tuple[str, ...] = ()
    observations: tuple[Answer, ...]
    belief: tuple[Chance, ...]
    worth: float
    worth_after_work: float
    because: tuple[Annotated[BeliefFact, Field(discriminator="code")], ...]
    why: Trail
