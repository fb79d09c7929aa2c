"""The shop's book of known sales in the database: listed, added, corrected, removed. All of a list is kept, or nothing.

`revision` grows with every change of the book, so that what was worked out from an older one can be told.
"""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date

from sqlalchemy import Connection, Engine, RowMapping, delete, insert, select, update

from ..valuation.sales.comparables import Comparable, mark
from .engine import reading, writing
from .schema import choices, known_sales

ID_BYTES = 6
REVISION, LEAVE_OUT = "sales_revision", "sales_leave_out_much"
BATCH, LAST_BATCH = "batch", "sales_last_batch"


@dataclass(frozen=True, slots=True)
class KeptSale:
    """One sale of the book, its `key` being its id, and the version that a correction must name."""

    sale: Comparable
    version: int


@dataclass(frozen=True, slots=True)
class Book:
    """The whole book: the newest sale first; whether what was moved by more than half is left out; its revision."""

    kept: tuple[KeptSale, ...]
    leave_out_much: bool
    revision: int

    @property
    def sales(self) -> tuple[Comparable, ...]:
        return tuple(one.sale for one in self.kept)

    def find(self, key: str) -> KeptSale | None:
        return next((one for one in self.kept if one.sale.key == key), None)


def whole_book(engine: Engine) -> Book:
    """All sales and the choices of the shop, in one view."""
    with reading(engine) as connection:
        rows = connection.execute(select(known_sales).order_by(known_sales.c.sold_on.desc(), known_sales.c.id)).all()
        said = _choices(connection)
    kept = tuple(KeptSale(_sale(row._mapping), row.version) for row in rows)
    return Book(kept, said.get(LEAVE_OUT) == "yes", int(said.get(REVISION, "0")))


def revision(engine: Engine) -> int:
    """How often the book was changed."""
    with reading(engine) as connection:
        return int(_choices(connection).get(REVISION, "0"))


def add_sales(engine: Engine, sales: Sequence[Comparable], now: str, batch: str = "") -> int:
    """Put the sales into the book, all or none; gives how many were new. One that is there already is not put twice.

    A sale that comes with a `key` keeps it where it is free. `batch` names the list that they came with, so that it can
    be taken back as one.
    """
    with writing(engine) as connection:
        kept = connection.execute(select(known_sales.c.id, known_sales.c.record)).all()
        here, ids = {mark(_sale(row._mapping)) for row in kept}, {row.id for row in kept}
        new = []
        for one in sales:
            record = _record(one)
            if mark(one) not in here:
                here.add(mark(one))
                row = _row(record | ({BATCH: batch} if batch else {}), now)
                new.append(row | ({"id": one.key} if one.key and one.key not in ids else {}))
        if new:
            connection.execute(insert(known_sales), new)
            _count_up(connection)
            if batch:
                _choose(connection, LAST_BATCH, batch)
    return len(new)


def new_batch() -> str:
    """The name of a list that is about to be put into the book."""
    return secrets.token_hex(ID_BYTES)


def take_back(engine: Engine, batch: str) -> int:
    """Take out what came with a list and was not corrected since; gives how many sales that were."""
    with writing(engine) as connection:
        ids = _of_batch(connection, batch)
        if ids:
            connection.execute(delete(known_sales).where(known_sales.c.id.in_(ids)))
            _count_up(connection)
    return len(ids)


def last_batch(engine: Engine) -> tuple[str, int]:
    """The list that was put in last, and how many sales of it stand as they came."""
    with reading(engine) as connection:
        batch = _choices(connection).get(LAST_BATCH, "")
        return batch, len(_of_batch(connection, batch)) if batch else 0


def _of_batch(connection: Connection, batch: str) -> list[str]:
    rows = connection.execute(select(known_sales.c.id, known_sales.c.record, known_sales.c.version))
    return [row.id for row in rows if row.record.get(BATCH) == batch and row.version == 1]


def correct_sale(engine: Engine, key: str, version: int, sale: Comparable, now: str) -> bool:
    """Replace a sale; False where it is gone or somebody else corrected it since `version`."""
    record = _record(sale)
    values = {"record": record, "sold_on": record["sold_on"], "version": version + 1, "changed": now}
    with writing(engine) as connection:
        query = update(known_sales).where(known_sales.c.id == key, known_sales.c.version == version).values(**values)
        done = connection.execute(query).rowcount == 1
        if done:
            _count_up(connection)
    return done


def remove_sale(engine: Engine, key: str, version: int) -> bool:
    """Take a sale out; False where it is gone or somebody else corrected it since `version`."""
    with writing(engine) as connection:
        query = delete(known_sales).where(known_sales.c.id == key, known_sales.c.version == version)
        done = connection.execute(query).rowcount == 1
        if done:
            _count_up(connection)
    return done


def choose_leave_out(engine: Engine, leave_out: bool) -> None:
    """Whether, for every instrument, sales that were moved by more than half are left out."""
    with writing(engine) as connection:
        _choose(connection, LEAVE_OUT, "yes" if leave_out else "no")
        _count_up(connection)


def _record(sale: Comparable) -> dict[str, object]:
    record = asdict(replace(sale, key=""))
    del record["key"]
    return record | {"sold_on": sale.sold_on.isoformat()}


def _sale(row: RowMapping) -> Comparable:
    kept = {name: value for name, value in row["record"].items() if name != BATCH}
    return Comparable(**(kept | {"sold_on": date.fromisoformat(kept["sold_on"]), "key": row["id"]}))


def _row(record: Mapping[str, object], now: str) -> dict[str, object]:
    row = {"id": secrets.token_hex(ID_BYTES), "version": 1, "changed": now}
    return row | {"sold_on": record["sold_on"], "record": dict(record)}


def _choices(connection: Connection) -> dict[str, str]:
    return {row.name: row.value for row in connection.execute(select(choices))}


def _choose(connection: Connection, name: str, value: str) -> None:
    connection.execute(delete(choices).where(choices.c.name == name))
    connection.execute(insert(choices).values(name=name, value=value))


def _count_up(connection: Connection) -> None:
    _choose(connection, REVISION, str(int(_choices(connection).get(REVISION, "0")) + 1))
