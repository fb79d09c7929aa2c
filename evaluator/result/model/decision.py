"""What a result advises: at which prices that turns, what the value rests on, what buying risks, where to look.

What belongs to buying it there (the seller, the terms, the papers, the case and the fit) takes no points of the
instrument.
"""

from dataclasses import field
from typing import Annotated, Literal

from ...assessment.model import LookWhy
from ...assessment.reasons.facts import AsWritten
from ...basis.frozen import dataclass
from ...basis.money import Money
from ...basis.record import SPARED, Price, Record
from ...rubric.shop import SaleKind
from ...valuation.model import Advice, Fact
from ...valuation.sales.comparables import Standing
from ...valuation.worth.ready import NoValue, Source, ValueFrom

RiskLevel = Literal["stops", "great", "some", "none", "open"]  # open: nobody asked, or it could not be told


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownSale(Record):
    """A sale brought to this instrument step by step; figures are money, `gross` and `weight_share` shares.

    `standing`: evidence, a check that was moved by over half, or too far from the others to count.
    """

    key: str
    name: str
    kind: SaleKind
    sold_on: str
    note: str
    grade: float
    price: Price
    start: Price
    after_level: Price
    after_date: Price
    after_grade: Price
    after_condition: Price
    value: Price
    gross: float
    much: bool
    weight_share: float
    standing: Standing = "evidence"


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownSales(Record):
    """What known sales come to together. `left_out`: how many did not count; `little_moved`: how many are evidence;
    `again`: how many stood there before. `value` is None where `low` to `high` is too wide to act on.
    """

    value: Price | None
    low: Price
    high: Price
    mean: Price
    median: Price
    spread: Price
    left_out: int
    little_moved: int
    again: int = 0
    rows: tuple[KnownSale, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LastingFault(Record):
    """A fault that stays in the value after the work: the share of it that is left (0..1), by how sure the fault is."""

    check: str
    say: str
    left: float
    cause: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lasting(Record):
    """The share of the value that all lasting faults together leave."""

    left: float
    faults: tuple[LastingFault, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason(Record):
    """One coded reason: a fact with the check and outcome, or the class of making, that it is about; `amount` and
    `most` are money, `share` 0..1. `term` and `say` are the check and the outcome in words. What each fact means stands
    at `valuation.model.Fact`.
    """

    fact: Fact
    check: str | None = None
    outcome: str | None = None
    class_: str | None = field(default=None, metadata={"alias": "class"})
    amount: Price | None = None
    most: Price | None = None
    share: float | None = None
    term: Annotated[str | None, SPARED] = None
    say: Annotated[str | None, SPARED] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CouldChange(Record):
    """A look that could still turn the advice: its minutes, and the chance that it does so by itself."""

    check: str
    ask: str
    minutes: float
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning(Record):
    """The looks that could turn the advice together: minutes, the chance that they do, what they are worth in money."""

    minutes: float
    chance: float
    gain: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRange(Record):
    """What holds a price in four of five cases."""

    low: Price
    high: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict(Record):
    """The one decision. `advice` is None without a price; `offer` <= `ceiling`, and never above what is asked.

    `settled`: no further look can turn the advice. `ready_value` is None where the evidence carries none, and
    `ready_value_missing` says why. `worth` is what it is worth to this buyer, ready to play; `work` and `work_dear`
    what the buyer pays for the work, with tax; `unseen` what faults that nobody has looked for usually cost; `seen` the
    share of soundness and set-up that was looked at.
    """

    advice: Advice | None
    asking: Money | None
    offer: Price | None
    ceiling: Price | None
    because: tuple[Reason, ...] = ()
    could_change: tuple[CouldChange, ...] = ()
    settled: bool = False
    turning: Turning | None = None
    probability_worth_it: float | None
    ready_value: Money | None
    ready_range: PriceRange | None = None
    ready_value_from: ValueFrom | None
    ready_value_kind: Source | None = None
    ready_value_missing: NoValue | None = None
    with_bow_and_case: bool = False
    known_sales: KnownSales | None = None
    lasting: Lasting | None = None
    worth: Price | None = None
    work: Price | None = None
    work_dear: Price | None = None
    unseen: Price | None = None
    seen: float | None = None
    hard: bool = False
    stopped_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Words(Record):
    """The decision in words: the largest sentence, its reasons, what one could say to the seller (None where there is
    nothing to bargain about), and where the ready value is from.
    """

    sentence: str
    reasons: tuple[str, ...]
    say_to_seller: str | None
    ready_value_from: Annotated[str | None, SPARED] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Views(Record):
    """How far other opinions change the result: share 0..1 of other guides to prices in which the advice holds, and of
    other weightings in which the word for the score does.
    """

    verdict_holds: float | None
    score_band_holds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk(Record):
    """One thing that belongs to buying it there. `outcome`, `say` and `means` are of the gravest answer; `outcome` and
    `means` None and `say` empty where there is none."""

    check: str
    part: str
    ask: str
    term: str | None
    outcome: str | None
    say: str
    means: str | None
    level: RiskLevel


@dataclass(frozen=True, slots=True, kw_only=True)
class Look(Record):
    """A look with its minutes, and what it brings: money of the decision, or points of the score's variance.

    `why` it is worth taking; `stops`: the chance that it shows a reason to walk away.
    """

    check: str
    ask: str
    part: str
    minutes: float
    gain: float
    gain_unit: str
    why: LookWhy | AsWritten
    stops: float = 0.0
