"""A page of a list that begins behind a key, so that the last page costs what the first does."""

from typing import Any

from sqlalchemy import Select, or_

PAGE = 50
Key = tuple[str, str]


def keyed(query: Select[Any], column: Any, identity: Any, after: Key | None, newest_first: bool = True) -> Select[Any]:
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


def cut(rows: list[Any], count: int, key: Any) -> tuple[list[Any], Key | None]:
    """The rows of one page out of one more than that, and the key (by `key` of a row) where there are more."""
    shown = rows[:count]
    return shown, key(shown[-1]) if len(rows) > count else None


def in_address(key: tuple[str, ...] | None) -> str:
    """A key as the address of the next page carries it; empty where there is none."""
    return "" if key is None else ",".join(key)


def from_address(text: str, parts: int = 2) -> Any:
    """The key in an address; None for what is none. Its first part may hold commas, as a title does."""
    found = tuple(text.replace("\0", "").rsplit(",", parts - 1))
    return found if len(found) == parts else None
