"""A quote with its second quotes: which is first, what is agreed in all of them, and what it comes to together."""

from dataclasses import dataclass

from ...basis.money import Money
from ...basis.problem import Message, Messages, Problem, problem
from ...estimate.lines import MINIMUM
from ...quoting.answers import Answers, standing, totals
from ...quoting.quote import AGREED, QuoteLine
from ...quoting.supplement import Joint, held_lines, joint
from ...store.quotes import KeptQuote, find_by_number, more_of
from ...wording.quotes import cents
from ..service import service

MESSAGES: Messages = {
    "consent.whole": Message(
        "all together comes to {both}, above the {ceiling} that was set as the most.",
        "Write the most that holds from now on for all of it.",
    ),
    "consent.whole_typed": Message(
        "all together comes to {both}, above the ceiling of {ceiling}.",
        "Raise the ceiling or say no to a line; nothing was changed.",
    ),
}


def answers_of(kept: KeptQuote) -> Answers:
    """The last answers to it; none before anybody answered."""
    return dict(kept.chain[-1].answers) if kept.chain else {}


def first_of(kept: KeptQuote) -> KeptQuote:
    """The quote that this one belongs to, or itself."""
    number = kept.quote.belongs_to
    found = find_by_number(service().engine, number) if number else None
    return found or kept


def second_quotes(first: KeptQuote) -> tuple[KeptQuote, ...]:
    """The second quotes of a first one; of a second one none."""
    return () if first.quote.belongs_to else more_of(service().engine, first.quote.number)


def agreed_more(first: KeptQuote) -> tuple[KeptQuote, ...]:
    """The second quotes of which something was agreed."""
    return tuple(one for one in second_quotes(first) if one.quote.state in AGREED and one.chain)


def held_of(first: KeptQuote) -> tuple[QuoteLine, ...]:
    """Every line that is agreed, in the first and in its second quotes."""
    return held_lines((one.quote, answers_of(one)) for one in (first, *agreed_more(first)))


def held_back(first: KeptQuote) -> dict[str, str]:
    """Agreed work that an open second quote may take the place of, with that one's number."""
    return {
        line.takes_off: one.quote.number
        for one in second_quotes(first)
        if one.quote.state in ("draft", "offered")
        for line in one.quote.lines
        if line.takes_off
    }


def topped_up(first: KeptQuote) -> Money | None:
    """What was charged up to the least of an order and has not come off again."""
    if any(line.takes_off == MINIMUM for one in agreed_more(first) for line in standing(one.quote, answers_of(one))):
        return None
    return totals(first.quote, standing(first.quote, answers_of(first))).minimum


def joint_of(kept: KeptQuote) -> Joint | None:
    """First and second quotes together, with the one that waits; None where the first is not agreed or stands alone."""
    first = first_of(kept)
    if first.quote.state not in AGREED or not first.chain:
        return None
    family = second_quotes(first)
    more = [one.chain[-1] for one in family if one.quote.state in AGREED and one.chain]
    waiting = next((one.quote for one in family if one.quote.state == "offered"), None)
    if waiting is None and kept.quote.belongs_to and kept.quote.state == "draft":
        waiting = kept.quote
    return joint(first.chain[-1], more, waiting) if more or waiting else None


@dataclass(frozen=True, slots=True)
class Limits:
    """How far the workshop may go: `ceiling` for this quote; `whole` for all together, of a second quote."""

    ceiling: Money | None
    whole: Money | None = None


def limits(kept: KeptQuote, answers: Answers, typed: Money | None) -> Limits | Problem:
    """The ceilings that go with these answers. For a second quote the typed one is for all together; without one what
    the customer set before holds on, and where that is too little it is asked for: nothing else moves it.
    """
    first = first_of(kept)
    found = standing(kept.quote, answers)
    if first is kept or not first.chain:
        return Limits(typed or (totals(kept.quote, found).up_to if found else None))
    was = joint(first.chain[-1], [one.chain[-1] for one in agreed_more(first) if one.id != kept.id])
    if not found:
        return Limits(None)
    total = totals(kept.quote, found).total
    both = was.agreed + total
    whole = typed or was.ceiling
    if whole < both:
        code = "consent.whole" if typed is None else "consent.whole_typed"
        where = f"quote {kept.quote.number}"
        return problem(MESSAGES, code, where, both=cents(both), ceiling=cents(whole))
    return Limits(max(total, Money(total.amount * 0, total.currency), key=lambda one: one.amount), whole)
