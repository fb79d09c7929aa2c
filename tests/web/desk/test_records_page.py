"""The owner's page of the records, the health address, and a log in which nobody is named."""

import logging
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from evaluator.store.engine import reading
from evaluator.store.keeping.daily import Keeper, made_in
from evaluator.store.records import Records
from evaluator.web.service import Service
from tests.web.conftest import Client

NAME = " ".join(("Mrs.", "Example"))  # so that it stands in no line of this file, which a log may show


@pytest.fixture
def keeper(service: Service, tmp_path: Path) -> Iterator[Keeper]:
    records = Records(tmp_path)
    found = Keeper(service.engine, records, tmp_path / "backups", service.now)
    service.keeper = found
    yield found


def test_a_backup_is_made_with_one_press(client: Client, keeper: Keeper) -> None:
    page = client.get("/records")
    assert "there is none" in page.text
    page = client.send(page, action="/records/backup")
    assert len(made_in(keeper.folder)) == 1
    assert "made 0 minutes ago" in page.text
    assert "made a backup" in client.get("/people").text


def test_without_records_of_its_own_it_says_so(client: Client) -> None:
    assert "keeps no backups" in client.get("/records").text


def test_health_is_open_and_tells_nothing_else(client: Client, service: Service, tmp_path: Path) -> None:
    assert client.http.get("/health").get_json() == {"status": "well"}
    if service.engine.dialect.name != "sqlite":
        return
    (tmp_path / "kept.sqlite").rename(tmp_path / "away")
    reply = client.http.get("/health")
    assert reply.status_code == 503
    assert set(reply.get_json()) == {"status", "say"}


def test_nobody_stands_in_the_log(
    client: Client, service: Service, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(token: str) -> str:
        with reading(service.engine) as connection:
            connection.execute(text("SELECT nothing FROM evaluations WHERE title = :name"), {"name": NAME})
        raise ValueError(NAME)

    monkeypatch.setitem(client.app.view_functions, "guests.welcome", breaks)
    with caplog.at_level(logging.DEBUG):
        page = client.get("/g/a-secret-token", status=500)
    assert "bug" in caplog.text and "/g/<token>" in caplog.text
    assert NAME not in caplog.text + page.text and "a-secret-token" not in caplog.text
    with pytest.raises(Exception, match="nothing") as told, reading(service.engine) as connection:
        connection.execute(text("SELECT nothing FROM evaluations WHERE title = :name"), {"name": NAME})
    assert NAME not in str(told.value)
