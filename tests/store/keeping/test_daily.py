"""The daily backup: made when a day has gone by, kept for two weeks, tried again where it failed."""

import threading
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine

from evaluator.store.engine import open_database
from evaluator.store.keeping.backup_file import Listed
from evaluator.store.keeping.daily import DAYS_KEPT, Keeper, made_in
from evaluator.store.keeping.restore import restore
from evaluator.store.records import Records
from tests.store.filled import Filled, fill, marks


class Clock:
    def __init__(self) -> None:
        self.at = datetime.fromisoformat("2026-03-04T05:06:07+00:00")

    def __call__(self) -> str:
        return self.at.isoformat()


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def records(tmp_path: Path) -> Records:
    return Records(tmp_path / "records")


@pytest.fixture
def engine(records: Records) -> Iterator[Engine]:
    found = open_database(records.database)
    yield found
    found.dispose()


@pytest.fixture
def filled(engine: Engine, records: Records) -> Filled:
    return fill(engine, records)


@pytest.fixture
def keeper(engine: Engine, records: Records, clock: Clock, tmp_path: Path) -> Keeper:
    return Keeper(engine, records, tmp_path / "backups", clock)


def test_one_is_made_a_day(keeper: Keeper, filled: Filled, clock: Clock) -> None:
    made = []
    for _ in range(8):
        made.append(keeper.make_if_due())
        clock.at += timedelta(hours=7)
    assert [one is not None for one in made] == [True, False, False, False, True, False, False, False]
    assert [one.path for one in made_in(keeper.folder)] == [made[4], made[0]]
    assert made_in(keeper.folder)[0].at == datetime.fromisoformat("2026-03-05T09:06+00:00")


def test_it_can_be_brought_back(keeper: Keeper, filled: Filled, engine: Engine, tmp_path: Path) -> None:
    path = keeper.make_if_due()
    assert path is not None
    place = Records(tmp_path / "place")
    assert isinstance(restore(path, place), Listed)
    again = open_database(place.database)
    assert marks(again) == marks(engine)
    again.dispose()


def test_two_weeks_stay_and_what_is_not_ours_too(keeper: Keeper, filled: Filled, clock: Clock) -> None:
    keeper.folder.mkdir(parents=True)
    (keeper.folder / "records-mine.zip").write_bytes(b"mine")
    for _ in range(DAYS_KEPT + 3):
        assert keeper.make_if_due() is not None
        clock.at += timedelta(days=1)
    assert len(made_in(keeper.folder)) == DAYS_KEPT
    assert (keeper.folder / "records-mine.zip").read_bytes() == b"mine"


def test_a_clock_that_was_set_back_does_not_stop_it(keeper: Keeper, filled: Filled, clock: Clock) -> None:
    clock.at += timedelta(days=400)
    assert keeper.make_if_due() is not None
    clock.at -= timedelta(days=400)
    assert keeper.make_if_due() is not None


def test_why_it_failed_is_told_until_it_succeeds(keeper: Keeper, filled: Filled, clock: Clock) -> None:
    keeper.folder.write_bytes(b"in the way")
    assert keeper.make_if_due() is None
    assert keeper.failed
    keeper.folder.unlink()
    assert keeper.make_if_due() is not None
    assert keeper.failed == ""


def test_it_stops_when_it_is_told(keeper: Keeper, filled: Filled) -> None:
    keeper.start()
    keeper.stop()
    assert not any(thread.name == "daily backup" for thread in threading.enumerate())
    assert len(made_in(keeper.folder)) <= 1
    assert not list(keeper.folder.glob("*.part"))
