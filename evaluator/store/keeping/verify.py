"""Whether the records are what they were: the database whole, every chain of consents, every photo, and every kept
result read back to the figures that it was kept with.
"""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeGuard

from sqlalchemy import Engine, select, text
from sqlalchemy.exc import DatabaseError

from ...basis.problem import Message, Messages, Problem, problem
from ...basis.record import as_list, as_object, as_text
from ...quoting.consent import first_wrong
from ...result.json_form import NoResultError, has_money_as_text, read_result, result_json, with_plain_money
from ...result.model.result import FORMAT
from ..engine import is_file, open_database, reading
from ..photos import kept_photos, place_of
from ..quotes import KeptQuote, find_quote
from ..records import Records
from ..schema import evaluations, quotes
from .backup import Progress, silent
from .restore import restore

BACKUP = "Restore a backup from before, or ask whoever has the paper; change nothing by hand."
MESSAGES: Messages = {
    "verify.database": Message("the database is damaged: {told}.", BACKUP),
    "verify.result": Message("its kept result cannot be read back.", BACKUP),
    "verify.figure": Message("its kept result reads back with {path} = {now} and not {then}.", BACKUP),
    "verify.quote": Message("it cannot be read back.", BACKUP),
    "verify.chain": Message("answer {which} to it, or the quote itself, was changed after it was given.", BACKUP),
    "verify.order": Message("answer {which} to it is older than what it answers.", "Ask for the answer anew."),
    "verify.photo": Message("its content is not what was kept.", "Take it again, or restore it from a backup."),
    "verify.photo_gone": Message("its photo {name} is not there.", "Take it again, or restore it from a backup."),
}

COUNTS = ("evaluations", "results", "quotes", "answers", "photos")


@dataclass(frozen=True, slots=True)
class Verified:
    """How much was looked at, and all that is wrong."""

    evaluations: int
    results: int
    quotes: int
    answers: int
    photos: int
    problems: tuple[Problem, ...]


def verified(engine: Engine, photos: Path, tell: Progress = silent) -> Verified:
    """Look at everything; what is wrong is told by what it is in. A database that breaks under it ends the look."""
    counts, wrong = dict.fromkeys(COUNTS, 0), list[Problem]()
    try:
        for found in _findings(engine, photos, counts):
            wrong.append(found)
    except DatabaseError as error:
        if not is_file(engine):
            raise
        wrong.append(problem(MESSAGES, "verify.database", str(engine.url.database), told=str(error.orig)))
    for name, count in counts.items():
        tell(f"{name}: {count:,}")
    return Verified(**counts, problems=tuple(wrong))


def _findings(engine: Engine, photos: Path, counts: dict[str, int]) -> Iterator[Problem]:
    """All that is wrong, one after the other; `counts` grows by what was looked at."""
    yield from _database(engine)
    for row in _evaluations(engine):
        counts["evaluations"] += 1
        counts["results"] += row["snapshot"] is not None
        yield from _result(row)
        yield from _photos_of(row, photos)
    for identity in _quote_ids(engine):
        counts["quotes"] += 1
        kept = _quote(engine, identity)
        if isinstance(kept, Problem):
            yield kept
        else:
            counts["answers"] += len(kept.chain)
            yield from _chain(kept)
    for name in kept_photos(photos):
        counts["photos"] += 1
        yield from _photo(photos, name)


def verified_backup(path: Path, tell: Progress = silent) -> Verified | tuple[Problem, ...]:
    """The same of a backup, restored into a folder that goes again; or what is wrong with its file."""
    with TemporaryDirectory() as folder:
        records = Records(Path(folder) / "restored")
        found = restore(path, records, tell)
        if isinstance(found, tuple):
            return found
        engine = open_database(records.database)
        try:
            return verified(engine, records.photos, tell)
        finally:
            engine.dispose()


