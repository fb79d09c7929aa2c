"""The records of an estimate: the plan's lines, what may come on top with its trigger, and the price as a range.

Prices are floats in the shop's currency while they are estimates; `Money` (Decimal) begins with the quote. What would
bring an extra, when that will be known, and why no work cures a fault are coded, words are in `wording`: a trigger
carries phrases of the rubric (`say`, `ask`) as they are written there, and no sentence.
"""

from collections.abc import Mapping
from typing import Annotated, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray
from pydantic import Field

from ..assessment.reasons.facts import AsWritten
from ..basis.frozen import dataclass
from ..basis.record import Price, Record
from ..rubric.written.kinds import Urgency

AmbitionName = Literal["safe", "standard", "recommended"]
# Why no work of the plan cures a fault: nothing does, and it lowers the worth; no job of the catalogue does; what does
# cannot be combined with the other work.
Uncured = Literal["inherent", "no_job", "clash"]


@dataclass(frozen=True, slots=True, kw_only=True)
class IfFound(Record):
    """A fault that is only possible: the extra comes if it is there. `on_limit`: a reading lies on the limit."""

    code: Literal["if_found"] = "if_found"
    say: str
    on_limit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Brings(Record):
    """A job of the plan that may bring it, in the rubric's own words."""

    code: Literal["brings"] = "brings"
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ByLook(Record):
    """A look would tell, in so many minutes; of a reading `on_limit` the bench or a finer tool does."""

    code: Literal["by_look"] = "by_look"
    ask: str
    minutes: float
    on_limit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AtTheBench(Record):
    """It is known as the rubric says."""

    code: Literal["at_the_bench"] = "at_the_bench"
    say: str


Trigger: TypeAlias = Annotated[IfFound | Brings | AsWritten, Field(discriminator="code")]
Known: TypeAlias = Annotated[ByLook | AtTheBench | AsWritten, Field(discriminator="code")]


@dataclass(frozen=True, slots=True)
class Cost:
    """Near-limits and likely value of one line, and its beta-PERT mean and standard deviation."""

    low: Price
    likely: Price
    high: Price
    mean: Price
    sd: Price


@dataclass(frozen=True, slots=True)
class PartUsed:
    """A part that a line needs, its grade and number, and what they cost together at retail, not fitted."""

    part: str
    say: str
    grade: str
    count: float
    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Alternative:
    """The job that would take a line's place in the cheapest plan without it, and how much dearer that plan is."""

    job: str
    price_difference: float


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One job of the plan (`shared` False) or one shared labour charged once (`shared` True, `job` its id).

    `because` says in words what it cures, `cures` the same as checks' ids; `forced_by` is the id of the job that
    brings it (`forced_by_say` its words) where it cures nothing that another line would not. `cost` = `labour` + the
    parts.
    """

    job: str
    say: str
    plain: str
    shared: bool
    because: tuple[str, ...]
    forced_by: str | None
    urgency: Urgency
    cost: Cost
    hours_likely: float
    next_best: Alternative | None = None
    if_left: str | None = None
    cautions: tuple[str, ...] = ()
    contact_first: str | None = None
    cures: tuple[str, ...] = ()
    forced_by_say: str | None = None
    units: int = 1
    labour: Cost | None = None
    parts: tuple[PartUsed, ...] = ()
    shares: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PossibleExtra:
    """A job outside the total: its chance, its price if it comes, what would bring it, and when that will be known."""

    job: str
    say: str
    chance: float
    cost: Cost
    when: tuple[Trigger, ...]
    known: Known | None


@dataclass(frozen=True, slots=True)
class Ambition:
    """How far the work goes: safe to play, to the standard of the tier, or all that is recommended.

    `jobs` of the cheapest plan for it; the price at its mean, the levels that hold nine of ten orders between them
    (`low` and `high`), and the one that four of five stay under.
    """

    name: AmbitionName
    jobs: tuple[str, ...]
    mean: float
    p80: float
    low: float = 0.0
    high: float = 0.0


@dataclass(frozen=True, slots=True)
class Estimate:
    """The plan. `mean`, `p50`, `p80` are of the required order; `with_extras_*` also hold the possible extras.

    `draws` (order price) and `draws_with_extras` belong to the same worlds as the assessment's. `uncured` names
    findings that no job can cure, with the reason; `cures` says which job of the plan cures which check's fault.
    `unseen_extras`: work for faults of checks that nobody has looked at; it is in no total but `draws_with_unseen`.
    `may_save`: how much less another plan could cost at most, 0 where `proven_optimal`.
    """

    currency: str
    lines: tuple[PlanLine, ...]
    optional: tuple[PlanLine, ...]
    possible_extras: tuple[PossibleExtra, ...]
    mean: float
    p50: float
    p80: float
    with_extras_mean: float
    with_extras_p80: float
    hours_likely: float
    uncured: Mapping[str, Uncured]
    proven_optimal: bool
    draws: NDArray[np.float64]
    draws_with_extras: NDArray[np.float64]
    cures: Mapping[str, str]
    may_save: float = 0.0
    ambitions: tuple[Ambition, ...] = ()
    unseen_extras: tuple[PossibleExtra, ...] = ()
    unseen_mean: float = 0.0
    draws_with_unseen: NDArray[np.float64] | None = None
