"""The work of a result: the plan with its price, how far it may go, what may come on top, and what each sum buys.

Prices are estimates in the currency of the plan; `price` and the sums of an invoice are charged, exact to the cent.
"""

from typing import Literal

from ...basis.frozen import dataclass
from ...basis.record import Charge, Price, Record
from ...estimate.model import AmbitionName, Known, Trigger
from ...rubric.written.kinds import Urgency


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedJob(Record):
    job: str
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUsed(Record):
    say: str
    grade: str
    count: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NextBest(Record):
    """The job that would take a line's place, and how much dearer the plan would be with it."""

    job: str
    say: str
    price_difference: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Record):
    """One job of the plan, or one shared labour charged once (`shared`), from the lowest to the highest price.

    `because` says what it is for, `cures` which checks' faults; `forced_by` is the job that brings it. `price` is
    what a quote of the plan would show, with tax where `prices` of the invoice is gross; the rest is before tax.
    """

    job: str
    say: str
    shared: bool
    because: tuple[str, ...]
    cures: tuple[str, ...]
    forced_by: str | None
    forced_by_say: str | None
    units: int = 1
    parts: tuple[PartUsed, ...] = ()
    urgency: Urgency
    low: Price
    likely: Price
    high: Price
    mean: Price
    sd: Price
    price: Charge | None = None
    plain: str
    hours_likely: float
    if_left: str | None
    contact_first: str | None
    cautions: tuple[str, ...]
    next_best: NextBest | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Invoice(Record):
    """The sums of the required lines as a quote of them would charge; they add up to `total`. Tax shares are 0..1.

    `prices`: whether the price of each line holds its tax (gross) or not (net).
    """

    labour: Charge
    parts: Charge
    minimum: Charge
    labour_tax: Charge
    parts_tax: Charge
    rounding: Charge
    total: Charge
    up_to: Charge
    labour_tax_share: float
    parts_tax_share: float
    prices: Literal["net", "gross"] = "net"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan(Record):
    """The cheapest set of jobs; `p50` and `p80` are the levels that one in two and four of five orders stay under.

    `may_save`: how much less another plan could cost at most (None where that was not kept).
    """

    lines: tuple[Line, ...]
    mean: Price
    p50: Price
    p80: Price
    hours_likely: float
    parts_likely: Price | None = None
    set_up_mean: Price | None = None
    currency: str
    invoice: Invoice | None = None
    proven_optimal: bool
    may_save: Price | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ambition(Record):
    """How far the work goes, by name, with its jobs; `low` to `high` holds nine of ten orders."""

    name: AmbitionName
    jobs: tuple[NamedJob, ...]
    low: Price
    mean: Price
    p80: Price
    high: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra(Record):
    """A job outside the total: its chance, what would bring it, when that will be known, and its price if it comes."""

    job: str
    say: str
    chance: float
    when: tuple[Trigger, ...]
    known: Known | None
    low: Price
    likely: Price
    high: Price
    mean: Price
    sd: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class NotLookedAt(Record):
    """What the faults of checks that nobody has looked at usually cost."""

    mean: Price
    extras: tuple[Extra, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WithExtras(Record):
    mean: Price
    p80: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetStep(Record):
    """With this much money the score can be this, by what it adds and drops."""

    cost: Price
    score: float
    adds: tuple[NamedJob, ...]
    drops: tuple[NamedJob, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget(Record):
    """The budget curve; `enough` is the number of the first step that brings two thirds of what work can."""

    steps: tuple[BudgetStep, ...]
    enough: int | None
