"""What programs are given. Amounts of money are texts with two decimals or more, their currency beside."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from ...basis.money import Money, written
from ...quoting.quote import State
from ...rubric.shop import SaleKind
from ...rubric.written.kinds import Family, Kind, Looker, Tier
from ...store.known_sales import KeptSale
from .problems import Mistake


class Given(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Amount(Given):
    amount: str
    currency: str


class Summary(Given):
    """An evaluation in a list. Times are ISO 8601, UTC."""

    id: str
    version: int
    state: Literal["draft", "finished"]
    title: str
    rubric: str
    created: str
    changed: str
    made_from: str | None


class Evaluation(Summary):
    """An evaluation with its `file` as the command line takes it; `unreadable`: answers that do not count."""

    file: dict[str, object]
    unreadable: tuple[Mistake, ...]


class EvaluationsListed(Given):
    evaluations: tuple[Summary, ...]


class OutcomeNamed(Given):
    outcome: str
    say: str


class CheckAsked(Given):
    """A check that can be answered: `outcomes` by id and words, or a reading in `unit`."""

    check: str
    part: str
    ask: str
    term: str | None
    kind: Kind
    who: Looker
    minutes: float
    unit: str | None
    outcomes: tuple[OutcomeNamed, ...]


class RubricGiven(Given):
    rubric: str
    family: Family
    version: str
    sizes: tuple[str, ...]
    checks: tuple[CheckAsked, ...]


class LineGiven(Given):
    job: str
    say: str
    group: Literal["required", "recommended", "rest"]
    shared: bool
    labour: Amount
    parts: Amount
    price: Amount
    hours: float


class QuoteTotals(Given):
    """An invoice of the lines of a group: net, tax and total add up."""

    labour: Amount
    parts: Amount
    tax: Amount
    total: Amount


class Quote(Given):
    """A quote. `totals` of the required lines, with what is recommended, and for all; `fingerprint` of its content."""

    id: str
    number: str
    evaluation: str
    state: State
    made_on: str
    valid_until: str
    about: str
    ceiling: Amount
    fingerprint: str
    lines: tuple[LineGiven, ...]
    totals: dict[str, QuoteTotals]
    answers: dict[str, Literal["yes", "no", "later"]]


class Offered(Given):
    """A quote that is offered, with its private link: it is given once."""

    quote: Quote
    link: str


class Sale(Given):
    """A sale of the book."""

    id: str
    version: int
    name: str
    sold_on: str
    kind: SaleKind
    price: Amount
    family: Family | Literal[""]
    size: str
    tier: Tier | Literal[""]
    extras: Amount
    grade: float
    retention: float
    set_up: Amount
    made: float | None
    making: str
    note: str


class Sales(Given):
    sales: tuple[Sale, ...]


class SalesAdded(Given):
    """How many went into the book, and how many stood there already."""

    added: int
    there_already: int


class WayOut(Given):
    """One way for the owner: what reaches the owner, what that comes to with the chance of a sale, and the terms."""

    kind: Literal["cash", "trade", "consignment", "alone"]
    title: str
    to_owner: Amount
    expected: Amount
    say: str


class FoundGiven(Given):
    """What was found, and what the offer takes it as."""

    say: str
    taken_as: str


class Offer(Given):
    """An offer that is kept: the ways beside each other, and what they rest on. `chosen`: of an accepted one."""

    id: str
    number: str
    evaluation: str
    state: Literal["open", "accepted", "declined", "withdrawn"]
    made_on: str
    valid_until: str
    title: str
    ready: Amount
    ready_from: str
    work: Amount
    not_seen: Amount
    ways: tuple[WayOut, ...]
    found: tuple[FoundGiven, ...]
    conditions: tuple[str, ...]
    chosen: Literal["cash", "trade", "consignment", "alone"] | None


class OffersListed(Given):
    offers: tuple[Offer, ...]


def amount(value: Money) -> Amount:
    return Amount(amount=f"{value.amount:.2f}", currency=value.currency)


def sale_given(kept: KeptSale) -> Sale:
    one = kept.sale
    return Sale(
        id=one.key,
        version=kept.version,
        name=one.name,
        sold_on=one.sold_on.isoformat(),
        kind=one.kind,
        price=reckoned(one.price, one.currency),
        family=one.family,
        size=one.size,
        tier=one.tier,
        extras=reckoned(one.extras, one.currency),
        grade=one.grade,
        retention=one.retention,
        set_up=reckoned(one.set_up, one.currency),
        made=one.made,
        making=one.making,
        note=one.note,
    )


def reckoned(value: float, currency: str) -> Amount:
    """A reckoned figure as an amount, to the cent."""
    return Amount(amount=written(value), currency=currency)
