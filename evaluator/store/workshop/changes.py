"""The changes of a draft within a transaction: read, laid over a draft that is made anew, written."""

from sqlalchemy import Connection, delete, insert, select

from ...quoting.changes import Change, changed
from ...quoting.quote import Quote
from ...quoting.records import from_data, to_data
from .tables import quote_bases, quote_changes


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
