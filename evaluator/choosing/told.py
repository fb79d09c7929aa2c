"""What a comparison and a trade-in tell, field by field: figures for reading, and their sentences.

Pages, papers and `--json` draw these. Money is a plain number in `currency` here; `amounts.with_amounts` makes texts of
it for other programs.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from ..assessment.model import LookWhy
from ..valuation.model import Advice
from .trade_in import Kind, Materials


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopTold:
    """Whose figures: `borrowed` names those that are not the shop's own."""

    name: str
    is_default: bool
    borrowed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanTold:
    """A score of 100; `expected` is None where too little was seen."""

    expected: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class VerdictTold:
    """The decision of one candidate by itself; amounts in its currency, None where there is none."""

    advice: Advice | None
    sentence: str
    ready_value_from: str | None
    offer: float | None
    ceiling: float | None
    probability_worth_it: float | None
    ready_value: float | None
    stopped_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUnseen:
    say: str
    checks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Unseen:
    """Checks that nobody looked at, what they could add in work, and the parts where they are, the fullest first."""

    checks: int
    work: float
    parts: tuple[PartUnseen, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LookTold:
    """The look at one candidate that brings most for its minutes."""

    check: str
    ask: str
    minutes: float
    why: LookWhy


@dataclass(frozen=True, slots=True, kw_only=True)
class CandidateTold:
    """One candidate. `place`: its number, from 0, among those given; shares and chances are 0..1."""

    place: int
    name: str
    size: str
    tier: str
    family: str
    asking: float
    work: float
    cost_to_own: float
    cost_to_own_p80: float
    counted_cost: float
    score: SpanTold
    score_after_work: SpanTold
    verdict: VerdictTold
    first_share: float
    coverage: float
    worst: str | None
    stays: tuple[str, ...]
    unknown: Unseen
    next_look: LookTold | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LookNext:
    """The look at one part of one candidate that may change who is ahead, and the chance that it does."""

    name: str
    place: int
    part: str
    say: str
    checks: tuple[str, ...]
    minutes: float
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparisonTold:
    """Candidates side by side, the most often first at the top."""

    format: int
    currency: str
    seed: int
    shop: ShopTold
    sentence: str
    unsettled: bool
    notes: tuple[str, ...]
    candidates: tuple[CandidateTold, ...]
    look_next: LookNext | None
    opinion: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Months:
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferTold:
    """One way out for the owner."""

    kind: Kind
    title: str
    term: str
    to_owner: float
    expected: float
    shop_earns: float
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CashStep:
    say: str
    amount: float
    sum: bool  # `sum` is a function's name


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeInTold:
    """What a shop can give: `seen` 0..1 of what tells whether it is sound and plays, None where no result says it."""

    format: int
    title: str | None
    family: str
    size: str
    about: str
    currency: str
    shop: ShopTold
    materials: Materials
    ticket_price: float
    ticket_price_from: str | None
    new_price: float
    sale_price: float
    making_ready: float
    work: float
    not_seen: float
    seen: float | None
    months_to_sell: Months | None
    chance_of_sale: float
    terms: Mapping[str, object]
    offers: tuple[OfferTold, ...]
    cash_steps: tuple[CashStep, ...]
    profits_shop_most: Kind | None
    nothing_left: bool
    disqualifying: tuple[str, ...]
    opinion: str
    sentence: str
    shop_sentence: str
