"""Records carried from one database to another, SQLite or PostgreSQL: table by table in the order of their keys, so
that a move that was broken off goes on where it stood; then compared row by row.

Until it is ended the new place bears a mark among its choices, and the service does not open it. The choices themselves
are the last to come, in the stroke that takes the mark away.
"""

import shutil
from dataclasses import dataclass
from itertools import islice, zip_longest
from pathlib import Path

from sqlalchemy import Connection, Engine, Table, delete, insert, inspect

from ...basis.problem import Message, Messages, Problem, problem
from ..engine import WRITING, connected, form_of, newest_form, reading, upgrade, writing
from ..faults import MOVING, moving_from
from ..finding.words import make_words_anew
from ..photos import kept_photos, place_of
from ..records import Records, private_folder, shown, write_private
from ..schema import choices
from .backup import Progress, silent
from .rows import AT_ONCE, count_of, go_on_counting, last_key, mark_of, put_in, rows_of, tables_of

AGAIN = "Stop the service, empty the new place, and begin again; the old one is untouched."
MESSAGES: Messages = {
    "move.same": Message("both are the same place.", "Name another place to move to."),
    "move.nothing": Message("there are no records.", "Name the folder or the database that holds them."),
    "move.taken": Message("there are records already.", "Name an empty place; nothing was changed."),
    "move.half": Message("a move into it was never ended.", "End that one first."),
    "move.older": Message(
        "its tables have an older form.", "Start the service with this program once, stop it, then move."
    ),
    "move.row": Message("row {key} of “{table}” is not the same in both.", AGAIN),
}


@dataclass(frozen=True, slots=True)
class Moved:
    """How many rows were carried now, were there from an earlier try, and were compared."""

    carried: int
    there: int
    compared: int
    photos: int


def move(old: Records, new: Records, tell: Progress = silent) -> Moved | Problem:
    """Carry everything; gives how much, or why it was not begun or not right in the end."""
    if isinstance(old.database, Path) and not old.database.exists():
        return problem(MESSAGES, "move.nothing", old.named())
    if old.database == new.database:
        return problem(MESSAGES, "move.same", old.named())
    source, goal = connected(old.database), _goal(new)
    try:
        if form_of(source) != newest_form():
            return problem(MESSAGES, "move.older", old.named())
        if unfinished_from(source) is not None:
            return problem(MESSAGES, "move.half", old.named())
        begun = _begin(goal, old, new)
        if begun is not None:
            return begun
        carried, there = _carry(source, goal, tell)
        photos = _photos(old, new)
        compared = _compared(source, goal, tell)
        if isinstance(compared, Problem):
            return compared
        _end(source, goal)
        return Moved(carried, there, compared, photos)
    finally:
        source.dispose()
        goal.dispose()


def unfinished_from(engine: Engine) -> str | None:
    """Where records were being moved from into this database; None where no move is open."""
    with reading(engine) as connection:
        return moving_from(connection)


def _goal(new: Records) -> Engine:
    if isinstance(new.database, Path):
        private_folder(new.database.parent)
    return connected(new.database)


def _begin(goal: Engine, old: Records, new: Records) -> Problem | None:
    """Make the tables and put the mark; or take up a move that was broken off, which bears the same mark."""
    mark = shown(old.database)[:200]
    if inspect(goal).get_table_names():
        begun = form_of(goal) == newest_form() and unfinished_from(goal) == mark
        return None if begun else problem(MESSAGES, "move.taken", new.named())
    with goal.connect().execution_options(**{WRITING: True}) as connection, connection.begin():
        upgrade(connection)
        connection.execute(insert(choices).values(name=MOVING, value=mark))
    return None


def _carry(source: Engine, goal: Engine, tell: Progress) -> tuple[int, int]:
    """Every row that is not there yet, some hundred in one stroke; gives (carried now, there before)."""
    carried = there = 0
    with reading(source) as old:
        for table in _carried(old):
            total = count_of(old, table)
            with reading(goal) as new:
                before, last = count_of(new, table), last_key(new, table)
            rows, done = rows_of(old, table, last), before
            while batch := list(islice(rows, AT_ONCE)):
                with writing(goal) as new:
                    done += put_in(new, table, batch)
                tell(f"{table.name}: {done:,} of {total:,} rows")
            there, carried = there + before, carried + done - before
    return carried, there


def _carried(connection: Connection) -> tuple[Table, ...]:
    """The tables but for the choices."""
    return tuple(table for table in tables_of(connection) if table.name != choices.name)


def _photos(old: Records, new: Records) -> int:
    """Photos, where they shall lie elsewhere; and the key."""
    if old.folder == new.folder:
        return 0
    names = kept_photos(old.photos)
    for name in names:
        place = place_of(new.photos, name)
        if not place.exists():
            write_private(place, place_of(old.photos, name).read_bytes())
    if old.key.exists() and not new.key.exists():
        private_folder(new.folder)
        shutil.copy2(old.key, new.key)
    return len(names)


def _compared(source: Engine, goal: Engine, tell: Progress) -> int | Problem:
    """Compare row by row with what the old place holds by now: who wrote there meanwhile is found out."""
    count = 0
    with reading(source) as old, reading(goal) as new:
        for table in _carried(old):
            keys = [key.name for key in table.primary_key.columns]
            for row, other in zip_longest(rows_of(old, table), rows_of(new, table)):
                if row is None or other is None or mark_of(row) != mark_of(other):
                    key = ", ".join(str((row or other or {})[name]) for name in keys)
                    where = goal.url.render_as_string(hide_password=True)
                    return problem(MESSAGES, "move.row", where, key=key, table=table.name)
                count += 1
            tell(f"{table.name}: compared")
    return count


def _end(source: Engine, goal: Engine) -> None:
    with reading(source) as old, writing(goal) as new:
        put_in(new, choices, rows_of(old, choices))
        go_on_counting(new, tables_of(new))
        make_words_anew(new)
        new.execute(delete(choices).where(choices.c.name == MOVING))
