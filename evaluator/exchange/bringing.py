"""An archive brought into an installation: looked at whole first, then written in one stroke, or not at all.

What is here already stays as it is: an evaluation or quote of the same id, a sale that stands in the book. A quote
whose number another one has here is told and left out, with its answers.
"""

import hashlib
import json
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO

from sqlalchemy import Column, Connection, Engine, Table, insert, select

from ..basis.documents.document import parse_document
from ..basis.json import JsonObject, as_list, as_object, as_text
from ..basis.message import Message, Messages, problem
from ..basis.problem import Place, Problem
from ..basis.zipped import DAMAGED
from ..choosing.offer_letter import OfferLetter
from ..choosing.stock import Item
from ..quoting.consent import Consent
from ..quoting.quote import Quote
from ..quoting.records import from_data
from ..result.json_form import NoResultError, read_result
from ..store.desk.tables import offers, stock
from ..store.engine import writing
from ..store.finding.words import EVALUATION, ITEM, OFFER, note_words
from ..store.known_sales import add_sales
from ..store.photos import keep_photo
from ..store.schema import consents, evaluations, quotes
from ..valuation.sales.comparables import Comparable
from .archive import FORMAT, NAME
from .evaluation_file import typed_from
from .workshop_days import FOLDER, checked_rows, put_days

MOST_FILES = 200_000
MOST_FILE = 40_000_000
MOST_UNPACKED = 4_000_000_000
MOST_TIMES_LARGER = 200

MESSAGES: Messages = {
    "archive.broken": Message("the archive is damaged, or is none.", "Write it out anew, and send that."),
    "archive.other": Message("this ZIP is no archive of this program.", "Send the file that was written out here."),
    "archive.newer": Message("it was written by a newer program (format {format}).", "Bring this program up to date."),
    "archive.bomb": Message("it unpacks to more than it can hold.", "Send the archive as it was written."),
    "archive.missing": Message('the file "{name}" is missing.', "Send the archive as it was written."),
    "archive.changed": Message('the file "{name}" is not as it was written.', "Send the archive as it was written."),
    "archive.unreadable": Message('"{name}" cannot be read: {why}.', "Send the archive as it was written."),
}


@dataclass(slots=True)
class Brought:
    """What an archive holds, read: rows for the tables, sales, photos; and what it says of itself."""

    made: str = ""
    evaluations: list[dict[str, object]] = field(default_factory=list)
    quotes: list[dict[str, object]] = field(default_factory=list)
    answers: list[JsonObject] = field(default_factory=list)
    offers: list[dict[str, object]] = field(default_factory=list)
    stock: list[dict[str, object]] = field(default_factory=list)
    workshop: dict[str, list[dict[str, object]]] = field(default_factory=dict)
    sales: tuple[Comparable, ...] = ()
    photos: dict[str, bytes] = field(default_factory=dict)
    results: dict[str, object] = field(default_factory=dict)


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


class _RefusedError(Exception):
    def __init__(self, code: str, **words: object) -> None:
        self.problem = problem(MESSAGES, code, "", Place("the archive"), **words)
        super().__init__(code)


def read_archive(sent: IO[bytes]) -> Brought | Problem:
    """Everything in an archive, each file as its hash says; or the first thing that is wrong with it."""
    try:
        with zipfile.ZipFile(sent) as archive:
            return _read(archive)
    except _RefusedError as refused:
        return refused.problem
    except (*DAMAGED, OSError):
        return problem(MESSAGES, "archive.broken", "", Place("the archive"))


def _read(archive: zipfile.ZipFile) -> Brought:
    _bounded(archive)
    manifest = _manifest(archive)
    files = {name: _content(archive, name, wanted) for name, wanted in as_object(manifest["files"]).items()}
    found = Brought(made=str(manifest.get("made", "")))
    about = as_object(_json(files, "evaluations.json"))
    for name, content in files.items():
        folder, _, rest = name.partition("/")
        identity = rest.partition(".")[0]
        if folder == "evaluations":
            found.evaluations.append(_evaluation(name, content, identity, as_object(about[identity]), files))
        elif folder == "results":
            found.results[identity] = _json(files, name)
        elif folder == "quotes":
            _quote(found, name, as_object(_json(files, name)))
        elif folder == "offers":
            found.offers.append(_record(name, as_object(_json(files, name)), OfferLetter, offers))
        elif folder == "stock":
            found.stock.append(_record(name, as_object(_json(files, name)), Item, stock))
        elif folder == FOLDER:
            found.workshop[identity] = _workshop(name, identity, _json(files, name))
        elif folder == "photos":
            found.photos[identity] = content
    try:
        found.sales = tuple(from_data(Comparable, one) for one in as_list(_json(files, "sales.json")))
    except (ValueError, TypeError) as error:
        raise _RefusedError("archive.unreadable", name="sales.json", why="it holds what is no sale") from error
    return found


