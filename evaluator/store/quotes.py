"""Quotes in the database: kept as drafts, offered under a private link, answered. Computes no figure.

What was offered is never edited and consents are only added; the tables refuse both. Every change reads and writes in
one transaction, so of two answers at once the second sees the first.
"""

import hashlib
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from sqlalchemy import ColumnElement, Connection, Engine, Row, func, insert, select, update

from ..basis.money import Money
from ..basis.problem import Message, Messages, Problem, problem
from ..quoting.answers import Answers
from ..quoting.consent import Chain, Consent, How, agree, state_after
from ..quoting.quote import STATE_WORDS, Quote, State, moved
from ..quoting.records import from_data, to_data
from ..quoting.work_order import WorkOrder
from .engine import reading, writing
from .schema import consents, quotes
from .workshop.changes import rebased

ID_BYTES = 6
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


def keep_draft(engine: Engine, evaluation: str, quote: Quote, now: str) -> str:
    """Keep a draft under the next number of its year, or in the place of this evaluation's draft; gives its id.

    Where an earlier quote of the evaluation is still open, the draft names it as the one to supersede.
    """
    with writing(engine) as connection:
        earlier = [row for row in _of_evaluation(connection, evaluation) if row.record.get("belongs_to") is None]
        before = next((row.number for row in earlier if row.state in OPEN_STATES), None)
        draft = next((row for row in earlier if row.state == "draft"), None)
        number = draft.number if draft else _next_number(connection, quote.made_on.year)
        named = replace(quote, number=number, supersedes=before, state="draft")
        return _rewritten(connection, draft.id, named, now) if draft else _inserted(connection, evaluation, named, now)


def keep_more(engine: Engine, quote: Quote, now: str) -> str | Problem:
    """Keep the draft of a second quote under the next number of its first, or in the place of its draft; gives its id.

    Refused while another second quote waits for an answer: the two could charge for the same thing.
    """
    with writing(engine) as connection:
        first = found_by(connection, quotes.c.number == quote.belongs_to)
        if first is None:
            return problem(MESSAGES, "quote.unknown")
        if first.quote.state not in ("agreed", "work_begun"):
            state = STATE_WORDS[first.quote.state]
            return problem(MESSAGES, "quote.first_closed", f"quote {first.quote.number}", state=state)
        others = second_within(connection, first.quote.number)
        waiting = next((one for one in others if one.quote.state == "offered"), None)
        if waiting is not None:
            return problem(MESSAGES, "quote.waits", f"quote {waiting.quote.number}")
        draft = next((one for one in others if one.quote.state == "draft"), None)
        number = draft.quote.number if draft else f"{first.quote.number}/{len(others) + 1}"
        named = replace(quote, number=number, state="draft")
        if draft:
            return _rewritten(connection, draft.id, named, now)
        return _inserted(connection, first.evaluation, named, now)


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
        return tuple(kept_from(connection, row) for row in _of_evaluation(connection, evaluation))


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


def _of_evaluation(connection: Connection, evaluation: str) -> list[Row[object]]:
    query = select(quotes).where(quotes.c.evaluation == evaluation).order_by(quotes.c.number.desc())
    return list(connection.execute(query))


def _inserted(connection: Connection, evaluation: str, quote: Quote, now: str) -> str:
    identity = secrets.token_hex(ID_BYTES)
    values = {"id": identity, "number": quote.number, "evaluation": evaluation, "made": now}
    connection.execute(insert(quotes).values(**values, **_draft_values(quote, now)))
    return identity


def _rewritten(connection: Connection, identity: str, quote: Quote, now: str) -> str:
    """The draft reckoned anew, with what the workshop changed on it."""
    quote = rebased(connection, identity, quote)
    connection.execute(update(quotes).where(quotes.c.id == identity).values(**_draft_values(quote, now)))
    return identity


def _draft_values(quote: Quote, now: str) -> dict[str, object]:
    until = quote.valid_until.isoformat()
    return {"state": "draft", "valid_until": until, "changed": now, "record": to_data(quote)}


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


def _next_number(connection: Connection, year: int) -> str:
    own = quotes.c.number.like(f"{year}-%") & quotes.c.number.not_like("%/%")
    count = connection.execute(select(func.count()).where(own)).scalar_one()
    return f"{year}-{count + 1:04d}"


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
