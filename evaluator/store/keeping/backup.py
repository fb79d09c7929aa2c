"""A backup of the records made while the service runs: every table as one view shows it, and the photos."""

import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import Engine

from ... import __version__
from ..engine import form_on, reading
from ..photos import kept_photos, place_of
from ..records import Records, private_folder
from .backup_file import Listed, close_list, photo_beside, writing_backup
from .rows import rows_of, tables_of

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What goes into a backup besides the records: files of settings by name; whether the installation's key does.

    `inside`: the photos in the file, so that it can be carried away; else beside it, once for all backups there.
    """

    settings: dict[str, Path] = field(default_factory=dict)
    key: bool = False
    inside: bool = True


def silent(_line: str) -> None:
    """No progress is told."""


def back_up(
    engine: Engine, records: Records, path: Path, now: str, wanted: Wanted = Wanted(), tell: Progress = silent
) -> Listed:
    """Write a backup; gives what is in it. Others go on writing meanwhile: it holds the state of its beginning."""
    with writing_backup(path) as writer, reading(engine) as connection:
        form = form_on(connection)
        for table in tables_of(connection):
            count = writer.table(table.name, rows_of(connection, table))
            tell(f"{table.name}: {count:,} rows")
        for name, place in wanted.settings.items():
            writer.file(name, place.read_bytes())
        if wanted.key and records.key.exists():
            writer.file(records.key.name, records.key.read_bytes())
        photos = kept_photos(records.photos)  # after the rows were looked at: whatever they name lies there
        for name in photos:
            place = place_of(records.photos, name)
            if wanted.inside:
                writer.photo(name, place.read_bytes())
            else:
                _put_beside(place, photo_beside(path, name))
        tell(f"photos: {len(photos):,}")
        listed = Listed(__version__, form or "", now, writer.parts, photos, wanted.inside)
        close_list(writer, listed)
    return listed


def _put_beside(place: Path, beside: Path) -> None:
    """The photo by a second name on the same disk, or a copy on another; one that is there stays."""
    if beside.exists():
        return
    private_folder(beside.parent)
    try:
        os.link(place, beside)
    except OSError:
        waiting = beside.with_suffix(f".{os.getpid()}.part")
        shutil.copyfile(place, waiting)
        waiting.chmod(0o600)
        waiting.replace(beside)
