"""A backup brought back into an empty place: all of it, or nothing."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, inspect

from ...basis.problem import Message, Messages, Problem, problem
from ..engine import WRITING, connected, new_file, upgrade
from ..finding.words import make_words_anew
from ..photos import place_of
from ..records import Records, write_private
from .backup import Progress, silent
from .backup_file import Backup, Listed, opened
from .rows import go_on_counting, put_in, tables_of

Problems = tuple[Problem, ...]
ASIDE = "Name an empty folder, or move aside what is there; nothing was changed."
MESSAGES: Messages = {
    "restore.taken": Message("there are records already.", ASIDE),
    "restore.table": Message("it holds a table “{table}” that its own form does not know.", "Take an earlier backup."),
}


class _RefusedError(Exception):
    """What speaks against a backup only once its tables are made; nothing of the transaction stays."""

    def __init__(self, problems: Problems) -> None:
        self.problems = problems


def restore(path: Path, records: Records, tell: Progress = silent) -> Listed | Problems:
    """Bring the backup in a file back; gives what was in it, or all that speaks against it.

    Where it cannot be ended, what was written until then is taken away again.
    """
    with opened(path) as backup:
        if isinstance(backup, tuple):
            return backup
        taken = taken_by(records)
        if taken is not None:
            return (taken,)
        made: list[Path] = []
        try:
            _put_files(backup, records, made)
            tell(f"photos: {len(backup.listed.photos):,}")
            with _empty_database(records) as connection:
                fill(connection, backup, tell)
        except BaseException as stopped:
            _take_away(made)
            if isinstance(stopped, _RefusedError):
                return stopped.problems
            raise
        return backup.listed


def _put_files(backup: Backup, records: Records, made: list[Path]) -> None:
    """Photos and settings; `made` grows by what is written."""
    for name in backup.listed.photos:
        made.append(place_of(records.photos, name))
        write_private(made[-1], backup.photo(name))
    for name, content in backup.settings().items():
        made.append(records.folder / name)
        write_private(made[-1], content)


def _take_away(made: list[Path]) -> None:
    for path in made:
        path.unlink(missing_ok=True)


def taken_by(records: Records) -> Problem | None:
    """That there is something where records shall be put."""
    if isinstance(records.database, str):
        engine = connected(records.database)
        found = bool(inspect(engine).get_table_names())
        engine.dispose()
        return problem(MESSAGES, "restore.taken", records.named()) if found else None
    there = [one for one in (records.database, records.key, *records.photos.rglob("*")) if one.is_file()]
    return problem(MESSAGES, "restore.taken", str(there[0])) if there else None


@contextmanager
def _empty_database(records: Records) -> Iterator[Connection]:
    """One transaction on a database without tables; a file takes its place when it is done."""
    if isinstance(records.database, Path):
        with new_file(records.database) as engine, _at_once(engine) as connection:
            yield connection
        return
    engine = connected(records.database)
    with _at_once(engine) as connection:
        yield connection
    engine.dispose()


@contextmanager
def _at_once(engine: Engine) -> Iterator[Connection]:
    with engine.connect().execution_options(**{WRITING: True}) as connection, connection.begin():
        yield connection


def fill(connection: Connection, backup: Backup, tell: Progress = silent) -> None:
    """Make the tables in the form that the backup has, put its rows in, and bring them up to today's form."""
    upgrade(connection, backup.listed.form)
    tables = tables_of(connection)
    strange = set(backup.tables) - {table.name for table in tables}
    if strange:
        where = str(backup.path)
        raise _RefusedError(tuple(problem(MESSAGES, "restore.table", where, table=name) for name in sorted(strange)))
    for table in tables:
        if table.name in backup.tables:
            tell(f"{table.name}: {put_in(connection, table, backup.rows(table.name)):,} rows")
    go_on_counting(connection, tables)
    upgrade(connection)
    make_words_anew(connection)