def _database(engine: Engine) -> Iterator[Problem]:
    if not is_file(engine):
        return
    with reading(engine) as connection:
        told = [str(row[0]) for row in connection.execute(text("PRAGMA integrity_check(20)"))]
        loose = connection.execute(text("PRAGMA foreign_key_check")).all()
    where = str(engine.url.database)
    for one in told if told != ["ok"] else ():
        yield problem(MESSAGES, "verify.database", where, told=one)
    for row in loose[:20]:
        yield problem(MESSAGES, "verify.database", where, told=f"a row of {row[0]} points to nothing in {row[2]}")


def _evaluations(engine: Engine) -> Iterator[Mapping[str, object]]:
    """Every evaluation, a few at a time; each in a short view of its own, so that nothing is held up."""
    last = ""
    while True:
        query = select(evaluations).where(evaluations.c.id > last).order_by(evaluations.c.id).limit(100)
        with reading(engine) as connection:
            rows = connection.execute(query).mappings().all()
        yield from (dict(row) for row in rows)
        if not rows:
            return
        last = rows[-1]["id"]


def _result(row: Mapping[str, object]) -> Iterator[Problem]:
    if row["snapshot"] is None:
        return
    where = f"evaluation {row['id']}"
    try:
        kept = as_object(row["snapshot"])
        found = read_result(kept)
        again = result_json(found) if has_money_as_text(kept) else with_plain_money(found)
    except NoResultError:
        yield problem(MESSAGES, "verify.result", where)
        return
    same_form = kept.get("format") == FORMAT
    for path, then, now in list(differences({**kept, "format": FORMAT}, again, whole=same_form))[:5]:
        yield problem(MESSAGES, "verify.figure", where, path=path, then=then, now=now)


def differences(then: object, now: object, whole: bool, path: str = "") -> Iterator[tuple[str, object, object]]:
    """(where, what was kept, what reads back) of every value that differs.

    What was added since is none. `whole`: whether what is gone counts; an older form had fields that went.
    """
    if isinstance(then, Mapping) and isinstance(now, Mapping):
        for name, one in then.items():
            if name in now:
                yield from differences(one, now[name], whole, f"{path}.{name}".lstrip("."))
            elif whole:
                yield f"{path}.{name}".lstrip("."), one, None
    elif _is_list(then) and _is_list(now):
        if len(then) != len(now):
            yield f"{path} (how many)", len(then), len(now)
        for place, (one, other) in enumerate(zip(then, now, strict=False)):
            yield from differences(one, other, whole, f"{path}[{place}]")
    elif then != now and (whole or _is_figure(then) or path.endswith(".amount")):
        yield path, then, now


def _is_list(value: object) -> TypeGuard[Sequence[object]]:
    return isinstance(value, Sequence) and not isinstance(value, str)


def _is_figure(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _photos_of(row: Mapping[str, object], photos: Path) -> Iterator[Problem]:
    for shown in as_object(as_object(row["typed"]).get("photos", {})).values():
        for one in as_list(shown):
            name = as_text(as_object(one)["name"])
            if not place_of(photos, name).is_file():
                yield problem(MESSAGES, "verify.photo_gone", f"evaluation {row['id']}", name=name)


def _photo(photos: Path, name: str) -> Iterator[Problem]:
    place = place_of(photos, name)
    if hashlib.sha256(place.read_bytes()).hexdigest() != name:
        yield problem(MESSAGES, "verify.photo", str(place))


def _quote_ids(engine: Engine) -> list[str]:
    with reading(engine) as connection:
        return [row.id for row in connection.execute(select(quotes.c.id).order_by(quotes.c.number))]


def _quote(engine: Engine, identity: str) -> KeptQuote | Problem:
    try:
        found = find_quote(engine, identity)
    except ValueError:
        found = None
    return found or problem(MESSAGES, "verify.quote", f"quote with the id {identity}")


def _chain(kept: KeptQuote) -> Iterator[Problem]:
    where = f"quote {kept.quote.number}"
    altered = first_wrong(kept.quote, kept.chain)
    if altered is not None:
        yield problem(MESSAGES, "verify.chain", where, which=altered + 1)
    before = None
    for place, one in enumerate(kept.chain):
        if one.at.date() < kept.quote.made_on or (before is not None and one.at < before):
            yield problem(MESSAGES, "verify.order", where, which=place + 1)
        before = one.at
