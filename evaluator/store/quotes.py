"""Quotes in the database: kept as drafts, offered under a private link, answered, worked through. Computes no figure.

What was offered is never edited and consents are only added; the tables refuse both. Every change reads and writes in
one transaction, so of two answers at once the second sees the first.
"""

import hashlib
import secrets
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, Engine, Row, func, insert, select, update

from ..basis.message import Message, Messages, problem
from ..basis.money import Money
from ..basis.problem import Problem
from ..estimate.answers import Answers
from ..estimate.consent import Chain, Consent, How, agree, state_after
from ..estimate.quote import Quote, State, moved
from ..estimate.records import from_data, to_data
from ..estimate.work_order import WorkOrder
from .engine import reading, writing
from .schema import consents, quotes

ID_BYTES = 6
TOKEN_BYTES = 18
OPEN_STATES = ("offered", "agreed", "declined", "work_begun")
MESSAGES: Messages = {
    "quote.unknown": Message("there is no such quote.", "Go to the evaluation and make one."),
    "quote.too_old": Message("it was valid until {until}.", "Make the draft anew, then offer it."),
    "quote.no_link": Message("it is {state}.", "Only a quote that is offered has a link to hand out."),
    "quote.not_in_work": Message("its work has not begun.", "Begin the work first; nothing was noted."),
}


@dataclass(frozen=True, slots=True)
class KeptQuote:
    """A quote with all that came of it; `work` is None before the work begins. Times are ISO texts, UTC."""

    id: str
    evaluation: str
    quote: Quote
    chain: Chain
    work: WorkOrder | None
    made: str
    changed: str


@dataclass(frozen=True, slots=True)
class Offered:
    """A quote that is offered now, with the token of its link: told once, only its hash is kept."""

    kept: KeptQuote
    token: str


def keep_draft(engine: Engine, evaluation: str, quote: Quote, now: str) -> str:
    """Keep a draft under the next number of its year, or in the place of this evaluation's draft; gives its id.

    Where an earlier quote of the evaluation is still open, the draft names it as the one to supersede.
    """
    with writing(engine) as connection:
        earlier = _of_evaluation(connection, evaluation)
        before = next((row.number for row in earlier if row.state in OPEN_STATES), None)
        draft = next((row for row in earlier if row.state == "draft"), None)
        number = draft.number if draft else _next_number(connection, quote.made_on.year)
        named = replace(quote, number=number, supersedes=before, state="draft")
        values = {
            "evaluation": evaluation,
            "state": "draft",
            "valid_until": named.valid_until.isoformat(),
            "changed": now,
            "record": to_data(named),
        }
        if draft:
            connection.execute(update(quotes).where(quotes.c.id == draft.id).values(**values))
            return str(draft.id)
        identity = secrets.token_hex(ID_BYTES)
        connection.execute(insert(quotes).values(id=identity, number=number, made=now, **values))
    return identity


def find_quote(engine: Engine, identity: str) -> KeptQuote | None:
    """The quote with this id."""
    with reading(engine) as connection:
        return _found(connection, quotes.c.id == identity)


def find_by_token(engine: Engine, token: str) -> KeptQuote | None:
    """The quote that this private link opens."""
    with reading(engine) as connection:
        return _found(connection, quotes.c.token_hash == hash_of(token))


def find_by_number(engine: Engine, number: str) -> KeptQuote | None:
    """The quote with this number."""
    with reading(engine) as connection:
        return _found(connection, quotes.c.number == number)


def quotes_of(engine: Engine, evaluation: str) -> tuple[KeptQuote, ...]:
    """The quotes of an evaluation, newest first."""
    with reading(engine) as connection:
        return tuple(_kept(connection, row) for row in _of_evaluation(connection, evaluation))


def successor(engine: Engine, number: str) -> KeptQuote | None:
    """The quote that took the place of the one with this number."""
    with reading(engine) as connection:
        named = quotes.c.record["supersedes"].as_string() == number
        return _found(connection, named & (quotes.c.state != "draft"))


