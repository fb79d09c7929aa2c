"""A service on a database of its own, and a client that checks every page that any test fetches."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from evaluator.folders import rubrics_folder
from evaluator.rubric.load import load_shop
from evaluator.rubric.shop import Shop
from evaluator.store.engine import open_database
from evaluator.store.evaluations import create
from evaluator.web.app import HEADERS, create_app
from evaluator.web.service import Service
from tests.web.page import Page, field_names

NOW = "2026-03-04T05:06:07+00:00"


class Client:
    """Fetches and sends pages as a browser without JavaScript does; each page is checked, whatever its status."""

    def __init__(self, app: Flask) -> None:
        self.app = app
        self.http: FlaskClient = app.test_client()

    def get(self, path: str, status: int = 200) -> Page:
        return self._page(self.http.get(path, follow_redirects=True), status)

    def post(self, path: str, fields: Mapping[str, Any], status: int = 200) -> Page:
        return self._page(self.http.post(path, data=dict(fields), follow_redirects=True), status)

    def send(self, page: Page, typed: Mapping[str, str] | None = None, status: int = 200, action: str = "") -> Page:
        """Send a form of the page with what is typed over what stands there; where the form has no address, its own."""
        form = page.form_element(action)
        strange = set(typed or {}) - field_names(form)
        assert not strange, f"{page.path} has no field {sorted(strange)}"
        return self.post(form.attributes.get("action") or page.path, {**page.form(action), **(typed or {})}, status)

    def token(self) -> str:
        return self.get("/new/violin").form()["csrf_token"]

    @staticmethod
    def _page(response: TestResponse, status: int) -> Page:
        page = Page(response.request.path, response.get_data(as_text=True))
        assert response.status_code == status, f"{page.path}: {response.status}: {page.text[:300]}"
        assert response.mimetype == "text/html"
        assert page.faults() == [], page.path
        check_headers(response)
        return page


def check_headers(response: TestResponse) -> None:
    missing = {name for name, value in HEADERS.items() if response.headers.get(name) != value}
    assert not missing, f"{response.request.path} lacks {missing}"
    assert "unsafe" not in response.headers["Content-Security-Policy"]


@pytest.fixture(scope="session")
def shop() -> Shop:
    found, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert found is not None, problems
    return found


@pytest.fixture(scope="session")
def loaded() -> dict[str, Any]:
    """Rubrics by name, loaded once for all tests: they are frozen."""
    return {}


@pytest.fixture
def service(tmp_path: Path, shop: Shop, loaded: dict[str, Any]) -> Iterator[Service]:
    engine = open_database(tmp_path / "kept.sqlite")
    yield Service(engine, shop, now=lambda: NOW, _rubrics=loaded)
    engine.dispose()


@pytest.fixture
def client(service: Service) -> Client:
    return Client(create_app(service, "a key for tests"))


@pytest.fixture
def draft(service: Service) -> str:
    """The id of a violin that nobody has looked at yet."""
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
    return create(service.engine, "violin", {"start": start, "answers": {}}, NOW)
