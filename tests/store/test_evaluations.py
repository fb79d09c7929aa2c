"""Nothing that is kept gets lost: many writers, versions that clash, transactions that break, a second start."""

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, inspect, text

from evaluator.store.engine import migrate, open_database, reading, writing
from evaluator.store.evaluations import Conflict, Kept, create, find, finish, newest, save_answers, save_start
from evaluator.store.schema import metadata
from tests.laws import tried

NOW = "2026-03-04T05:06:07+00:00"
WRITERS, EACH = 6, 15


def draft(engine: Engine) -> str:
    return create(engine, "violin", {"start": {"title": "Red", "size": "4/4"}, "answers": {}}, NOW)


def kept(engine: Engine, identity: str) -> Kept:
    found = find(engine, identity)
    assert found is not None
    return found


def test_what_is_typed_comes_back_as_typed(engine: Engine) -> None:
    typed = {"start": {"title": "<b> Łódź 🎻 \x01"}, "answers": {"purfling": {"outcome": "inlaid", "note": "a\nb"}}}
    found = kept(engine, create(engine, "violin", typed, NOW))
    assert (found.typed, found.title, found.state, found.version) == (typed, "<b> Łódź 🎻 \x01", "draft", 1)
    assert found.snapshot is None
    assert find(engine, "nowhere") is None


def test_many_writers_at_once_lose_nothing(engine: Engine) -> None:
    """Each thread answers checks of its own, always from the version it read first: nothing clashes or vanishes."""
    identity = draft(engine)
    ready = Barrier(WRITERS)

    def write(writer: int) -> list[object]:
        ready.wait()
        return [
            save_answers(engine, identity, 1, {f"check_{writer}_{n}": {"outcome": str(n)}}, NOW, f"page {writer}")
            for n in range(EACH)
        ]

    with ThreadPoolExecutor(WRITERS) as threads:
        saved = [one for batch in threads.map(write, range(WRITERS)) for one in batch]
    assert all(isinstance(one, Kept) for one in saved)
    found = kept(engine, identity)
    assert len(found.typed["answers"]) == WRITERS * EACH
    assert found.version == 1 + WRITERS * EACH, "every save counted once"


def test_of_many_writers_on_one_check_exactly_one_wins(engine: Engine) -> None:
    identity = draft(engine)
    ready = Barrier(WRITERS)

    def write(writer: int) -> object:
        ready.wait()
        return save_answers(engine, identity, 1, {"purfling": {"outcome": f"o{writer}"}}, NOW, f"page {writer}")

    with ThreadPoolExecutor(WRITERS) as threads:
        saved = list(threads.map(write, range(WRITERS)))
    won = [one for one in saved if isinstance(one, Kept)]
    assert len(won) == 1
    assert sum(isinstance(one, Conflict) for one in saved) == WRITERS - 1
    assert kept(engine, identity).typed["answers"] == won[0].typed["answers"]


def test_of_many_who_finish_exactly_one_wins(engine: Engine) -> None:
    identity = draft(engine)
    ready = Barrier(WRITERS)

    def freeze(number: int) -> object:
        ready.wait()
        return finish(engine, identity, 1, {"by": number}, "hash", NOW)

    with ThreadPoolExecutor(WRITERS) as threads:
        saved = list(threads.map(freeze, range(WRITERS)))
    won = [one for one in saved if isinstance(one, Kept)]
    assert len(won) == 1
    assert kept(engine, identity).snapshot == won[0].snapshot


def test_a_page_does_not_clash_with_itself_but_with_another(engine: Engine) -> None:
    identity = draft(engine)
    for outcome in ("painted", "inlaid"):
        saved = save_answers(engine, identity, 1, {"purfling": {"outcome": outcome}}, NOW, "mine")
        assert isinstance(saved, Kept)
    clash = save_answers(engine, identity, 1, {"purfling": {"outcome": "painted"}}, NOW, "theirs")
    assert isinstance(clash, Conflict)
    assert clash.kept.typed["answers"] == {"purfling": {"outcome": "inlaid"}}
    same = save_answers(engine, identity, 1, {"purfling": {"outcome": "inlaid"}}, NOW, "theirs")
    assert isinstance(same, Kept), "who wants what stands is not refused"


def test_a_clash_writes_nothing_of_the_refused_page(engine: Engine) -> None:
    identity = draft(engine)
    save_answers(engine, identity, 1, {"purfling": {"outcome": "inlaid"}}, NOW, "theirs")
    before = kept(engine, identity)
    mine = {"purfling": {"outcome": "painted"}, "wood": {"outcome": "plain"}}
    assert isinstance(save_answers(engine, identity, 1, mine, NOW, "mine"), Conflict)
    assert kept(engine, identity) == before


