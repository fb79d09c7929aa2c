"""Lists a page at a time, each page from behind a key, so that the last costs what the first does; and the evaluations
as such a list: of one family or state, by last change or by title.

Nothing is counted, and each choice has an index of its own: else a rare family would be looked for in all rows.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeVar, TypeVarTuple

from sqlalchemy import ColumnElement, Engine, RowMapping, Select, or_, select

from ..engine import reading
from ..schema import evaluations

PAGE = 50
Key = tuple[str, str]
Found = TypeVar("Found")
Shown = TypeVarTuple("Shown")
Order = Literal["changed", "title"]


@dataclass(frozen=True, slots=True)
class Listed:
    """What a list shows of an evaluation; `start`: what was typed on its first page."""

    id: str
    title: str
    rubric: str
    state: str
    changed: str
    start: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which evaluations, in which order; empty: of every family, in every state."""

    family: str = ""
    state: str = ""
    order: Order = "changed"


def listed(
    engine: Engine, wanted: Wanted = Wanted(), after: Key | None = None, count: int = PAGE
) -> tuple[tuple[Listed, ...], Key | None]:
    """One page, and the key of its last where there are more."""
    by = evaluations.c.changed if wanted.order == "changed" else evaluations.c.sorted_as
    query = select(*_shown(), by.label("key"))
    if wanted.family:
        query = query.where(evaluations.c.rubric == wanted.family)
    if wanted.state:
        query = query.where(evaluations.c.state == wanted.state)
    query = keyed(query, by, evaluations.c.id, after, newest_first=wanted.order == "changed")
    with reading(engine) as connection:
        found = connection.execute(query.limit(count + 1)).mappings()
        rows, key = cut(list(found), count, lambda row: (row["key"], row["id"]))
    return tuple(map(_listed, rows)), key


def listed_as(engine: Engine, identities: Iterable[str]) -> tuple[Listed, ...]:
    """The evaluations with these ids, in their order; what is gone is left out."""
    wanted = list(identities)
    with reading(engine) as connection:
        rows = connection.execute(select(*_shown()).where(evaluations.c.id.in_(wanted))).mappings()
        found = {row["id"]: _listed(row) for row in rows}
    return tuple(found[one] for one in wanted if one in found)


def _shown() -> tuple[ColumnElement[str], ...]:
    here = evaluations.c
    return here.id, here.title, here.rubric, here.state, here.changed, here.typed["start"].label("start")


def _listed(row: RowMapping) -> Listed:
    return Listed(**{name: row[name] for name in ("id", "title", "rubric", "state", "changed", "start")})


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
