"""Sales, comparing and owning on a phone and at a bench: nothing runs out of the window, all can be touched."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.store.known_sales import add_sales
from evaluator.web.service import Service
from tests.web.choosing.test_sales import FAR, THREE, looked_at
from tests.web.conftest import BENCH, NOW, PHONE

SMALL = """() => [...document.querySelectorAll('button, .button, input[type=text], select, .tick, .pick, .ways a')]
  .filter(one => one.offsetParent && one.getBoundingClientRect().height < 47.5)
  .map(one => one.outerHTML.slice(0, 60))"""


@pytest.mark.parametrize("size", [PHONE, BENCH])
def test_pages_fit_and_can_be_touched(
    open_tab: Callable[..., Tab], service: Service, draft: str, size: tuple[int, int]
) -> None:
    add_sales(service.engine, (*THREE, FAR), NOW)
    tab = open_tab(size)
    for path in ("/", "/sales", "/sales/new", f"/evaluations/{draft}/sales", f"/evaluations/{draft}/owning"):
        tab.goto(path)
        assert tab.evaluate("document.documentElement.scrollWidth") <= size[0], path
        assert tab.evaluate(SMALL) == [], path


def test_a_sale_is_added_from_the_page_that_wants_it(
    open_tab: Callable[..., Tab], service: Service, draft: str
) -> None:
    looked_at(service, draft)
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{draft}/sales")
    for number in range(3):
        tab.click("text=Add a sale of such a one")
        tab.fill("#name", f"Twin {number}")
        tab.fill("#price", f"1,{number}00")
        tab.fill("#sold_on", "2026-01-15")
        tab.click("text=Put it into the book")
    expect(tab.locator("h1")).to_have_text(re.compile(r"^About \$1,0"))
    words = tab.request.get(f"/evaluations/{draft}/result.json").json()["words"]
    assert words["ready_value_from"].startswith("from 3 sales of your own book")
