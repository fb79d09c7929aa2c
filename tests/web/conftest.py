"""A service on a database of its own, and a client that checks every page that any test fetches."""

import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from jinja2 import BytecodeCache
from jinja2.bccache import Bucket
from playwright.sync_api import Browser, ConsoleMessage, sync_playwright
from playwright.sync_api import Page as Tab
from werkzeug.test import TestResponse

from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.store.engine import open_database
from evaluator.store.evaluations import create
from evaluator.store.folders import rubrics_folder
from evaluator.web.app import create_app
from evaluator.web.outside import HEADERS
from evaluator.web.people.doors import limiter
from evaluator.web.remembered import Remembered
from evaluator.web.service import Service
from tests.postgres import Server
from tests.serving import serving
from tests.web.page import Page, field_names

NOW = "2026-03-04T05:06:07+00:00"
KEY = "a key for tests"


def both(app: Flask) -> tuple[Flask, Flask]:
    """The shop's application and the customers' beside it."""
    customers: Flask = app.extensions["customers"]
    return app, customers


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
        page = read_page(response.request.path, response.get_data(as_text=True))
        assert response.status_code == status, f"{page.path}: {response.status}: {page.text[:300]}"
        assert response.mimetype == "text/html"
        assert page.faults() == [], page.path
        check_headers(response)
        assert response.headers["Cache-Control"] == "no-store", page.path
        return page


read_page = lru_cache(maxsize=200)(Page)  # many tests fetch the same page


class Compiled(BytecodeCache):
    """Templates compiled once, for the shop's pages and the customers'."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self.kept:
            bucket.bytecode_from_string(self.kept[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.kept[bucket.key] = bucket.bytecode_to_string()


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
def loaded() -> Remembered[str, Rubric]:
    """Rubrics by name, loaded once for all tests: they are frozen."""
    return Remembered(9)


class Shared(Remembered[Any, Any]):
    """What follows from an evaluation alone is worked out once for all tests; with a book of sales each has its own."""

    def __init__(self, most: int, shared: Remembered[Any, Any]) -> None:
        super().__init__(most)
        self._shared = shared

    def of(self, key: Any, make: Callable[[], Any]) -> Any:
        revision = key[-2]
        return self._shared.of(key, make) if revision == "0" else super().of(key, make)


@dataclass(frozen=True)
class Worked:
    """What was worked out for the tests of a worker: it is frozen, and follows from what it is known by."""

    evaluations: Remembered[Any, Any] = field(default_factory=lambda: Remembered(40))
    results: Remembered[Any, Any] = field(default_factory=lambda: Remembered(120))
    papers: Remembered[bytes, bytes] = field(default_factory=lambda: Remembered(40))


@pytest.fixture(scope="session")
def worked() -> Worked:
    return Worked()


@pytest.fixture
def database(request: pytest.FixtureRequest, tmp_path: Path, tables: Path) -> Iterator[Path | str]:
    """A new SQLite file; with `--on-server` a database of PostgreSQL."""
    if not request.config.getoption("--on-server"):
        yield shutil.copy(tables, tmp_path / "kept.sqlite")
        return
    server: Server = request.getfixturevalue("server")
    address = server.fresh()
    yield address
    server.drop(address)


@pytest.fixture
def service(
    database: Path | str, tmp_path: Path, shop: Shop, loaded: Remembered[str, Rubric], worked: Worked
) -> Iterator[Service]:
    engine = open_database(database)
    shared = {"_evaluations": Shared(12, worked.evaluations), "_results": Shared(64, worked.results)}
    yield Service(engine, shop, folder=tmp_path, now=lambda: NOW, _rubrics=loaded, **shared, _papers=worked.papers)
    engine.dispose()


@dataclass
class Built:
    """One app for all tests of a worker, around the service of each: to build its addresses takes longer than most."""

    app: Flask | None = None

    def around(self, service: Service) -> Flask:
        if self.app is None:
            self.app = create_app(service, KEY)
            for one in both(self.app):
                one.jinja_env.bytecode_cache = Compiled()
        for one in both(self.app):
            one.extensions["evaluator"] = service
        self.app.config["SECRET_KEY"] = KEY
        limiter.reset()
        return self.app


@pytest.fixture(scope="session")
def built() -> Built:
    return Built()


@pytest.fixture
def client(service: Service, built: Built) -> Client:
    return Client(built.around(service))


@pytest.fixture
def draft(service: Service) -> str:
    """The id of a violin that nobody has looked at yet."""
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
    return create(service.engine, "violin", {"start": start, "answers": {}}, NOW)


CHROMIUM = "/usr/bin/chromium-headless-shell"  # draws as the browser does, and takes half of its time
QUIET = (
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-gpu",
    "--no-first-run",
    "--no-sandbox",
)
PHONE, BENCH = (390, 844), (1280, 800)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(QUIET))
        yield browser
        browser.close()


@pytest.fixture
def address(client: Client) -> Iterator[str]:
    """The address of a real server on this machine."""
    with serving(client.app) as found:
        yield found


# A form answered with 422; the offline page's own script, asked for just when a test cuts the net.
NOT_FETCHED = ("Failed to load resource", "An unknown error occurred when fetching the script")


def is_complaint(line: ConsoleMessage) -> bool:
    """An error of a script or of the content policy; that a form was answered with 422, or the net was cut, is none."""
    return line.type == "error" and not line.text.startswith(NOT_FETCHED)


@pytest.fixture
def open_tab(browser: Browser, address: str) -> Iterator[Callable[..., Tab]]:
    """Opens a tab in a window of its own: `size` in px, light or dark, with or without JavaScript."""
    windows, said = [], []

    def opened(size: tuple[int, int] = PHONE, scheme: str = "light", script: bool = True) -> Tab:
        phone = size == PHONE
        window = browser.new_context(
            viewport={"width": size[0], "height": size[1]},
            color_scheme=scheme,
            java_script_enabled=script,
            has_touch=phone,
            is_mobile=phone,
            base_url=address,
        )
        windows.append(window)
        tab = window.new_page()
        tab.set_default_timeout(8_000)
        tab.on("pageerror", lambda error: said.append(str(error)))
        tab.on("console", lambda line: said.append(line.text) if is_complaint(line) else None)
        return tab

    yield opened
    for window in windows:
        window.close()
    assert said == [], "the browser complained"
