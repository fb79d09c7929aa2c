"""Everything that the service stands on, looked at one by one: what is well, what wants attention, and what to do.

One list for the command line, the owner's page and the health address. It changes nothing.
"""

import os
import platform
import shutil
import stat
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Literal

from sqlalchemy import Engine, func, select, text
from sqlalchemy.exc import SQLAlchemyError

from ... import __version__
from ...store.engine import form_of, is_file, newest_form, reading
from ...store.faults import UnusableError, fault_of, unusable
from ...store.keeping.daily import DAYS_KEPT, made_in
from ...store.records import Records
from ...store.schema import evaluations, quotes

State = Literal["well", "look", "wrong"]
LIBRARIES = ("flask", "sqlalchemy", "pydantic", "numpy", "scipy", "reportlab", "waitress", "psycopg")
OPTIONAL = frozenset({"psycopg"})
LEAST_PYTHON = (3, 11)
LITTLE_SPACE, NO_SPACE = 2_000_000_000, 200_000_000  # bytes
OLD_BACKUP = timedelta(days=2)
# No computer that runs this program can be before the day on which it was written.
EARLIEST = datetime(2026, 1, 1, tzinfo=UTC)
CLOCK_SLACK = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at: `told` is what was found, `to_do` is empty where all is well."""

    subject: str
    state: State
    told: str
    to_do: str = ""


@dataclass(frozen=True, slots=True)
class Looked:
    """Where to look: the records, their open database, the folder of daily backups, and the time (UTC)."""

    records: Records
    engine: Engine
    backups: Path
    now: datetime
    failed: str = ""


def examined(at: Looked) -> tuple[Finding, ...]:
    """Every finding, in the order in which somebody would mend them."""
    return tuple(finding for look in LOOKS for finding in look(at))


def worst(findings: tuple[Finding, ...]) -> State:
    states = {one.state for one in findings}
    return "wrong" if "wrong" in states else "look" if "look" in states else "well"


def _versions(_at: Looked) -> Iterator[Finding]:
    python = platform.python_version()
    if sys.version_info[:2] < LEAST_PYTHON:
        yield Finding("Python", "wrong", python, "Install Python 3.11 or later.")
    found, missing = [], []
    for name in LIBRARIES:
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            missing += [] if name in OPTIONAL else [name]
    if missing:
        yield Finding("Libraries", "wrong", f"missing: {', '.join(missing)}", "Run: pip install -e .")
    yield Finding("Versions", "well", f"evaluator {__version__}, Python {python}, {', '.join(found)}")


def _database(at: Looked) -> Iterator[Finding]:
    named = at.records.named()
    try:
        form = form_of(at.engine)
        told = _told_of(at.engine)
    except (SQLAlchemyError, OSError, UnusableError) as error:
        fault = fault_of(error)
        what, to_do = (fault.what, fault.what_to_do) if fault else (type(error).__name__, "Look at its log.")
        yield Finding("Database", "wrong", f"{named}: {what}", to_do)
        return
    if form != newest_form():
        to_do = "Start the service once with this program; it brings the tables up to date."
        yield Finding("Database", "look", f"{named}: its tables have the form {form}", to_do)
    yield Finding("Database", "well", f"{named}: {told}")


def _told_of(engine: Engine) -> str:
    """Its kind, that its content hangs together, and how much it holds."""
    asked = "SELECT sqlite_version()" if is_file(engine) else "SHOW server_version"
    with reading(engine) as connection:
        kind = f"{'SQLite' if is_file(engine) else 'PostgreSQL'} {connection.execute(text(asked)).scalar_one()}"
        if is_file(engine):
            checked = str(connection.execute(text("PRAGMA quick_check(1)")).scalar_one())
            if checked != "ok":
                raise unusable("fault.damaged")
        asked_counts = [select(func.count()).select_from(table) for table in (evaluations, quotes)]
        counts = [int(connection.execute(one).scalar_one()) for one in asked_counts]
    return f"{kind}, {counts[0]:,} evaluations, {counts[1]:,} quotes"


def _space(at: Looked) -> Iterator[Finding]:
    for subject, folder in (("Space", at.records.folder), ("Space for backups", at.backups)):
        there = next((one for one in (folder, *folder.parents) if one.exists()), None)
        if there is None:
            continue
        free = shutil.disk_usage(there).free
        told = f"{free / 1e9:,.1f} GB free for {folder}"
        if free < NO_SPACE:
            yield Finding(subject, "wrong", told, "Free some now: soon nothing can be kept any more.")
        elif free < LITTLE_SPACE:
            yield Finding(subject, "look", told, "Free some, or move the folder to a larger disk.")
        else:
            yield Finding(subject, "well", told)


def _fonts(_at: Looked) -> Iterator[Finding]:
    from ...papers.printing.fonts import register

    try:
        yield Finding("Fonts of the papers", "well", f"all five there, {len(register()):,} letters and signs")
    except Exception as error:  # whatever a font library makes of a damaged file
        to_do = "Run: pip install --force-reinstall font-source-serif-pro font-source-sans-pro"
        yield Finding("Fonts of the papers", "wrong", f"cannot be read ({type(error).__name__})", to_do)


def _clock(at: Looked) -> Iterator[Finding]:
    shown = f"{at.now:%d %B %Y, %H:%M} UTC"
    to_do = "Set the clock of this computer, best by the network; until then no answer to a quote is taken."
    if at.now < EARLIEST:
        yield Finding("Clock", "wrong", f"shows {shown}, before this program was written", to_do)
        return
    try:
        last = last_change(at.engine)
    except (SQLAlchemyError, OSError, UnusableError):
        return
    if last is not None and last - at.now > CLOCK_SLACK:
        told = f"shows {shown}, but the records were changed on {last:%d %B %Y, %H:%M} UTC"
        yield Finding("Clock", "wrong", told, to_do)
    else:
        yield Finding("Clock", "well", f"shows {shown}")


def last_change(engine: Engine) -> datetime | None:
    """When anything was changed last, by the clock of that moment."""
    found = []
    with reading(engine) as connection:
        for column in (evaluations.c.changed, quotes.c.changed):
            last = connection.execute(select(column).order_by(column.desc()).limit(1)).scalar_one_or_none()
            found += [last] if last else []
    return max((datetime.fromisoformat(one).astimezone(UTC) for one in found), default=None)


def _permissions(at: Looked) -> Iterator[Finding]:
    folder = at.records.folder
    if not folder.is_dir():
        yield Finding("Folder", "wrong", f"{folder} is not there", "Put it back, or name another with --data.")
        return
    if not os.access(folder, os.W_OK | os.X_OK):
        to_do = f"Let this user write: chown {_user()} {folder}"
        yield Finding("Folder", "wrong", f"{folder} cannot be written", to_do)
    open_to_all = [path for path in _private(at) if path.exists() and stat.S_IMODE(path.stat().st_mode) & 0o077]
    for path in open_to_all:
        yield Finding("Permissions", "look", f"{path} can be read by other users", f"Run: chmod go= {path}")
    if not open_to_all:
        yield Finding("Permissions", "well", "records and key can be read by their user alone")


def _private(at: Looked) -> tuple[Path, ...]:
    database = at.records.database
    return (at.records.key, at.records.photos, *([database] if isinstance(database, Path) else []))


def _user() -> str:
    import getpass

    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "USER"


def _backups(at: Looked) -> Iterator[Finding]:
    made = made_in(at.backups)
    to_do = f"Start the service: it makes one a day in {at.backups}. Or run: evaluator backup FILE.zip"
    if at.failed:
        yield Finding(
            "Backup", "wrong", f"the last try failed: {at.failed}", "Mend that; it is tried every ten minutes."
        )
    if not made:
        yield Finding("Backup", "look", "there is none", to_do)
        return
    age = at.now - made[0].at
    told = f"made {told_age(age)} ago, {len(made)} of at most {DAYS_KEPT} in {at.backups}"
    if age > OLD_BACKUP:
        yield Finding("Backup", "look", told, to_do)
    else:
        yield Finding("Backup", "well", told)
    if at.backups.exists() and at.records.folder.exists() and _same_disk(at.backups, at.records.folder):
        yield Finding(
            "Backup elsewhere",
            "look",
            "the backups lie on the same disk as the records",
            "Copy the newest and the folder “photos” beside it elsewhere, or give another disk as --backups.",
        )


def _same_disk(one: Path, other: Path) -> bool:
    return one.stat().st_dev == other.stat().st_dev


def told_age(age: timedelta) -> str:
    """An age in the largest unit that says enough: '3 hours', '2 days'."""
    minutes = max(0, round(age.total_seconds() / 60))
    if minutes < 90:
        return "1 minute" if minutes == 1 else f"{minutes} minutes"
    hours = round(minutes / 60)
    return f"{hours} hours" if hours < 36 else f"{round(hours / 24)} days"


LOOKS: tuple[Callable[[Looked], Iterator[Finding]], ...] = (
    _database,
    _space,
    _clock,
    _backups,
    _permissions,
    _fonts,
    _versions,
)
