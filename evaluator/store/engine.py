"""The database: SQLite by default, one recipe for safe writing.

Python's sqlite3 in its default mode loses updates without an error, because a SELECT runs outside the transaction. So
every transaction is begun by us: BEGIN IMMEDIATE for writing, BEGIN for reading; readers see the old state while one
writes.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, create_engine, event

MIGRATIONS = Path(__file__).parent / "migrations"
WRITING = "for_write"


def open_database(path: Path) -> Engine:
    """The engine of the SQLite file at `path`, its tables brought up to date."""
    path.parent.mkdir(parents=True, exist_ok=True)
    engine = create_engine(f"sqlite:///{path}", connect_args={"timeout": 10})

    @event.listens_for(engine, "connect")
    def prepare(connection: Any, _record: object) -> None:
        connection.isolation_level = None
        for pragma in ("journal_mode = WAL", "busy_timeout = 10000", "foreign_keys = ON", "synchronous = NORMAL"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writing = connection.get_execution_options().get(WRITING, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    migrate(engine)
    return engine


def migrate(engine: Engine) -> None:
    """Bring the tables to the newest form."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    with writing(engine) as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """One write transaction: all of it is kept, or nothing."""
    with engine.connect().execution_options(**{WRITING: True}) as connection, connection.begin():
        yield connection


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """One view of the state for reading."""
    with engine.connect() as connection, connection.begin():
        yield connection
