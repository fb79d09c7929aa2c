"""Quotes in the database: offered under a private link, answered, moved along their states. Computes no figure.

What was offered is never edited and consents are only added; the tables refuse both. Every change reads and writes in
one transaction, so of two answers at once the second sees the first.
"""

import hashlib
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from sqlalchemy import ColumnElement, Connection, Engine, Row, insert, select, update

from ..basis.money import Money
from ..basis.problem import Message, Messages, Problem, problem
from ..quoting.answers import Answers
from ..quoting.consent import Chain, Consent, How, agree, state_after
from ..quoting.quote import Quote, State, moved
from ..quoting.records import from_data, to_data
from ..quoting.work_order import WorkOrder
from .engine import reading, writing
from .schema import consents, quotes

TOKEN_BYTES = 18
Ways = Mapping[State, tuple[State, ...]]
CLOCK_SLACK = timedelta(minutes=5)  # as a clock is set by the network now and then
OPEN_STATES: tuple[State, ...] = ("offered", "agreed", "declined", "work_begun")
MESSAGES: Messages = {
    "quote.unknown": Message("there is no such quote.", "Go to the evaluation and make one."),
    "quote.too_old": Message("it was valid until {until}.", "Make the draft anew, then offer it."),
    "quote.no_link": Message("it is {state}.", "Only a quote that is offered has a link to hand out."),
    "quote.waits": Message("it still waits for an answer.", "Wait for it, or withdraw it; then go on."),
    "quote.first_closed": Message("it is {state}.", "More work is added to a quote that is agreed or in work."),
    "quote.clock": Message(
        "the clock of the computer that keeps it shows {shows}, but it was changed on {last}.",
        "Ask the workshop to set its clock right, then answer again; nothing was changed.",
    ),
    "quote.before": Message("the answer before it was given on {last}.", "Write when this one was given."),
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


def more_of(engine: Engine, number: str) -> tuple[KeptQuote, ...]:
    """The second quotes that belong to the quote with this number, in the order of their numbers."""
    with reading(engine) as connection:
        return second_within(connection, number)


def find_quote(engine: Engine, identity: str) -> KeptQuote | None:
    """The quote with this id."""
    with reading(engine) as connection:
        return found_by(connection, quotes.c.id == identity)


def find_by_token(engine: Engine, token: str) -> KeptQuote | None:
    """The quote that this private link opens."""
    with reading(engine) as connection:
        return found_by(connection, quotes.c.token_hash == hash_of(token))


def find_by_number(engine: Engine, number: str) -> KeptQuote | None:
    """The quote with this number."""
    with reading(engine) as connection:
        return found_by(connection, quotes.c.number == number)


def quotes_of(engine: Engine, evaluation: str) -> tuple[KeptQuote, ...]:
    """The quotes of an evaluation, newest first."""
    with reading(engine) as connection:
        return tuple(kept_from(connection, row) for row in rows_of(connection, evaluation))


def successor(engine: Engine, number: str) -> KeptQuote | None:
    """The quote that took the place of the one with this number."""
    with reading(engine) as connection:
        named = quotes.c.record["supersedes"].as_string() == number
        return found_by(connection, named & (quotes.c.state != "draft"))


def offer(engine: Engine, identity: str, now: str) -> Offered | Problem:
    """Offer a draft; the quote that it supersedes goes in the same stroke."""
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        if date.fromisoformat(now[:10]) > kept.quote.valid_until:
            until = f"{kept.quote.valid_until:%d %B %Y}"
            return problem(MESSAGES, "quote.too_old", f"quote {kept.quote.number}", until=until)
        free = moved(kept.quote, "offered")
        gone = free if isinstance(free, Problem) else _superseded(connection, kept.quote.supersedes, now)
        offered = gone if isinstance(gone, Problem) else moved_within(connection, kept, "offered", now)
        return offered if isinstance(offered, Problem) else Offered(offered, _new_token(connection, identity))


def new_link(engine: Engine, identity: str) -> Offered | Problem:
    """Another private link for the same quote; the earlier one opens nothing any more."""
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(MESSAGES, "quote.unknown")
        if kept.quote.state == "draft":
            return problem(MESSAGES, "quote.no_link", f"quote {kept.quote.number}", state="a draft")
        return Offered(kept, _new_token(connection, identity))


def move(engine: Engine, identity: str, to: State, now: str) -> KeptQuote | Problem:
    """Move a quote along its states, or why it cannot go there."""
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        return problem(MESSAGES, "quote.unknown") if kept is None else moved_within(connection, kept, to, now)


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
    whole: Money | None = None,
) -> KeptQuote | tuple[Problem, ...]:
    """Add one consent to the chain and move the quote, or everything that speaks against it; then nothing is written.

    `seen` is the head of the chain on the page that was answered.
    """
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return (problem(MESSAGES, "quote.unknown"),)
        when = not_before(kept, at, now, how)
        if isinstance(when, Problem):
            return (when,)
        chain = agree(kept.chain, seen, kept.quote, answers, by, how, when, ceiling, noted_by, whole)
        if not chain or isinstance(chain[-1], Problem):
            return tuple(one for one in chain if isinstance(one, Problem))
        record = chain[-1]
        connection.execute(insert(consents).values(quote=identity, place=len(chain), record=to_data(record)))
        kept = replace(kept, chain=(*kept.chain, record))
        to = state_after(kept.quote, answers)
        found = kept if to == kept.quote.state else moved_within(connection, kept, to, now)
        if isinstance(found, KeptQuote) and to == "agreed" and _is_in_work(connection, kept.quote.belongs_to):
            found = moved_within(connection, found, "work_begun", now)
        return (found,) if isinstance(found, Problem) else found


