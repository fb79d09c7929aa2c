"""The evaluations as a list: of one family or state, by last change or by title, a page at a time.

Nothing is counted, and each choice has an index of its own: else a rare family would be looked for in all rows.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from sqlalchemy import ColumnElement, Engine, RowMapping, select

from ..engine import reading
from ..schema import evaluations
from .pages import PAGE, Key, cut, keyed

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
