"""A visit while the net is cut, the tab closed and the server killed: what was tapped is kept, and the page opens."""

import random
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, BrowserContext, Route, expect
from playwright.sync_api import Page as Tab

from evaluator.rubric.rubric import Rubric
from evaluator.store.engine import open_database
from evaluator.store.evaluations import create, find, save_plan
from evaluator.web.people.house import House
from evaluator.web.service import Service
from tests.web.conftest import NOW, PHONE, Client

pytestmark = pytest.mark.browser
OpenTab = Callable[..., Tab]
SEED = 11
START = {"size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
NONE_WAIT = "() => JSON.parse(localStorage['answers that wait'] || '[]').length === 0"
HOLDS_PAGE = "async () => Boolean(await caches.match(location.pathname))"


class Running:
    """The service in a process of its own, which can be killed at any time and started again at the same address."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = int(probe.getsockname()[1])
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        command = [sys.executable, "-m", "evaluator", "serve", "--port", str(self.port), "--data", str(self.folder)]
        self.process = subprocess.Popen(command, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                urllib.request.urlopen(f"{self.address}/health", timeout=2).close()
                return
            except OSError:
                time.sleep(0.1)
        raise TimeoutError("the service did not start")

    def kill(self) -> None:
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
            self.process = None


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Running]:
    one = Running(tmp_path / "kept")
    one.folder.mkdir()
    one.start()
    yield one
    one.kill()


@pytest.fixture
def phone(browser: Browser, running: Running) -> Iterator[BrowserContext]:
    window = browser.new_context(
        viewport={"width": PHONE[0], "height": PHONE[1]}, has_touch=True, is_mobile=True, base_url=running.address
    )
    yield window
    window.close()


def looks_of(rubric: Rubric) -> list[str]:
    """Every look that is asked whatever else was answered: choices first, then what is measured, counted or marked."""
    plain = [check for name, check in rubric.checks.items() if name not in rubric.relevant]
    found = [one.check for kind in ("choice", "measure", "count", "rating") for one in plain if one.kind == kind]
    assert len(found) >= 100
    return found


def tapped(tab: Tab, place: int) -> tuple[str, str]:
    """Press an answer of the look that is shown; gives the look and the answer."""
    look = tab.locator("section.look:visible")
    name = look.get_attribute("data-look") or ""
    buttons = look.locator("button.answer:visible")
    button = buttons.nth(min(place, buttons.count() - 1))
    value = button.get_attribute("value") or ""
    button.click()
    return name, value


@pytest.mark.long
def test_answers_outlive_a_cut_net_a_closed_tab_and_a_killed_server(
    phone: BrowserContext, running: Running, service: Service
) -> None:
    """Usually 24 answers and one death of the server, the long way 100 and four; none may be lost."""
    count = 100 if settings().max_examples >= 1000 else 24
    names = looks_of(service.rubric("violin"))[:count]
    engine = open_database(running.folder / "evaluations.sqlite")
    identity = create(engine, "violin", {"start": START, "answers": {}}, NOW)
    save_plan(engine, identity, {"looks": names, "channel": "in_person"})
    drawn = random.Random(SEED)
    deaths = sorted(drawn.sample(range(4, count - 2), 4 if count == 100 else 1))
    closings = set(drawn.sample(range(4, count - 2), count // 12))

    tab = phone.new_page()
    tab.goto(f"/evaluations/{identity}/looks")
    tab.wait_for_function(HOLDS_PAGE)
    given: dict[str, str] = {}
    for number in range(count):
        phone.set_offline(drawn.random() < 0.4)
        if number in deaths:
            running.kill()
        elif number - 3 in deaths:
            running.start()
        name, value = tapped(tab, drawn.randrange(3))
        given[name] = value
        if number in closings or number in deaths:
            tab.close()
            tab = phone.new_page()
            tab.goto(f"/evaluations/{identity}/looks")  # without a net, or without a server, from the phone itself
    assert len(given) == count, "a look that was answered is not asked again"
    phone.set_offline(False)
    if running.process is None:
        running.start()
    tab.evaluate("() => window.dispatchEvent(new Event('online'))")
    tab.wait_for_function(NONE_WAIT, timeout=30_000)
    kept = find(engine, identity)
    engine.dispose()
    assert kept is not None
    assert {name: one.get("outcome") or one["reading"] for name, one in kept.typed["answers"].items()} == given
    assert kept.typed.get("beside", {}) == {}


@pytest.fixture
def begun(service: Service) -> str:
    identity = create(service.engine, "violin", {"start": START, "answers": {}}, NOW)
    save_plan(service.engine, identity, {"looks": looks_of(service.rubric("violin"))[:6], "channel": "in_person"})
    return identity


def test_a_visit_opens_again_without_a_net_where_the_address_is_secure(open_tab: OpenTab, begun: str) -> None:
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{begun}/looks")
    tab.wait_for_function(HOLDS_PAGE)
    tapped(tab, 0)
    tab.wait_for_function(NONE_WAIT)
    window = tab.context
    window.set_offline(True)
    tab.close()
    tab = window.new_page()
    tab.goto(f"/evaluations/{begun}/looks")
    expect(tab.locator(".where")).to_have_text("Look 2 of 6")  # what was sent before stands here too
    tab.wait_for_function(
        "() => [...document.querySelectorAll('section.look:not([hidden]) img')].every((one) => one.naturalWidth > 0)"
    )
    look = tab.locator("section.look:visible")
    look.get_by_text("How?").click()
    expect(look.locator("li:visible").first).to_be_visible()  # how one looks is there without a net
    word = look.locator("button.word:visible").first
    word.click()
    assert tab.locator(".meaning:popover-open p").inner_text().strip()
    tab.keyboard.press("Escape")
    tapped(tab, 0)
    tab.goto("/")
    expect(tab.locator("h1")).to_contain_text("no net just now")
    tab.get_by_role("link", name="Go on with the looks").click()
    expect(tab.locator(".where")).to_have_text("Look 3 of 6")


def test_only_looks_are_kept_on_the_phone(open_tab: OpenTab, begun: str) -> None:
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{begun}/looks")
    tab.wait_for_function(HOLDS_PAGE)
    tab.goto(f"/evaluations/{begun}/result")
    tab.goto("/")
    kept = tab.evaluate(
        "async () => (await (await caches.open('visits 2')).keys()).map((one) => new URL(one.url).pathname)"
    )
    pages = [path for path in kept if not path.startswith(("/static/", "/drawings/"))]
    assert sorted(pages) == [f"/evaluations/{begun}/looks", f"/evaluations/{begun}/looks/told.json"]


def test_where_the_address_is_not_secure_nothing_is_registered(
    browser: Browser, address: str, service: Service, begun: str
) -> None:
    """A name that leads to this machine is as foreign to the browser as an address in the room's network."""
    host = f"violins.test:{address.rsplit(':', 1)[1]}"
    service.house = House(hosts=frozenset({"violins.test"}), address=f"http://{host}")
    window = browser.new_context(base_url=f"http://{host}")

    def led_here(route: Route) -> None:
        headers = {**route.request.headers, "host": host}
        route.fulfill(response=route.fetch(url=route.request.url.replace(f"http://{host}", address), headers=headers))

    window.route(f"http://{host}/**", led_here)
    tab = window.new_page()
    tab.goto(f"/evaluations/{begun}/looks")
    assert not tab.evaluate("() => window.isSecureContext")
    assert tab.evaluate("() => !navigator.serviceWorker")
    name, _ = tapped(tab, 0)
    tab.wait_for_function(NONE_WAIT)
    kept = find(service.engine, begun)
    assert kept is not None
    assert name in kept.typed["answers"]
    window.unroute_all(behavior="ignoreErrors")  # a drawing still on its way has nobody left to be brought to
    window.close()


def test_a_page_older_than_the_services_key_still_sends_its_answers(
    open_tab: OpenTab, client: Client, service: Service, begun: str
) -> None:
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{begun}/looks")
    client.app.config["SECRET_KEY"] = client.app.secret_key = "another key"
    name, value = tapped(tab, 0)
    tab.wait_for_function(NONE_WAIT, timeout=20_000)
    kept = find(service.engine, begun)
    assert kept is not None
    assert kept.typed["answers"][name]["outcome"] == value
