"""Where the instruments of a fleet come from: files and folders, a ZIP of them, a sheet with a row for each.

What cannot be read becomes a source too, with what is wrong with it, so that it is listed and the others go on.
Archives are bounded before anything is unpacked.
"""

import os
from collections.abc import Iterator, Sequence
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from ..basis.frozen import dataclass
from ..basis.problem import Message, Messages, Place, Problem, problem
from .sheet import SheetRow, is_sheet, sheet_rows

if TYPE_CHECKING:
    from zipfile import ZipFile, ZipInfo

EVALUATIONS = frozenset({".yaml", ".yml", ".json"})
MOST_BYTES = 2_000_000
MOST_SHEET = 20_000_000
MOST_IN_ZIP = 2_000
MOST_UNPACKED = 200_000_000
MOST_TIMES_LARGER = 200  # text packs into a twentieth at best; what unpacks to more was made to

MESSAGES: Messages = {
    "fleet.unreadable": Message("it cannot be read: {why}.", "Give the path of an evaluation file or of a folder."),
    "fleet.nothing": Message("no evaluation is in there.", "Evaluation files end in .yaml, .yml or .json."),
    "fleet.too_large": Message("it is larger than {limit} MB.", "Give a smaller file."),
    "fleet.broken_zip": Message("the archive is damaged, or is none.", "Pack it again as a ZIP."),
    "fleet.bomb": Message("the archive unpacks to more than {limit} MB.", "Give only the evaluation files."),
    "fleet.locked": Message("it is locked with a password.", "Pack it again without one."),
    "fleet.too_many": Message("the archive holds more than {limit} files.", "Split it."),
    "fleet.outside": Message("its path leads out of the archive.", "Pack it again from inside its folder."),
}


@dataclass(frozen=True, slots=True)
class Source:
    """One instrument on its way: its file's content or its row of a sheet, or why there is neither."""

    name: str
    content: bytes = b""
    row: SheetRow | None = None
    problems: tuple[Problem, ...] = ()


def from_paths(paths: Sequence[str]) -> Iterator[Source]:
    """Every instrument of these files and folders, one after another, in the order of their names."""
    for path in paths:
        if not os.path.isdir(path):
            yield from from_file(path)
            continue
        found = files_in(path)
        if not found:
            yield _wrong("fleet.nothing", path)
        for file in found:
            yield from from_file(file)


def files_in(folder: str) -> list[str]:
    """The evaluation files below a folder, by name. Hidden ones and other kinds are passed over, sheets too: one that
    is meant is named, and a list of sales beside the instruments is no fleet.
    """
    found = []
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        known = (name for name in files if Path(name).suffix.lower() in EVALUATIONS)
        found += [os.path.join(here, name) for name in sorted(known) if not name.startswith(".")]
    return found


def from_file(path: str) -> Iterator[Source]:
    """The instrument of an evaluation file, or those of a sheet or an archive."""
    limit = MOST_BYTES if Path(path).suffix.lower() in EVALUATIONS else MOST_SHEET
    try:
        with open(path, "rb") as file:
            content = file.read(limit + 1)
    except OSError as error:
        yield _wrong("fleet.unreadable", path, why=(error.strerror or "no reason is given").lower())
        return
    if len(content) > limit:
        yield _wrong("fleet.too_large", path, limit=limit // 1_000_000)
    else:
        yield from from_content(content, path)


def from_content(content: bytes, name: str) -> Iterator[Source]:
    """The instruments of one file by what it is: an archive, a sheet, an evaluation."""
    if is_sheet(content, name):
        rows = sheet_rows(content, name)
        if isinstance(rows, Problem):
            yield Source(name, problems=(rows,))
            return
        yield from (Source(f"{name}:{row.line}", row=row) for row in rows)
    elif content[:4] == b"PK\x03\x04":
        yield from from_zip(content, name)
    else:
        yield Source(name, content)


def from_zip(content: bytes, name: str) -> Iterator[Source]:
    """The evaluation files of an archive; one with too much in it is refused whole."""
    from zipfile import ZipFile

    from ..basis.zipped import DAMAGED

    try:
        archive = ZipFile(BytesIO(content))
    except (*DAMAGED, OSError):
        yield _wrong("fleet.broken_zip", name)
        return
    with archive:
        entries = [
            one for one in archive.infolist() if not one.filename.endswith("/")
        ]  # `is_dir` fails on a nameless one
        refused = _too_much(entries, len(content), name)
        if refused is not None:
            yield refused
            return
        wanted = sorted((one for one in entries if _is_wanted(one.filename)), key=lambda one: one.filename)
        if not wanted:
            yield _wrong("fleet.nothing", name)
        for entry in wanted:
            yield from _from_entry(archive, entry, name)


def _too_much(entries: Sequence["ZipInfo"], packed: int, name: str) -> Source | None:
    size = sum(one.file_size for one in entries)
    if len(entries) > MOST_IN_ZIP:
        return _wrong("fleet.too_many", name, limit=f"{MOST_IN_ZIP:,}")
    if size > MOST_UNPACKED or size > MOST_TIMES_LARGER * packed + 1_000_000:
        return _wrong("fleet.bomb", name, limit=min(MOST_UNPACKED, MOST_TIMES_LARGER * packed + 1_000_000) // 1_000_000)
    return None


def _is_wanted(name: str) -> bool:
    path = PurePosixPath(name)
    hidden = any(part.startswith((".", "__MACOSX")) and part not in {".", ".."} for part in path.parts)
    return path.suffix.lower() in EVALUATIONS and not hidden


def _from_entry(archive: "ZipFile", entry: "ZipInfo", name: str) -> Iterator[Source]:
    from ..basis.zipped import DAMAGED

    inside = f"{name}/{entry.filename}"
    if ".." in PurePosixPath(entry.filename).parts:
        yield _wrong("fleet.outside", inside)
        return
    if entry.flag_bits & 1:
        yield _wrong("fleet.locked", inside)
        return
    try:
        with archive.open(entry) as file:
            content = file.read(MOST_BYTES + 1)  # an entry may hold more than its head says
    except (*DAMAGED, OSError):
        yield _wrong("fleet.broken_zip", inside)
        return
    if len(content) > MOST_BYTES:
        yield _wrong("fleet.too_large", inside, limit=MOST_BYTES // 1_000_000)
    else:
        yield Source(inside, content)  # whatever it holds: an archive in an archive is not opened


def _wrong(code: str, name: str, **words: object) -> Source:
    return Source(name, problems=(problem(MESSAGES, code, "", Place(name), **words),))
