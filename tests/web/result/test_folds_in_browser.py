"""The result on a phone: short, unfolding where it stands, and a plain link where there is no script or no net."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.store.evaluations import newest, save_look
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from tests.web.conftest import NOW, PHONE
from tests.web.result.test_sections import worked_out

pytestmark = pytest.mark.browser

OpenTab = Callable[..., Tab]
MOST_SCREENS = 3


def test_every_result_is_at_most_three_screens(open_tab: OpenTab, service: Service) -> None:
    load_demo(service)
    worked_out(service, "violin")
    tab = open_tab(PHONE)
    for one in newest(service.engine):
        service.result(one)
        tab.goto(f"/evaluations/{one.id}/result")
        height = tab.evaluate("document.documentElement.scrollHeight")
        assert height <= MOST_SCREENS * PHONE[1], f"{one.title}: {height} px"
        assert tab.locator("h1.lead").evaluate("(e) => e.getBoundingClientRect().bottom") < PHONE[1] / 2


def test_a_section_unfolds_where_it_stands_and_folds_again(open_tab: OpenTab, service: Service) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/result")
    asked: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    found = tab.locator("details[data-from$='/found']")
    found.locator("summary").first.click()
    expect(found.locator("#found-1")).to_be_visible()
    assert tab.url.endswith("/result")
    found.locator("summary").first.click()
    expect(found.locator("#found-1")).to_be_hidden()
    found.locator("summary").first.click()
    expect(found.locator("#found-1")).to_be_visible()
    assert len([url for url in asked if url.endswith("/found")]) == 1
    assert tab.evaluate("document.documentElement.scrollWidth") <= PHONE[0]

    work = tab.locator("details[data-from$='/work']")
    work.locator("summary").first.click()
    finding = work.locator("a[href*='#found-']").first
    place = str(finding.get_attribute("href")).partition("#")[2]
    finding.click()
    expect(tab.locator(f"#{place} .inside")).to_be_in_viewport()

    why = tab.locator("details[data-from$='/why']")
    why.locator("summary").first.click()
    part = why.locator("details[data-from]").first
    part.locator("summary").first.click()
    expect(part.locator("h2").first).to_be_visible()


def test_a_section_is_a_plain_link_without_script(open_tab: OpenTab, service: Service) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab(PHONE, script=False)
    tab.goto(f"/evaluations/{identity}/result")
    tab.get_by_role("link", name="Work and cost").click()
    expect(tab.get_by_role("heading", level=1)).to_have_text("Work and cost")
    tab.locator("a[href*='#found-']").first.click()
    expect(tab.get_by_role("heading", level=1)).to_have_text("What was found")
    tab.get_by_role("link", name="Back to the result").click()
    expect(tab.locator("h1.lead")).to_be_visible()


def test_without_a_net_the_line_says_so_and_tries_again(open_tab: OpenTab, service: Service) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/result")
    tab.context.set_offline(True)
    line = tab.locator("details[data-from$='/reasons']")
    line.locator("summary").click()
    expect(line).to_contain_text("could not be fetched")
    tab.context.set_offline(False)
    line.locator("summary").click()
    line.locator("summary").click()
    expect(line.locator("ul.reasons")).to_be_visible()
    expect(line).not_to_contain_text("could not be fetched")


def test_an_answer_that_changed_meanwhile_is_told(open_tab: OpenTab, service: Service) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/result")
    saved = save_look(service.engine, identity, 1, "purfling", {"outcome": "inlaid"}, NOW, "somebody")
    assert saved is not None
    tab.locator("details[data-from$='/score'] summary").click()
    expect(tab.get_by_text(re.compile("An answer has changed"))).to_be_visible(timeout=60_000)  # all is worked out anew
    tab.get_by_role("link", name="Show the result anew.").click()
    tab.locator("details[data-from$='/score'] summary").click()
    expect(tab.locator("details[data-from$='/score'] svg").first).to_be_attached()
    expect(tab.get_by_text(re.compile("An answer has changed"))).to_have_count(0)


def test_on_paper_a_section_is_unfolded(open_tab: OpenTab, service: Service) -> None:
    identity = worked_out(service, "violin")
    tab = open_tab((1280, 800))
    tab.goto(f"/evaluations/{identity}/result/found")
    tab.emulate_media(media="print")
    tab.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    expect(tab.locator(".findings details:not([open])")).to_have_count(0)
    expect(tab.locator("#found-1 .inside")).to_be_visible()
    tab.evaluate("window.dispatchEvent(new Event('afterprint'))")
    expect(tab.locator(".findings details[open]")).to_have_count(0)
