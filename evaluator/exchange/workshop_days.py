"""The workshop's days in an archive: customers, their instruments, bills and credit notes, payments, marks of orders.

Each table is a file of its rows. What comes in stands beside what is here: nothing is overwritten, what points to
something that is not here is left out, and a series of numbers goes on behind the higher of the two.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Column, Connection, Engine, Table, insert, select, update

from ..quoting.billing.bill import Bill, Payment
from ..quoting.records import from_data
from ..store.engine import reading
from ..store.finding.words import note_customer, note_instrument
from ..store.schema import evaluations, quotes
from ..store.workshop.tables import (
    bills,
    customers,
    instrument_looks,
    instrument_notes,
    instruments,
    number_series,
    order_marks,
    payments,
)

FOLDER = "workshop"
# What points to what must come before it.
TABLES: Mapping[str, Table] = {
    table.name: table
    for table in (
        customers, instruments, instrument_looks, instrument_notes, order_marks, bills, payments, number_series
    )
}  # fmt: skip
RECORDS: Mapping[str, type[object]] = {"bills": Bill, "payments": Payment}
PARENTS: Mapping[str, Column[str]] = {
    "customer": customers.c.id,
    "instrument": instruments.c.id,
    "evaluation": evaluations.c.id,
    "quote": quotes.c.id,
}
OF_NOBODY = ("customer",)  # an instrument may be nobody's
Row = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Days:
    """How many rows were new and how many here already, and the numbers that others have here."""

    new: int
    here: int
    taken: tuple[str, ...]


def all_rows(engine: Engine) -> Iterator[tuple[str, list[dict[str, object]]]]:
    """(table, its rows in the order of their keys)."""
    for name, table in TABLES.items():
        with reading(engine) as connection:
            rows = connection.execute(select(table).order_by(*table.primary_key.columns)).mappings().all()
        yield name, [dict(row) for row in rows]


def checked_rows(name: str, rows: object) -> list[dict[str, object]]:
    """The rows of a table of an archive; ValueError where they are none, KeyError for a table that is not known."""
    table = TABLES[name]
    wanted = {column.name: column for column in table.columns}
    if not isinstance(rows, list) or not all(isinstance(row, dict) and set(row) <= set(wanted) for row in rows):
        raise ValueError(f"these are no {name}")
    for row in rows:
        missing = [key for key, column in wanted.items() if row.get(key) is None and not column.nullable]
        if missing and missing != ["sorted_as"]:
            raise ValueError(f"{', '.join(missing)} is missing")
        if name in RECORDS:
            from_data(RECORDS[name], row["record"])
    return rows


def put_days(connection: Connection, found: Mapping[str, Sequence[Row]]) -> Days:
    """Put in what is not here."""
    new, here, taken = 0, 0, list[str]()
    for name, table in TABLES.items():
        rows = found.get(name, ())
        if table is number_series:
            _go_on(connection, rows)
            continue
        others = _not_here(connection, table, rows)
        here += len(rows) - len(others)
        numbers = set(connection.execute(select(table.c.number)).scalars()) if "number" in table.c else set()
        taken += [str(row["number"]) for row in others if "number" in row and row["number"] in numbers]
        free = _hanging_on(connection, table, [row for row in others if row.get("number") not in numbers])
        for row in free:
            connection.execute(insert(table).values(**row))
        new += len(free)
    for row in found.get("instruments", ()):
        if row["id"] in _keys(connection, instruments.c.id):
            note_instrument(connection, str(row["id"]))
    for row in found.get("customers", ()):
        note_customer(connection, str(row["id"]))
    return Days(new, here, tuple(taken))


def _not_here(connection: Connection, table: Table, rows: Sequence[Row]) -> list[Row]:
    (key,) = table.primary_key.columns
    known = _keys(connection, key)
    return [row for row in rows if row[key.name] not in known]


def _hanging_on(connection: Connection, table: Table, rows: Sequence[Row]) -> list[Row]:
    """The rows whose evaluation, quote or instrument is here; an instrument without its owner is nobody's."""
    found = [dict(row) for row in rows]
    for name, column in PARENTS.items():
        if name not in table.c:
            continue
        known = _keys(connection, column)
        if name in OF_NOBODY:
            found = [{**row, name: row.get(name) if row.get(name) in known else None} for row in found]
        else:
            found = [row for row in found if row[name] in known]
    return list(found)


def _go_on(connection: Connection, rows: Sequence[Row]) -> None:
    """Each series goes on behind the last number that was given here or there."""
    here = {row.name: row.last for row in connection.execute(select(number_series))}
    for row in rows:
        name, last = row["name"], row["last"]
        if name not in here:
            connection.execute(insert(number_series).values(name=name, last=last))
        elif last > here[name]:
            connection.execute(update(number_series).where(number_series.c.name == name).values(last=last))


def _keys(connection: Connection, column: Column[str]) -> set[str]:
    return set(connection.execute(select(column)).scalars())
