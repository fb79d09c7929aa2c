"""Several processes on one database, behind a proxy: closed to strangers, and each sees what another kept."""

from pathlib import Path

import pytest

from evaluator.store.evaluations import create
from evaluator.store.people import make_code
from evaluator.web import processes
from evaluator.web.processes import application

HOST = {"base_url": "https://records.example"}


def test_two_processes_share_people_and_records(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    with pytest.raises(RuntimeError, match="EVALUATOR_ADDRESS"):
        application()
    monkeypatch.setattr(processes, "settle", lambda: None)  # here the collector of garbage is set for all tests
    monkeypatch.setenv("EVALUATOR_ADDRESS", "https://records.example")
    monkeypatch.setenv("EVALUATOR_DATA", str(tmp_path))
    one, other = application(), application()
    client = one.test_client()
    assert client.get("/", **HOST).headers["Location"].startswith("/sign-in"), "nobody comes in unknown"
    assert client.get("/", base_url="https://evil.example").status_code == 400
    engine, now = one.extensions["evaluator"].engine, one.extensions["evaluator"].now()
    page = client.get("/sign-in", **HOST).get_data(as_text=True)
    token = page.split('name="csrf-token" content="')[1].split('"')[0]
    sent = {"csrf_token": token, "code": make_code(engine, "owner", now)}
    assert client.post("/in", data=sent, headers={"Referer": "https://records.example/in"}, **HOST).status_code == 302
    identity = create(engine, "violin", {"start": {"title": "Seen by both", "size": "4/4"}, "answers": {}}, now)
    second = other.test_client()
    for cookie in client._cookies.values():
        second._cookies[cookie._storage_key] = cookie
    seen = second.get("/", **HOST).get_data(as_text=True)
    assert "Seen by both" in seen and identity in seen
    for app in (one, other):
        app.extensions["evaluator"].engine.dispose()
