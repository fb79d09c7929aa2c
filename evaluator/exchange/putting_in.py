"""What an archive held, put into the records at one stroke, or not at all.

What is here already stays as it is: an evaluation or quote of the same id, a sale that stands in the book. A quote
whose number another one has here is told and left out, with its answers.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Column, Connection, Engine, Table, insert, select

from ..basis.problem import Problem
from ..basis.record import as_object
from ..store.desk.tables import offers, stock
from ..store.engine import writing
from ..store.finding.words import EVALUATION, ITEM, OFFER, note_words
from ..store.known_sales import add_sales
from ..store.photos import keep_photo
from ..store.schema import consents, evaluations, quotes
from .bringing import Brought
from .workshop_days import put_days


@dataclass(frozen=True, slots=True)
class Came:
    """What came in (`offers`: with the stock; `workshop`: customers, instruments, bills, payments and their like), how
    much was here already, and numbers that others have here.
    """

    evaluations: int
    quotes: int
    sales: int
    photos: int
    here_already: int
    taken: tuple[str, ...] = ()
    offers: int = 0
    workshop: int = 0


def bring_in(engine: Engine, photos: Path, brought: Brought, now: str) -> Came:
    """Put all of it into the records: evaluations, quotes and their answers at one stroke, sales and photos beside."""
    for content in brought.photos.values():
        keep_as_it_is(photos, content)
    with writing(engine) as connection:
        here = _ids(connection, evaluations.c.id)
        new = [one for one in brought.evaluations if one["id"] not in here]
        if new:
            connection.execute(insert(evaluations), new)
            for one in new:
                note_words(connection, EVALUATION, str(one["id"]), str(one["created"]), [str(one["title"])])
        quotes_here, numbers = _ids(connection, quotes.c.id), _ids(connection, quotes.c.number)
        others = [one for one in brought.quotes if one["id"] not in quotes_here]
        free = [one for one in others if one["number"] not in numbers]
        if free:
            connection.execute(insert(quotes), free)
        came = {one["id"] for one in free}
        answers = [one for one in brought.answers if one["quote"] in came]
        if answers:
            connection.execute(insert(consents), answers)
        taken = [str(one["number"]) for one in others if one["number"] in numbers]
        more = [_put(connection, offers, brought.offers), _put(connection, stock, brought.stock)]
        days = put_days(connection, brought.workshop)
    added = add_sales(engine, brought.sales, now)
    here_already = len(brought.evaluations) - len(new) + len(brought.quotes) - len(others)
    here_already += len(brought.sales) - added
    here_already += sum(one.here for one in more)
    taken += [number for one in more for number in one.taken]
    taken += days.taken
    came_in = sum(one.new for one in more)
    here_already += days.here
    return Came(len(new), len(free), added, len(brought.photos), here_already, tuple(taken), came_in, days.new)


@dataclass(frozen=True, slots=True)
class _Put:
    new: int
    here: int
    taken: tuple[str, ...]


def _put(connection: Connection, table: Table, rows: Sequence[Mapping[str, object]]) -> _Put:
    """Put in what is not here; what came in by an offer that was left out is left out with it."""
    here, numbers = _ids(connection, table.c.id), _ids(connection, table.c.number)
    others = [one for one in rows if one["id"] not in here]
    free = [one for one in others if one["number"] not in numbers]
    if table is stock:
        known = _ids(connection, offers.c.id)
        free = [one for one in free if one["offer"] is None or one["offer"] in known]
    if free:
        connection.execute(insert(table), free)
    for one in free:
        kind = ITEM if table is stock else OFFER
        title = str(as_object(one["record"]).get("title", ""))
        note_words(connection, kind, str(one["id"]), str(one["made"]), [str(one["number"]), title])
    left = {one["number"] for one in free}
    return _Put(
        len(free), len(rows) - len(others), tuple(str(one["number"]) for one in others if one["number"] not in left)
    )


def keep_as_it_is(folder: Path, content: bytes) -> str:
    """Keep a photo that was kept before under its own name, byte by byte; one that is no photo is left out."""
    name = hashlib.sha256(content).hexdigest()
    place = folder / name[:2] / f"{name}.jpg"
    if not place.exists() and not isinstance(keep_photo(folder, content), Problem):
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        place.write_bytes(content)
        place.chmod(0o600)
    return name


def _ids(connection: Connection, column: Column[str]) -> set[str]:
    return set(connection.execute(select(column)).scalars())
