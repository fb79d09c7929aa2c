"""Drafts of quotes: kept under their numbers, and changed by the workshop, one change more or the last one taken back;
the changes lie beside, and are laid over a draft that is made anew.

What a page does to a draft is one transaction.
"""

import secrets
from dataclasses import dataclass, replace

from sqlalchemy import Connection, Engine, delete, func, insert, select, update

from ...basis.problem import Problem, problem
from ...quoting.changes import MESSAGES, Change, changed, wrong_change
from ...quoting.quote import STATE_WORDS, Quote
from ...quoting.records import from_data, to_data
from ..engine import reading, writing
from ..quotes import MESSAGES as QUOTES
from ..quotes import OPEN_STATES, KeptQuote, found_by, rows_of, second_within
from ..schema import quotes
from .tables import quote_bases, quote_changes

ID_BYTES = 6


@dataclass(frozen=True, slots=True)
class Edited:
    """The draft as reckoned, and what was changed since, the last one at the end."""

    base: Quote
    changes: tuple[Change, ...]


def edited(engine: Engine, kept: KeptQuote) -> Edited:
    """What became of this draft."""
    with reading(engine) as connection:
        return Edited(base_of(connection, kept.id) or kept.quote, changes_in(connection, kept.id))


def add_change(engine: Engine, identity: str, seen: int, change: Change, now: str) -> KeptQuote | Problem:
    """Lay one more change over the draft. `seen`: how many there were on the page that it was made on; where another
    touched the same line since, nothing is written.
    """
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(QUOTES, "quote.unknown")
        changes = changes_in(connection, identity)
        if any(one.job == change.job for one in changes[seen:]):
            return problem(MESSAGES, "edit.meanwhile", f"quote {kept.quote.number}")
        wrong = wrong_change(kept.quote, change)
        if wrong is not None:
            return wrong
        base = base_of(connection, identity)
        if base is None:
            base = kept.quote
            set_base(connection, identity, base)
        append(connection, identity, len(changes) + 1, change)
        return _written(connection, kept, changed(base, (*changes, change)), now)


def take_back(engine: Engine, identity: str, seen: int, now: str) -> KeptQuote | Problem:
    """Take the last change off again, if it is the last one that was seen."""
    with writing(engine) as connection:
        kept = found_by(connection, quotes.c.id == identity)
        if kept is None:
            return problem(QUOTES, "quote.unknown")
        if kept.quote.state != "draft":
            state = STATE_WORDS[kept.quote.state]
            return problem(MESSAGES, "edit.late", f"quote {kept.quote.number}", state=state)
        changes, base = changes_in(connection, identity), base_of(connection, identity)
        if base is None or not changes or len(changes) != seen:
            return problem(MESSAGES, "edit.meanwhile", f"quote {kept.quote.number}")
        drop_last(connection, identity, len(changes))
        return _written(connection, kept, changed(base, changes[:-1]), now)


def _written(connection: Connection, kept: KeptQuote, quote: Quote, now: str) -> KeptQuote:
    own = replace(quote, number=kept.quote.number, state="draft")
    connection.execute(update(quotes).where(quotes.c.id == kept.id).values(record=to_data(own), changed=now))
    return replace(kept, quote=own, changed=now)


def keep_draft(engine: Engine, evaluation: str, quote: Quote, now: str) -> str:
    """Keep a draft under the next number of its year, or in the place of this evaluation's draft; gives its id.

    Where an earlier quote of the evaluation is still open, the draft names it as the one to supersede.
    """
    with writing(engine) as connection:
        earlier = [row for row in rows_of(connection, evaluation) if row.record.get("belongs_to") is None]
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
            return problem(QUOTES, "quote.unknown")
        if first.quote.state not in ("agreed", "work_begun"):
            state = STATE_WORDS[first.quote.state]
            return problem(QUOTES, "quote.first_closed", f"quote {first.quote.number}", state=state)
        others = second_within(connection, first.quote.number)
        waiting = next((one for one in others if one.quote.state == "offered"), None)
        if waiting is not None:
            return problem(QUOTES, "quote.waits", f"quote {waiting.quote.number}")
        draft = next((one for one in others if one.quote.state == "draft"), None)
        number = draft.quote.number if draft else f"{first.quote.number}/{len(others) + 1}"
        named = replace(quote, number=number, state="draft")
        if draft:
            return _rewritten(connection, draft.id, named, now)
        return _inserted(connection, first.evaluation, named, now)


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


def _next_number(connection: Connection, year: int) -> str:
    own = quotes.c.number.like(f"{year}-%") & quotes.c.number.not_like("%/%")
    count = connection.execute(select(func.count()).where(own)).scalar_one()
    return f"{year}-{count + 1:04d}"


def base_of(connection: Connection, identity: str) -> Quote | None:
    """The draft as it was reckoned; None where nobody has changed it."""
    found = connection.execute(select(quote_bases.c.record).where(quote_bases.c.quote == identity)).scalar_one_or_none()
    return None if found is None else from_data(Quote, found)


def changes_in(connection: Connection, identity: str) -> tuple[Change, ...]:
    """Every change of it, in their order."""
    query = select(quote_changes.c.record).where(quote_changes.c.quote == identity).order_by(quote_changes.c.place)
    return tuple(from_data(Change, one) for one in connection.execute(query).scalars())


def rebased(connection: Connection, identity: str, quote: Quote) -> Quote:
    """A draft that was reckoned anew, with the changes that its lines still take."""
    changes = changes_in(connection, identity)
    if not changes:
        return quote
    set_base(connection, identity, quote)
    return changed(quote, changes)


def set_base(connection: Connection, identity: str, quote: Quote) -> None:
    connection.execute(delete(quote_bases).where(quote_bases.c.quote == identity))
    connection.execute(insert(quote_bases).values(quote=identity, record=to_data(quote)))


def append(connection: Connection, identity: str, place: int, change: Change) -> None:
    connection.execute(insert(quote_changes).values(quote=identity, place=place, record=to_data(change)))


def drop_last(connection: Connection, identity: str, place: int) -> None:
    here = (quote_changes.c.quote == identity) & (quote_changes.c.place == place)
    connection.execute(delete(quote_changes).where(here))
