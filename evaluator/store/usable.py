"""Whether a database can be used as it lies there: looked at before anything in it is changed."""

import os
from collections.abc import Collection
from pathlib import Path

from sqlalchemy import Connection, inspect, select
from sqlalchemy.exc import DBAPIError

from .faults import fault_of, unusable
from .schema import choices

FORM_TABLE = "alembic_version"
MOVING = "moving_from"  # the name of the choice that marks a move not ended


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
