"""What is wrong with the records, told in one sentence with what to do: what the world does to them (a full disk, a
lock, a folder that is gone), and a database that cannot be used as it lies there, looked at before anything in it is
changed.

The drivers tell it by exceptions. `fault_of` knows those that are no bug of ours; pages and commands show its Problem.
"""

import errno
import os
import sqlite3
from collections.abc import Collection, Mapping
from pathlib import Path

from sqlalchemy import Connection, inspect, select
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError

from ..basis.problem import Message, Messages, Problem, problem
from .schema import choices

NOT_KEPT = "nothing was kept by half."
RESTORE = "Bring back a backup with “evaluator restore”, into another place; this one is left as it is."
MESSAGES: Messages = {
    "fault.full": Message("there is no room left on the disk.", f"Free some, then send it again; {NOT_KEPT}"),
    "fault.locked": Message(
        "another program holds them and did not let go in time.",
        f"Close what else has them open, then send it again; {NOT_KEPT}",
    ),
    "fault.read_only": Message(
        "they may only be read.", "Let the user of this service write into the folder and its files, then try again."
    ),
    "fault.gone": Message(
        "they cannot be reached any more.", "Put the folder or the disk back, then send it again; nothing was changed."
    ),
    "fault.moved": Message(
        "their file was moved or replaced while the service ran.",
        f"Put it back and send it again, or stop the service and start it on the new one; {NOT_KEPT}",
    ),
    "fault.no_folder": Message("“{name}” is a file and no folder.", "Name a folder for the records."),
    "fault.no_place": Message("it cannot be used: {why}.", "Name another place, or mend this one."),
    "fault.output": Message("it cannot be written: {why}.", "Send it to a place with room; nothing was changed."),
    "fault.damaged": Message("what lies there is damaged, or no database.", RESTORE),
    "fault.bare": Message(
        "the database has no tables: it was copied while the service ran, or cut short.",
        "Bring along the file that ends in -wal, or bring back a backup; nothing was changed.",
    ),
    "fault.headless": Message(
        "the database is gone, and what was written last lies in “{name}”.",
        "Put the database back beside it, or move that file aside to begin anew; nothing was changed.",
    ),
    "fault.strange": Message("the database belongs to another program.", "Name an empty one; nothing was changed."),
    "fault.newer": Message(
        "a newer program changed their form to {form}.", "Start that program, or bring back a backup from before."
    ),
    "fault.half_moved": Message(
        "records were being moved here from {old}, and that was not ended.", "Run “evaluator move” once more."
    ),
    "fault.no_answer": Message("the database does not answer.", "Start it, or look at its address, then try again."),
    "fault.refused": Message("the database refuses this user.", "Look at the name and the password in its address."),
    "fault.unknown": Message("the server has no such database.", "Create it, or look at the name in its address."),
    "fault.busy": Message("too many are at work at once.", "Wait a moment, then send it again."),
    "fault.driver": Message("the driver for PostgreSQL is not installed.", "Run: pip install 'psycopg[binary]'"),
    "fault.address": Message("this is no address of a database.", "Write it as postgresql://USER@HOST/NAME."),
}
SQLITE: Mapping[str, str] = {
    "SQLITE_FULL": "fault.full",
    "SQLITE_BUSY": "fault.locked",
    "SQLITE_LOCKED": "fault.locked",
    "SQLITE_READONLY": "fault.read_only",
    "SQLITE_PERM": "fault.read_only",
    "SQLITE_CANTOPEN": "fault.gone",
    "SQLITE_IOERR": "fault.gone",
    "SQLITE_NOTADB": "fault.damaged",
    "SQLITE_CORRUPT": "fault.damaged",
    "SQLITE_AUTH": "fault.read_only",
}
# The first letters of a server's SQLSTATE, the longest first.
SERVER: Mapping[str, str] = {
    "25006": "fault.read_only",
    "25P03": "fault.locked",
    "3D000": "fault.unknown",
    "42P01": "fault.bare",
    "53100": "fault.full",
    "53300": "fault.busy",
    "55P03": "fault.locked",
    "40": "fault.locked",
    "08": "fault.no_answer",
    "28": "fault.refused",
    "57": "fault.no_answer",
    "XX": "fault.damaged",
}
SYSTEM: Mapping[int, str] = {
    errno.ENOSPC: "fault.full",
    errno.EDQUOT: "fault.full",
    errno.EFBIG: "fault.full",
    errno.EROFS: "fault.read_only",
    errno.EACCES: "fault.read_only",
    errno.EPERM: "fault.read_only",
    errno.EIO: "fault.gone",
    errno.ENOENT: "fault.gone",
    errno.ESTALE: "fault.gone",
    errno.ENODEV: "fault.gone",
}
WHERE = "the records"
FORM_TABLE = "alembic_version"
MOVING = "moving_from"  # the name of the choice that marks a move not ended


