"""What a comparison and a trade-in tell, field by field: plain JSON values, drawn by pages, papers and `--json` alike.

Money is a plain number in `currency` here; `amounts.with_amounts` makes texts of it for other programs.
"""

from typing import TypedDict

from ..assessment.model import LookWhy
from ..valuation.model import Advice
from .trade_in import Kind, Materials


class ShopTold(TypedDict):
    """Whose figures: `borrowed` names those that are not the shop's own."""

    name: str
    is_default: bool
    borrowed: list[str]


class SpanTold(TypedDict):
    """A score of 100; `expected` is None where too little was seen."""

    expected: float | None
    low: float
    high: float


class VerdictTold(TypedDict):
    """The decision of one candidate by itself; amounts in its currency, None where there is none."""

    advice: Advice | None
    sentence: str
    ready_value: float | None
    ready_value_from: str | None
    offer: float | None
    ceiling: float | None
    probability_worth_it: float | None
    stopped_by: list[str]


class PartUnseen(TypedDict):
    say: str
    checks: int


class Unseen(TypedDict):
    """Checks that nobody looked at, what they could add in work, and the parts where they are, the fullest first."""

    checks: int
    work: float
    parts: list[PartUnseen]


class LookTold(TypedDict):
    """The look at one candidate that brings most for its minutes."""

    check: str
    ask: str
    minutes: float
    why: LookWhy


class CandidateTold(TypedDict):
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
    stays: list[str]
    unknown: Unseen
    next_look: LookTold | None


class LookNext(TypedDict):
    """The look at one part of one candidate that may change who is ahead, and the chance that it does."""

    name: str
    place: int
    part: str
    say: str
    checks: list[str]
    minutes: float
    chance: float


class ComparisonTold(TypedDict):
    """Candidates side by side, the most often first at the top."""

    format: int
    currency: str
    seed: int
    shop: ShopTold
    sentence: str
    unsettled: bool
    notes: list[str]
    candidates: list[CandidateTold]
    look_next: LookNext | None
    opinion: str


class Months(TypedDict):
    low: float
    high: float


class OfferTold(TypedDict):
    """One way out for the owner."""

    kind: Kind
    title: str
    term: str
    to_owner: float
    expected: float
    shop_earns: float
    say: str


class CashStep(TypedDict):
    say: str
    amount: float
    sum: bool  # `sum` is a function's name


class TradeInTold(TypedDict):
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
    terms: dict[str, object]
    offers: list[OfferTold]
    cash_steps: list[CashStep]
    profits_shop_most: Kind | None
    nothing_left: bool
    disqualifying: list[str]
    opinion: str
    sentence: str
    shop_sentence: str
