"""The largest sentence of a result: which of them it is follows from the facts, and its amounts are put in.

One offer and one ceiling are all the prices that may be named beside what is asked.
"""

from enum import StrEnum

from ...basis.show import minutes, money
from ...result.model.decision import Reason
from ...result.model.result import Result
from ...valuation.model import Fact
from ..phrases import capital, small
from ..words import found_title
from .prices import paid

MUCH_SEEN = 0.4  # of soundness and set-up: who has seen that much is not told that it is too little


class Headline(StrEnum):
    """Which sentence stands at the top."""

    TWO_CURRENCIES = "two_currencies"
    NOTHING_SEEN = "nothing_seen"
    BUY = "buy"
    SUITS = "suits"
    BARGAIN = "bargain"
    TOO_CHEAP = "too_cheap"
    WIDE = "wide"
    BARELY_SEEN = "barely_seen"
    MINUTES = "minutes"
    STOPPED = "stopped"
    NOTHING_LEFT = "nothing_left"
    NOT_WORTH_IT = "not_worth_it"
    TOO_DEAR = "too_dear"
    LEAVE = "leave"
    LEAVE_AT_THIS = "leave_at_this"
    COSTS_MORE = "costs_more"
    WORTH = "worth"
    NO_WORK = "no_work"
    WORK = "work"


HEADLINES: dict[Headline, str] = {
    Headline.TWO_CURRENCIES: "The prices are not all in {currency}, the currency of the work: "
    "give them in {currency} to compare them.",
    Headline.NOTHING_SEEN: "Nothing has been looked at yet. Begin with ten minutes.",
    Headline.BUY: "A good buy at {asking}.",
    Headline.SUITS: "A fair price: buy it if it suits you, up to {ceiling}.",
    Headline.BARGAIN: "Worth bargaining for: offer {offer}, and pay no more than {ceiling}.",
    Headline.TOO_CHEAP: "Look first: {asking} is far too little for what it seems to be.",
    Headline.WIDE: "Look first: it may be worth far more or far less. Ask somebody who values instruments.",
    Headline.BARELY_SEEN: "Look first: too little of it was seen yet to name a price.",
    Headline.MINUTES: "Look first: {minutes} more may well turn the answer.",
    Headline.STOPPED: "Walk away: {stop}.",
    Headline.NOTHING_LEFT: "Walk away: making it right costs more than it will be worth.",
    Headline.NOT_WORTH_IT: "Walk away: even if all the rest is sound, it is not worth {asking}.",
    Headline.TOO_DEAR: "Walk away, unless the price comes down to about {ceiling}.",
    Headline.LEAVE: "Leave it, whatever the price: {stop}.",
    Headline.LEAVE_AT_THIS: "Leave it, but at the price of such an instrument: {stop}.",
    Headline.COSTS_MORE: "Making it right costs more than it will be worth.",
    Headline.WORTH: "As it stands it is worth up to {ceiling} to you.",
    Headline.NO_WORK: "No work is needed to reach the standard, as far as was seen.",
    Headline.WORK: "About {about} of work brings it to the standard, in four of five cases no more than {most}.",
}


def facts_of(result: Result, *facts: Fact) -> tuple[Reason, ...]:
    """The reasons that are one of these facts, in their order."""
    return tuple(one for one in result.verdict.because if one.fact in facts)


def subject(result: Result, one: Reason) -> str:
    """'Soundpost crack, back: patched'; what an older result says of it in its checks."""
    if one.say is None:
        return found_title(result, one.check or "", one.outcome)
    name = (one.check or "").removeprefix("bow_").replace("_", " ")
    return f"{capital(one.term or name)}: {small(one.say)}"


def sentence(result: Result) -> str:
    """The largest words on the page."""
    verdict, currency = result.verdict, result.plan.currency
    stops = facts_of(result, Fact.STOPS)
    about, most = paid(result)
    return HEADLINES[headline(result)].format(
        currency=currency,
        asking=asking(result),
        offer=money(verdict.offer or 0.0, currency),
        ceiling=money(verdict.ceiling or 0.0, currency),
        minutes=minutes(verdict.turning.minutes) if verdict.turning else "",
        stop=small(subject(result, stops[0])) if stops else "",
        about=money(about, currency),
        most=money(most, currency),
    )


def asking(result: Result) -> str:
    """What is asked, in words."""
    price = result.verdict.asking
    return money(float(price.amount) if price else 0.0, result.plan.currency)


def headline(result: Result) -> Headline:
    """Which sentence stands at the top."""
    verdict = result.verdict
    if _two_currencies(result):
        return Headline.TWO_CURRENCIES
    if untouched(result):
        return Headline.NOTHING_SEEN
    if verdict.advice is None:
        return _without_price(result)
    if verdict.advice == "look_first":
        return _look_first(result)
    if verdict.advice == "walk_away":
        return _walk_away(result)
    return {"buy": Headline.BUY, "buy_if_it_suits": Headline.SUITS, "negotiate": Headline.BARGAIN}[verdict.advice]


def _two_currencies(result: Result) -> bool:
    given = (result.verdict.asking, result.verdict.ready_value)
    return any(one.currency != result.plan.currency for one in given if one is not None)


def untouched(result: Result) -> bool:
    """Whether somebody who means to buy has recorded nothing yet."""
    return result.purpose == "buying" and not result.set_aside and not any(one.observations for one in result.checks)


def _look_first(result: Result) -> Headline:
    verdict = result.verdict
    if facts_of(result, Fact.FAR_TOO_CHEAP):
        return Headline.TOO_CHEAP
    if (
        facts_of(result, Fact.NO_VALUE)
        and (verdict.seen or 0.0) >= MUCH_SEEN
        and not facts_of(result, Fact.BARELY_SEEN)
    ):
        return Headline.WIDE
    if facts_of(result, Fact.NO_VALUE, Fact.BARELY_SEEN) or verdict.turning is None:
        return Headline.BARELY_SEEN
    return Headline.MINUTES


def _walk_away(result: Result) -> Headline:
    if facts_of(result, Fact.STOPS):
        return Headline.STOPPED
    if facts_of(result, Fact.NOTHING_LEFT):
        return Headline.NOTHING_LEFT
    return Headline.TOO_DEAR if result.verdict.ceiling else Headline.NOT_WORTH_IT


def _without_price(result: Result) -> Headline:
    ceiling = result.verdict.ceiling
    if facts_of(result, Fact.STOPS) and result.purpose != "quote":
        return Headline.LEAVE if not ceiling else Headline.LEAVE_AT_THIS
    if ceiling is not None and result.purpose == "buying":
        return Headline.WORTH if ceiling > 0 else Headline.COSTS_MORE
    return Headline.WORK if result.plan.lines else Headline.NO_WORK
