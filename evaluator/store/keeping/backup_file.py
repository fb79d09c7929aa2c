"""A backup as one file: a ZIP with a line of JSON a row, the photos, and a list of all that is in it with its hash.

It names the form of its tables, so that a later program can read it, and it is the same for both databases. It takes
its place when it is whole: one that was broken off is never there.
"""

import hashlib
import json
import os
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import IO

from ...basis.problem import Message, Messages, Problem, problem
from ...basis.zipped import DAMAGED
from ..engine import forms
from ..records import private_folder
from .rows import Row, written

FORMAT = 1
LIST = "list.json"
MOST_LIST_BYTES = 200_000_000
CHUNK = 1 << 20
# What a file raises that is damaged: as an archive, or in what its list says.
UNSOUND = (*DAMAGED, AttributeError, KeyError, TypeError)
MESSAGES: Messages = {
    "backup.unreadable": Message("it cannot be read: {why}.", "Give the path of a backup."),
    "backup.none": Message("it is no backup, or it breaks off.", "Take an earlier one."),
    "backup.newer": Message("a newer program made it ({program}).", "Restore it with that program or a later one."),
    "backup.missing": Message("“{part}” is not in it.", "Take an earlier backup; nothing was restored."),
    "backup.damaged": Message(
        "“{part}” in it is not what was written: it is damaged.", "Take an earlier backup; nothing was restored."
    ),
    "backup.rows": Message(
        "“{part}” has {found} rows in it and not {wanted}.", "Take an earlier backup; nothing was restored."
    ),
}


@dataclass(frozen=True, slots=True)
class Part:
    """One file in a backup; `rows` is None for what is no table."""

    sha256: str
    size: int
    rows: int | None = None


@dataclass(frozen=True, slots=True)
class Listed:
    """What is in a backup. `made`: ISO time; `form`: of its tables; `photos`: their names, which are their hashes.

    `inside`: whether the photos are in the file; else they lie in a folder beside it, shared by several backups.
    """

    program: str
    form: str
    made: str
    parts: dict[str, Part]
    photos: tuple[str, ...]
    inside: bool
    format: int = FORMAT


@dataclass(slots=True)
class Writer:
    """Puts parts into a backup that is being written."""

    zip: zipfile.ZipFile
    parts: dict[str, Part] = field(default_factory=dict)

    def table(self, name: str, rows: Iterable[Row]) -> int:
        """All rows of a table; gives how many."""
        count = 0

        def lines() -> Iterator[bytes]:
            nonlocal count
            for row in rows:
                count += 1
                yield written(row).encode() + b"\n"

        part = self._put(table_part(name), lines())
        self.parts[table_part(name)] = Part(part.sha256, part.size, count)
        return count

    def file(self, name: str, content: bytes) -> None:
        """A file of the settings."""
        self.parts[f"settings/{name}"] = self._put(f"settings/{name}", [content])

    def photo(self, name: str, content: bytes) -> None:
        """A photo; it is small already."""
        self.zip.writestr(zipfile.ZipInfo(photo_part(name)), content, zipfile.ZIP_STORED)

    def _put(self, name: str, pieces: Iterable[bytes]) -> Part:
        digest, size = hashlib.sha256(), 0
        packed = zipfile.ZipInfo(name)
        packed.compress_type = zipfile.ZIP_DEFLATED
        with self.zip.open(packed, "w", force_zip64=True) as out:
            for piece in pieces:
                out.write(piece)
                digest.update(piece)
                size += len(piece)
        return Part(digest.hexdigest(), size)


def table_part(name: str) -> str:
    return f"tables/{name}.jsonl"


def photo_part(name: str) -> str:
    return f"photos/{name}.jpg"


@contextmanager
def writing_backup(path: Path) -> Iterator[Writer]:
    """A backup to put parts into; its place is taken when the block is done and it is on the disk."""
    private_folder(path.parent)
    waiting = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        with open(os.open(waiting, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600), "w+b") as file:
            with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as archive:
                yield Writer(archive)
            file.flush()
            os.fsync(file.fileno())
        waiting.replace(path)
    except OSError as error:
        error.filename = error.filename or str(path)  # a full disk does not say which
        raise
    finally:
        waiting.unlink(missing_ok=True)


def close_list(writer: Writer, listed: Listed) -> None:
    """Write the list, the last part."""
    writer.zip.writestr(zipfile.ZipInfo(LIST), json.dumps(asdict(listed), indent=1), zipfile.ZIP_DEFLATED)


