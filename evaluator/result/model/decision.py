"""What a result advises, at which prices that turns, and what the value of the instrument rests on."""

from dataclasses import dataclass

from ...basis.money import Money
from ...basis.record import Record
from ...rubric.model import Domain
from ...rubric.shop import SaleKind
from ...valuation.model import Advice
from ...valuation.price_guide import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownSale(Record):
    """A sale brought to this instrument step by step; figures are money, `gross` and `weight_share` shares."""

    key: str
    name: str
    kind: SaleKind
    sold_on: str
    note: str
    grade: float
    price: float
    start: float
    after_level: float
    after_date: float
    after_grade: float
    after_condition: float
    value: float
    gross: float
    much: bool
    weight_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownSales(Record):
    """What known sales come to together. `left_out`: how many did not count; `little_moved`: how many are evidence."""

    value: float
    low: float
    high: float
    mean: float
    median: float
    spread: float
    left_out: int
    little_moved: int
    rows: tuple[KnownSale, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LastingFault(Record):
    """A fault that stays in the value after the work: the share of it that is left (0..1)."""

    check: str
    say: str
    left: float
    cause: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lasting(Record):
    """The share of the value that all lasting faults together leave: likely, and between which bounds."""

    left: float
    least: float
    most: float
    faults: tuple[LastingFault, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowing(Record):
    """The advice and its prices if what nobody has looked at costs what it usually does."""

    advice: Advice
    walk_away_price: float
    target_price: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict(Record):
    """The advice (None without a price or a value), the number 1..7 of the test that decided, and where it turns."""

    advice: Advice | None
    sentence: str
    reasons: tuple[str, ...]
    test: int | None
    asking: Money | None
    ready_value: Money | None
    ready_value_from: str | None
    ready_value_kind: Source | None = None
    ready_value_low: float | None = None
    ready_value_high: float | None = None
    known_sales: KnownSales | None = None
    lasting: Lasting | None = None
    walk_away_price: float | None
    target_price: float | None
    probability_worth_it: float | None
    stopped_by: tuple[str, ...]
    say_to_seller: str | None
    change_scope: str | None
    allowing_for_unseen: Allowing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn(Record):
    """The share of the score at which a domain would turn the advice, and to which."""

    domain: Domain
    share_now: float
    share_then: float
    advice: Advice


@dataclass(frozen=True, slots=True, kw_only=True)
class Views(Record):
    """How far other weightings change the result: shares 0..1 of those tried in which it holds."""

    verdict_holds: float | None
    score_band_holds: float
    weights_matter: bool = True
    turns: tuple[Turn, ...] = ()