def offer(engine: Engine, identity: str, now: str) -> Offered | Problem:
    """Offer a draft; the quote that it supersedes goes in the same stroke."""
    with writing(engine) as connection:
        kept = _found(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        if date.fromisoformat(now[:10]) > kept.quote.valid_until:
            until = f"{kept.quote.valid_until:%d %B %Y}"
            return problem(MESSAGES, "quote.too_old", f"quote {kept.quote.number}", until=until)
        free = moved(kept.quote, "offered")
        gone = free if isinstance(free, Problem) else _superseded(connection, kept.quote.supersedes, now)
        offered = gone if isinstance(gone, Problem) else _move(connection, kept, "offered", now)
        return offered if isinstance(offered, Problem) else Offered(offered, _new_token(connection, identity))


def new_link(engine: Engine, identity: str) -> Offered | Problem:
    """Another private link for the same quote; the earlier one opens nothing any more."""
    with writing(engine) as connection:
        kept = _found(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        if kept.quote.state == "draft":
            return problem(MESSAGES, "quote.no_link", f"quote {kept.quote.number}", state="a draft")
        return Offered(kept, _new_token(connection, identity))


def move(engine: Engine, identity: str, to: State, now: str) -> KeptQuote | Problem:
    """Move a quote along its states, or why it cannot go there."""
    with writing(engine) as connection:
        kept = _found(connection, quotes.c.id == identity)
        return problem(MESSAGES, "quote.unknown") if kept is None else _move(connection, kept, to, now)


def answer(
    engine: Engine,
    identity: str,
    seen: str,
    answers: Answers,
    by: str,
    how: How,
    at: datetime,
    now: str,
    ceiling: Money | None = None,
    noted_by: str | None = None,
) -> KeptQuote | tuple[Problem, ...]:
    """Add one consent to the chain and move the quote, or everything that speaks against it; then nothing is written.

    `seen` is the head of the chain on the page that was answered.
    """
    with writing(engine) as connection:
        kept = _found(connection, quotes.c.id == identity)
        if kept is None:
            return (problem(MESSAGES, "quote.unknown"),)
        chain = agree(kept.chain, seen, kept.quote, answers, by, how, at, ceiling, noted_by)
        if not chain or isinstance(chain[-1], Problem):
            return tuple(one for one in chain if isinstance(one, Problem))
        record = chain[-1]
        connection.execute(insert(consents).values(quote=identity, place=len(chain), record=to_data(record)))
        kept = replace(kept, chain=(*kept.chain, record))
        to = state_after(kept.quote, answers)
        found = kept if to == kept.quote.state else _move(connection, kept, to, now)
        return (found,) if isinstance(found, Problem) else found


def begin_work(engine: Engine, identity: str, order: WorkOrder, now: str) -> KeptQuote | Problem:
    """Begin the agreed work: its order is kept, to be noted on."""
    with writing(engine) as connection:
        kept = _found(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        begun = _move(connection, kept, "work_begun", now)
        return begun if isinstance(begun, Problem) else _write_work(connection, begun, order, now)


def note_work(engine: Engine, identity: str, order: WorkOrder, now: str) -> KeptQuote | Problem:
    """Replace the bench's notes while the quote is in work."""
    with writing(engine) as connection:
        kept = _found(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        if kept.quote.state != "work_begun":
            return problem(MESSAGES, "quote.not_in_work", f"quote {kept.quote.number}")
        return _write_work(connection, kept, order, now)


def hours_noted(engine: Engine) -> dict[str, tuple[float, ...]]:
    """The hours of every job of the orders that are done, in the order in which the quotes were made."""
    query = select(quotes.c.work).where(quotes.c.state == "done").order_by(quotes.c.made, quotes.c.number)
    found: dict[str, list[float]] = {}
    with reading(engine) as connection:
        for row in connection.execute(query):
            for task in from_data(WorkOrder, row.work).tasks if row.work else ():
                if task.hours:
                    found.setdefault(task.job, []).append(task.hours)
    return {job: tuple(hours) for job, hours in found.items()}


def hash_of(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def _of_evaluation(connection: Connection, evaluation: str) -> list[Row[Any]]:
    query = select(quotes).where(quotes.c.evaluation == evaluation).order_by(quotes.c.number.desc())
    return list(connection.execute(query))


def _next_number(connection: Connection, year: int) -> str:
    count = connection.execute(select(func.count()).where(quotes.c.number.like(f"{year}-%"))).scalar_one()
    return f"{year}-{count + 1:04d}"


def _found(connection: Connection, where: Any) -> KeptQuote | None:
    row = connection.execute(select(quotes).where(where)).first()
    return None if row is None else _kept(connection, row)


def _kept(connection: Connection, row: Row[Any]) -> KeptQuote:
    query = select(consents.c.record).where(consents.c.quote == row.id).order_by(consents.c.place)
    chain = tuple(from_data(Consent, found.record) for found in connection.execute(query))
    quote = replace(from_data(Quote, row.record), state=row.state)
    work = None if row.work is None else from_data(WorkOrder, row.work)
    return KeptQuote(row.id, row.evaluation, quote, chain, work, row.made, row.changed)


def _move(connection: Connection, kept: KeptQuote, to: State, now: str) -> KeptQuote | Problem:
    quote = moved(kept.quote, to)
    if isinstance(quote, Problem):
        return quote
    connection.execute(update(quotes).where(quotes.c.id == kept.id).values(state=to, changed=now))
    return replace(kept, quote=quote, changed=now)


def _superseded(connection: Connection, number: str | None, now: str) -> KeptQuote | Problem | None:
    kept = None if number is None else _found(connection, quotes.c.number == number)
    return None if kept is None else _move(connection, kept, "superseded", now)


def _new_token(connection: Connection, identity: str) -> str:
    token = secrets.token_urlsafe(TOKEN_BYTES)
    connection.execute(update(quotes).where(quotes.c.id == identity).values(token_hash=hash_of(token)))
    return token


def _write_work(connection: Connection, kept: KeptQuote, order: WorkOrder, now: str) -> KeptQuote:
    connection.execute(update(quotes).where(quotes.c.id == kept.id).values(work=to_data(order), changed=now))
    return replace(kept, work=order, changed=now)
