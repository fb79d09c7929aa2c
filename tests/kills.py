"""Kills a writer in the midst of its work, again and again, and looks for what it was told was kept.

`python -m tests.kills 500` does it so many times on each database and prints one line each. On PostgreSQL every fourth
kill takes the server's own process, which then recovers from its log.
"""

import multiprocessing
import os
import random
import signal
import sys
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from evaluator.store.engine import is_file, open_database, reading, writing
from evaluator.store.evaluations import create, find, save_answers
from evaluator.store.keeping.verify import verified
from tests.postgres import running

NOW = "2026-03-03T09:00:00+00:00"
LONGEST_S = 0.12
SERVER_EVERY = 4
RECOVERY_S = 30


@dataclass
class Killed:
    """`acknowledged`: writes that the writer was told of; `lost`: those that are not there; `broken`: faults."""

    kills: int = 0
    acknowledged: int = 0
    lost: int = 0
    broken: int = 0


def write(where: Path | str, told: Connection) -> None:
    """Writes until it is killed: an evaluation, then three answers to it; tells each when it is kept."""
    engine = open_database(where)
    with writing(engine) as connection:
        own = 0 if is_file(engine) else connection.execute(text("SELECT pg_backend_pid()")).scalar_one()
    told.send(("ready", own, 0))
    with suppress(DBAPIError):  # the server was killed
        _go_on(engine, told)


def _go_on(engine: Engine, told: Connection) -> None:
    while True:
        identity = create(engine, "violin", {"start": {"title": "x" * 2000}, "answers": {}}, NOW)
        told.send(("kept", identity, 0))
        for count in range(1, 4):
            save_answers(engine, identity, count, {f"check_{count}": {"outcome": "y"}}, NOW)
            told.send(("kept", identity, count))


def kill_again_and_again(where: Path | str, times: int, seed: int = 1) -> Killed:
    """So many kills at moments that a seed chooses; gives what was lost."""
    chance, found = random.Random(seed), Killed()
    open_database(where).dispose()
    fork = multiprocessing.get_context("fork")
    for number in range(times):
        reads, tells = fork.Pipe(duplex=False)
        writer = fork.Process(target=write, args=(where, tells), daemon=True)
        writer.start()
        tells.close()
        _, backend, _ = reads.recv()
        time.sleep(chance.random() * LONGEST_S)
        takes_server = bool(backend) and number % SERVER_EVERY == 0
        os.kill(backend if takes_server else int(writer.pid or 0), signal.SIGKILL)
        if takes_server:
            writer.kill()
        writer.join()
        _look(where, _said(reads), found)
        found.kills += 1
    engine = open_database(where)
    found.broken = len(verified(engine, Path(os.devnull)).problems)
    engine.dispose()
    return found


def _said(reads: Connection) -> list[tuple[str, str, int]]:
    """All that the writer could still tell before it died."""
    said = []
    try:
        while reads.poll():
            said.append(reads.recv())
    except (EOFError, OSError):
        pass
    return said


def _look(where: Path | str, said: list[tuple[str, str, int]], found: Killed) -> None:
    until = time.monotonic() + RECOVERY_S
    while True:
        try:
            engine = open_database(where)
            break
        except DBAPIError:  # the server recovers
            if time.monotonic() > until:
                raise
            time.sleep(0.05)
    with reading(engine):
        pass
    for _, identity, count in said:
        kept = find(engine, identity)
        found.acknowledged += 1
        found.lost += kept is None or len(kept.typed["answers"]) < count
    engine.dispose()


def main() -> None:
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    with tempfile.TemporaryDirectory() as folder:
        print("SQLite    ", kill_again_and_again(Path(folder) / "kept.sqlite", times), flush=True)
    with running() as server:
        print("PostgreSQL", kill_again_and_again(server.fresh(), times), flush=True)


if __name__ == "__main__":
    main()
