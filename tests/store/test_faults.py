"""What the world does to the records is told in one sentence, and nothing is kept by half or made anew in silence."""

import os
import shutil
import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, insert, text
from sqlalchemy.exc import DBAPIError

from evaluator.basis.problem import Problem
from evaluator.quoting.answers import all_yes
from evaluator.quoting.consent import head
from evaluator.store.engine import open_database, reading, writing
from evaluator.store.evaluations import create, find
from evaluator.store.faults import MOVING, UnusableError, fault_of, refused_at
from evaluator.store.quotes import KeptQuote, Offered, answer, find_quote, offer
from evaluator.store.schema import choices
from evaluator.store.workshop.drafts import keep_draft
from tests.postgres import Server
from tests.quoting.test_quote import quote_of

NOW = "2026-03-03T09:00:00+00:00"


def made(engine: Engine, title: str = "Red") -> str:
    return create(engine, "violin", {"start": {"title": title}, "answers": {}}, NOW)


def opened(where: Path | str) -> str:
    """The code that opening is refused with."""
    with pytest.raises((UnusableError, DBAPIError)) as told:
        open_database(where)
    fault = fault_of(told.value)
    assert fault is not None and fault.what and fault.what_to_do
    return fault.code


def written(engine: Engine) -> str:
    """The code that a write fails with."""
    with pytest.raises((UnusableError, DBAPIError)) as told:
        made(engine, "never kept")
    fault = fault_of(told.value)
    assert fault is not None
    return fault.code


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A database with one evaluation, closed."""
    found = tmp_path / "kept.sqlite"
    engine = open_database(found)
    made(engine)
    engine.dispose()
    assert [one.name for one in tmp_path.iterdir()] == ["kept.sqlite"], "one complete file is left"
    return found


BROKEN: dict[str, tuple[str, Callable[[bytes], bytes]]] = {
    "random": ("fault.damaged", lambda content: os.urandom(len(content))),
    "words": ("fault.damaged", lambda _: b"not a database at all" * 100),
    "cut in half": ("fault.damaged", lambda content: content[: len(content) // 2]),
    "cut behind its head": ("fault.damaged", lambda content: content[:4096]),
    "empty": ("fault.bare", lambda _: b""),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_is_refused_and_left_as_it_is(path: Path, name: str) -> None:
    code, change = BROKEN[name]
    content = change(path.read_bytes())
    path.write_bytes(content)
    assert opened(path) == code
    assert path.read_bytes() == content


def test_a_file_without_its_tables_is_no_new_one(tmp_path: Path) -> None:
    """What is left where a running database was copied without its write-ahead file."""
    bare = tmp_path / "bare.sqlite"
    connection = sqlite3.connect(bare)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.close()
    assert bare.stat().st_size > 0
    assert opened(bare) == "fault.bare"


def test_a_database_that_went_without_its_last_writes_is_not_begun_anew(path: Path) -> None:
    path.rename(path.with_name("away"))
    last = path.with_name(path.name + "-wal")
    last.write_bytes(b"what was written last")
    assert opened(path) == "fault.headless"
    assert last.read_bytes() == b"what was written last" and not path.exists()


def test_another_programs_database_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "theirs.sqlite"
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE songs (name TEXT)")
    connection.commit()
    connection.close()
    content = path.read_bytes()
    assert opened(path) == "fault.strange"
    assert path.read_bytes() == content


def test_a_newer_form_and_half_a_move_are_refused(where: Path | str) -> None:
    engine = open_database(where)
    with writing(engine) as connection:
        connection.execute(insert(choices).values(name=MOVING, value="elsewhere"))
    assert opened(where) == "fault.half_moved"
    with writing(engine) as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    assert opened(where) == "fault.newer"
    engine.dispose()


def test_a_folder_that_is_a_file_is_told(path: Path) -> None:
    with pytest.raises(UnusableError) as told:
        open_database(path / "deep" / "kept.sqlite")
    assert told.value.problem.code == "fault.no_folder"
    assert f"“{path.name}” is a file" in str(told.value) and ".part" not in str(told.value)


@pytest.mark.parametrize("name", ["random", "cut behind its head"])
def test_what_cannot_be_opened_is_named(path: Path, name: str) -> None:
    path.write_bytes(BROKEN[name][1](path.read_bytes()))
    with pytest.raises(UnusableError) as told:
        open_database(path)
    assert str(told.value).startswith(f"{path}: ")


def test_a_disk_that_may_only_be_read_is_told_as_one(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A test cannot hang a disk in; what the system says of such a one is said here."""
    error = sqlite3.OperationalError("unable to open database file")
    error.sqlite_errorname = "SQLITE_CANTOPEN"
    failed = DBAPIError("PRAGMA", {}, error)
    assert fault_code(refused_at(failed, path)) == "fault.gone"
    monkeypatch.setattr(os, "access", lambda *_: False)
    assert fault_code(refused_at(failed, path)) == "fault.read_only"


