"""Customers and their instruments in the database, found again by the beginnings of any of their words.

A change is made to the newest state in one transaction: what a page typed replaces only the fields that it changed, so
two people at one card lose nothing. What both changed is told, and the first stays.
"""

import secrets
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Engine, Row, Table, delete, insert, select, update

from ...basis.problem import Message, Messages, Problem, problem
from ...quoting.quote import STATE_WORDS, State
from ..engine import reading, writing
from ..finding.listing import PAGE, Key, cut, keyed
from ..finding.search import found_by_words
from ..finding.words import CUSTOMER, INSTRUMENT, note_customer, note_instrument
from ..schema import as_sorted, quotes
from .tables import coverings, customers, instrument_looks, instruments, order_marks

ID_BYTES = 6
CUSTOMER_FIELDS = ("name", "telephone", "email", "address", "language", "note")
INSTRUMENT_FIELDS = ("name", "family", "size", "label", "serial", "maker", "measures", "hours_a_week", "note")
OPEN = ("offered", "agreed", "work_begun")
Words = Mapping[str, str]
MESSAGES: Messages = {
    "customer.name": Message("there is no name.", "Write how you would know it again."),
    "customer.unknown": Message("there is no such card.", "Look for it in the list."),
    "customer.both": Message(
        "somebody else changed {fields} meanwhile.", "It stands below as it is now; change it again if yours is right."
    ),
    "customer.open": Message(
        "quote {number} is {state}.", "Finish, collect or withdraw it first; then the customer can be erased."
    ),
}


@dataclass(frozen=True, slots=True)
class Card:
    """A customer or an instrument: what was typed by field; `customer` is the owner of an instrument."""

    id: str
    version: int
    name: str
    record: Words
    made: str
    changed: str
    customer: str | None = None
    erased: str | None = None
    sorted_as: str = ""


Household = tuple[Card, tuple[Card, ...]]  # a customer and the instruments


def add_customer(engine: Engine, typed: Words, now: str) -> str | Problem:
    """A new customer; gives the id."""
    return _added(engine, customers, CUSTOMER_FIELDS, typed, now, {})


def add_instrument(engine: Engine, customer: str | None, typed: Words, now: str) -> str | Problem:
    """A new instrument of a customer, or of nobody who is known; gives the id."""
    return _added(engine, instruments, INSTRUMENT_FIELDS, typed, now, {"customer": customer})


def change_customer(engine: Engine, identity: str, was: Words, typed: Words, now: str) -> Card | Problem:
    """Change the fields that differ from what the page showed (`was`)."""
    return _changed(engine, customers, CUSTOMER_FIELDS, identity, was, typed, now)


def change_instrument(engine: Engine, identity: str, was: Words, typed: Words, now: str) -> Card | Problem:
    return _changed(engine, instruments, INSTRUMENT_FIELDS, identity, was, typed, now)


def find_customer(engine: Engine, identity: str | None) -> Card | None:
    """The customer with this id, unless erased."""
    found = _found(engine, customers, identity)
    return None if found is None or found.erased else found


def find_instrument(engine: Engine, identity: str | None) -> Card | None:
    return _found(engine, instruments, identity)


def search(engine: Engine, words: str, count: int = PAGE) -> tuple[Household, ...]:
    """Customers that have, on their card or on one of their instruments, a word that begins so for each of these, by
    name; then instruments without an owner, under a card without a name.
    """
    people = found_by_words(engine, CUSTOMER, words, count=count).ids
    things = found_by_words(engine, INSTRUMENT, words, count=count).ids
    with reading(engine) as connection:
        found = connection.execute(select(customers).where(customers.c.id.in_(people), customers.c.erased.is_(None)))
        owned = _with_instruments(connection, sorted(map(_card, found), key=lambda one: one.name.lower()))
        query = select(instruments).where(instruments.c.id.in_(things), instruments.c.customer.is_(None))
        return *owned, *_nobodys(connection.execute(query.order_by(instruments.c.made)))


def households(engine: Engine, after: Key | None = None, count: int = PAGE) -> tuple[tuple[Household, ...], Key | None]:
    """All customers by name, a page at a time; behind the last stand instruments without an owner, the newest first."""
    query = select(customers).where(customers.c.erased.is_(None))
    query = keyed(query, customers.c.sorted_as, customers.c.id, after, newest_first=False).limit(count + 1)
    with reading(engine) as connection:
        rows, key = cut(list(connection.execute(query)), count, lambda row: (row.sorted_as, row.id))
        people = list(map(_card, rows))
        alone = select(instruments).where(instruments.c.customer.is_(None)).order_by(instruments.c.made.desc())
        rest = () if key else _nobodys(connection.execute(alone.limit(count)))
        return (*_with_instruments(connection, people), *rest), key


