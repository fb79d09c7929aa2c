"""The facts that a belief follows from, coded with their amounts. Words are made of them in `wording.reasons` alone.

A fact carries phrases of the rubric (`say`, `subject`) as they are written there, so that it can be told without the
rubric; it carries no sentence. Shares are 0..1.
"""

from typing import Annotated, Literal, TypeAlias

from ...basis.frozen import dataclass
from ...basis.record import SPARED, Record
from ...rubric.written.kinds import Channel

Link = Literal["usual", "open", "no_sign", "because", "although"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered(Record):
    """What was recorded in short: the phrase of the outcome, or the readings as they were typed with the unit."""

    say: Annotated[str, SPARED] = ""
    readings: Annotated[tuple[str, ...], SPARED] = ()
    unit: Annotated[str | None, SPARED] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenSign(Record):
    """A seen check that moved a cause, by its id and in the trade's term; `answered` None where it follows from
    others."""

    check: str
    subject: str
    answered: Answered | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain(Record):
    """A fact without an amount."""

    code: Literal["could_not_tell", "clash", "not_looked_at", "recorded"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Observed(Record):
    """Something was recorded; `share`: how often this way of seeing shows what is there."""

    code: Literal["observed"] = "observed"
    seen_by: Channel
    measured: bool
    answered: Answered
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoned(Record):
    """A value that follows from readings by a formula, with its standard uncertainty `u`."""

    code: Literal["reckoned"] = "reckoned"
    formula: str
    value: float
    u: float
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenAsRight(Record):
    """How far what was seen is taken as right; the rest goes by what is usual."""

    code: Literal["taken_as_right"] = "taken_as_right"
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected(Record):
    """What is expected of a check that nobody looked at: a fault or none, how likely, and the likeliest such outcome.

    `link` says what that goes by: what is usual, or a cause (`cause_say`, `cause_share`) with its strongest `signs`
    and how many `more` there are. `although`: the cause speaks the other way.
    """

    code: Literal["expected"] = "expected"
    at_fault: bool
    share: float
    say: str
    link: Link
    cause_say: Annotated[str | None, SPARED] = None
    cause_share: Annotated[float | None, SPARED] = None
    signs: Annotated[tuple[SeenSign, ...], SPARED] = ()
    more: Annotated[int, SPARED] = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class InTheWay(Record):
    """What must be put right before a check can be judged: that check by id and term, and its outcome.

    `answered`: it was answered all the same, and counts as answered until then.
    """

    code: Literal["in_the_way"] = "in_the_way"
    check: str
    subject: str
    say: str
    answered: Annotated[bool, SPARED] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AsWritten(Record):
    """A sentence of an older kept result, which held no facts."""

    code: Literal["as_written"] = "as_written"
    say: str


BeliefFact: TypeAlias = Observed | Reckoned | TakenAsRight | Plain | Expected | InTheWay | AsWritten


@dataclass(frozen=True, slots=True, kw_only=True)
class Settle(Record):
    """What would settle a reading that cannot be told: a finer tool (as `tool` is called in the rubric, with its
    smallest step), finer tools for what it is reckoned from, or nothing, since it lies on the limit."""

    code: Literal["finer_tool", "finer_parts", "on_limit"]
    tool: str = ""
    step: float = 0.0
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotAsked(Record):
    """Why an answer is not counted: not asked of this family, not for this style, only under a condition, or no longer
    asked at all, for the reason that the rubric gives (`of`)."""

    code: Literal["family", "style", "condition", "no_longer"]
    of: str
