"""The records of an assessment: what was observed, what is believed of it, what score follows.

Probabilities and worths are shares 0..1, scores 0..100. All records are frozen; mappings keep the rubric's order of
checks.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..basis.frozen import dataclass
from ..basis.money import Money
from ..rubric.written.kinds import (
    Age,
    Channel,
    Confidence,
    Domain,
    Looker,
    OutcomeClass,
    StringType,
    Style,
    Tier,
    Urgency,
)
from .reasons.facts import BeliefFact, InTheWay, NotAsked, SeenSign, Settle

CANNOT_TELL = "cannot_tell"  # an answer that holds no information, and is kept because somebody tried
TOO_LOW, MEETS, TOO_HIGH = "too_low", "meets", "too_high"  # the outcomes of every measure and derived check

Purpose = Literal["buying", "trade_in", "quote"]
Statement = Literal["meets", "probably", "cannot_tell", "probably_not", "does_not"]
LookWhy = Literal["may_stop", "may_turn", "narrows"]
Level = Literal["confirmed", "probable", "possible"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One or more readings of a check in its own unit, with their combined standard uncertainty `u` (same unit)."""

    values: tuple[float, ...]
    unit: str
    u: float
    tool: str | None
    texts: tuple[str, ...]

    @property
    def value(self) -> float:
        return sum(self.values) / len(self.values)


@dataclass(frozen=True, slots=True)
class Observation:
    """What somebody recorded for a check: an outcome (or CANNOT_TELL) or a reading, and how it was seen.

    For a count or a rating, `reading` holds the whole number and `outcome` the outcome that it falls in. `by`: who
    looked, as they call themselves; `at`: when, an ISO time with its offset; both empty where nobody said.
    """

    check: str
    outcome: str | None
    reading: Reading | None = None
    seen_by: Channel = "in_person"
    note: str = ""
    photos: tuple[str, ...] = ()
    by: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Instrument:
    size: str
    style: Style
    tier: Tier
    about: str = ""
    year: int | None = None
    age: Age | None = None
    strings: StringType | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """One evaluation as typed and parsed: the instrument, what for, the prices and every observation by check."""

    rubric: str
    instrument: Instrument
    purpose: Purpose
    observations: Mapping[str, tuple[Observation, ...]]
    asking: Money | None = None
    ready_value: Money | None = None
    seen_by: Channel = "in_person"
    looker: Looker = "student"
    title: str = ""
    no_longer_asked: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Range:
    """Expected value with the 5th and 95th percentile of the draws."""

    expected: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Belief:
    """Probability of each outcome of a check, and the mean and standard deviation of its worth.

    `seen`: an observation with information was made. `clash`: two observations disagree. `waits_for`: what must be put
    right before it can be judged, each as "check.outcome"; what was answered counts as given until then, and
    `postponed` is the first of them. `because`: the facts from observation and cause to this belief.
    """

    check: str
    probability: Mapping[str, float]
    worth: float
    worth_sd: float
    worth_after: float
    seen: bool
    clash: bool = False
    postponed: InTheWay | None = None
    waits_for: tuple[str, ...] = ()
    because: tuple[BeliefFact, ...] = ()


@dataclass(frozen=True, slots=True)
class Sign:
    """What one answer says of the making. `weight`: natural logarithm of the factor by which it alone moves the odds of
    the likeliest class, above 0 where it speaks for it. `outcome` is the likeliest one where a reading was given."""

    check: str
    outcome: str
    group: str
    weight: float


@dataclass(frozen=True, slots=True)
class Making:
    """Shares of the classes, the cheapest first, summing to 1; the signs that were seen, the strongest first.

    Without classes in the rubric there are no shares. `groups_seen` counts the groups with a sign that tells anything.
    """

    shares: Mapping[str, float]
    signs: tuple[Sign, ...]
    groups_seen: int

    @property
    def likeliest(self) -> str | None:
        """The class with the largest share, of equals the cheaper one; None without classes."""
        return max(self.shares, key=lambda name: self.shares[name]) if self.shares else None


NO_MAKING = Making({}, (), 0)


