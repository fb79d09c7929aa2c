"""Which words a thing is found by: without capitals and accents, so that "zizkov" finds "Žižkov"."""

import re
import unicodedata
from collections.abc import Iterable

from sqlalchemy import Column, Connection, Table, delete, insert, select

from ..desk.tables import offers, stock
from ..schema import evaluations
from ..workshop.tables import customers, instruments
from .tables import WORD_LETTERS, found_words

EVALUATION, CUSTOMER, INSTRUMENT, OFFER, ITEM = "evaluation", "customer", "instrument", "offer", "item"
MOST_WORDS = 200  # of one thing: a label is short, a note may be long
_WORD = re.compile(r"[^\W_]+")


def words_in(text: str) -> tuple[str, ...]:
    """The words of a text, each once, in their order; a serial of several parts is several words."""
    plain = unicodedata.normalize("NFKD", text.casefold().replace("ł", "l").replace("ø", "o").replace("đ", "d"))
    bare = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return tuple(dict.fromkeys(word[:WORD_LETTERS] for word in _WORD.findall(bare)))


def note_words(connection: Connection, kind: str, identity: str, made: str, texts: Iterable[str]) -> None:
    """Let the thing be found by the words of these texts, and by no others any more."""
    forget_words(connection, kind, identity)
    words = words_in(" ".join(texts))[:MOST_WORDS]
    rows = [{"kind": kind, "id": identity, "word": word, "made": made} for word in words]
    if rows:
        connection.execute(insert(found_words), rows)


def forget_words(connection: Connection, kind: str, identity: str) -> None:
    here = (found_words.c.kind == kind) & (found_words.c.id == identity)
    connection.execute(delete(found_words).where(here))


def note_customer(connection: Connection, identity: str | None) -> None:
    """A customer is found by all words of the card and of the instruments; one that was erased by none."""
    row = connection.execute(select(*_card(customers), customers.c.erased).where(customers.c.id == identity)).first()
    if row is None:
        return
    things = connection.execute(select(instruments.c.record).where(instruments.c.customer == identity)).scalars()
    texts = [text for record in (row.record, *things) for text in record.values()]
    note_words(connection, CUSTOMER, row.id, row.made, [] if row.erased else texts)


def note_instrument(connection: Connection, identity: str) -> None:
    """An instrument whose owner is not known is found by itself; else its owner is, with it."""
    query = select(*_card(instruments), instruments.c.customer).where(instruments.c.id == identity)
    row = connection.execute(query).one()
    note_words(connection, INSTRUMENT, row.id, row.made, () if row.customer else row.record.values())
    note_customer(connection, row.customer)


def make_words_anew(connection: Connection) -> None:
    """Note the words of everything that is kept, after records came in by another way than one by one."""
    connection.execute(delete(found_words))
    for row in connection.execute(select(evaluations.c.id, evaluations.c.created, evaluations.c.title)).all():
        note_words(connection, EVALUATION, row.id, row.created, [row.title])
    for kind, table in ((OFFER, offers), (ITEM, stock)):
        for one in connection.execute(select(*_card(table), table.c.number)).all():
            note_words(connection, kind, one.id, one.made, [one.number, str(one.record.get("title", ""))])
    for identity in connection.execute(select(instruments.c.id)).scalars().all():
        note_instrument(connection, identity)
    for identity in connection.execute(select(customers.c.id)).scalars().all():
        note_customer(connection, identity)


def _card(table: Table) -> tuple[Column[object], ...]:
    return table.c.id, table.c.made, table.c.record
