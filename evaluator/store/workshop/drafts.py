"""A draft changed by its workshop: one change more, or the last one taken back, each in one transaction."""

from dataclasses import dataclass, replace

from sqlalchemy import Connection, Engine, update

from ...basis.problem import Problem, problem
from ...quoting.editing.changes import MESSAGES, Change, changed, wrong_change
from ...quoting.quote import STATE_WORDS, Quote
from ...quoting.records import to_data
from ..engine import reading, writing
from ..quotes import MESSAGES as QUOTES
from ..quotes import KeptQuote, found_by
from ..schema import quotes
from .changes import append, base_of, changes_in, drop_last, set_base


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