def not_before(kept: KeptQuote, at: datetime, now: str, how: How) -> datetime | Problem:
    """The time of an answer, no older than what it answers; refused where the clock stands far behind that.

    What was said or signed bears the time that somebody typed: after the answer before it, on a day of the quote's.
    """
    where, answered = f"quote {kept.quote.number}", [one.at for one in kept.chain]
    last = max([datetime.fromisoformat(kept.changed), *answered])
    clock = datetime.fromisoformat(now)
    if last - clock > CLOCK_SLACK:
        return problem(MESSAGES, "quote.clock", where, shows=f"{clock:%d %B %Y, %H:%M}", last=f"{last:%d %B %Y, %H:%M}")
    if how == "link":
        return max(at, last.astimezone(at.tzinfo))
    if answered and answered[-1] - at > CLOCK_SLACK:
        return problem(MESSAGES, "quote.before", where, last=f"{answered[-1].astimezone(at.tzinfo):%d %B %Y, %H:%M}")
    return max([at, *(one.astimezone(at.tzinfo) for one in answered)])


def hash_of(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def rows_of(connection: Connection, evaluation: str) -> list[Row[object]]:
    query = select(quotes).where(quotes.c.evaluation == evaluation).order_by(quotes.c.number.desc())
    return list(connection.execute(query))


def second_within(connection: Connection, number: str) -> tuple[KeptQuote, ...]:
    """The second quotes of the quote with this number, in their order, within a transaction."""
    query = select(quotes).where(quotes.c.record["belongs_to"].as_string() == number)
    rows = sorted(connection.execute(query), key=lambda row: int(row.number.rpartition("/")[2]))
    return tuple(kept_from(connection, row) for row in rows)


def move_second(connection: Connection, number: str, ways: Ways, now: str) -> None:
    """Take every second quote along its way; those in another state stay."""
    for one in second_within(connection, number):
        here = one
        for to in ways.get(one.quote.state, ()):
            moved_on = moved_within(connection, here, to, now)
            assert isinstance(moved_on, KeptQuote), "ways follow the moves"
            here = moved_on


def _is_in_work(connection: Connection, number: str | None) -> bool:
    first = None if number is None else found_by(connection, quotes.c.number == number)
    return first is not None and first.quote.state == "work_begun"


def found_by(connection: Connection, where: ColumnElement[bool]) -> KeptQuote | None:
    """The quote of which this holds, within a transaction."""
    row = connection.execute(select(quotes).where(where)).first()
    return None if row is None else kept_from(connection, row)


def kept_from(connection: Connection, row: Row[object]) -> KeptQuote:
    """The quote of a row with its answers, within a transaction."""
    query = select(consents.c.record).where(consents.c.quote == row.id).order_by(consents.c.place)
    chain = tuple(from_data(Consent, found.record) for found in connection.execute(query))
    quote = replace(from_data(Quote, row.record), state=row.state)
    work = None if row.work is None else from_data(WorkOrder, row.work)
    return KeptQuote(row.id, row.evaluation, quote, chain, work, row.made, row.changed)


def moved_within(connection: Connection, kept: KeptQuote, to: State, now: str) -> KeptQuote | Problem:
    """The quote moved along its states within a transaction, or why it cannot go there."""
    quote = moved(kept.quote, to)
    if isinstance(quote, Problem):
        return quote
    connection.execute(update(quotes).where(quotes.c.id == kept.id).values(state=to, changed=now))
    return replace(kept, quote=quote, changed=now)


def _superseded(connection: Connection, number: str | None, now: str) -> KeptQuote | Problem | None:
    kept = None if number is None else found_by(connection, quotes.c.number == number)
    if kept is None:
        return None
    ways: Ways = dict.fromkeys(OPEN_STATES, ("superseded",)) | {"draft": ("withdrawn",)}
    move_second(connection, kept.quote.number, ways, now)
    return moved_within(connection, kept, "superseded", now)


def _new_token(connection: Connection, identity: str) -> str:
    token = secrets.token_urlsafe(TOKEN_BYTES)
    connection.execute(update(quotes).where(quotes.c.id == identity).values(token_hash=hash_of(token)))
    return token