def fault_code(error: Exception) -> str:
    assert isinstance(error, UnusableError)
    return error.problem.code


def test_a_file_that_is_moved_away_takes_nothing_more(path: Path) -> None:
    engine = open_database(path)
    identity = made(engine)
    path.rename(path.with_name("moved"))
    assert written(engine) == "fault.moved"
    with pytest.raises(UnusableError):
        find(engine, identity)
    assert not path.exists(), "no new file is begun in its place"
    path.with_name("moved").rename(path)
    assert find(engine, made(engine, "Blue")) is not None, "put back, it goes on"
    engine.dispose()


def test_a_file_that_is_replaced_takes_nothing(path: Path) -> None:
    engine = open_database(path)
    made(engine)
    copy = path.with_name("copy")
    shutil.copy2(path, copy)
    copy.replace(path)
    assert written(engine) == "fault.moved"
    engine.dispose()


def test_a_folder_that_is_gone_is_told(tmp_path: Path) -> None:
    folder = tmp_path / "records"
    engine = open_database(folder / "kept.sqlite")
    made(engine)
    folder.rename(tmp_path / "elsewhere")
    assert written(engine) == "fault.moved"
    assert not folder.exists()
    engine.dispose()


def test_a_full_disk_keeps_nothing_by_half(path: Path) -> None:
    engine = open_database(path)
    before = find(engine, made(engine))
    with engine.connect() as connection, connection.begin():
        pages = connection.execute(text("PRAGMA page_count")).scalar_one()
        connection.execute(text(f"PRAGMA max_page_count = {pages}"))
    assert before is not None
    code = None
    for _ in range(40):
        try:
            create(engine, "violin", {"start": {"title": "x" * 3000}, "answers": {}}, NOW)
        except DBAPIError as error:
            fault = fault_of(error)
            code = fault and fault.code
            break
    assert code == "fault.full"
    assert find(engine, before.id) == before, "what was kept can be read"
    engine.dispose()


def test_what_may_only_be_read_is_told(path: Path) -> None:
    engine = open_database(path)
    with engine.connect() as connection, connection.begin():
        connection.execute(text("PRAGMA query_only = ON"))
    assert written(engine) == "fault.read_only"
    engine.dispose()


