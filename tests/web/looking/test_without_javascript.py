"""Three people without JavaScript, to a verdict and a paper: in the hand, from photos, and by a teacher's link."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page as Tab

from evaluator.store.evaluations import find
from evaluator.web.service import Service
from tests.web.conftest import PHONE, Client
from tests.web.page import Page

MOST_LOOKS = 40


def shown(page: Page) -> str:
    """The look that stands open; empty behind the last."""
    sections = [one for one in page.tree.find("section") if "data-look" in one.attributes]
    return next(one.attributes["data-look"] for one in sections if "hidden" not in one.attributes)


def walk(client: Client, service: Service, page: Page) -> Page:
    """Answer every look, each by its own form: a choice by its first answer, a reading by "cannot tell"."""
    rubric = service.rubric("violin")
    for _ in range(MOST_LOOKS):
        name = shown(page)
        if not name:
            return page
        outcome = next(iter(rubric.checks[name].outcomes)) if rubric.checks[name].kind == "choice" else "cannot_tell"
        form = next(one for one in page.tree.find("form") if one.inside("section") and of_look(one, name))
        page = client.post(
            form.attributes["action"], {"csrf_token": client.token(), "check": name, f"q-{name}": outcome}
        )
    raise AssertionError("the looks never end")


def of_look(form: object, name: str) -> bool:
    found = [one.attributes.get("value") for one in form.find("input") if one.attributes.get("name") == "check"]  # type: ignore[attr-defined]
    return found == [name]


@pytest.mark.parametrize("seen_by", ["in_person", "photos"])
def test_to_a_verdict_and_a_paper_with_plain_forms(client: Client, service: Service, seen_by: str) -> None:
    start = client.get("/").tree
    assert any(a.attributes.get("href") == "/new/violin" for a in start.find("a"))
    page = client.send(client.get("/new/violin"), {"asking": "780", "seen_by": seen_by, "go": "looks"})
    identity = page.path.split("/")[2]
    page = walk(client, service, page)
    assert "See the result" in page.text
    kept = find(service.engine, identity)
    assert kept is not None
    answers = kept.typed["answers"]
    assert len(answers) >= (5 if seen_by == "photos" else 8)
    assert {one["seen_by"] for one in answers.values()} == {seen_by}
    result = client.get(f"/evaluations/{identity}/result")
    assert result.heading
    finished = client.send(result, action="/finish")
    assert "Finished on" in finished.text
    paper = client.http.get(f"/evaluations/{identity}/report.pdf?for=buyer")
    assert paper.data.startswith(b"%PDF-")
    assert len(paper.data) > 10_000


@pytest.mark.browser
def test_a_browser_without_javascript_walks_it_too(open_tab: Callable[..., Tab]) -> None:
    """What is pressed can be seen, and nothing asks for a script."""
    tab = open_tab(PHONE, script=False)
    tab.set_default_timeout(30_000)  # every answer is a page of its own
    tab.goto("/")
    tab.get_by_role("link", name="Violin", exact=True).first.click()
    tab.get_by_label("Asking price").fill("780")
    tab.get_by_text("3 min", exact=True).click(force=True)  # each answer is a page: the whole way is walked above
    tab.get_by_role("button", name="Begin").click()
    for _ in range(MOST_LOOKS):
        look = tab.locator("section.look:visible")
        if not look.get_attribute("data-look"):
            break
        look.locator("button.answer:visible").first.click()
    tab.get_by_role("link", name="See the result").click()
    assert tab.locator("h1").inner_text().strip()
    tab.get_by_role("button", name="Finish").click()
    tab.get_by_text("Finished on").wait_for()
    paper = tab.get_by_role("link", name="In two pages").first
    answer = tab.request.get(paper.get_attribute("href") or "")
    assert answer.body().startswith(b"%PDF-")
