"""What a search finds stands under its field while one types; without the script the same field is a plain form."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.store.evaluations import create
from evaluator.web.service import Service
from tests.web.conftest import NOW, PHONE

pytestmark = pytest.mark.browser
OpenTab = Callable[..., Tab]


@pytest.fixture
def many(service: Service) -> None:
    """More than the front page lists, and one of a name of its own."""
    for name in (*(f"Violin {number}" for number in range(30)), "Amber viola"):
        start = {"title": name, "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
        create(service.engine, "violin", {"start": start, "answers": {}}, NOW)


@pytest.mark.usefixtures("many")
def test_it_is_found_while_one_types_and_goes_with_the_last_letter(open_tab: OpenTab) -> None:
    tab = open_tab(PHONE)
    tab.goto("/evaluations")
    field = tab.get_by_role("searchbox").first
    field.press_sequentially("amb")
    found = tab.locator(".found")
    expect(found).to_contain_text("Amber viola")
    expect(found).not_to_contain_text("Violin 7")
    assert tab.url.endswith("/evaluations"), "the page stayed"
    field.fill("")
    expect(found).to_have_count(0)
    field.fill("nothing of the kind")
    expect(found).to_contain_text("Nothing")


@pytest.mark.usefixtures("many")
def test_without_the_script_it_is_a_form(open_tab: OpenTab) -> None:
    tab = open_tab(PHONE, script=False)
    tab.goto("/evaluations")
    field = tab.get_by_role("searchbox").first
    field.fill("amb")
    field.press("Enter")
    tab.wait_for_url("**/find?q=amb")
    expect(tab.locator(".found")).to_contain_text("Amber viola")
