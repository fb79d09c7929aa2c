"""The backup that the service makes of itself once a day, while it runs: kept beside the records, or where it was told.

It tells how old the newest one is, and why the last try failed. Fourteen days stay.
"""

import logging
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import Engine
from sqlalchemy.exc import SQLAlchemyError

from ..records import Records
from .backup import Wanted, back_up

EVERY = timedelta(hours=24)
LOOK_EVERY_S = 600
DAYS_KEPT = 14
NAME = "records-%Y-%m-%dT%H%MZ.zip"

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Made:
    """A backup that lies there, and when it was begun (UTC)."""

    path: Path
    at: datetime


def made_in(folder: Path) -> tuple[Made, ...]:
    """The daily backups in a folder, the newest first; other files there are left alone."""
    found = []
    for path in folder.glob("records-*.zip"):
        try:
            found.append(Made(path, datetime.strptime(path.name, NAME).replace(tzinfo=UTC)))
        except ValueError:
            continue
    return tuple(sorted(found, key=lambda one: one.at, reverse=True))


def is_due(folder: Path, now: datetime) -> bool:
    """Whether the newest is a day old, or from a time that has not come yet."""
    newest = next(iter(made_in(folder)), None)
    return newest is None or not timedelta(0) <= now - newest.at < EVERY


def prune(folder: Path) -> None:
    """Take away all but the newest."""
    for one in made_in(folder)[DAYS_KEPT:]:
        one.path.unlink(missing_ok=True)


@dataclass
class Keeper:
    """Makes the daily backup in a thread of its own; `failed`: why the last try did not succeed, empty where it did."""

    engine: Engine
    records: Records
    folder: Path
    now: Callable[[], str]
    settings: dict[str, Path] = field(default_factory=dict)
    failed: str = ""
    _stop: threading.Event = field(default_factory=threading.Event)
    _thread: threading.Thread | None = None

    def start(self) -> None:
        self._thread = threading.Thread(target=self._run, name="daily backup", daemon=True)
        self._thread.start()

    def stop(self, seconds: float = 30) -> None:
        """Let it end what it has begun, for so long."""
        self._stop.set()
        if self._thread is not None:
            self._thread.join(seconds)

    def _run(self) -> None:
        while not self._stop.is_set():
            self.make_if_due()
            self._stop.wait(LOOK_EVERY_S)

    def make_if_due(self) -> Path | None:
        """Make the backup of this day where there is none; gives it."""
        return self.make() if is_due(self.folder, datetime.fromisoformat(self.now())) else None

    def make(self) -> Path | None:
        """Make a backup now; gives it, or None where it failed."""
        now = datetime.fromisoformat(self.now())
        path = self.folder / now.astimezone(UTC).strftime(NAME)
        try:
            back_up(self.engine, self.records, path, self.now(), Wanted(self.settings, inside=False))
            prune(self.folder)
        except (OSError, SQLAlchemyError) as error:
            self.failed = str(getattr(error, "strerror", None) or getattr(error, "orig", None) or error)
            log.error("the daily backup failed: %s", self.failed)
            return None
        self.failed = ""
        return path
