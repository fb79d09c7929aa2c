"""An offer that is kept: what the shop can give for an instrument, numbered, dated, with what it rests on.

It holds the figures as they were told. Its content never changes; only its state moves, along `MOVES`, and with an
acceptance the way that was chosen.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from ..basis.money import Money, written
from ..basis.problem import Message, Messages, Problem, problem
from ..result.model.result import Result
from ..result.model.score import Finding
from .told import OfferTold, TradeInTold
from .trade_in import Kind, as_said

State = Literal["open", "accepted", "declined", "withdrawn"]
FORMAT = 1
MOVES: Mapping[State, tuple[State, ...]] = {
    "open": ("accepted", "declined", "withdrawn"),
    "accepted": (),
    "declined": (),
    "withdrawn": (),
}
TAKEN: tuple[Kind, ...] = (
    "cash",
    "trade",
)  # by these the instrument is the shop's; on consignment it stays the owner's
MESSAGES: Messages = {
    "offer.move": Message("it is {now} and cannot become {then}.", "Make a new offer."),
    "offer.old": Message("it was valid until {until}.", "Make a new offer; prices may have changed."),
    "offer.no_way": Message("it does not hold that way.", "Choose one of those that are offered."),
}


@dataclass(frozen=True, slots=True)
class Way:
    """One way for the owner, as told: the amount that reaches the owner (rounded as a shop says it where it pays)."""

    kind: Kind
    title: str
    to_owner: Money
    expected: Money
    say: str
    shop_earns: Money


@dataclass(frozen=True, slots=True)
class Seen:
    """What was found, and what the offer takes it as: to be mended (with the work), or what stays in the price."""

    say: str
    taken_as: str


@dataclass(frozen=True, slots=True)
class OfferLetter:
    """`ready`: what it would be marked at when ready. `conditions` hold for every way. `chosen`: of an accepted one."""

    number: str
    made_on: date
    valid_until: date
    evaluation: str
    title: str
    family: str
    size: str
    about: str
    ready: Money
    ready_from: str
    making_ready: Money
    work: Money
    not_seen: Money
    materials: str
    ways: tuple[Way, ...]
    found: tuple[Seen, ...]
    stops: tuple[str, ...]
    conditions: tuple[str, ...]
    seen: float | None
    state: State = "open"
    chosen: Kind | None = None

    def way(self, kind: str) -> Way | None:
        """The way of this kind, where it is open."""
        return next((one for one in self.ways if one.kind == kind and one.to_owner.amount > 0), None)


def letter_of(decision: TradeInTold, shown: Result, evaluation: str, on: date, days: int, rubric: str) -> OfferLetter:
    """The offer of what `trade_in_json` reckoned, valid for so many days; its number is given when it is kept."""
    currency = str(decision.currency)

    def money(value: float) -> Money:
        return Money(Decimal(written(value)), currency)

    return OfferLetter(
        number="",
        made_on=on,
        valid_until=on + timedelta(days=days),
        evaluation=evaluation,
        title=str(decision.title),
        family=rubric,
        size=str(decision.size),
        about=str(decision.about),
        ready=money(decision.ticket_price),
        ready_from=str(decision.ticket_price_from),
        making_ready=money(decision.making_ready),
        work=money(decision.work),
        not_seen=money(decision.not_seen),
        materials=str(decision.materials),
        ways=tuple(_way(one, currency) for one in decision.offers),
        found=found_of(shown),
        stops=tuple(decision.disqualifying),
        conditions=conditions_of(shown),
        seen=shown.verdict.seen,
    )


def _way(one: OfferTold, currency: str) -> Way:
    paid = one.kind in TAKEN
    to_owner = as_said(one.to_owner) if paid else Decimal(round(one.to_owner))
    less = Decimal(written(one.to_owner)) - to_owner if paid else Decimal(0)
    return Way(
        kind=one.kind,
        title=one.title,
        to_owner=Money(to_owner.quantize(Decimal("0.01")), currency),
        expected=Money(to_owner.quantize(Decimal("0.01")) if paid else Decimal(round(one.expected)), currency),
        say=one.say,
        shop_earns=Money(Decimal(written(one.shop_earns)) + max(Decimal(0), less), currency),
    )


def found_of(shown: Result) -> tuple[Seen, ...]:
    """Every fault that was seen, and what it was taken as."""
    planned = {check for line in shown.plan.lines for check in line.cures}
    stays = {one.check: one.left for one in (shown.verdict.lasting.faults if shown.verdict.lasting else ())}
    likely = [one for one in (*shown.disqualifying, *shown.findings) if one.level != "possible" and one.seen]
    return tuple(Seen(_said(one), _taken_as(one, planned, stays)) for one in likely)


def _said(one: Finding) -> str:
    text = f"{one.term}: {one.say}" if one.term else one.say
    return text[:1].upper() + text[1:]


def _taken_as(one: Finding, planned: set[str], stays: Mapping[str, float]) -> str:
    left = stays.get(one.check)
    lasting = f"leaves {100 * left:.0f} of 100 of the value" if left is not None and left < 0.995 else ""
    if one.check in planned:
        return f"mended before it is sold{'; ' + lasting if lasting else ''}"
    if one.class_ == "disqualifying":
        return "stops a sale until it is settled"
    return lasting or "taken as it is"


def conditions_of(shown: Result) -> tuple[str, ...]:
    """What every way hangs on."""
    looks = [check.ask for check in shown.checks if not check.seen and check.kind != "derived"]
    few = f"{len(looks)} things were not looked at. What they usually cost is taken off; the shop looks before it pays."
    return (
        "The owner shows a document, and says in writing that it is theirs to sell and free of debts.",
        "It is handed over as it was seen: with nothing on it changed, taken off or broken since.",
        *([few] if looks else []),
        "A sale on consignment is settled when the buyer has paid.",
    )


def moved(letter: OfferLetter, to: State, on: date, chosen: str = "") -> OfferLetter | Problem:
    """The offer in another state, or why it cannot go there."""
    where = f"offer {letter.number}"
    if to not in MOVES[letter.state]:
        return problem(MESSAGES, "offer.move", where, now=letter.state, then=to)
    if to != "accepted":
        return replace(letter, state=to)
    if on > letter.valid_until:
        return problem(MESSAGES, "offer.old", where, until=f"{letter.valid_until:%d %B %Y}")
    way = letter.way(chosen)
    if way is None or way.kind == "alone":
        return problem(MESSAGES, "offer.no_way", where)
    return replace(letter, state="accepted", chosen=way.kind)
