"""What the doctor finds: each fault is named with what to do, and records that are well have none."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from evaluator.store.engine import open_database
from evaluator.store.evaluations import create
from evaluator.store.keeping.backup import back_up
from evaluator.store.keeping.daily import NAME
from evaluator.store.records import Records, secret_key
from evaluator.web.desk import examine
from evaluator.web.desk.examine import Finding, Looked, examined, told_age, worst

NOW = datetime(2026, 3, 4, 5, 6, tzinfo=UTC)


@pytest.fixture
def at(tmp_path: Path) -> Iterator[Looked]:
    records = Records(tmp_path / "records")
    engine = open_database(records.database)
    secret_key(records)
    create(engine, "violin", {"start": {}, "answers": {}}, (NOW - timedelta(days=1)).isoformat())
    backups = tmp_path / "backups"
    back_up(engine, records, backups / (NOW - timedelta(hours=3)).strftime(NAME), NOW.isoformat())
    yield Looked(records, engine, backups, NOW)
    engine.dispose()


def found(at: Looked) -> dict[str, Finding]:
    """What is not well, by subject; where the backups lie is the computer's own matter here."""
    return {one.subject: one for one in examined(at) if one.state != "well" and one.subject != "Backup elsewhere"}


def test_records_that_are_well_have_no_fault(at: Looked) -> None:
    assert found(at) == {}
    told = {one.subject: one.told for one in examined(at)}
    assert "1 evaluations" in told["Database"] and "made 3 hours ago" in told["Backup"]


def test_a_clock_before_what_is_kept_is_wrong(at: Looked) -> None:
    wrong = found(replace(at, now=NOW - timedelta(days=40)))["Clock"]
    assert wrong.state == "wrong" and "23 January 2026" in wrong.told and "03 March 2026" in wrong.told
    assert "before this program" in found(replace(at, now=datetime(1970, 1, 1, tzinfo=UTC)))["Clock"].told


def test_an_old_backup_and_a_failed_one_are_told(at: Looked, tmp_path: Path) -> None:
    assert "made 5 days ago" in found(replace(at, now=NOW + timedelta(days=5)))["Backup"].told
    assert found(replace(at, backups=tmp_path / "none"))["Backup"].told == "there is none"
    failed = [one for one in examined(replace(at, failed="no space")) if one.subject == "Backup"]
    assert failed[0].state == "wrong" and "no space" in failed[0].told


def test_files_that_others_can_read_are_told(at: Looked) -> None:
    at.records.key.chmod(0o644)
    wrong = found(at)["Permissions"]
    assert str(at.records.key) in wrong.told and str(at.records.key) in wrong.to_do


def test_little_space_is_told(at: Looked, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(examine, "LITTLE_SPACE", 10**18)
    assert found(at)["Space"].state == "look"
    monkeypatch.setattr(examine, "NO_SPACE", 10**18)
    assert found(at)["Space"].state == "wrong"


def test_a_database_that_is_gone_is_told(at: Looked) -> None:
    path = at.records.database
    assert isinstance(path, Path)
    path.rename(path.with_name("away"))
    wrong = found(at)["Database"]
    assert wrong.state == "wrong" and "moved or replaced" in wrong.told
    assert worst(examined(at)) == "wrong"


def test_every_finding_that_is_not_well_says_what_to_do(at: Looked, tmp_path: Path) -> None:
    worse = replace(at, now=NOW - timedelta(days=400), backups=tmp_path / "none", failed="no space")
    at.records.key.chmod(0o644)
    findings = examined(worse)
    assert len([one for one in findings if one.state != "well"]) >= 4
    assert all(bool(one.to_do) == (one.state != "well") for one in findings)


@pytest.mark.parametrize(
    ("age", "told"),
    [(timedelta(seconds=-9), "0 minutes"), (timedelta(minutes=1), "1 minute"), (timedelta(minutes=89), "89 minutes"),
     (timedelta(hours=3), "3 hours"), (timedelta(hours=35), "35 hours"), (timedelta(days=4), "4 days")],
)  # fmt: skip
def test_an_age_in_its_largest_unit(age: timedelta, told: str) -> None:
    assert told_age(age) == told
