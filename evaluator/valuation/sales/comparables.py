"""Ready value from comparable sales: each is adjusted to the instrument in hand, in a fixed order, then they are
weighed.

The market approach, by comparable transactions (International Valuation Standards; from memory). First what belongs to
the sale, each step on the one before: extras off; market level; date. Then what belongs to the thing: making and wood;
lasting condition; and last set-up, in today's money. No fixed number of comparables is laid down. Weight = reliability
of the kind of sale / (0.10 + gross adjustment as a share of the starting price). What was moved by over half is a check
and no evidence: all such together weigh a third of the evidence at most. A far price is shown and does not count; a
sale that stands there twice counts once. Every factor is one shop's opinion: the built-in ones are from memory.
"""

import math
from collections.abc import Hashable, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Literal

from ...basis.frozen import dataclass
from ...rubric.shop import LEVEL, TRUST, SaleKind, Shop
from ..evidence.screening import held_down, near_ones, once
from ..evidence.spread import spread_of

__all__ = ["SaleKind"]
KINDS: tuple[SaleKind, ...] = ("dealer_sale", "private_sale", "auction", "listing")
KIND_WORDS: dict[SaleKind, str] = {
    "dealer_sale": "sold by a shop",
    "private_sale": "sold privately",
    "auction": "sold at auction",
    "listing": "offered, not sold",
}

MUCH = 0.5  # adjusted by more than half, a sale is a check and no longer evidence
LEAST_GROSS = 0.10  # keeps one sale without any adjustment from outweighing all others
BAND = 0.80  # of what is shown
NARROW = 3.0  # from the low to the high end, as one class of the guide: nobody can act on a wider figure; judged
Standing = Literal["evidence", "check", "far"]
ALIKE = ("sold_on", "kind", "price", "currency", "family", "size", "tier", "making")


@dataclass(frozen=True, slots=True)
class Market:
    """The wanted level of market: factor from each kind of sale to it, change of prices a year, trust in each kind."""

    level: dict[SaleKind, float]
    yearly_change: float
    reliability: dict[SaleKind, float]


# What a shop asks for ready to play, against what the same thing brings elsewhere: the defaults of a shop file.
SHOP_READY = Market(level=dict(LEVEL), yearly_change=0.02, reliability=dict(TRUST))


def market_of(shop: Shop) -> Market:
    """The shop's own factors."""
    return Market(dict(shop.sales.level), shop.sales.yearly_change, dict(shop.sales.trust))


@dataclass(frozen=True, slots=True)
class Comparable:
    """One known sale. `extras`: worth of case and bow in the price; `grade`: factor from its making to the one in hand;
    `retention`: share of value that its lasting faults leave; `set_up`: money to bring it to ready.

    `family`, `size` and `tier` say what it was; empty ones are not known and stand for any. `made`: how well it was
    made, 0..100, as an evaluation scores workmanship; `making`: the class that it was made as. `key` is its id where it
    is kept.
    """

    name: str
    sold_on: date
    kind: SaleKind
    price: float
    currency: str
    extras: float = 0.0
    grade: float = 1.0
    retention: float = 1.0
    set_up: float = 0.0
    note: str = ""
    family: str = ""
    size: str = ""
    tier: str = ""
    made: float | None = None
    making: str = ""
    key: str = ""

    def years_before(self, on: date) -> float:
        """How long before this day it was sold, in years of 365.25 days; below 0 where it was sold later."""
        return (on - self.sold_on).days / 365.25


def mark(one: Comparable) -> Hashable:
    """What two records of one sale have alike; capitals and spaces in its name tell none apart."""
    return (" ".join(one.name.lower().split()), *(getattr(one, name) for name in ALIKE))


@dataclass(frozen=True, slots=True)
class Adjusted:
    """A sale brought to the instrument in hand, step by step; `gross` is a share of the price, extras counted.

    `weight` is 0 where its price is `far` from the others'.
    """

    comparable: Comparable
    start: float
    after_level: float
    after_date: float
    after_grade: float
    after_condition: float
    value: float
    gross: float
    weight: float
    far: bool = False

    @property
    def much(self) -> bool:
        return self.gross > MUCH

    @property
    def standing(self) -> Standing:
        return "far" if self.far else "check" if self.much else "evidence"


