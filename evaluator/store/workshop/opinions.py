"""The shop's own opinions in the database, as the text of an overlay; every version is kept, the last one counts."""

from dataclasses import dataclass

from sqlalchemy import Engine, func, insert, select

from ..engine import reading, writing
from .tables import shop_opinions


@dataclass(frozen=True, slots=True)
class Opinions:
    """One version; `on`: whether it is laid over the rubrics."""

    version: int
    text: str
    on: bool
    changed: str
    by: str


NONE_YET = Opinions(0, "", False, "", "")


def newest_opinions(engine: Engine) -> Opinions:
    """The last version; an empty one before any was saved."""
    newest = select(func.max(shop_opinions.c.version)).scalar_subquery()
    with reading(engine) as connection:
        row = connection.execute(select(shop_opinions).where(shop_opinions.c.version == newest)).one_or_none()
    return NONE_YET if row is None else Opinions(row.version, row.text, bool(row.on), row.changed, row.by)


def newest_opinions_version(engine: Engine) -> int:
    with reading(engine) as connection:
        return connection.execute(select(func.max(shop_opinions.c.version))).scalar_one() or 0


def save_opinions(engine: Engine, made_on: int, text: str, on: bool, now: str, by: str) -> Opinions | None:
    """Keep a new version; None where another was saved since the one it was made on."""
    with writing(engine) as connection:
        last = connection.execute(select(func.max(shop_opinions.c.version))).scalar_one() or 0
        if last != made_on:
            return None
        found = Opinions(last + 1, text, on, now, by)
        values = {"version": found.version, "text": text, "on": int(on), "changed": now, "by": by}
        connection.execute(insert(shop_opinions).values(**values))
        return found
