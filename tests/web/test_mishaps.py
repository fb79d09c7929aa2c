"""When the world fails, the page says what to do and keeps what was typed; nothing is kept by half."""

from pathlib import Path

import pytest

from evaluator.store.engine import writing
from evaluator.store.evaluations import find, newest
from evaluator.web.service import Service
from tests.web.conftest import Client

TYPED = {"title": "Grandmother's violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "student"}


@pytest.fixture(autouse=True)
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("evaluator.store.engine.WAIT_S", 1)


def test_what_was_typed_is_sent_again_with_one_press(client: Client, service: Service) -> None:
    form = client.get("/new/violin")
    with writing(service.engine):
        page = client.send(form, TYPED, status=503)
        assert "another program holds them" in page.text
        assert "Grandmother's violin" in page.text and "Send it again" in page.text
        again = client.send(page, status=503)
        assert client.get("/").text, "readers are not held up"
    done = client.send(again)
    assert newest(service.engine)[0].title == "Grandmother's violin"
    assert done.path.startswith("/evaluations/")


def test_a_file_that_is_gone_is_told_on_every_page(
    client: Client, service: Service, draft: str, database: Path | str, tmp_path: Path
) -> None:
    if isinstance(database, str):
        pytest.skip("a server has no file that could go")
    path = database
    form = client.get("/new/violin")
    path.rename(tmp_path / "away")
    assert "moved or replaced" in client.get("/", status=503).text
    assert "Grandmother's violin" in client.send(form, TYPED, status=503).text
    assert client.http.get("/health").status_code == 503
    (tmp_path / "away").rename(path)
    assert find(service.engine, draft) is not None
    client.get("/")


def test_a_phone_gets_one_sentence_and_keeps_its_answer(client: Client, service: Service, draft: str) -> None:
    token = client.token()
    sent = {"writer": "w", "sent": [{"check": "purfling", "answer": {"outcome": "inlaid"}, "version": 1}]}
    with writing(service.engine):
        reply = client.http.post(f"/evaluations/{draft}/looks/answers", json=sent, headers={"X-CSRFToken": token})
    assert reply.status_code == 503
    assert "another program holds them" in reply.get_json()["say"]


def test_a_bug_is_told_as_a_bug(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(client.app.view_functions, "pages.front", lambda: 1 / 0)
    assert "The fault is ours" in client.get("/", status=500).text


def test_a_password_is_never_shown_again(client: Client, service: Service) -> None:
    form = client.get("/people")
    with writing(service.engine):
        page = client.send(form, {"name": "Anna", "role": "owner", "password": "four plain words here"}, status=503)
    assert "four plain words" not in page.text