def _bounded(archive: zipfile.ZipFile) -> None:
    entries = archive.infolist()
    size, packed = (sum(getattr(one, name) for one in entries) for name in ("file_size", "compress_size"))
    large = size > MOST_UNPACKED or size > MOST_TIMES_LARGER * packed + 1_000_000
    if large or len(entries) > MOST_FILES or any(one.file_size > MOST_FILE for one in entries):
        raise _RefusedError("archive.bomb")


def _manifest(archive: zipfile.ZipFile) -> Mapping[str, object]:
    try:
        found = json.loads(archive.read("manifest.json"))
    except (KeyError, ValueError, RecursionError) as error:
        raise _RefusedError("archive.other") from error
    if not isinstance(found, dict) or found.get("archive") != NAME or not isinstance(found.get("files"), dict):
        raise _RefusedError("archive.other")
    if found.get("format") != FORMAT:
        raise _RefusedError("archive.newer", format=str(found.get("format"))[:10])
    for name in ("evaluations.json", "sales.json"):
        if name not in found["files"]:
            raise _RefusedError("archive.missing", name=name)
    return found


def _content(archive: zipfile.ZipFile, name: str, wanted: object) -> bytes:
    try:
        content = archive.read(name)
    except KeyError as error:
        raise _RefusedError("archive.missing", name=name[:80]) from error
    if hashlib.sha256(content).hexdigest() != wanted:
        raise _RefusedError("archive.changed", name=name[:80])
    return content


def _json(files: Mapping[str, bytes], name: str) -> object:
    try:
        return json.loads(files[name])
    except (ValueError, RecursionError) as error:
        raise _RefusedError("archive.unreadable", name=name[:80], why="it is no JSON") from error


def _evaluation(
    name: str, content: bytes, identity: str, about: Mapping[str, object], files: Mapping[str, bytes]
) -> dict[str, object]:
    """The row of an evaluation, as it lay where it comes from."""
    document, problems = parse_document(content, name)
    if document is None:
        raise _RefusedError("archive.unreadable", name=name, why=problems[0].what.rstrip("."))
    typed = typed_from(document.data)
    start = {**typed["start"], **as_object(about["start"])}
    snapshot = None
    if about["state"] == "finished":
        snapshot = as_object(_json(files, f"results/{identity}.json"))
        try:
            read_result(snapshot)
        except NoResultError as error:
            raise _RefusedError("archive.unreadable", name=f"results/{identity}.json", why="no result") from error
    kept = {key: about[key] for key in ("version", "state", "created", "changed", "rubric_hash", "made_from")}
    head = {"id": identity, "title": str(start.get("title") or "")[:400]}
    return {
        **head,
        "rubric": str(document.data["rubric"]),
        "typed": {**typed, **as_object(about["typed"]), "start": start},
        "snapshot": snapshot,
        **kept,
    }


def _quote(found: Brought, name: str, data: Mapping[str, object]) -> None:
    """The rows of a quote and of its answers, where their records can be read."""
    try:
        quote, answers = as_object(data["quote"]), [as_object(one) for one in as_list(data["answers"])]
        from_data(Quote, quote["record"])
        for one in answers:
            from_data(Consent, one["record"])
    except (ValueError, KeyError, TypeError) as error:
        raise _RefusedError("archive.unreadable", name=name, why="it is no quote") from error
    known = {column.name for column in quotes.columns}
    found.quotes.append({key: value for key, value in quote.items() if key in known})
    found.answers += answers


def _record(name: str, row: Mapping[str, object], kind: type[object], table: Table) -> dict[str, object]:
    """The row of a table whose record can be read."""
    try:
        from_data(kind, row["record"])
        for key in ("id", "number", "made"):
            as_text(row[key])
    except (ValueError, KeyError, TypeError) as error:
        raise _RefusedError("archive.unreadable", name=name, why="it is no record of its kind") from error
    return {column.name: row.get(column.name) for column in table.columns}


def _workshop(name: str, table: str, rows: object) -> list[dict[str, object]]:
    try:
        return checked_rows(table, rows)
    except (ValueError, KeyError, TypeError) as error:
        raise _RefusedError("archive.unreadable", name=name[:80], why="it holds what is none of these") from error


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