def test_the_first_page_clashes_by_version(engine: Engine) -> None:
    identity = draft(engine)
    assert isinstance(save_start(engine, identity, 1, {"title": "Blue"}, NOW), Kept)
    assert isinstance(save_start(engine, identity, 1, {"title": "Green"}, NOW), Conflict)
    assert kept(engine, identity).title == "Blue"
    assert isinstance(save_start(engine, identity, 1, {"title": "Blue"}, NOW), Kept), "no change, no clash"


def test_a_finished_one_takes_nothing_more(engine: Engine) -> None:
    identity = draft(engine)
    assert isinstance(finish(engine, identity, 7, {}, "hash", NOW), Conflict)
    assert isinstance(finish(engine, identity, 1, {"score": 1.5}, "hash", NOW), Kept)
    before = kept(engine, identity)
    assert save_answers(engine, identity, 2, {"purfling": {"outcome": "inlaid"}}, NOW) is None
    assert save_start(engine, identity, 2, {"title": "Blue"}, NOW) is None
    assert finish(engine, identity, 2, {}, "other", NOW) is None
    assert kept(engine, identity) == before


def test_a_transaction_that_breaks_leaves_nothing_behind(engine: Engine) -> None:
    identity = draft(engine)
    before = kept(engine, identity)
    with pytest.raises(RuntimeError, match="power cut"), writing(engine) as connection:
        connection.execute(text("UPDATE evaluations SET title = 'half', version = 99"))
        connection.execute(text("CREATE TABLE half (id INTEGER)"))
        raise RuntimeError("power cut")
    assert kept(engine, identity) == before
    assert "half" not in inspect(engine).get_table_names()


def test_a_reader_sees_the_old_state_while_one_writes(engine: Engine) -> None:
    draft(engine)
    with writing(engine) as connection:
        connection.execute(text("UPDATE evaluations SET title = 'half'"))
        with reading(engine) as other:
            assert other.execute(text("SELECT title FROM evaluations")).scalar_one() == "Red"
    assert newest(engine)[0].title == "half"


def test_a_list_is_newest_first_and_light(engine: Engine) -> None:
    times = [f"2026-03-04T05:06:0{second}+00:00" for second in (3, 1, 2)]
    made = {time: create(engine, "violin", {"start": {}, "answers": {}}, time) for time in times}
    finish(engine, made[times[0]], 1, {"heavy": "x" * 1000}, "hash", times[0])
    listed = newest(engine)
    assert [one.id for one in listed] == [made[time] for time in sorted(times, reverse=True)]
    assert listed[0].state == "finished" and listed[0].snapshot is None
    assert newest(engine, 1) == listed[:1]


def test_the_tables_are_made_once_and_found_again(where: Path | str) -> None:
    first = open_database(where)
    identity = draft(first)
    migrate(first)
    first.dispose()
    again = open_database(where)
    assert kept(again, identity).title == "Red"
    assert set(inspect(again).get_table_names()) == {*metadata.tables, "alembic_version"}
    again.dispose()


def test_the_migrations_make_what_the_schema_says(engine: Engine) -> None:
    for table in metadata.sorted_tables:
        made = {
            column["name"]: (str(column["type"]), column["nullable"])
            for column in inspect(engine).get_columns(table.name)
        }
        said = {column.name: (column.type.compile(engine.dialect), column.nullable) for column in table.columns}
        assert made == said


def test_a_broken_file_is_not_taken_for_an_empty_one(tmp_path: Path) -> None:
    path = tmp_path / "kept.sqlite"
    path.write_bytes(b"not a database at all" * 100)
    with pytest.raises(Exception, match="damaged, or no database"):
        open_database(path)
    assert path.read_bytes().startswith(b"not a database")


def test_the_file_can_be_read_by_sqlite_alone(tmp_path: Path) -> None:
    engine = open_database(tmp_path / "kept.sqlite")
    draft(engine)
    with sqlite3.connect(tmp_path / "kept.sqlite") as connection:
        rows = connection.execute("SELECT title, state FROM evaluations").fetchall()
    connection.close()
    engine.dispose()
    assert rows == [("Red", "draft")]


# A NUL, which no key types, is left out when it is kept.
LETTERS = st.characters(codec="utf-8", exclude_characters="\0")
answer = st.dictionaries(
    st.sampled_from(["outcome", "reading", "note"]), st.text(LETTERS, min_size=1, max_size=8), max_size=2
)
batches = st.lists(st.dictionaries(st.sampled_from(["a", "b", "c", "d"]), answer, max_size=3), max_size=6)


@given(batches)
@settings(tried(25), suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_saves_one_after_another_equal_a_dictionary_updated_in_order(
    engine: Engine, sent: list[dict[str, dict[str, str]]]
) -> None:
    identity = draft(engine)
    expected: dict[str, dict[str, str]] = {}
    for one in sent:
        saved = save_answers(engine, identity, kept(engine, identity).version, one, NOW, "page")
        assert isinstance(saved, Kept)
        expected = {name: said for name, said in (expected | one).items() if said}
        assert kept(engine, identity).typed["answers"] == expected
