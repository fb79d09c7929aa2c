"""Things found by the beginnings of words, a page at a time: read from an index, whatever the number of things.

Of several words the rarest leads, and the others are looked up for each thing that it finds. Things stand in the order
of the word that found them, the newest first where the word is the same; a page ends with the key from which the next
goes on, so that the last page costs what the first does.
"""

from dataclasses import dataclass

from sqlalchemy import ColumnElement, Connection, Engine, and_, exists, func, or_, select

from ..engine import reading
from .tables import found_words
from .words import words_in

MOST_ASKED = 6  # words; more only slow the answer down
COUNTED = 300  # as far as it is counted which word is the rarest
PAGE = 50
HIGHEST = "\U0010ffff"  # behind every word that begins alike
Key = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Found:
    """The ids of one page, and the key (word, made, id) of its last where there are more."""

    ids: tuple[str, ...]
    key: Key | None


def found_by_words(engine: Engine, kind: str, typed: str, after: Key | None = None, count: int = PAGE) -> Found:
    """Things of a kind that have, for each word typed, one that begins so; without any word, nothing."""
    wanted = sorted(words_in(typed), key=len, reverse=True)[:MOST_ASKED]
    if not wanted:
        return Found((), None)
    with reading(engine) as connection:
        lead = min(wanted, key=lambda word: _count(connection, kind, word))
        return _page(connection, kind, lead, [word for word in wanted if word != lead], after, count)


def _count(connection: Connection, kind: str, word: str) -> int:
    some = select(found_words.c.id).where(_begins(kind, word)).limit(COUNTED).subquery()
    return int(connection.execute(select(func.count()).select_from(some)).scalar_one())


def _page(connection: Connection, kind: str, lead: str, others: list[str], after: Key | None, count: int) -> Found:
    here = found_words.c
    query = select(here.word, here.made, here.id).where(_begins(kind, lead))
    for word in others:
        query = query.where(_has(word, word + HIGHEST))
    query = query.where(~_has(lead, here.word))  # a thing with two such words comes once
    if after is not None:
        word, made, identity = after
        behind = or_(here.word > word, here.made < made, and_(here.made == made, here.id > identity))
        query = query.where(here.word >= word, behind)
    rows = connection.execute(query.order_by(here.word, here.made.desc(), here.id).limit(count + 1)).all()
    ids = tuple(row.id for row in rows[:count])
    return Found(ids, tuple(rows[count - 1]) if len(rows) > count else None)


def _begins(kind: str, word: str) -> ColumnElement[bool]:
    here = found_words.c
    return and_(here.kind == kind, here.word >= word, here.word < word + HIGHEST)


def _has(first: object, behind: object) -> ColumnElement[bool]:
    """Whether the thing has a word from the first on and before the other; looked up by its id, which no two share."""
    other = found_words.alias()
    return exists().where(other.c.id == found_words.c.id, other.c.word >= first, other.c.word < behind)


def place_from_address(text: str) -> Key | None:
    """The key of a page of what was found, as an address carries it; None for what is none."""
    found = text.replace("\0", "").rsplit(",", 2)
    return (found[0], found[1], found[2]) if len(found) == 3 else None
