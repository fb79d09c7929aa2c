"""The rows of every table as plain values, one after the other, and back; for backups and for moving house.

The tables are read as they lie in the database, not as the program of today knows them, so that an older one can be
carried too.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice

from sqlalchemy import ColumnElement, Connection, MetaData, String, Table, func, insert, select, text

from ..finding.tables import found_words

FORM_TABLE = "alembic_version"
MADE_ANEW = frozenset({found_words.name})  # what follows from other tables is not carried
AT_ONCE = 500
Row = Mapping[str, object]


def tables_of(connection: Connection) -> tuple[Table, ...]:
    """The tables that hold records, each after those that it points to."""
    found = MetaData()
    found.reflect(connection)
    return tuple(table for table in found.sorted_tables if table.name != FORM_TABLE and table.name not in MADE_ANEW)


def rows_of(connection: Connection, table: Table, after: tuple[object, ...] | None = None) -> Iterator[Row]:
    """The rows in the order of their key, a few hundred in memory; `after`: only those beyond this key."""
    keys = _keys(connection, table)
    query = select(table).order_by(*keys)
    if after is not None:
        query = query.where(_beyond(keys, after))
    found = connection.execute(query, execution_options={"yield_per": AT_ONCE})
    return (dict(row) for row in found.mappings())


def _keys(connection: Connection, table: Table) -> Sequence[ColumnElement[str]]:
    """The key's columns, texts in the order of their letters' numbers, as SQLite has it, whatever a server was told."""
    on_server = connection.dialect.name != "sqlite"
    columns = table.primary_key.columns
    return [one.collate("C") if on_server and isinstance(one.type, String) else one for one in columns]


def _beyond(keys: Sequence[ColumnElement[str]], after: tuple[object, ...]) -> ColumnElement[bool]:
    """Rows beyond a key of one or two columns, without comparing rows as a whole, which engines do differently."""
    if len(keys) == 1:
        return keys[0] > after[0]
    return (keys[0] > after[0]) | ((keys[0] == after[0]) & _beyond(keys[1:], after[1:]))


def count_of(connection: Connection, table: Table) -> int:
    return int(connection.execute(select(func.count()).select_from(table)).scalar_one())


def last_key(connection: Connection, table: Table) -> tuple[object, ...] | None:
    """The highest key that is in the table; None where it is empty."""
    keys = _keys(connection, table)
    order = [key.desc() for key in keys]
    row = connection.execute(select(*table.primary_key.columns).order_by(*order).limit(1)).first()
    return None if row is None else tuple(row)


def put_in(connection: Connection, table: Table, rows: Iterable[Row]) -> int:
    """Add the rows; gives how many."""
    count, waiting = 0, iter(rows)
    while batch := [dict(row) for row in islice(waiting, AT_ONCE)]:
        connection.execute(insert(table), batch)
        count += len(batch)
    return count


def go_on_counting(connection: Connection, tables: Iterable[Table]) -> None:
    """Let a server's counters go on behind the numbers that were put in; SQLite does that by itself."""
    if connection.dialect.name == "sqlite":
        return
    for table in tables:
        column = table.autoincrement_column
        if column is None:
            continue
        highest = select(func.max(column)).scalar_subquery()
        counter = func.pg_get_serial_sequence(table.name, column.name)
        connection.execute(select(func.setval(counter, highest)).where(text(f"EXISTS (SELECT 1 FROM {table.name})")))


def written(row: Row) -> str:
    """One row as a line of JSON, the same on every database."""
    return json.dumps(row, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def mark_of(row: Row) -> str:
    """SHA-256 of a row, in hexadecimal, whatever the order of what is in it."""
    return hashlib.sha256(json.dumps(row, sort_keys=True).encode()).hexdigest()
