"""Commands for the records as a whole: a backup, bringing one back, looking at everything, moving elsewhere."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from .files import MistakesError, emit, fail, json_option, records_at, records_options

if TYPE_CHECKING:
    from sqlalchemy import Engine

    from ..store.records import Records

EMPTY_PLACE = "Name the folder with --data, or the database with --database."


def tell(line: str) -> None:
    """Progress goes to standard error."""
    click.echo(line, err=True)


@contextmanager
def engine_of(records: "Records") -> Iterator["Engine"]:
    """The database as it is; its tables are not changed."""
    from ..store.engine import connected

    if isinstance(records.database, Path) and not records.database.is_file():
        fail("records.none", records.named(), "there are no records.", EMPTY_PLACE)
    engine = connected(records.database)
    try:
        yield engine
    finally:
        engine.dispose()


@click.command()
@click.argument("file")
@records_options
@click.option("--with-key", is_flag=True, help="Also the key of this installation: whoever has it can forge a sign-in.")
@click.option("--shop", metavar="FILE", help="Also this shop file.")
def backup(file: str, data_folder: str | None, database: str, with_key: bool, shop: str | None) -> None:
    """Write all records into FILE, also while the service runs: database, photos, and what you ask for besides."""
    from ..store.keeping.backup import Wanted, back_up

    records, path = records_at(data_folder, database), Path(file)
    if path.exists():
        fail("backup.there", file, "there is a file already.", "Choose another name; nothing was written.")
    settings = {"shop.yaml": Path(shop)} if shop else {}
    with engine_of(records) as engine:
        now = datetime.now(UTC).isoformat(timespec="seconds")
        back_up(engine, records, path, now, Wanted(settings, with_key), tell)
    tell(f"Wrote {file}, {path.stat().st_size:,} bytes")


@click.command()
@click.argument("file")
@records_options
def restore(file: str, data_folder: str | None, database: str) -> None:
    """Bring the records in FILE back, into an empty place."""
    from ..store.keeping.restore import restore as bring_back

    records = records_at(data_folder, database)
    found = bring_back(Path(file), records, tell)
    if isinstance(found, tuple):
        raise MistakesError(found)
    tell(f"Restored to {records.named()} what was kept on {found.made}")


@click.command()
@click.argument("file", required=False)
@records_options
@json_option
def verify(file: str | None, data_folder: str | None, database: str, as_json: bool) -> None:
    """Look whether everything is as it was kept: the records, or a backup in FILE."""
    from ..store.keeping.verify import COUNTS, verified, verified_backup

    if file is not None:
        found = verified_backup(Path(file), tell)
    else:
        records = records_at(data_folder, database)
        with engine_of(records) as engine:
            found = verified(engine, records.photos, tell)
    if isinstance(found, tuple):
        raise MistakesError(found)
    counts = {name: getattr(found, name) for name in COUNTS}
    if as_json:
        emit(counts | {"problems": [str(one) for one in found.problems]})
    if found.problems:
        raise MistakesError(found.problems)
    if not as_json:
        click.echo("All as it was kept: " + ", ".join(f"{count:,} {name}" for name, count in counts.items()))


@click.command()
@records_options
@click.option("--backups", metavar="FOLDER", help="Where the daily backups go, if not beside the records.")
@json_option
def doctor(data_folder: str | None, database: str, backups: str | None, as_json: bool) -> None:
    """Look at all that the service stands on, and say what to do. Exit 1 where something is wrong."""
    from ..web.desk.examine import Looked, examined, worst

    records = records_at(data_folder, database)
    with engine_of(records) as engine:
        at = Looked(records, engine, Path(backups) if backups else records.backups, datetime.now(UTC))
        findings = examined(at)
    if as_json:
        emit([{"subject": one.subject, "state": one.state, "told": one.told, "to_do": one.to_do} for one in findings])
    else:
        for one in findings:
            click.echo(f"{one.state:5}  {one.subject}: {one.told}" + (f"\n       {one.to_do}" if one.to_do else ""))
    if worst(findings) == "wrong":
        sys.exit(1)


@click.command()
@click.argument("old", metavar="FROM")
@click.argument("new", metavar="TO")
@click.option("--data", "data_folder", metavar="FOLDER", help="Where the photos lie beside a database on a server.")
def move(old: str, new: str, data_folder: str | None) -> None:
    """Carry all records FROM one place TO another: folders, or addresses as postgresql://USER@HOST/NAME.

    Stop the service first. Broken off, the same command goes on where it stood. The old place stays as it is.
    """
    from ..basis.problem import Problem
    from ..store.keeping.moving import move as carry

    source = _place(old, data_folder)
    goal = _place(new, data_folder if data_folder or _is_address(old) else old)
    found = carry(source, goal, tell)
    if isinstance(found, Problem):
        raise MistakesError([found])
    told = f"Moved {found.carried:,} rows"
    told += f", {found.there:,} were there" if found.there else ""
    photos = f", with {found.photos:,} photos" if found.photos else ""
    tell(f"{told}{photos}; compared {found.compared:,} rows, all the same: {goal.named()}")


def _place(name: str, data_folder: str | None) -> "Records":
    return records_at(data_folder, name) if _is_address(name) else records_at(name, "")


def _is_address(name: str) -> bool:
    return "://" in name