def _with_instruments(connection: Connection, people: Sequence[Card]) -> tuple[Household, ...]:
    query = select(instruments).where(instruments.c.customer.in_([one.id for one in people]))
    things = [_card(row) for row in connection.execute(query.order_by(instruments.c.made))]
    return tuple((one, tuple(thing for thing in things if thing.customer == one.id)) for one in people)


def _nobodys(rows: Iterable[Row[object]]) -> tuple[Household, ...]:
    nobody = Card("", 0, "", {}, "", "")
    return tuple((nobody, (_card(row),)) for row in rows)


def instruments_of(engine: Engine, customer: str) -> tuple[Card, ...]:
    query = select(instruments).where(instruments.c.customer == customer).order_by(instruments.c.made)
    with reading(engine) as connection:
        return tuple(map(_card, connection.execute(query)))


def erase_customer(engine: Engine, identity: str, now: str) -> Problem | None:
    """Take a customer's data out, with what was written to them; refused while there is open work. Instruments stay,
    without an owner; bills stay as they were given.
    """
    with writing(engine) as connection:
        mine = select(instruments.c.id).where(instruments.c.customer == identity)
        looks = select(instrument_looks.c.evaluation).where(instrument_looks.c.instrument.in_(mine))
        query = (
            select(quotes.c.number, quotes.c.state, order_marks.c.collected)
            .join_from(quotes, order_marks, quotes.c.id == order_marks.c.quote, isouter=True)
            .where(quotes.c.evaluation.in_(looks))
            .order_by(quotes.c.number)
        )
        for number, state, collected in connection.execute(query):
            if state in OPEN or (state == "done" and not collected):
                return problem(MESSAGES, "customer.open", number=number, state=_state(state))
        things = connection.execute(mine).scalars().all()
        connection.execute(delete(coverings).where(coverings.c.evaluation.in_(looks)))
        connection.execute(update(instruments).where(instruments.c.customer == identity).values(customer=None))
        gone = {"name": "", "sorted_as": "", "record": {}, "erased": now, "changed": now}
        connection.execute(update(customers).where(customers.c.id == identity).values(**gone))
        note_customer(connection, identity)
        for thing in things:
            note_instrument(connection, thing)
    return None


def _note(connection: Connection, table: Table, identity: str) -> None:
    (note_customer if table is customers else note_instrument)(connection, identity)


def _state(state: State) -> str:
    return "done and not collected" if state == "done" else STATE_WORDS[state]


def _added(
    engine: Engine, table: Table, fields: tuple[str, ...], typed: Words, now: str, more: Mapping[str, object]
) -> str | Problem:
    record = {name: typed.get(name, "").strip() for name in fields if typed.get(name, "").strip()}
    if not record.get("name"):
        return problem(MESSAGES, "customer.name")
    identity = secrets.token_hex(ID_BYTES)
    values = {"id": identity, "version": 1, "name": record["name"][:200], "record": record, "made": now, "changed": now}
    with writing(engine) as connection:
        connection.execute(insert(table).values(**values, **more))
        _note(connection, table, identity)
    return identity


def _changed(
    engine: Engine, table: Table, fields: tuple[str, ...], identity: str, was: Words, typed: Words, now: str
) -> Card | Problem:
    with writing(engine) as connection:
        row = connection.execute(select(table).where(table.c.id == identity)).one_or_none()
        if row is None:
            return problem(MESSAGES, "customer.unknown")
        record, clashes = merged(row.record, was, typed, fields)
        if clashes:
            return problem(MESSAGES, "customer.both", row.name, fields=", ".join(clashes))
        if not record.get("name"):
            return problem(MESSAGES, "customer.name", row.name)
        values = {"version": row.version + 1, "name": record["name"][:200], "record": record, "changed": now}
        if table is customers:
            values["sorted_as"] = as_sorted(values["name"])
        connection.execute(update(table).where(table.c.id == identity).values(**values))
        _note(connection, table, identity)
        return Card(**{**row._mapping, **values})


def merged(now: Words, was: Words, typed: Words, fields: tuple[str, ...]) -> tuple[dict[str, str], list[str]]:
    """(what stands with what was typed, the fields that another changed too)."""
    record, clashes = dict(now), []
    for name in fields:
        before, mine, theirs = was.get(name, "").strip(), typed.get(name, "").strip(), now.get(name, "")
        if mine in (before, theirs):
            continue
        if theirs != before:
            clashes.append(name)
        record[name] = mine
    return {name: text for name, text in record.items() if text}, clashes


def _found(engine: Engine, table: Table, identity: str | None) -> Card | None:
    if not identity:
        return None
    with reading(engine) as connection:
        row = connection.execute(select(table).where(table.c.id == identity)).one_or_none()
    return None if row is None else _card(row)


def _card(row: Row[object]) -> Card:
    return Card(**row._mapping)