@dataclass(slots=True)
class Backup:
    """A backup that was opened and found whole."""

    path: Path
    zip: zipfile.ZipFile
    listed: Listed

    @property
    def tables(self) -> tuple[str, ...]:
        return tuple(name[7:-6] for name in self.listed.parts if name.startswith("tables/"))

    def rows(self, table: str) -> Iterator[Row]:
        with self.zip.open(table_part(table)) as lines:
            for line in lines:
                yield json.loads(line)

    def settings(self) -> dict[str, bytes]:
        """The files of the settings by name."""
        names = [name for name in self.listed.parts if name.startswith("settings/")]
        return {name.partition("/")[2]: self.zip.read(name) for name in names}

    def photo(self, name: str) -> bytes:
        """The content of a photo, from inside or from the folder beside."""
        if self.listed.inside:
            return self.zip.read(photo_part(name))
        return photo_beside(self.path, name).read_bytes()


def photo_beside(path: Path, name: str) -> Path:
    """Where the photos of a backup lie that are not in it."""
    return path.parent / "photos" / name[:2] / f"{name}.jpg"


@contextmanager
def opened(path: Path) -> Iterator[Backup | tuple[Problem, ...]]:
    """The backup in a file, every part of it read and compared with its hash; or all that is wrong with it."""
    try:
        archive = zipfile.ZipFile(path)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        yield (problem(MESSAGES, "backup.unreadable", str(path), why=why),)
        return
    except UNSOUND:
        yield (problem(MESSAGES, "backup.none", str(path)),)
        return
    with archive:
        listed = _list_in(archive)
        if listed is None:
            yield (problem(MESSAGES, "backup.none", str(path)),)
        else:
            backup = Backup(path, archive, listed)
            yield _too_new(path, listed) or _damages(backup) or backup


def _list_in(archive: zipfile.ZipFile) -> Listed | None:
    """The list of a backup; None where there is none that can be read."""
    try:
        with archive.open(LIST) as file:
            kept = json.loads(file.read(MOST_LIST_BYTES))
        parts = {str(name): Part(**part) for name, part in kept.pop("parts").items()}
        photos = tuple(str(name) for name in kept.pop("photos"))
        return Listed(parts=parts, photos=photos, **kept)
    except (*UNSOUND, OSError):  # a place that lies before the file's first byte
        return None


def _too_new(path: Path, listed: Listed) -> tuple[Problem, ...]:
    if listed.format == FORMAT and listed.form in forms():
        return ()
    return (problem(MESSAGES, "backup.newer", str(path), program=listed.program),)


def _damages(backup: Backup) -> tuple[Problem, ...]:
    found = [_damage(backup, name, part) for name, part in backup.listed.parts.items()]
    found += [_photo_damage(backup, name) for name in backup.listed.photos]
    return tuple(one for one in found if one is not None)


def _damage(backup: Backup, name: str, part: Part) -> Problem | None:
    where = str(backup.path)
    try:
        with backup.zip.open(name) as file:
            sha256, size, lines = _measured(file)
    except KeyError:
        return problem(MESSAGES, "backup.missing", where, part=name)
    except (*UNSOUND, OSError):
        return problem(MESSAGES, "backup.damaged", where, part=name)
    if (sha256, size) != (part.sha256, part.size):
        return problem(MESSAGES, "backup.damaged", where, part=name)
    if part.rows is not None and lines != part.rows:
        return problem(MESSAGES, "backup.rows", where, part=name, found=lines, wanted=part.rows)
    return None


def _measured(file: IO[bytes]) -> tuple[str, int, int]:
    digest, size, lines = hashlib.sha256(), 0, 0
    while piece := file.read(CHUNK):
        digest.update(piece)
        size += len(piece)
        lines += piece.count(b"\n")
    return digest.hexdigest(), size, lines


def _photo_damage(backup: Backup, name: str) -> Problem | None:
    part = photo_part(name)
    try:
        content = backup.photo(name)
    except (KeyError, FileNotFoundError):
        return problem(MESSAGES, "backup.missing", str(backup.path), part=part)
    except (*UNSOUND, OSError):
        return problem(MESSAGES, "backup.damaged", str(backup.path), part=part)
    if hashlib.sha256(content).hexdigest() != name:
        return problem(MESSAGES, "backup.damaged", str(backup.path), part=part)
    return None
