"""Looking at everything finds what was changed behind the program's back, and nothing where all is well."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine, text, update
from sqlalchemy.exc import DatabaseError

from evaluator.store.engine import is_file, open_database, writing
from evaluator.store.keeping.backup import back_up
from evaluator.store.keeping.verify import Verified, differences, verified, verified_backup
from evaluator.store.photos import place_of
from evaluator.store.records import Records
from evaluator.store.schema import consents, evaluations
from tests.store.filled import NOW, Filled, fill


@pytest.fixture
def records(where: Path | str, tmp_path: Path) -> Records:
    return Records(where.parent, "") if isinstance(where, Path) else Records(tmp_path / "records", where)


@pytest.fixture
def engine(records: Records) -> Iterator[Engine]:
    found = open_database(records.database)
    yield found
    found.dispose()


@pytest.fixture
def filled(engine: Engine, records: Records) -> Filled:
    return fill(engine, records)


def codes(engine: Engine, records: Records) -> list[str]:
    return [one.code for one in verified(engine, records.photos).problems]


def test_records_that_are_whole_have_no_fault(engine: Engine, records: Records, filled: Filled, tmp_path: Path) -> None:
    found = verified(engine, records.photos)
    assert found == Verified(1 + len(filled.finished), len(filled.finished), 1, 2, 1, ())
    back_up(engine, records, tmp_path / "one.zip", NOW)
    assert verified_backup(tmp_path / "one.zip") == found


def test_a_changed_answer_shows(engine: Engine, records: Records, filled: Filled) -> None:
    with writing(engine) as connection:
        connection.execute(text("DROP TRIGGER consents_stay" + ("" if is_file(engine) else " ON consents")))
        first = consents.c.place == 1
        record = connection.execute(consents.select().where(first)).one().record
        connection.execute(update(consents).where(first).values(record=record | {"by": "Someone"}))
    found = verified(engine, records.photos).problems
    assert [one.code for one in found] == ["verify.chain"]
    assert "answer 1" in found[0].what and found[0].where == "quote 2026-0001"


def test_a_result_that_lost_something_shows(engine: Engine, records: Records, filled: Filled) -> None:
    with writing(engine) as connection:
        one = evaluations.c.id == filled.finished[0]
        kept = connection.execute(evaluations.select().where(one)).one().snapshot
        lost = {name: value for name, value in kept.items() if name != "score"}
        connection.execute(update(evaluations).where(one).values(snapshot=lost))
    assert codes(engine, records) == ["verify.result"]


def test_photos_are_looked_at(engine: Engine, records: Records, filled: Filled) -> None:
    place = place_of(records.photos, filled.photo)
    place.write_bytes(place.read_bytes()[:-1])
    assert codes(engine, records) == ["verify.photo"]
    place.unlink()
    assert codes(engine, records) == ["verify.photo_gone"]


def test_a_damaged_file_shows(tmp_path: Path) -> None:
    """Pages of tables overwritten: what SQLite finds is told, or the file cannot be read at all."""
    records = Records(tmp_path)
    engine = open_database(records.database)
    fill(engine, records)
    engine.dispose()
    path = tmp_path / "evaluations.sqlite"
    content = bytearray(path.read_bytes())
    at = len(content) // 4096 * 3 // 4 * 4096
    content[at : at + 64] = b"\xff" * 64
    path.write_bytes(content)
    try:
        engine = open_database(records.database)
        found = codes(engine, records)
        engine.dispose()
    except DatabaseError:
        found = ["verify.database"]  # what the command tells of a file that SQLite will not open
    assert found[0] == "verify.database"


@pytest.mark.parametrize(
    ("now", "whole", "where"),
    [
        ({"a": 1.5, "b": [1, 2], "c": "x"}, True, []),
        ({"a": 1.5, "b": [1, 2], "c": "x", "new": 7}, True, []),
        ({"a": 1.6, "b": [1, 2], "c": "x"}, False, ["a"]),
        ({"a": 1.5, "b": [1, 3], "c": "x"}, False, ["b[1]"]),
        ({"a": 1.5, "b": [1], "c": "x"}, False, ["b (how many)"]),
        ({"a": 1.5, "b": [1, 2], "c": "y"}, False, []),
        ({"a": 1.5, "b": [1, 2], "c": "y"}, True, ["c"]),
        ({"a": 1.5, "c": "x"}, True, ["b"]),
        ({"a": 1.5, "c": "x"}, False, []),
    ],
)
def test_differences_are_named_by_their_path(now: object, whole: bool, where: list[str]) -> None:
    then = {"a": 1.5, "b": [1, 2], "c": "x"}
    assert [path for path, _, _ in differences(then, now, whole)] == where