@dataclass(frozen=True, slots=True)
class Reconciled:
    """What the sales say together, in rounded figures. `low` to `high` holds the next such price in four of five cases;
    `value` is None where that is too wide to act on. `left_out` counts what was dropped, `again` what stood there
    before. `mean`, `spread` and `median` are of the sales that count.
    """

    rows: tuple[Adjusted, ...]
    mean: float
    spread: float
    median: float
    value: float | None
    low: float
    high: float
    left_out: int
    again: int = 0

    @property
    def little_moved(self) -> int:
        """How many of the sales were moved by no more than half: those are evidence, the others a check."""
        return sum(1 for row in self.rows if row.standing == "evidence")

    def weight_share(self, row: Adjusted) -> float:
        return row.weight / sum(one.weight for one in self.rows)


def adjusted(one: Comparable, retention: float, on: date, market: Market = SHOP_READY) -> Adjusted:
    """One sale in the order of adjustment; `retention` is that of the instrument in hand, `on` the date of
    valuation.
    """
    start = one.price - one.extras
    level = start * market.level[one.kind]
    years = 0.0 if one.kind == "listing" else max(0.0, one.years_before(on))
    dated = level * (1.0 + market.yearly_change * years)
    graded = dated * one.grade
    condition = graded * retention / one.retention
    steps = (one.price, start, level, dated, graded, condition)
    moved = sum(abs(after - before) for before, after in pairwise(steps)) + abs(one.set_up)
    gross = moved / one.price
    weight = market.reliability[one.kind] / (LEAST_GROSS + gross)
    return Adjusted(one, start, level, dated, graded, condition, condition + one.set_up, gross, weight)


def reconcile(
    sales: Sequence[Comparable],
    retention: float,
    on: date,
    market: Market = SHOP_READY,
    *,
    leave_out_much: bool = False,
) -> Reconciled | None:
    """What the sales come to together; None without any that counts. `leave_out_much` drops what moved by over half."""
    single = once(sales, mark)
    every = [adjusted(one, retention, on, market) for one in single]
    rows = _weighed([row for row in every if not (leave_out_much and row.much)])
    counted = [row for row in rows if not row.far]
    if not counted:
        return None
    values, weights = [row.value for row in counted], [row.weight for row in counted]
    total = sum(weights)
    mean = sum(weight * value for weight, value in zip(weights, values, strict=True)) / total
    spread = math.sqrt(sum(weight * (value - mean) ** 2 for weight, value in zip(weights, values, strict=True)) / total)
    middle, ahead = _median(values), math.exp(spread_of(values, weights).ahead(BAND))
    low, high = min(mean / ahead, middle), max(mean * ahead, middle)
    value = told(mean) if high <= NARROW * low else None
    dropped = len(every) - len(rows)
    return Reconciled(rows, mean, spread, middle, value, told(low), told(high), dropped, len(sales) - len(single))


def _weighed(rows: Sequence[Adjusted]) -> tuple[Adjusted, ...]:
    """The rows with the far ones marked, and the weak ones held down."""
    near = near_ones([row.value for row in rows], [not row.much for row in rows])
    found = [replace(row, far=not is_near) for row, is_near in zip(rows, near, strict=True)]
    weights = held_down([0.0 if row.far else row.weight for row in found], [not row.much for row in found])
    return tuple(replace(row, weight=weight) for row, weight in zip(found, weights, strict=True))


def told(amount: float) -> float:
    """Rounded to a hundredth or less of itself: by 1, 2 or 5 of its third figure. More would claim to know more than
    sales can tell; less, and one sale more could move what is printed by a twentieth.
    """
    if amount <= 0:
        return 0.0
    third = 10.0 ** (math.floor(math.log10(amount)) - 2)
    step = third * next(by for by, least in ((5.0, 500.0), (2.0, 200.0), (1.0, 0.0)) if amount / third >= least)
    return round(amount / step) * step


def _median(values: list[float]) -> float:
    ordered = sorted(values)
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2.0
