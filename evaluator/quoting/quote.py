"""A quote: an estimate frozen with prices in money, answered line by line, and never edited once it is offered.

A changed quote is a new one that supersedes the old. Each line's price is the mean of its range, to the cent; the
ceiling stands at the level that four of five orders stay under. Tax is reckoned once an invoice by class (labour,
parts), and the total is rounded once; every figure between adds up to the cent.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from datetime import date
from typing import Literal

from ..basis.chance import quantile
from ..basis.frozen import dataclass
from ..basis.money import Money, Rounding, money_of
from ..basis.problem import Message, Messages, Problem, problem
from ..estimate.model import Cost
from ..estimate.pert import Draws, own_generator
from ..rubric.written.kinds import Urgency
from .quote_parts import QuotePart

State = Literal["draft", "offered", "agreed", "declined", "work_begun", "done", "superseded", "withdrawn"]
Group = Literal["required", "recommended", "rest"]

MOVES: dict[State, tuple[State, ...]] = {
    "draft": ("offered", "withdrawn"),
    "offered": ("agreed", "declined", "superseded", "withdrawn"),
    "agreed": ("work_begun", "superseded"),
    "declined": ("superseded",),
    "work_begun": ("done", "superseded"),
    "done": (),
    "superseded": (),
    "withdrawn": (),
}
AGREED: tuple[State, ...] = ("agreed", "work_begun", "done")  # the states in which work is agreed
STATE_WORDS: dict[State, str] = {
    "draft": "a draft",
    "offered": "offered",
    "agreed": "agreed",
    "declined": "declined",
    "work_begun": "in work",
    "done": "done",
    "superseded": "replaced by a newer one",
    "withdrawn": "withdrawn",
}
OFF = "off_"  # before the id of what a credit takes off
# Fields that came later, each with its first value: then it is left out of the fingerprint, which stays what it was.
LATER: Mapping[str, object] = {
    "belongs_to": None, "used": (), "hours_likely": 0.0, "units": 1, "own_jobs": 0, "listed": None, "free": False,
    "left_out": (), "prices": "net", "borrowed": (), "contact": (), "tax_number": None, "conditions": (),
    "own_orders": 0,
}  # fmt: skip
MESSAGES: Messages = {
    "quote.move": Message("it is {now} and cannot become {then}.", "{advice}"),
    "quote.unknown_line": Message('there is no line "{job}" on it.', "Answer the lines that are on it."),
}
WORLDS = 4_000


@dataclass(frozen=True, slots=True)
class Listed:
    """What the catalogue says of a line that the workshop changed."""

    say: str
    hours_likely: float
    labour: Money
    parts: Money


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A line that the workshop took off the draft, in its words, and why; `with_it`: what hung on it and went too."""

    job: str
    say: str
    reason: str
    with_it: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line. `asks`: for each thing that it cannot do without, the jobs one of which must be done too.

    `labours`: for each shared labour that it needs, the ids one of which is charged. `price` = `labour` + `parts`; it
    is below zero where agreed work falls away (a credit). `own_jobs`: how many of the shop's own jobs its hours were
    learnt from, 0 where they are the catalogue's. `listed` where the workshop changed it; `free`: of no catalogue.
    """

    job: str
    say: str
    plain: str
    shared: bool
    group: Group
    urgency: Urgency
    because: tuple[str, ...]
    forced_by: str | None
    labour: Money
    parts: Money
    cost: Cost
    asks: tuple[tuple[str, ...], ...] = ()
    labours: tuple[tuple[str, ...], ...] = ()
    parts_named: tuple[str, ...] = ()
    if_left: str | None = None
    warranty: str | None = None
    contact_first: str | None = None
    cautions: tuple[str, ...] = ()
    used: tuple[QuotePart, ...] = ()
    hours_likely: float = 0.0
    units: int = 1
    own_jobs: int = 0
    listed: Listed | None = None
    free: bool = False

    @property
    def price(self) -> Money:
        return self.labour + self.parts

    @property
    def is_credit(self) -> bool:
        """Whether it takes money off, for agreed work that falls away."""
        return self.price.amount < 0

    @property
    def takes_off(self) -> str | None:
        """The job or shared labour of an earlier quote that a credit takes off; None for a line that is none."""
        return self.job.removeprefix(OFF) if self.is_credit else None


@dataclass(frozen=True, slots=True)
class QuoteExtra:
    """What may come on top, outside every total; it needs a consent of its own. `own_orders`: how many done orders of
    the shop's own moved its chance, 0 for none.
    """

    job: str
    say: str
    chance: float
    price: Money
    when: str
    known: str | None
    own_orders: int = 0


@dataclass(frozen=True, slots=True)
class Terms:
    """The shop's terms as they stood when the quote was made. `rush`: share added to labour, 0 without haste.

    `prices`: whether a customer sees each price with tax (gross) or without. `borrowed`: names of figures that are the
    default's. `contact`: lines of address, telephone and mail. `conditions`: what the shop says of its own accord.
    """

    shop: str
    currency: str
    labour_tax: float
    parts_tax: float
    rounding: Rounding
    minimum: Money
    rush: float
    correlation: float
    seed: int
    exclusions: tuple[str, ...]
    deposits: tuple[tuple[Money, float], ...]
    prices: Literal["net", "gross"] = "net"
    borrowed: tuple[str, ...] = ()
    contact: tuple[str, ...] = ()
    tax_number: str | None = None
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Quote:
    """A numbered offer. Its content never changes: only `state` moves, along `MOVES`.

    `belongs_to`: the number of the quote whose work this one adds to; None for a quote of its own. `left_out`: what the
    workshop took off, and why.
    """

    number: str
    made_on: date
    valid_until: date
    about: str
    lines: tuple[QuoteLine, ...]
    extras: tuple[QuoteExtra, ...]
    terms: Terms
    ceiling: Money
    supersedes: str | None = None
    state: State = "draft"
    belongs_to: str | None = None
    left_out: tuple[LeftOut, ...] = ()

    def line(self, job: str) -> QuoteLine | None:
        return next((line for line in self.lines if line.job == job), None)

    def fingerprint(self) -> str:
        """SHA-256 over everything but the state, in hexadecimal."""
        content = _as_before(asdict(replace(self, state="draft")))
        return hashlib.sha256(json.dumps(content, sort_keys=True, default=str).encode()).hexdigest()


def moved(quote: Quote, to: State) -> Quote | Problem:
    """The quote in another state, or why it cannot go there."""
    if to in MOVES[quote.state]:
        return replace(quote, state=to)
    ways = [STATE_WORDS[state] for state in MOVES[quote.state]]
    advice = f"From here it can only become {' or '.join(ways)}." if ways else "Make a new quote."
    now, then = STATE_WORDS[quote.state], STATE_WORDS[to]
    return problem(MESSAGES, "quote.move", f"quote {quote.number}", now=now, then=then, advice=advice)


def ceiling_of(quote: Quote) -> Money:
    """Where the shop stops and asks: what four of five orders of the required lines stay under; of all, if none is."""
    required = [line for line in quote.lines if line.group == "required"]
    return up_to(quote, required or quote.lines)


def up_to(quote: Quote, lines: Iterable[QuoteLine]) -> Money:
    """What the lines with tax stay under in four of five cases: drawn together, never a sum of highs."""
    terms = quote.terms
    drawn = Draws(terms.correlation, terms.seed, WORLDS)
    found = tuple(lines)
    rate = {"labour": (1.0 + terms.rush) * (1.0 + terms.labour_tax) - 1.0, "parts": terms.parts_tax}
    taxed = [(line.job, _scaled(line, rate)) for line in found]
    level = quantile(drawn.total(taxed), 0.8) if taxed else 0.0
    return max((money_of(level, terms.currency), terms.minimum), key=lambda money: money.amount).rounded(terms.rounding)


def up_to_with_extras(quote: Quote, lines: Iterable[QuoteLine]) -> Money:
    """The same with what could come on top, each extra by its chance and its price: never below `up_to`."""
    terms = quote.terms
    found = tuple(lines)
    rate = {"labour": (1.0 + terms.rush) * (1.0 + terms.labour_tax) - 1.0, "parts": terms.parts_tax}
    drawn = Draws(terms.correlation, terms.seed, WORLDS).total([(line.job, _scaled(line, rate)) for line in found])
    here = {line.job for line in found}
    for extra in quote.extras:
        if extra.job not in here:
            comes = own_generator(terms.seed, f"extra {extra.job}").random(WORLDS) < extra.chance
            drawn = drawn + comes * float(extra.price.amount) * (1.0 + max(terms.labour_tax, terms.parts_tax))
    level = money_of(quantile(drawn, 0.8), terms.currency).rounded(terms.rounding)
    return max((level, up_to(quote, found)), key=lambda money: money.amount)


def _scaled(line: QuoteLine, rate: Mapping[str, float]) -> Cost:
    """The line's range with haste and tax, by its split into labour and parts."""
    whole = float(line.price.amount)
    if not whole:
        return line.cost
    factor = 1.0 + (float(line.labour.amount) * rate["labour"] + float(line.parts.amount) * rate["parts"]) / whole
    cost = line.cost
    return Cost(cost.low * factor, cost.likely * factor, cost.high * factor, cost.mean * factor, cost.sd * factor)


def _as_before(content: object) -> object:
    """A record's values without the fields of `LATER` that hold their first value."""
    if isinstance(content, dict):
        return {name: _as_before(value) for name, value in content.items() if name not in LATER or value != LATER[name]}
    return [_as_before(one) for one in content] if isinstance(content, list | tuple) else content
