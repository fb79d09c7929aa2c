"""An archive that is brought into an installation, looked at whole before anything of it is kept."""

import hashlib
import json
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import IO

from sqlalchemy import Table

from ..basis.document import parse_document
from ..basis.problem import Message, Messages, Place, Problem, problem
from ..basis.record import JsonObject, as_list, as_object, as_text
from ..basis.zipped import DAMAGED
from ..choosing.offer_letter import OfferLetter
from ..choosing.stock import Item
from ..quoting.consent import Consent
from ..quoting.quote import Quote
from ..quoting.records import from_data
from ..result.json_form import NoResultError, read_result
from ..store.desk.tables import offers, stock
from ..store.schema import quotes
from ..valuation.sales.comparables import Comparable
from .archive import FORMAT, NAME
from .evaluation_file import typed_from
from .workshop_days import FOLDER, checked_rows

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
    about = _json(files, "evaluations.json")
    for name, content in files.items():
        try:
            _take(found, name, content, about, files)
        except (KeyError, ValueError, TypeError) as error:
            raise _RefusedError("archive.unreadable", name=name[:80], why="something in it is missing") from error
    try:
        found.sales = tuple(from_data(Comparable, one) for one in as_list(_json(files, "sales.json")))
    except (ValueError, TypeError) as error:
        raise _RefusedError("archive.unreadable", name="sales.json", why="it holds what is no sale") from error
    return found


def _take(found: Brought, name: str, content: bytes, about: object, files: Mapping[str, bytes]) -> None:
    """One file of it; `about`: what evaluations have beside their files."""
    folder, _, rest = name.partition("/")
    identity = rest.partition(".")[0]
    if folder == "evaluations":
        told = as_object(as_object(about)[identity])
        found.evaluations.append(_evaluation(name, content, identity, told, files))
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
