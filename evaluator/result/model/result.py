"""The one result: everything that a page, a paper or a command shows, frozen.

A new figure gets a field in the record of its subject in this folder, and is filled in by the module of the same name
in `result.making`. Where kept results are without it, the field has a value of its own for that; where a field goes or
changes, `result.old_forms` brings kept ones up.
"""

from collections.abc import Mapping
from typing import Annotated

from ...assessment.model import Purpose
from ...assessment.reasons.facts import AsWritten, NotAsked
from ...basis.frozen import dataclass
from ...basis.record import SPARED, Record
from ...estimate.model import Uncured
from ...quoting.draft import Draft
from ...rubric.written.kinds import Channel, Domain, Looker
from .decision import Look, Risk, Verdict, Views, Words
from .instrument import NO_MAKING, Instrument, Making, Part, RubricUsed, ShopUsed
from .score import Band, Cause, Check, Deduction, DomainScore, Finding, Measured, Place, Score
from .work import Ambition, Budget, Extra, Line, NotLookedAt, Plan, WithExtras

FORMAT = 4  # 1: sentences in the place of facts; 2: money as plain numbers; 3: a decision in words
MONEY_AS_TEXT = 3  # the first form that has amounts as text with the currency of the plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Result(Record):
    """One evaluation. `program` is the version that made it, `seed` that of its draws, `coverage` the share of the
    weight that was looked at, `usual_score` what such an instrument has before any look (None where not kept).

    `deductions` add up to what is missing from 100 in the score, the largest first; `band` and `place_in_class` say
    what such a score means. All three are empty where too little was seen for a number (`score.expected` None).

    `findings` are of the instrument; what is of buying it there is under `purchase`. What stops a purchase is under
    `disqualifying`, whichever it is of.

    `set_aside`: checks that were answered but do not apply, with the reason; `uncured`: findings that no job cures.
    `quotable` is the plan as a quote would have it, None without work. The last of `cautions` is the result's own.
    `words`: the decision in words, for who reads the JSON alone, and of older results as they had it; else None, for
    words are made where they are shown.
    """

    format: int = FORMAT
    program: str
    rubric: RubricUsed
    shop: ShopUsed
    seed: int
    title: str
    instrument: Instrument
    purpose: Purpose
    seen_by: Channel
    looker: Looker
    score: Score
    score_after_work: Score
    usual_score: float | None = None
    band: Band | None = None
    place_in_class: Place | None = None
    deductions: tuple[Deduction, ...] = ()
    coverage: float
    making: Making = NO_MAKING
    domains: Mapping[Domain, DomainScore]
    findings: tuple[Finding, ...]
    disqualifying: tuple[Finding, ...]
    purchase: tuple[Risk, ...] = ()
    conformity: Mapping[str, Measured]
    causes: Mapping[str, Cause]
    parts: tuple[Part, ...]
    checks: tuple[Check, ...]
    set_aside: Mapping[str, NotAsked | AsWritten]
    plan: Plan
    ambitions: tuple[Ambition, ...] = ()
    optional: tuple[Line, ...]
    possible_extras: tuple[Extra, ...]
    not_looked_at: NotLookedAt
    with_possible_extras: WithExtras
    uncured: Mapping[str, Uncured | AsWritten]
    budget: Budget | None = None
    quotable: Draft | None = None
    verdict: Verdict
    words: Annotated[Words | None, SPARED] = None
    next_checks: tuple[Look, ...]
    visit: tuple[Look, ...]
    questions: tuple[str, ...]
    photos_to_ask_for: tuple[str, ...]
    cautions: tuple[str, ...]
    views: Views
