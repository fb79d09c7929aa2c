"""A PostgreSQL server of the test run's own, from Debian's package: in a temporary folder, as a user without rights."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import psycopg

from evaluator.store.engine import open_database

PROGRAMS = Path("/usr/lib/postgresql")
UNPRIVILEGED = "postgres"  # whom Debian's package makes; the server refuses to run as root
# The folder goes with the run: nothing of it has to outlive a power cut.
SETTINGS = ("fsync=off", "full_page_writes=off", "listen_addresses=", "max_connections=60", "shared_buffers=32MB")


@dataclass
class Server:
    """`folder` holds its socket; databases are copies of one whose tables are made once."""

    folder: Path
    user: str
    numbers: Iterator[int] = field(default_factory=lambda: count(1))
    template: str = ""

    def address(self, database: str) -> str:
        return f"postgresql://{self.user}@/{database}?host={self.folder}"

    def empty(self) -> str:
        """The address of a new database without tables."""
        return self._made("")

    def fresh(self) -> str:
        """The address of a new database with today's tables."""
        if not self.template:
            address = self.empty()
            open_database(address).dispose()
            self.template = address.partition("?")[0].rpartition("/")[2]
        return self._made(f" TEMPLATE {self.template}")

    def _made(self, how: str) -> str:
        name = f"tried_{next(self.numbers)}"
        self.say(f"CREATE DATABASE {name}{how}")
        return self.address(name)

    def drop(self, address: str) -> None:
        name = address.partition("?")[0].rpartition("/")[2]
        self.say(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")

    def say(self, statement: str) -> None:
        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(statement)  # type: ignore[arg-type]


def program(name: str) -> str:
    """The newest of Debian's; they do not lie on the path."""
    return str(max(PROGRAMS.glob(f"*/bin/{name}"), key=lambda path: int(path.parts[-3])))


@contextmanager
def running() -> Iterator[Server]:
    """A server on a socket in a folder of its own, gone afterwards."""
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # a database is some three hundred files
    folder = Path(tempfile.mkdtemp(prefix="postgres-", dir=memory))  # short: a socket's path has at most 107 letters
    user = UNPRIVILEGED if os.geteuid() == 0 else None
    if user:
        shutil.chown(folder, user)
    initialise = [
        program("initdb"),
        "-D",
        "cluster",
        "-U",
        UNPRIVILEGED,
        "-A",
        "trust",
        "-E",
        "UTF8",
        "--locale=C.UTF-8",
    ]
    settings = [part for setting in SETTINGS for part in ("-c", setting)]
    with (folder / "log").open("wb") as log:
        subprocess.run([*initialise, "--locale=C.UTF-8"], cwd=folder, user=user, stdout=log, stderr=log, check=True)
        command = [program("postgres"), "-D", "cluster", "-k", str(folder), *settings]
        process = subprocess.Popen(command, cwd=folder, user=user, stdout=log, stderr=log)
    try:
        _wait(folder, process)
        yield Server(folder, UNPRIVILEGED)
    finally:
        process.send_signal(2)  # "fast": whoever is connected is sent away
        process.wait(30)
        shutil.rmtree(folder)


def _wait(folder: Path, process: "subprocess.Popen[bytes]") -> None:
    ready = [program("pg_isready"), "-q", "-h", str(folder), "-t", "1"]
    for _ in range(100):
        if subprocess.run(ready, check=False).returncode == 0:
            return
        if process.poll() is not None:
            break
        with suppress(subprocess.TimeoutExpired):
            process.wait(0.1)
    raise RuntimeError((folder / "log").read_text("utf-8", "replace"))
