"""Everything of an installation as one ZIP of open formats: what another program, or a person with an editor, can read.

    manifest.json              what it is, from when, and the SHA-256 of every other file
    evaluations/ID.yaml        each evaluation as the command line takes it
    evaluations.json           by id: state, version, times, and what was typed that is no part of such a file
    results/ID.json            each result as `score --json` prints it; of a finished one, as it was frozen
    quotes/ID.json             each quote with its answers and the bench's notes; links are not in it, nor any token
    offers/ID.json             each offer for an instrument; stock/ID.json what came in, its costs, its sale
    workshop/TABLE.json        customers and their instruments, bills, payments, marks of orders, series of numbers
    sales.json, sales.csv      the known sales; what is read back is the first, the second is for a spreadsheet
    photos/NAME.jpg            the photos, under the hash of their content

People of the house, sessions, tokens and the key are left out: an archive opens no door. For those there is the backup.
"""

import hashlib
import json
import zipfile
from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from sqlalchemy import Engine, Table, select

from .. import __version__
from ..quoting.records import to_data
from ..store.desk.tables import offers, stock
from ..store.engine import reading
from ..store.evaluations import Kept, row_of
from ..store.known_sales import whole_book
from ..store.photos import photo_path
from ..store.schema import consents, evaluations, quotes
from ..valuation.sales.sales_file import write_sales
from .evaluation_file import HEAD_KEYS, PRICES, START_KEYS, as_yaml, file_data
from .workshop_days import FOLDER, all_rows

FORMAT = 1
NAME = "bowed-instruments-archive"
IN_FILE = {*START_KEYS, *HEAD_KEYS, *PRICES, "currency"}
NOT_KEPT = {"answers", "start", "beside", "stamps"}  # of what was typed: these lie in the YAML, or say only who saved
LINKS = {"token_hash"}
Row = Mapping[str, object]


class _Everything(Container[str]):
    """Holds every check: what a rubric no longer asks goes along as well."""

    def __contains__(self, _: object) -> bool:
        return True


@dataclass(slots=True)
class _Writing:
    """The archive while it is written, and the hash of each file in it."""

    archive: zipfile.ZipFile
    hashes: dict[str, str]

    def put(self, name: str, content: bytes) -> None:
        self.archive.writestr(zipfile.ZipInfo(name, (2000, 1, 1, 0, 0, 0)), content, zipfile.ZIP_DEFLATED)
        self.hashes[name] = hashlib.sha256(content).hexdigest()


def write_archive(
    out: IO[bytes], engine: Engine, photos: Path, result_of: Callable[[Kept], Mapping[str, object]], now: str
) -> dict[str, int]:
    """Write everything; gives how many there are of each. `result_of`: the result of an evaluation as JSON."""
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        writing = _Writing(archive, {})
        counts = {
            "evaluations": _evaluations(writing, engine, result_of),
            "quotes": _quotes(writing, engine),
            "offers": _rows(writing, engine, offers, "offers"),
            "stock": _rows(writing, engine, stock, "stock"),
            "photos": _photos(writing, engine, photos),
            "sales": _sales(writing, engine),
            **_workshop(writing, engine),
        }
        manifest = {"archive": NAME, "format": FORMAT, "program": __version__, "made": now, "counts": counts}
        archive.writestr("manifest.json", _json(manifest | {"files": writing.hashes}))
    return counts


def _evaluations(writing: _Writing, engine: Engine, result_of: Callable[[Kept], Mapping[str, object]]) -> int:
    about: dict[str, object] = {}
    for kept in all_evaluations(engine):
        about[kept.id] = about_of(kept)
        writing.put(f"evaluations/{kept.id}.yaml", evaluation_yaml(kept).encode())
        writing.put(f"results/{kept.id}.json", _json(kept.snapshot or result_of(kept)))
    writing.put("evaluations.json", _json(about))
    return len(about)


def evaluation_yaml(kept: Kept) -> str:
    """An evaluation of the pages as the file that the command line takes."""
    return as_yaml(file_data(kept.rubric, kept.typed, _Everything()))


def about_of(kept: Kept) -> dict[str, object]:
    """What an evaluation has beside its file."""
    names = ("version", "state", "created", "changed", "rubric_hash", "made_from")
    start = {name: value for name, value in kept.typed["start"].items() if name not in IN_FILE}
    more = {name: value for name, value in kept.typed.items() if name not in NOT_KEPT}
    return {name: getattr(kept, name) for name in names} | {"start": start, "typed": more}


def all_evaluations(engine: Engine) -> Iterator[Kept]:
    """Every evaluation, the oldest first, one in memory at a time."""
    with reading(engine) as connection:
        ids = connection.execute(select(evaluations.c.id).order_by(evaluations.c.created, evaluations.c.id)).scalars()
        names = list(ids)
    for name in names:
        with reading(engine) as connection:
            row = row_of(connection, name)
        if row is not None:
            yield Kept(**row._mapping)


def _quotes(writing: _Writing, engine: Engine) -> int:
    with reading(engine) as connection:
        rows = connection.execute(select(quotes).order_by(quotes.c.made, quotes.c.id)).mappings().all()
        chains = connection.execute(select(consents).order_by(consents.c.quote, consents.c.place)).mappings().all()
    for row in rows:
        answers = [dict(one) for one in chains if one["quote"] == row["id"]]
        kept = {name: value for name, value in row.items() if name not in LINKS}
        writing.put(f"quotes/{row['id']}.json", _json({"quote": kept, "answers": answers}))
    return len(rows)


def _rows(writing: _Writing, engine: Engine, table: Table, folder: str) -> int:
    """A table of records, each in a file of its own."""
    with reading(engine) as connection:
        rows = connection.execute(select(table).order_by(table.c.made, table.c.id)).mappings().all()
    for row in rows:
        writing.put(f"{folder}/{row['id']}.json", _json(dict(row)))
    return len(rows)


def _workshop(writing: _Writing, engine: Engine) -> dict[str, int]:
    counts = {}
    for name, rows in all_rows(engine):
        writing.put(f"{FOLDER}/{name}.json", _json(rows))
        counts[name] = len(rows)
    return counts


def _photos(writing: _Writing, engine: Engine, folder: Path) -> int:
    names = {
        photo["name"]
        for kept in all_evaluations(engine)
        for photos in kept.typed.get("photos", {}).values()
        for photo in photos
    }
    found = [path for name in sorted(names) if (path := photo_path(folder, name)) is not None]
    for path in found:
        writing.put(f"photos/{path.name}", path.read_bytes())
    return len(found)


def _sales(writing: _Writing, engine: Engine) -> int:
    sales = whole_book(engine).sales
    writing.put("sales.json", _json([to_data(one) for one in sales]))
    writing.put("sales.csv", write_sales(sales).encode())
    return len(sales)


def _json(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False, indent=1, sort_keys=True, default=str).encode()
