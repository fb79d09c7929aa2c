"""Moving house: from one database to the other and back, broken off anywhere and taken up again, rows compared."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, insert, update

from evaluator.basis.problem import Problem
from evaluator.store.engine import connected, open_database, writing
from evaluator.store.evaluations import create
from evaluator.store.faults import MOVING
from evaluator.store.keeping import moving
from evaluator.store.keeping.moving import Moved, move, unfinished_from
from evaluator.store.people import last_deeds, note_deed
from evaluator.store.photos import kept_photos
from evaluator.store.quotes import find_quote
from evaluator.store.records import Records
from evaluator.store.schema import choices, evaluations
from evaluator.store.workshop.drafts import keep_draft
from tests.postgres import Server
from tests.quoting.test_quote import quote_of
from tests.store.filled import NOW, Filled, fill, marks

MORE = 40


@pytest.fixture
def old(tmp_path: Path) -> Records:
    return Records(tmp_path / "old")


@pytest.fixture
def source(old: Records) -> Iterator[Engine]:
    found = open_database(old.database)
    yield found
    found.dispose()


@pytest.fixture
def filled(source: Engine, old: Records) -> Filled:
    return fill(source, old, more=MORE)


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def new(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Records]:
    if request.param == "sqlite":
        yield Records(tmp_path / "new")
        return
    server: Server = request.getfixturevalue("server")
    address = server.empty()
    yield Records(tmp_path / "new", address)
    server.drop(address)


@pytest.fixture
def few_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(moving, "AT_ONCE", 15)


def code(found: Moved | Problem) -> str:
    assert isinstance(found, Problem), found
    return found.code


def test_everything_arrives_and_goes_back_the_same(
    source: Engine, filled: Filled, old: Records, new: Records, tmp_path: Path
) -> None:
    before = marks(source)
    rows = sum(map(len, before.values()))
    there = move(old, new)
    assert isinstance(there, Moved), there
    assert (there.there, there.photos, there.compared) == (0, 1, rows - len(before["choices"]))
    assert kept_photos(new.photos) == (filled.photo,) and new.key.read_bytes() == old.key.read_bytes()
    goal = open_database(new.database)
    assert marks(goal) == before == marks(source)
    assert unfinished_from(goal) is None
    goal.dispose()
    home = Records(tmp_path / "home")
    assert isinstance(move(new, home), Moved)
    back = open_database(home.database)
    assert marks(back) == before
    back.dispose()


def test_life_goes_on_in_the_new_place(source: Engine, filled: Filled, old: Records, new: Records) -> None:
    assert isinstance(move(old, new), Moved)
    goal = open_database(new.database)
    note_deed(goal, NOW, "Anna", "moved in", "")
    assert [one.id for one in last_deeds(goal)] == [3, 2, 1]
    other = create(goal, "violin", {"start": {}, "answers": {}}, NOW)
    kept = find_quote(goal, keep_draft(goal, other, quote_of(), NOW))
    assert kept is not None and kept.quote.number == "2026-0002"
    goal.dispose()


@pytest.mark.parametrize("apart", [3, pytest.param(1, marks=pytest.mark.long)])
def test_a_move_that_was_broken_off_anywhere_goes_on(
    source: Engine, filled: Filled, old: Records, new: Records, few_at_once: None, apart: int
) -> None:
    """At every third step in the usual run, at each in the long one."""
    before = marks(source)
    steps, told, tries = 0, 0, 0

    def stop(_line: str) -> None:
        nonlocal told
        told += 1
        if told > steps:
            raise KeyboardInterrupt

    while True:
        steps, told, tries = steps + apart, 0, tries + 1
        try:
            found = move(old, new, stop)
            break
        except KeyboardInterrupt:
            goal = connected(new.database)
            assert unfinished_from(goal) == str(old.database)
            goal.dispose()
    assert isinstance(found, Moved) and tries > 5 and found.there > MORE
    goal = open_database(new.database)
    assert marks(goal) == before
    goal.dispose()


KILLED = """
import os, signal, sys
from pathlib import Path
from evaluator.store.keeping import moving
from evaluator.store.records import Records
moving.AT_ONCE = 3
count = 0
def tell(line):
    global count
    count += 1
    if count == int(sys.argv[4]):
        os.kill(os.getpid(), signal.SIGKILL)
print(moving.move(Records(Path(sys.argv[1])), Records(Path(sys.argv[2]), sys.argv[3]), tell))
"""


def test_a_move_that_was_killed_goes_on(source: Engine, filled: Filled, old: Records, new: Records) -> None:
    for after in ("1", "9"):
        command = [sys.executable, "-c", KILLED, str(old.folder), str(new.folder), new.address, after]
        assert subprocess.run(command, check=False).returncode == -9
    found = move(old, new)
    assert isinstance(found, Moved) and found.there > 0
    goal = open_database(new.database)
    assert marks(goal) == marks(source)
    goal.dispose()


def test_who_writes_into_the_old_place_meanwhile_is_found_out(
    source: Engine, filled: Filled, old: Records, new: Records
) -> None:
    def write(line: str) -> None:
        if line.startswith("evaluations"):
            with writing(source) as connection:
                connection.execute(update(evaluations).where(evaluations.c.id == filled.draft).values(title="Blue"))

    found = move(old, new, write)
    assert code(found) == "move.row"
    assert isinstance(found, Problem) and filled.draft in found.what and "evaluations" in found.what
    goal = connected(new.database)
    assert unfinished_from(goal) is not None, "the service does not open it"
    goal.dispose()


def test_nothing_is_put_over_records(
    source: Engine, filled: Filled, old: Records, new: Records, tmp_path: Path
) -> None:
    assert isinstance(move(old, new), Moved)
    assert code(move(old, new)) == "move.taken"
    assert code(move(old, old)) == "move.same"
    assert code(move(Records(tmp_path / "nowhere"), new)) == "move.nothing"


def test_half_a_move_is_not_moved_on(source: Engine, old: Records, new: Records) -> None:
    with writing(source) as connection:
        connection.execute(insert(choices).values(name=MOVING, value="elsewhere"))
    assert code(move(old, new)) == "move.half"