@dataclass(frozen=True, slots=True)
class CauseBelief:
    cause: str
    prior: float
    probability: float
    signs: tuple[SeenSign, ...]


@dataclass(frozen=True, slots=True)
class Conformity:
    """Probability that the true value meets the standard, and the statement that may be made of it (JCGM 106)."""

    check: str
    value: float
    u: float
    unit: str
    low: float | None
    high: float | None
    target: float | None
    probability: float
    statement: Statement
    confidence: Confidence
    sources: tuple[str, ...]
    settle: Settle | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """A fault that is believed. `required`: below the standard of the tier, and so part of the plan when probable.

    `on_limit`: it rests on a reading that lies so near its limit that it cannot tell: a judgement is needed, no work.
    `waits`: something else has to be put right before it can be judged; no work is planned for it until then.
    """

    check: str
    outcome: str
    class_: OutcomeClass
    probability: float
    level: Level
    say: str
    means: str | None
    cured_by: tuple[str, ...]
    inherent: bool
    urgency: Urgency
    required: bool
    seen: bool
    on_limit: bool = False
    waits: bool = False


@dataclass(frozen=True, slots=True)
class NextCheck:
    """A look worth taking: its minutes, and the gain (money of the decision, or points of score variance) it brings.

    `why` it is worth taking; `stops`: the chance that it shows a reason to walk away.
    """

    check: str
    minutes: float
    gain: float
    gain_unit: str
    why: LookWhy
    stops: float = 0.0


@dataclass(frozen=True, slots=True)
class Deduction:
    """Points that a finding took: of the score (`points`, of all that is missing from 100), by domain.

    `check` and `outcome` are None for what is usual where nobody looked. `of_domain`: points of what is missing from
    100 in the domain. `waits`: it is to be judged again. `set_aside`: it no longer applies because of another answer,
    and counts as it was given.
    """

    check: str | None
    outcome: str | None
    domain: Domain
    points: float
    of_domain: float
    waits: bool = False
    set_aside: bool = False


@dataclass(frozen=True, slots=True)
class Worlds:
    """The seeded draws that every probability of one evaluation comes from; all arrays have `count` rows.

    `outcome[:, i]` is the index of the outcome of check i (order of `checks` and of the check's outcomes). `score`,
    `score_after`: 0..100, as it stands and after the work.
    """

    seed: int
    checks: tuple[str, ...]
    outcome: NDArray[np.int16]
    score: NDArray[np.float64]
    score_after: NDArray[np.float64]
    making: NDArray[np.int16]

    @property
    def count(self) -> int:
        return int(self.outcome.shape[0])

    def has(self, check: str, outcome_index: int) -> NDArray[np.bool_]:
        """In which worlds the check has this outcome."""
        found: NDArray[np.bool_] = self.outcome[:, self.checks.index(check)] == outcome_index
        return found


@dataclass(frozen=True, slots=True)
class Assessment:
    """The whole of it. `relevant` are the checks that count here; `set_aside` were answered but do not apply (why).

    `usual` is the score, 0..100, that the same checks would give before anybody had looked. `enough`: so much was seen
    that the score may be shown as a number; else only its range. `band` is the id of the band it lies in. `deductions`
    add up to what is missing from 100, the largest first, those of `deductions_after` after the work.
    `better_in_class`: of a hundred of the likeliest class, looked at in the same places, how many are better; None
    without classes.
    """

    score: Range
    score_after: Range
    domains: Mapping[Domain, Range]
    domains_after: Mapping[Domain, Range]
    coverage: float
    beliefs: Mapping[str, Belief]
    causes: Mapping[str, CauseBelief]
    conformity: Mapping[str, Conformity]
    findings: tuple[Finding, ...]
    disqualifying: tuple[Finding, ...]
    relevant: tuple[str, ...]
    set_aside: Mapping[str, NotAsked]
    worlds: Worlds
    usual: float
    making: Making = NO_MAKING
    enough: bool = True
    band: str | None = None
    deductions: tuple[Deduction, ...] = ()
    deductions_after: tuple[Deduction, ...] = ()
    better_in_class: float | None = None
