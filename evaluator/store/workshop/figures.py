"""The shop's own figures and opinions in the database, as the YAML text of a shop file and of an overlay over the
rubrics. Every version is kept, the last one counts.

A save names the version that it was made on; where another came between, nothing is written.
"""

from dataclasses import dataclass

from sqlalchemy import Connection, Engine, delete, func, insert, select

from ..engine import reading, writing
from ..schema import choices
from .tables import shop_figures, shop_opinions

LOGO = "logo"
SIGNATURE = "signature"


@dataclass(frozen=True, slots=True)
class Figures:
    """One version of the figures; `by`: who saved it, empty in an open house."""

    version: int
    text: str
    changed: str
    by: str


@dataclass(frozen=True, slots=True)
class Opinions:
    """One version; `on`: whether it is laid over the rubrics."""

    version: int
    text: str
    on: bool
    changed: str
    by: str


NEWEST = select(*(select(func.max(table.c.version)).scalar_subquery() for table in (shop_figures, shop_opinions)))
NONE_YET = Opinions(0, "", False, "", "")


def newest_version(engine: Engine) -> int:
    """The number of the last version; 0 before any was saved."""
    with reading(engine) as connection:
        return _newest(connection)


def figures_at(engine: Engine, version: int) -> Figures | None:
    """The version with this number."""
    with reading(engine) as connection:
        row = connection.execute(select(shop_figures).where(shop_figures.c.version == version)).one_or_none()
    return None if row is None else Figures(**row._mapping)


def save_figures(engine: Engine, made_on: int, text: str, now: str, by: str) -> Figures | None:
    """Keep a new version; None where another was saved since the one it was made on."""
    with writing(engine) as connection:
        last = _newest(connection)
        if last != made_on:
            return None
        found = Figures(last + 1, text, now, by)
        values = {"version": found.version, "text": text, "changed": now, "by": by}
        connection.execute(insert(shop_figures).values(**values))
        return found


def newest_opinions(engine: Engine) -> Opinions:
    """The last version; an empty one before any was saved."""
    newest = select(func.max(shop_opinions.c.version)).scalar_subquery()
    with reading(engine) as connection:
        row = connection.execute(select(shop_opinions).where(shop_opinions.c.version == newest)).one_or_none()
    return NONE_YET if row is None else Opinions(row.version, row.text, bool(row.on), row.changed, row.by)


def newest_versions(engine: Engine) -> tuple[int, int]:
    """The numbers of the last version of the figures and of the opinions, 0 before any: every page asks, at once."""
    with reading(engine) as connection:
        figures, opinions = connection.execute(NEWEST).one()
    return figures or 0, opinions or 0


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


def logo_of(engine: Engine) -> str | None:
    """The name of the shop's logo among the photos."""
    return choice_of(engine, LOGO)


def choice_of(engine: Engine, name: str) -> str | None:
    """What was chosen for the whole shop under this name."""
    with reading(engine) as connection:
        return connection.execute(select(choices.c.value).where(choices.c.name == name)).scalar_one_or_none()


def set_choice(engine: Engine, name: str, value: str | None) -> None:
    """Choose it anew; None takes it out."""
    with writing(engine) as connection:
        connection.execute(delete(choices).where(choices.c.name == name))
        if value:
            connection.execute(insert(choices).values(name=name, value=value))


def _newest(connection: Connection) -> int:
    return connection.execute(select(func.max(shop_figures.c.version))).scalar_one() or 0
