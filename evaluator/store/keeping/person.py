"""All that is kept of one customer, to be handed over when it is asked for: found by what points to what in the
tables, so that a table that comes later is not forgotten. Hashes of links and tokens are left out: they tell nothing.
"""

import io
import json
import zipfile
from collections.abc import Collection
from pathlib import Path

from sqlalchemy import Connection, Engine, ForeignKey, Table, select

from ...basis.record import as_list, as_object, as_text
from ..engine import reading
from ..photos import photo_path
from .rows import tables_of

PACKED = zipfile.ZIP_DEFLATED
START = "customers"
# Followed from a row to what it points to; all else is followed from what is pointed to.
ALSO_FORWARD = frozenset({("instrument_looks", "evaluation")})
SECRET = ("_hash",)
Found = dict[str, list[dict[str, object]]]


def everything_of(engine: Engine, customer: str) -> Found:
    """The rows by table that belong to a customer, the customer's own first; empty where there is no such customer."""
    with reading(engine) as connection:
        tables = {table.name: table for table in tables_of(connection)}
        start = tables[START]
        kept: dict[str, dict[object, dict[str, object]]] = {}
        waiting: list[tuple[Table, str, set[object]]] = [(start, "id", {customer})]
        while waiting:
            table, column, values = waiting.pop(0)
            new = _new_rows(connection, table, column, values, kept.setdefault(table.name, {}))
            waiting += _further(tables.values(), table, new)
    return {name: list(rows.values()) for name, rows in kept.items() if rows}


def _new_rows(
    connection: Connection,
    table: Table,
    column: str,
    values: Collection[object],
    known: dict[object, dict[str, object]],
) -> list[dict[str, object]]:
    """The rows whose column has one of the values and that were not found before."""
    new = []
    for row in connection.execute(select(table).where(table.c[column].in_(values))).mappings():
        key = tuple(row[one.name] for one in table.primary_key.columns)
        if key not in known:
            known[key] = {name: value for name, value in row.items() if not name.endswith(SECRET)}
            new.append(dict(row))
    return new


def _further(
    tables: Collection[Table], table: Table, rows: list[dict[str, object]]
) -> list[tuple[Table, str, set[object]]]:
    """(table, column, values) in which to look on from these rows."""
    if not rows:
        return []
    backward = [key for other in tables for key in other.foreign_keys if key.column.table.name == table.name]
    found = [(key.parent.table, key.parent.name, _values(rows, key.column.name)) for key in backward]
    forward = [key for key in table.foreign_keys if (table.name, key.parent.name) in ALSO_FORWARD]
    found += [(_goal(tables, key), key.column.name, _values(rows, key.parent.name)) for key in forward]
    return [(goal, column, values) for goal, column, values in found if values]


def _goal(tables: Collection[Table], key: ForeignKey) -> Table:
    return next(one for one in tables if one.name == key.column.table.name)


def _values(rows: list[dict[str, object]], column: str) -> set[object]:
    return {row[column] for row in rows if row[column] is not None}


def handed_over(engine: Engine, photos: Path, customer: str) -> bytes:
    """The same as a ZIP: one file of JSON a table, and the photos; empty where there is no such customer."""
    found = everything_of(engine, customer)
    if not found:
        return b""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, rows in found.items():
            archive.writestr(zipfile.ZipInfo(f"{name}.json"), json.dumps(rows, ensure_ascii=False, indent=1), PACKED)
        for name in sorted(_photos_in(found)):
            path = photo_path(photos, name)
            if path is not None:
                archive.writestr(zipfile.ZipInfo(f"photos/{name}.jpg"), path.read_bytes())
    return written.getvalue()


def _photos_in(found: Found) -> set[str]:
    typed = [as_object(row["typed"]) for row in found.get("evaluations", ())]
    shown = [photos for one in typed for photos in as_object(one.get("photos", {})).values()]
    return {as_text(as_object(photo)["name"]) for photos in shown for photo in as_list(photos)}
