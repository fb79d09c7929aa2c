"""A page of a list that begins behind a key, so that the last page costs what the first does."""

from collections.abc import Callable, Sequence
from typing import TypeVar, TypeVarTuple

from sqlalchemy import ColumnElement, Select, or_

PAGE = 50
Key = tuple[str, str]
Found = TypeVar("Found")
Shown = TypeVarTuple("Shown")


def keyed(
    query: "Select[*Shown]",
    column: ColumnElement[str],
    identity: ColumnElement[str],
    after: Key | None,
    newest_first: bool = True,
) -> "Select[*Shown]":
    """The query in the order of a column, then of the id, both up or both down, from behind the key on.

    Rows are not compared as a whole, which engines do differently: the column's range is read from its index.
    """
    if after is not None:
        value, last = after
        if newest_first:
            query = query.where(column <= value, or_(column < value, identity < last))
        else:
            query = query.where(column >= value, or_(column > value, identity > last))
    return query.order_by(column.desc(), identity.desc()) if newest_first else query.order_by(column, identity)


def cut(rows: Sequence[Found], count: int, key: Callable[[Found], Key]) -> tuple[Sequence[Found], Key | None]:
    """The rows of one page out of one more than that, and the key (by `key` of a row) where there are more."""
    shown = rows[:count]
    return shown, key(shown[-1]) if len(rows) > count else None


def in_address(key: tuple[str, ...] | None) -> str:
    """A key as the address of the next page carries it; empty where there is none."""
    return "" if key is None else ",".join(key)


def from_address(text: str) -> Key | None:
    """The key in an address; None for what is none. Its first part may hold commas, as a title does."""
    found = text.replace("\0", "").rsplit(",", 1)
    return (found[0], found[1]) if len(found) == 2 else None
