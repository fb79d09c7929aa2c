"""Consent to a quote: who agreed to what, when and how, as a chain of records that shows any later change.

Each record carries the quote's fingerprint and the hash of the record before it; altering one breaks every hash after
it. Nothing above the agreed ceiling is done without a new consent. Time comes in as an argument.
"""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import date, datetime
from typing import Literal

from ..basis.frozen import dataclass
from ..basis.money import Money, total_of
from ..basis.problem import Message, Messages, Problem, problem
from ..basis.show import money
from ..basis.typed.signs import sign_problem
from .answers import Answer, Answers, standing, totals, wrong_answers
from .quote import STATE_WORDS, Quote, State

How = Literal["link", "spoken", "on_paper"]
START = "0" * 64

MESSAGES: Messages = {
    "consent.not_offered": Message("it is {state}.", "{advice}"),
    "consent.expired": Message("it was valid until {until}.", "Ask for a new one; prices may have changed."),
    "consent.meanwhile": Message(
        "somebody answered it a moment ago.", "Look at that answer, then answer again if it should change."
    ),
    "consent.ceiling": Message(
        "the agreed lines come to {total}, above the ceiling of {ceiling}.",
        "Raise the ceiling or say no to a line; nothing was changed.",
    ),
    "consent.nothing": Message("no line is answered.", "Say yes, no or later to each line."),
    "consent.altered": Message(
        "answer {which} to it, or the quote itself, was changed after it was given.",
        "Agree anew with a new quote; do no work on it.",
    ),
    "consent.name": Message("nobody is named.", "Write who agrees."),
    "consent.noted_by": Message("a spoken yes needs the name of who noted it.", "Write who took the call."),
    "consent.beyond": Message(
        "with “{say}” the work would come to {total}, above the ceiling of {ceiling}.",
        "Stop, keep it safe, and send a second quote for the extra.",
    ),
}


@dataclass(frozen=True, slots=True)
class Consent:
    """One answer to a quote. `at` is local time with its offset; `noted_by` is set for a spoken yes.

    `whole`: of an answer to a second quote, the ceiling for all that is agreed together, as the customer set it.
    """

    quote: str
    fingerprint: str
    answers: tuple[tuple[str, Answer], ...]
    total: Money
    ceiling: Money
    by: str
    how: How
    at: datetime
    noted_by: str | None
    before: str
    hash: str = ""
    whole: Money | None = None

    def own_hash(self) -> str:
        """SHA-256 over the record without its hash, in hexadecimal."""
        content = asdict(replace(self, hash=""))
        if self.whole is None:
            del content["whole"]  # as it was before there was such a field
        return hashlib.sha256(json.dumps(content, sort_keys=True, default=str).encode()).hexdigest()


Chain = tuple[Consent, ...]


def head(chain: Sequence[Consent]) -> str:
    """The hash that the next record must name."""
    return chain[-1].hash if chain else START


def agree(
    chain: Chain,
    seen: str,
    quote: Quote,
    answers: Answers,
    by: str,
    how: How,
    at: datetime,
    ceiling: Money | None = None,
    noted_by: str | None = None,
    whole: Money | None = None,
) -> Chain | tuple[Problem, ...]:
    """The chain with one more record, or everything that speaks against it; then nothing is changed.

    `seen` is the head of the chain when the answering page was made: if it has moved on, somebody else answered.
    """
    limit = quote.ceiling if ceiling is None else ceiling
    total = totals(quote, standing(quote, answers)).total
    problems = [*_not_open(quote, at.date()), *wrong_answers(quote, answers)]
    where = f"quote {quote.number}"
    altered = first_wrong(quote, chain)
    if altered is not None:
        problems.append(problem(MESSAGES, "consent.altered", where, which=altered + 1))
    if not answers:
        problems.append(problem(MESSAGES, "consent.nothing", where))
    if seen != head(chain):
        problems.append(problem(MESSAGES, "consent.meanwhile", where))
    problems += wrong_names(quote, by, how, noted_by)
    if limit < total:
        problems.append(problem(MESSAGES, "consent.ceiling", where, total=_say(total), ceiling=_say(limit)))
    if problems:
        return tuple(problems)
    record = Consent(
        quote.number, quote.fingerprint(), tuple(sorted(answers.items())), total, limit, by.strip(), how, at,
        noted_by, head(chain), whole=whole,
    )  # fmt: skip
    return (*chain, replace(record, hash=record.own_hash()))


