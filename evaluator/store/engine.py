"""The database by one address: a SQLite file by default, or PostgreSQL; one recipe for safe writing on both.

Whoever writes reads first, so writers go one after the other: else two of them see the same state and one is lost
without an error. On SQLite every transaction is begun by us, since Python's sqlite3 leaves a SELECT outside of it:
BEGIN IMMEDIATE for writing. On PostgreSQL a writer takes the row that names the form of the tables; that also keeps it
out while they are changed, and asks for nothing that a distributed engine of the same protocol lacks. Readers see one
state and wait for nobody.

What is acknowledged is on the disk: `synchronous = FULL` costs 0.2 ms a write here, and consents are among them.
"""

import json
import os
import re
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from urllib.parse import quote

from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import ConnectionPoolEntry

from .faults import refuse_remains, refuse_unusable, refused_at, unusable
from .records import private_folder

MIGRATIONS = Path(__file__).parent / "migrations"
WRITING = "for_write"
FILE = "file"
SERVER_DRIVER = "postgresql+psycopg"
WAIT_S = 5  # for another writer, or for the server
FORGOTTEN_S = 60  # a writer that says nothing for so long loses its turn
CONNECTIONS = 10
ONE_VIEW: Mapping[str, object] = {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
NOT_TYPED = re.compile(r"\\u(0000|d[89a-f])")
TURN = "SELECT version_num FROM alembic_version FOR UPDATE"


def open_database(where: Path | str) -> Engine:
    """The engine of the SQLite file at a path, or of the PostgreSQL database at an address, its tables up to date.

    A new file takes its place whole: whoever is stopped while it is made leaves none behind. Raises UnusableError for
    one that cannot be used as it is; nothing in it is changed then.
    """
    if isinstance(where, Path):
        refuse_remains(where)
        if not where.exists():
            with new_file(where) as engine:
                migrate(engine)
    engine = connected(where)
    try:
        with reading(engine) as connection:  # one state: tables may come about meanwhile
            shown = engine.url.render_as_string(hide_password=True) if isinstance(where, str) else str(where)
            refuse_unusable(connection, shown, form_on(connection), forms(), new=isinstance(where, str))
        if isinstance(where, Path):
            _let_read_while_writing(engine)
        migrate(engine)
    except BaseException as error:
        engine.dispose()
        if isinstance(error, DBAPIError) and isinstance(where, Path):
            raise refused_at(error, where) from error
        raise
    return engine


def connected(where: Path | str) -> Engine:
    """The engine of a database as it is; where no file lies, an empty one comes about."""
    return _on_server(where) if isinstance(where, str) else _in_file(where)


@contextmanager
def new_file(path: Path) -> Iterator[Engine]:
    """A new SQLite file that takes its place when the block is done; where the block breaks, nothing is left.

    Where another took the place meanwhile, the other stays.
    """
    private_folder(path.parent)
    waiting = path.with_name(f"{path.name}.{os.getpid()}.part")
    engine = _in_file(waiting)
    try:
        _let_read_while_writing(engine)
        yield engine
        engine.dispose()  # with the last connection the write-ahead file is folded in
        with suppress(FileExistsError):
            os.link(waiting, path)
    finally:
        engine.dispose()
        for ending in ("", "-wal", "-shm"):
            waiting.with_name(waiting.name + ending).unlink(missing_ok=True)


def _in_file(path: Path) -> Engine:
    if not path.exists():
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))  # SQLite gives its other files the same rights
    place = f"file:{quote(str(path.absolute()))}?mode=rw"  # a file that is gone later is not made anew

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(place, uri=True, timeout=WAIT_S, check_same_thread=False, isolation_level=None)

    engine = create_engine(f"sqlite:///{path}", creator=connect, json_serializer=written, hide_parameters=True)

    @event.listens_for(engine, "connect")
    def prepare(connection: DBAPIConnection, record: ConnectionPoolEntry) -> None:
        pragmas = (f"busy_timeout = {WAIT_S * 1000}", "foreign_keys = ON", "synchronous = FULL")
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")
        record.info[FILE] = _file_at(path)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        if connection.info[FILE] != _file_at(path):
            raise unusable("fault.moved", str(path))
        writing = connection.get_execution_options().get(WRITING, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    return engine


def _let_read_while_writing(engine: Engine) -> None:
    """Writes go into a file beside at first; SQLite remembers that in the file itself."""
    connection = engine.raw_connection()
    connection.cursor().execute("PRAGMA journal_mode = WAL")
    connection.close()


def _file_at(path: Path) -> tuple[int, int] | None:
    """Which file lies there; None where there is none. Else one would write into a file that was moved away."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _on_server(address: str) -> Engine:
    url = make_url(address).set(drivername=SERVER_DRIVER)
    limits = f"-c lock_timeout={WAIT_S}s -c idle_in_transaction_session_timeout={FORGOTTEN_S}s"
    return create_engine(
        url,
        json_serializer=written,
        hide_parameters=True,  # what somebody typed stands in no message
        pool_pre_ping=True,  # the server may have started again since
        pool_size=CONNECTIONS,
        connect_args={"connect_timeout": WAIT_S, "options": limits},
    )


def written(value: object) -> str:
    """A value as JSON that both databases take and search: without NUL and halves of letters, which no key types."""
    text = json.dumps(value, allow_nan=False)
    return json.dumps(_typable(value)) if NOT_TYPED.search(text) else text


def _typable(value: object) -> object:
    if isinstance(value, str):
        return value.replace("\0", "").encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    if isinstance(value, Mapping):
        return {_typable(key): _typable(one) for key, one in value.items()}
    return [_typable(one) for one in value] if isinstance(value, (list, tuple)) else value


def is_file(engine: Engine) -> bool:
    """Whether it is a SQLite file."""
    return engine.dialect.name == "sqlite"


def migrate(engine: Engine) -> None:
    """Bring the tables to the newest form. Where several processes start at once, one does it."""
    if form_of(engine) == newest_form():
        return
    try:
        with engine.connect().execution_options(**{WRITING: True}) as connection, connection.begin():
            upgrade(connection)
    except DBAPIError:
        if form_of(engine) != newest_form():
            raise


def upgrade(connection: Connection, to: str = "head") -> None:
    """Make or change the tables up to a form, within the transaction of the connection."""
    config = _migrations()
    config.attributes["connection"] = connection
    command.upgrade(config, to)


@cache
def forms() -> tuple[str, ...]:
    """The forms of the tables that this program knows, the first one first."""
    return tuple(reversed([one.revision for one in ScriptDirectory.from_config(_migrations()).walk_revisions()]))


def newest_form() -> str:
    return forms()[-1]


@cache
def _migrations() -> Config:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    return config


def form_of(engine: Engine) -> str | None:
    """The revision of the tables; None where there are none."""
    with engine.connect() as connection, connection.begin():
        return form_on(connection)


def form_on(connection: Connection) -> str | None:
    """The revision of the tables, as this connection sees them."""
    return MigrationContext.configure(connection).get_current_revision()


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """One write transaction: all of it is kept, or nothing. It has its turn: no other writes meanwhile."""
    with engine.connect().execution_options(**{WRITING: True}) as connection, connection.begin():
        if not is_file(engine):
            connection.exec_driver_sql(TURN)
        yield connection


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """One view of the state for reading."""
    options: Mapping[str, object] = {} if is_file(engine) else ONE_VIEW
    with engine.connect().execution_options(**options) as connection, connection.begin():
        yield connection
