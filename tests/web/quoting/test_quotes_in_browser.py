"""The luthier's story in a browser: a draft with a better part, a yes on a phone, more work, and before and after."""

from collections.abc import Callable
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from tests.web.conftest import BENCH, PHONE

pytestmark = pytest.mark.browser
TOUCH = 48


def fits(tab: Tab) -> None:
    """Nothing reaches past the screen, and everything to press is large enough for a thumb."""
    tab.wait_for_load_state()
    assert tab.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), tab.url
    small = tab.evaluate(
        "least => [...document.querySelectorAll('button:not(.unseen), .button, select, input[type=text], summary')]"
        ".filter(one => one.offsetParent && one.getBoundingClientRect().height < least - 0.5)"
        ".map(one => one.outerHTML.slice(0, 80))",
        TOUCH,
    )
    assert small == [], tab.url


def link_of(bench: Tab) -> str:
    bench.get_by_role("button", name="Offer it and make the link").click()
    return bench.locator(".link").inner_text()


def agree_to_what_is_needed(phone: Tab, link: str) -> None:
    phone.goto(urlsplit(link).path)  # the tab knows where the service is
    fits(phone)
    phone.locator(".three button").first.tap()
    expect(phone.locator("#sofar strong")).to_be_visible()
    phone.get_by_role("button", name="Look it over").last.tap()
    expect(phone.get_by_label("Your name")).to_be_visible()
    fits(phone)
    phone.get_by_label("Your name").fill("Mother of Anna")
    phone.get_by_role("button", name="I agree").tap()
    expect(phone.locator("h1")).to_contain_text("You have agreed")
    fits(phone)


def choose_a_better_part(bench: Tab) -> None:
    total = bench.locator(".bar .sofar strong").inner_text()
    bench.get_by_label("Bridge blank of maple, uncarved").select_option("select")
    bench.get_by_role("button", name="Price it with these parts").click()
    expect(bench.locator(".bar .sofar strong")).not_to_have_text(total)


def work_that_is_done(bench: Tab) -> None:
    for field in bench.get_by_label("Hours it took").all():
        field.fill("1.5")
    bench.get_by_role("button", name="The work is done").click()
    expect(bench.locator("h1")).to_have_text("The work is done.")


def test_from_the_draft_to_before_and_after(open_tab: Callable[..., Tab], finished: str) -> None:
    bench, phone = open_tab(BENCH), open_tab(PHONE)
    bench.goto(f"/evaluations/{finished}/quotes")
    bench.get_by_role("button", name="Make the draft").click()
    choose_a_better_part(bench)
    agree_to_what_is_needed(phone, link_of(bench))
    bench.reload()
    bench.get_by_role("link", name="Work order").click()
    bench.get_by_role("button", name="Begin the work").click()
    bench.get_by_role("link", name="More work was found").click()
    fits(bench)
    bench.get_by_label("What was found").fill("A peg hole is too wide for its new peg.")
    bench.locator("details:not([open])", has_text="Bush one peg hole").locator("summary").click()
    bench.get_by_label("Bush one peg hole").check(force=True)
    bench.get_by_role("button", name="Make the second quote").click()
    agree_to_what_is_needed(phone, link_of(bench))
    bench.get_by_role("link", name="Work order").click()
    expect(bench.get_by_text("Agreed in quote 2026-0001/1.")).to_be_visible()
    work_that_is_done(bench)
    bench.get_by_role("link", name="Before and after").click()
    bench.get_by_role("button", name="Look at it again").click()
    expect(bench.locator("h1")).to_contain_text("to look at again.")
    phone.goto(bench.url)
    fits(phone)
    phone.locator(".again a").first.tap()
    expect(phone.locator(".check").first).to_be_visible()
