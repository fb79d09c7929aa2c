"""Ready value from comparable sales: each is adjusted to the instrument in hand, in a fixed order, then they are
weighed.

Order: extras off; market level; date; grade of making and wood; lasting condition; set-up, in money and last.
Percentages multiply in that order (the sales-comparison approach; common practice, from memory: no fixed number of
comparables is laid down). Weight = reliability of the kind of sale / (0.10 + gross adjustment as a share of the
starting price). Every factor is one shop's opinion: the built-in ones are from memory, and a shop's own sales take
their place.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from ...rubric.shop import LEVEL, TRUST, SaleKind, Shop

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
    made, 0..100, as an evaluation scores workmanship. `key` is its id where it is kept.
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
    key: str = ""


@dataclass(frozen=True, slots=True)
class Adjusted:
    """A sale brought to the instrument in hand, step by step; `gross` is a share of the price, extras counted."""

    comparable: Comparable
    start: float
    after_level: float
    after_date: float
    after_grade: float
    after_condition: float
    value: float
    gross: float
    weight: float

    @property
    def much(self) -> bool:
        return self.gross > MUCH


@dataclass(frozen=True, slots=True)
class Reconciled:
    """What the sales say together. `value` and the band are rounded to two figures; `left_out` counts what was
    dropped.
    """

    rows: tuple[Adjusted, ...]
    mean: float
    spread: float
    median: float
    value: float
    low: float
    high: float
    left_out: int

    @property
    def little_moved(self) -> int:
        """How many of the sales were moved by no more than half: those are evidence, the others a check."""
        return sum(1 for row in self.rows if not row.much)

    def weight_share(self, row: Adjusted) -> float:
        return row.weight / sum(one.weight for one in self.rows)


def adjusted(one: Comparable, retention: float, on: date, market: Market = SHOP_READY) -> Adjusted:
    """One sale in the order of adjustment; `retention` is that of the instrument in hand, `on` the date of
    valuation.
    """
    start = one.price - one.extras
    level = start * market.level[one.kind]
    years = 0.0 if one.kind == "listing" else max(0.0, (on - one.sold_on).days / 365.25)
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
    """Weighted mean, median and band of the sales; None without any. `leave_out_much` drops what moved by over half."""
    every = [adjusted(one, retention, on, market) for one in sales]
    rows = [row for row in every if not (leave_out_much and row.much)]
    if not rows:
        return None
    total = sum(row.weight for row in rows)
    mean = sum(row.weight * row.value for row in rows) / total
    spread = math.sqrt(sum(row.weight * (row.value - mean) ** 2 for row in rows) / total)
    median = _median([row.value for row in rows])
    value = two_figures(mean)
    low, high = two_figures(min(mean - spread, median)), two_figures(max(mean + spread, median))
    return Reconciled(tuple(rows), mean, spread, median, value, low, high, len(every) - len(rows))


def two_figures(amount: float) -> float:
    """Rounded to two leading figures: more would claim to know more than sales can tell."""
    if amount <= 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(amount)) - 1)
    return round(amount / step) * step


def _median(values: list[float]) -> float:
    ordered = sorted(values)
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2.0