def wrong_names(quote: Quote, by: str, how: How, noted_by: str | None = None) -> list[Problem]:
    """What is missing of who agreed, and of who noted what was only said."""
    codes = [] if by.strip() else ["consent.name"]
    if how == "spoken" and not (noted_by or "").strip():
        codes.append("consent.noted_by")
    where = f"quote {quote.number}"
    strange = sign_problem(by + (noted_by or ""), where)
    return [problem(MESSAGES, code, where) for code in codes] + ([strange] if strange else [])


def state_after(quote: Quote, answers: Answers) -> State:
    """Agreed as soon as one line stands; declined by a no without any yes; still offered while all is put off."""
    if standing(quote, answers):
        return "agreed"
    return "declined" if "no" in answers.values() and "later" not in answers.values() else "offered"


def first_altered(chain: Sequence[Consent]) -> int | None:
    """Place of the first record that was changed, left out before or moved; None where the chain is whole."""
    before = START
    for place, record in enumerate(chain):
        if record.before != before or record.hash != record.own_hash():
            return place
        before = record.hash
    return None


def first_wrong(quote: Quote, chain: Sequence[Consent]) -> int | None:
    """Place of the first record that was changed, or that was given to another content than the quote's; None where
    all hold.
    """
    altered = first_altered(chain)
    if altered is not None:
        return altered
    mark = quote.fingerprint()
    return next((place for place, record in enumerate(chain) if record.fingerprint != mark), None)


def whole_ceiling(first: Consent, more: Sequence[Consent]) -> Money:
    """The ceiling for all that is agreed: what the customer said last for all of it. A second quote that was answered
    before that was asked brings its own.
    """
    ceiling = first.ceiling
    for one in sorted(more, key=lambda record: record.at):
        if one.total.amount:
            ceiling = ceiling + one.ceiling if one.whole is None else one.whole
    return ceiling


def beyond(
    quote: Quote, consent: Consent, extra: str, more: Sequence[Consent] = (), adds: Money | None = None
) -> Problem | None:
    """Why an extra may not be begun yet: it would pass the agreed ceiling. None where there is room for it.

    `more`: what was agreed besides, in second quotes. `adds`: what the extra adds before tax, less what it takes the
    place of; without it its own price.
    """
    one = next((one for one in quote.extras if one.job == extra), None)
    if one is None:
        return None
    net = one.price if adds is None else adds
    price = net + net.times(max(quote.terms.labour_tax, quote.terms.parts_tax)).rounded()
    agreed = [consent, *(record for record in more if record.total.amount)]
    total = price + total_of((record.total for record in agreed), price.currency)
    ceiling = whole_ceiling(consent, more)
    if total <= ceiling:
        return None
    where = f"quote {quote.number}"
    return problem(MESSAGES, "consent.beyond", where, say=one.say, total=_say(total), ceiling=_say(ceiling))


def _not_open(quote: Quote, on: date) -> list[Problem]:
    where = f"quote {quote.number}"
    if quote.state != "offered":
        newer = quote.state == "superseded"
        advice = "Open the newer one." if newer else "Only a quote that is offered can be answered."
        return [problem(MESSAGES, "consent.not_offered", where, state=STATE_WORDS[quote.state], advice=advice)]
    if on > quote.valid_until:
        return [problem(MESSAGES, "consent.expired", where, until=f"{quote.valid_until:%d %B %Y}")]
    return []


def _say(amount: Money) -> str:
    return money(amount.amount, amount.currency, cents=True)
