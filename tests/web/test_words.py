"""A word of the trade is a tap away from its meaning, with and without JavaScript, and on a page of its own."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.store.evaluations import newest
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from evaluator.web.words import glossary
from tests.web.conftest import PHONE, Client
from tests.web.page import Page
from tests.web.result.test_sections import worked_out

OpenTab = Callable[..., Tab]


def told(page: Page) -> dict[str, str]:
    """What each tapped word opens: its id with the meaning."""
    return {one.attributes["id"]: one.text for one in page.tree.find("div", **{"class": "meaning"})}


def test_the_page_of_words_tells_each_with_its_drawing(client: Client) -> None:
    page = client.get("/words")
    for word in glossary().words:
        (place,) = page.tree.find("div", id=word.slug)
        assert word.means in place.text
        assert bool(place.find("img")) == (word.drawing is not None)
    for source in {one.attributes["src"] for one in page.tree.find("img")}:
        assert client.http.get(source).mimetype == "image/svg+xml"
    assert len(page.source) < 100_000


def test_every_tapped_word_opens_its_meaning(client: Client, service: Service) -> None:
    identity = worked_out(service, "violin")
    paths = ("result", "result/found", "result/cautions", "result/work", "result/why/bridge", "parts/neck")
    for path in paths:
        page = client.get(f"/evaluations/{identity}/{path}")
        opened = [one.attributes["popovertarget"] for one in page.tree.find("button", **{"class": "word"})]
        assert opened, path
        assert set(opened) == set(told(page)), path
        assert all(page.tree.find("a", href=f"/words#{one.slug}") for one in met(page)), path


def met(page: Page) -> list[object]:
    return [one for one in glossary().words if any(one.means in text for text in told(page).values())]


def test_the_reasons_of_every_demo_name_no_term_that_is_not_told(client: Client, service: Service) -> None:
    load_demo(service)
    for kept in newest(service.engine):
        page = client.get(f"/evaluations/{kept.id}/result")
        meanings = " ".join(told(page).values())
        for line in (*page.tree.find("ul", **{"class": "seen"}), *page.tree.find("ul", **{"class": "good-seen"})):
            named = [word for _, word in glossary().parted(line.text) if word]
            assert [word.term for word in named if word.means not in meanings] == []


@pytest.mark.browser
@pytest.mark.parametrize("script", [True, False], ids=["script", "plain"])
def test_a_tap_opens_the_meaning_and_the_next_closes_it(open_tab: OpenTab, service: Service, script: bool) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab(PHONE, script=script)
    tab.goto(f"/evaluations/{identity}/result")
    word = tab.locator("button.word").first
    meaning = tab.locator(f"#{word.get_attribute('popovertarget')}")
    expect(meaning).to_be_hidden()
    word.click()
    expect(meaning).to_be_visible()
    expect(meaning).to_be_in_viewport()
    tab.mouse.click(200, 60)
    expect(meaning).to_be_hidden()
    word.click()
    meaning.get_by_role("link").click()
    expect(tab).to_have_url(re.compile("/words#"))
    expect(tab.locator("div:target")).to_be_in_viewport()


@pytest.mark.browser
def test_a_word_of_a_fetched_section_opens_too_and_without_a_net(open_tab: OpenTab, service: Service) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/result")
    tab.locator("details[data-from$='/unseen'], details[data-from$='/cautions']").first.locator("summary").click()
    word = tab.locator(".section button.word").first
    expect(word).to_be_visible()
    tab.context.set_offline(True)
    word.click()
    expect(tab.locator(f"#{word.get_attribute('popovertarget')}")).to_be_visible()