def test_while_another_holds_the_lock_readers_read_and_writers_are_told(
    where: Path | str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("evaluator.store.engine.WAIT_S", 1)
    engine, other = open_database(where), open_database(where)
    identity = made(engine)
    with writing(other):
        begun = datetime.now(UTC)
        assert find(engine, identity) is not None
        assert datetime.now(UTC) - begun < timedelta(seconds=0.5)
        assert written(engine) == "fault.locked"
    assert find(engine, made(engine)) is not None
    engine.dispose()
    other.dispose()


@pytest.mark.postgres
def test_a_server_that_is_not_there_or_says_no_is_told(server: Server, tmp_path: Path) -> None:
    assert opened(f"postgresql://postgres@/records?host={tmp_path}") == "fault.no_answer"
    assert opened("postgresql://postgres@127.0.0.1:9/records") == "fault.no_answer"
    assert opened(server.address("nowhere")) == "fault.unknown"
    assert opened(server.address("postgres").replace("postgres@", "nobody@")) == "fault.refused"
    with pytest.raises(Exception) as told:
        open_database("what is this")
    fault = fault_of(told.value)
    assert fault is not None and fault.code == "fault.address"


@pytest.mark.postgres
def test_a_connection_that_was_cut_is_made_anew(server: Server) -> None:
    address = server.fresh()
    engine = open_database(address)
    identity = made(engine)
    others = "datname = current_database() AND pid <> pg_backend_pid()"
    cut = f"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE {others}"
    other = open_database(address)
    with reading(other) as connection:
        connection.execute(text(cut))
    assert find(engine, identity) is not None
    engine.dispose()
    other.dispose()
    server.drop(address)


def test_a_bug_is_no_fault(tmp_path: Path) -> None:
    for bug in (ValueError("x"), KeyError("x"), FileNotFoundError(2, "gone", "/usr/share/x")):
        assert fault_of(bug, tmp_path) is None
    inside = fault_of(FileNotFoundError(2, "gone", str(tmp_path / "photos" / "x.jpg")), tmp_path)
    assert inside is not None and inside.code == "fault.gone"


def said(engine: Engine, identity: str, at: datetime) -> KeptQuote | tuple[Problem, ...]:
    kept = find_quote(engine, identity)
    assert kept is not None
    answers = dict.fromkeys(all_yes(kept.quote), "later")
    return answer(engine, identity, head(kept.chain), answers, "A. Player", "link", at, at.isoformat())  # type: ignore[arg-type]


def test_an_answer_is_never_older_than_what_it_answers(engine: Engine) -> None:
    identity = keep_draft(engine, made(engine), quote_of(), NOW)
    assert isinstance(offer(engine, identity, NOW), Offered)
    now = datetime.fromisoformat(NOW)
    told = said(engine, identity, now - timedelta(days=400))
    assert isinstance(told, tuple) and [one.code for one in told] == ["quote.clock"]
    assert "27 January 2025" in told[0].what and "03 March 2026" in told[0].what
    kept = said(engine, identity, now - timedelta(seconds=90))
    assert isinstance(kept, KeptQuote) and kept.chain[-1].at == now, "a clock set by the network counts as that time"
    later = said(engine, identity, now + timedelta(hours=1))
    assert isinstance(later, KeptQuote) and later.chain[-1].at == now + timedelta(hours=1)
    told = said(engine, identity, now + timedelta(minutes=30))
    assert isinstance(told, tuple) and [one.code for one in told] == ["quote.clock"]


def test_what_was_said_bears_its_time_but_not_before_the_last_answer(engine: Engine) -> None:
    identity = keep_draft(engine, made(engine), quote_of(), NOW)
    assert isinstance(offer(engine, identity, NOW), Offered)
    now = datetime.fromisoformat(NOW)

    def noted(at: datetime) -> KeptQuote | tuple[Problem, ...]:
        kept = find_quote(engine, identity)
        assert kept is not None
        answers = dict.fromkeys(all_yes(kept.quote), "later")
        later = (now + timedelta(hours=2)).isoformat()
        return answer(engine, identity, head(kept.chain), answers, "A. Player", "spoken", at, later, None, "J.")  # type: ignore[arg-type]

    first = noted(now - timedelta(minutes=30))
    assert isinstance(first, KeptQuote) and first.chain[-1].at == now - timedelta(minutes=30)
    told = noted(now - timedelta(hours=1))
    assert isinstance(told, tuple) and [one.code for one in told] == ["quote.before"]
    assert isinstance(noted(now + timedelta(hours=1)), KeptQuote)
