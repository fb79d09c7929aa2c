"""A program with a token, against a service of its own."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from werkzeug.test import TestResponse

from evaluator.store.desk.tokens import make_token
from evaluator.web.api.operations import SCOPES
from evaluator.web.people.doors import limiter
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client


class Program:
    """Sends JSON with a token; `answer` is checked for its media type."""

    def __init__(self, client: Client, token: str) -> None:
        self.http = client.app.test_client()
        self.token = token

    def send(self, method: str, path: str, body: Any = None, **headers: str) -> TestResponse:
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        sent = {"Authorization": f"Bearer {self.token}", **named}
        return self.http.open(f"/api/1{path}", method=method, json=body, headers=sent)

    def get(self, path: str) -> Any:
        answer = self.send("GET", path)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        return answer.get_json()

    def do(self, method: str, path: str, body: Any = None, status: int = 200, **headers: str) -> Any:
        answer = self.send(method, path, body, **headers)
        assert answer.status_code == status, answer.get_data(as_text=True)
        return answer.get_json()

    def refused(self, method: str, path: str, status: int, body: Any = None, **headers: str) -> Mapping[str, Any]:
        answer = self.send(method, path, body, **headers)
        assert answer.status_code == status, answer.get_data(as_text=True)
        assert answer.mimetype == "application/problem+json"
        found: Mapping[str, Any] = answer.get_json()
        assert found["status"] == status
        assert found["type"].startswith("urn:evaluator:problem:")
        return found


@pytest.fixture
def program(client: Client, service: Service) -> Iterator[Program]:
    limiter.reset()
    yield Program(client, make_token(service.engine, "till", tuple(SCOPES), NOW))
    limiter.reset()
