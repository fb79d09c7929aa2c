"""The steps from a figure down to what was seen, coded with their amounts; words are made in `wording.reasons`.

Scores and points are 0..100, shares 0..1. `subject` is a check in the trade's term, `say` a phrase of the rubric.
"""

from typing import Literal, TypeAlias

from ...basis.frozen import dataclass
from ...basis.record import Record
from ...rubric.written.kinds import Confidence, Domain, Tier
from ..model import Level, Statement
from .facts import AsWritten, Expected, InTheWay, Observed, Plain, Reckoned, Settle, TakenAsRight


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed(Record):
    """A phrase of the rubric with a share: an outcome and its chance, or an answer and what it counts."""

    say: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreIs(Record):
    code: Literal["score"] = "score"
    after_work: bool
    expected: float
    low: float
    high: float
    tier: Tier


@dataclass(frozen=True, slots=True, kw_only=True)
class DomainIs(Record):
    """A domain's score; `share` of the whole, None where it is told by itself."""

    code: Literal["domain"] = "domain"
    domain: Domain
    expected: float
    share: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Takes(Record):
    """What was found of a check takes points from a domain."""

    code: Literal["takes"] = "takes"
    subject: str
    points: float


@dataclass(frozen=True, slots=True, kw_only=True)
class UnseenTakes(Record):
    """What nobody looked at takes points from a domain, as is usual for the class of making."""

    code: Literal["unseen_takes"] = "unseen_takes"
    points: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MoreTake(Record):
    """So many further checks take these points together."""

    code: Literal["more_take"] = "more_take"
    count: int
    points: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckIs(Record):
    """What is held of a check: its outcomes, the likeliest first, and its worth (0..1)."""

    code: Literal["check"] = "check"
    subject: str
    outcomes: tuple[Weighed, ...]
    worth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseIs(Record):
    code: Literal["cause"] = "cause"
    say: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves(Record):
    """A check makes the odds of a cause so many times higher or lower."""

    code: Literal["moves"] = "moves"
    subject: str
    higher: bool
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeAnyLook(Record):
    code: Literal["before_any_look"] = "before_any_look"
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementIs(Record):
    code: Literal["statement"] = "statement"
    subject: str
    statement: Statement
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueIs(Record):
    """A value with its standard uncertainty `u`."""

    code: Literal["value"] = "value"
    value: float
    u: float
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitsAre(Record):
    """The limits of a standard, None where it is open on that side."""

    code: Literal["limits"] = "limits"
    low: float | None
    high: float | None
    unit: str
    confidence: Confidence


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingIs(Record):
    code: Literal["finding"] = "finding"
    say: str
    level: Level
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswersCount(Record):
    """What each answer of a check counts."""

    code: Literal["answers_count"] = "answers_count"
    worths: tuple[Weighed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcesAre(Record):
    """The sources of a check, as its parts."""

    code: Literal["sources"] = "sources"
    confidence: Confidence


@dataclass(frozen=True, slots=True, kw_only=True)
class Source(Record):
    code: Literal["source"] = "source"
    say: str


Fact: TypeAlias = (
    ScoreIs | DomainIs | Takes | UnseenTakes | MoreTake | CheckIs | CauseIs | Moves | BeforeAnyLook | StatementIs
    | ValueIs | LimitsAre | FindingIs | AnswersCount | SourcesAre | Source | Settle
    | Observed | Reckoned | TakenAsRight | Plain | Expected | InTheWay | AsWritten
)  # fmt: skip