class UnusableError(Exception):
    """Records that cannot be used as they are, and why."""

    def __init__(self, why: Problem) -> None:
        self.problem = why
        super().__init__(str(why))


def unusable(code: str, where: str = WHERE, **words: str) -> UnusableError:
    return UnusableError(problem(MESSAGES, code, where, None, **words))


def fault_of(error: BaseException, folder: Path | None = None) -> Problem | None:
    """What happened to the records, where that is what an exception tells; None where it may be a bug.

    `folder`: of the records; a file elsewhere that is missing is no fault of theirs.
    """
    if isinstance(error, UnusableError):
        return error.problem
    if isinstance(error, OSError) and folder is not None and error.filename is not None:
        named = Path(os.fsdecode(error.filename))
        if folder not in (named, *named.parents):
            return None
    code = _code(error)
    return None if code is None else problem(MESSAGES, code, WHERE)


def place_fault(error: OSError) -> Problem:
    """What speaks against a place that somebody named, a file or the standard output."""
    why = (error.strerror or str(error)).lower()
    if error.filename is None:
        return problem(MESSAGES, "fault.output", "standard output", why=why)
    return problem(MESSAGES, "fault.no_place", os.fsdecode(error.filename), why=why)


def _code(error: BaseException) -> str | None:
    if isinstance(error, PoolTimeoutError):
        return "fault.busy"
    if isinstance(error, ArgumentError):
        return "fault.address"
    if isinstance(error, ModuleNotFoundError):
        return "fault.driver" if (error.name or "").startswith("psycopg") else None
    if isinstance(error, DBAPIError) and error.orig is not None:
        error = error.orig
    if isinstance(error, sqlite3.Error):
        name = str(getattr(error, "sqlite_errorname", ""))
        return next((code for start, code in SQLITE.items() if name.startswith(start)), None)
    if isinstance(error, OSError):
        return SYSTEM.get(error.errno or 0)
    return _server_code(error)


def _server_code(error: BaseException) -> str | None:
    """From the SQLSTATE of a server's driver; a connection that was never made has none, only words."""
    if not type(error).__module__.startswith("psycopg"):
        return None
    state = getattr(error, "sqlstate", None)
    if state is not None:
        return next((code for start, code in SERVER.items() if state.startswith(start)), None)
    if type(error).__name__ != "OperationalError":
        return None
    said = str(error)
    if "does not exist" in said and "database" in said:
        return "fault.unknown"
    return "fault.refused" if "authentication" in said or "role" in said else "fault.no_answer"


def refuse_remains(path: Path) -> None:
    """Where nothing is left of a file, or only what was written last, a new one is not begun in silence."""
    above = next(one for one in path.parents if one.exists())
    if not above.is_dir():
        raise unusable("fault.no_folder", str(path.parent), name=above.name)
    last = path.with_name(path.name + "-wal")
    if not path.exists() and last.exists() and last.stat().st_size:
        raise unusable("fault.headless", str(path), name=last.name)
    if path.is_file() and not path.stat().st_size:
        raise unusable("fault.bare", str(path))


def refuse_unusable(connection: Connection, where: str, form: str | None, known: Collection[str], new: bool) -> None:
    """Raise UnusableError for what is not ours, not whole, or not for this program.

    `form`: of its tables; `known`: those that this program knows; `new`: whether it may have no tables yet.
    """
    tables = set(inspect(connection).get_table_names())
    if not tables:
        if new:
            return
        raise unusable("fault.bare", where)
    if form is None:
        raise unusable("fault.strange", where)
    if form not in known:
        raise unusable("fault.newer", where, form=form)
    old = moving_from(connection) if choices.name in tables else None
    if old is not None:
        raise unusable("fault.half_moved", where, old=old)


def refused_at(error: DBAPIError, path: Path) -> Exception:
    """What kept a file from being opened, with its place; the error itself where it may be a bug.

    SQLite says the same of a file that is gone and of one beside which it may write nothing.
    """
    fault = fault_of(error)
    if fault is None:
        return error
    writable = os.access(path.parent, os.W_OK) and (not path.exists() or os.access(path, os.W_OK))
    return unusable(fault.code if writable else "fault.read_only", str(path))


def moving_from(connection: Connection) -> str | None:
    """Where records were being moved from into this database; None where no move is open."""
    return connection.execute(select(choices.c.value).where(choices.c.name == MOVING)).scalar_one_or_none()
