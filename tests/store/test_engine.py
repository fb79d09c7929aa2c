"""What holds for both databases alike: one writer at a time, one view for a reader, tables made once, text as typed."""

import json
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, func, inspect, select, text

from evaluator.store.engine import is_file, open_database, reading, writing, written
from evaluator.store.evaluations import create, find
from evaluator.store.quotes import find_quote, more_of
from evaluator.store.schema import choices, evaluations, metadata
from evaluator.store.workshop.drafts import keep_draft
from tests.laws import tried
from tests.postgres import Server
from tests.quoting.test_quote import quote_of

NOW = "2026-03-04T05:06:07+00:00"
WRITERS, EACH = 4, 25


def made(engine: Engine, title: str = "Red") -> str:
    return create(engine, "violin", {"start": {"title": title}, "answers": {}}, NOW)


@pytest.fixture
def counter(engine: Engine) -> Engine:
    with writing(engine) as connection:
        connection.execute(choices.insert().values(name="counter", value="0"))
    return engine


def test_who_reads_adds_one_and_writes_is_never_lost(counter: Engine) -> None:
    ready = Barrier(WRITERS)

    def add(_: int) -> None:
        ready.wait()
        for _ in range(EACH):
            with writing(counter) as connection:
                value = int(connection.execute(select(choices.c.value)).scalar_one())
                connection.execute(choices.update().values(value=str(value + 1)))

    with ThreadPoolExecutor(WRITERS) as threads:
        list(threads.map(add, range(WRITERS)))
    with reading(counter) as connection:
        assert connection.execute(select(choices.c.value)).scalar_one() == str(WRITERS * EACH)


def test_quotes_made_at_once_get_numbers_of_their_own(engine: Engine) -> None:
    ready = Barrier(WRITERS)
    mine = [made(engine) for _ in range(WRITERS)]

    def draft(evaluation: str) -> str:
        ready.wait()
        return keep_draft(engine, evaluation, quote_of(), NOW)

    with ThreadPoolExecutor(WRITERS) as threads:
        kept = [find_quote(engine, identity) for identity in threads.map(draft, mine)]
    assert sorted(one.quote.number for one in kept if one) == [f"2026-{n + 1:04d}" for n in range(WRITERS)]


def test_a_reader_sees_one_state_from_first_to_last(engine: Engine) -> None:
    made(engine)
    count = select(func.count()).select_from(evaluations)
    with reading(engine) as connection:
        before = connection.execute(count).scalar_one()
        made(engine)
        assert connection.execute(count).scalar_one() == before
    with reading(engine) as connection:
        assert connection.execute(count).scalar_one() == before + 1


def test_an_acknowledged_write_is_on_the_disk(engine: Engine) -> None:
    asked = "PRAGMA synchronous" if is_file(engine) else "SHOW synchronous_commit"
    with reading(engine) as connection:
        assert connection.execute(text(asked)).scalar_one() in (2, "on")


@pytest.fixture
def empty(server: Server) -> Iterator[str]:
    address = server.empty()
    yield address
    server.drop(address)


@pytest.mark.postgres
def test_of_several_that_start_on_an_empty_server_one_makes_the_tables(empty: str) -> None:
    start = "import sys; from evaluator.store.engine import open_database; open_database(sys.argv[1])"
    started = [subprocess.Popen([sys.executable, "-c", start, empty]) for _ in range(3)]
    assert [one.wait(60) for one in started] == [0, 0, 0]
    engine = open_database(empty)
    assert set(inspect(engine).get_table_names()) == {*metadata.tables, "alembic_version"}
    engine.dispose()


typed = st.text(st.characters(codec=None), max_size=12)  # with NUL and halves of letters, as a careless program sends


@given(typed)
@settings(tried(40), suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_text_comes_it_is_kept_and_can_be_searched(engine: Engine, about: str) -> None:
    found = find(engine, made(engine, about))
    assert found is not None
    clean = about.replace("\0", "")
    if clean.isprintable():
        assert (found.title, found.typed["start"]["title"]) == (clean, clean)
    with reading(engine) as connection:
        connection.execute(select(evaluations.c.typed["start"]["title"].as_string())).all()
    assert more_of(engine, "2026-0001") == ()


@pytest.mark.parametrize("value", ["\\u0000", {"a\\": ["\\\\u0000", "🎻", 1.5, None, True]}, "\ud83c\udfbb"])
def test_what_can_be_typed_is_written_as_it_is(value: object) -> None:
    assert json.loads(written(value)) == (value if value != "\ud83c\udfbb" else "🎻")
