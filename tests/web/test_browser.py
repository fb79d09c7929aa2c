"""The student on a phone, the luthier at the bench, and somebody without JavaScript, each in a real browser."""

import re
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.store.evaluations import find, newest
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from tests.web.conftest import BENCH, PHONE

pytestmark = pytest.mark.browser

OpenTab = Callable[..., Tab]
PAPER = {"light": (251, 248, 242), "dark": (25, 23, 20)}
TOUCH_PX = 48
# Words inside a sentence are pressed where they stand; everything else must be as large as a thumb.
PRESSED = "button:not(.word), .button, summary, .choice .say, select, input[type=text], .list a, .top a"
IN_TABLES = ".row-more > summary"


def begin(tab: Tab, **texts: str) -> str:
    """Fill in the first page of a violin; gives the evaluation's id."""
    tab.goto("/")
    tab.get_by_role("link", name="Violin", exact=True).first.click()
    tab.get_by_text("More, if you know it").click()
    for label, text in texts.items():
        tab.get_by_label(label.replace("_", " "), exact=True).fill(text)
    tab.get_by_role("button", name="All of it").click()
    tab.wait_for_url("**/parts/*")
    return tab.url.split("/")[4]


def choose(tab: Tab, check: str, outcome: str) -> None:
    tab.locator(f'#check-{check} .choice:has(input[value="{outcome}"])').first.click()


def too_small(tab: Tab) -> list[str]:
    """What is to be pressed on the page and is lower than a thumb needs."""
    return tab.evaluate(
        """([pressed, inTables, least]) => [...document.querySelectorAll(pressed)]
            .filter((one) => !one.matches(inTables) && one.checkVisibility())
            .map((one) => [one.textContent.trim().slice(0, 30), one.getBoundingClientRect().height])
            .filter(([, height]) => height < least - 0.5)
            .map(([words, height]) => `${words}: ${height}`)""",
        [PRESSED, IN_TABLES, TOUCH_PX],
    )


def answers(service: Service, identity: str) -> dict[str, dict[str, str]]:
    kept = find(service.engine, identity)
    assert kept is not None
    return dict(kept.typed["answers"])


def test_a_student_on_a_phone_goes_from_the_front_page_to_a_paper(
    open_tab: OpenTab, service: Service, tmp_path: Path
) -> None:
    tab = open_tab(PHONE)
    identity = begin(tab, A_name_for_it="Red violin, corner shop", Asking_price="780")
    tab.goto(f"/evaluations/{identity}/parts/fingerboard")
    card = tab.locator("#check-fingerboard_end")
    expect(card.locator(".means").nth(2)).to_be_hidden()
    choose(tab, "fingerboard_end", "blunt")
    expect(card.locator(".choice:has(input:checked) .means")).to_be_visible()
    expect(tab.locator(".saved")).to_have_text("Saved")
    assert answers(service, identity)["fingerboard_end"] == {"outcome": "blunt"}

    card.get_by_text("How to look").click()
    expect(card.locator("ol li").first).to_be_visible()
    tab.screenshot(path=tmp_path / "student_part.png", full_page=True)
    tab.get_by_role("button", name="Next: Neck").click()
    tab.wait_for_url("**/parts/neck")
    tab.get_by_role("link", name="Result so far").click()
    tab.wait_for_url("**/result")

    sizes = tab.evaluate(
        "[...document.querySelectorAll('main *')].filter((e) => e.checkVisibility() && e.closest('svg') === null)"
        ".map((e) => parseFloat(getComputedStyle(e).fontSize))"
    )
    heading = tab.locator("h1")
    assert float(heading.evaluate("(e) => parseFloat(getComputedStyle(e).fontSize)")) == max(sizes)
    tab.locator("details[data-from$='/next'] summary").click()
    look = tab.locator(".looks a").first
    wanted = look.get_attribute("href").split("#")[1]
    look.click()
    expect(tab.locator(f"#{wanted} legend")).to_be_in_viewport()
    tab.go_back()
    tab.screenshot(path=tmp_path / "student_result.png", full_page=True)
    paper = tab.get_by_role("link", name="In two pages")
    content = tab.request.get(paper.get_attribute("href")).body()
    assert content.startswith(b"%PDF-")


def test_an_answer_is_kept_when_the_phone_is_put_away_at_once(open_tab: OpenTab, service: Service) -> None:
    tab = open_tab(PHONE)
    identity = begin(tab)
    tab.goto(f"/evaluations/{identity}/parts/fingerboard")
    choose(tab, "fingerboard_end", "tapered")
    tab.goto("/")
    other = open_tab(PHONE)
    other.goto(f"/evaluations/{identity}/parts/fingerboard")
    assert answers(service, identity)["fingerboard_end"] == {"outcome": "tapered"}
    expect(other.locator("#check-fingerboard_end input:checked")).to_have_value("tapered")


def test_the_result_knows_what_was_pressed_just_before(open_tab: OpenTab) -> None:
    tab = open_tab(PHONE)
    identity = begin(tab)
    for outcome, counted in (("blunt", "1 of"), ("", "0 of")):
        tab.goto(f"/evaluations/{identity}/parts/fingerboard")
        choose(tab, "fingerboard_end", outcome)
        tab.get_by_role("link", name="Result so far").click()
        tab.wait_for_url("**/result")
        expect(tab.get_by_text(re.compile(f"^{counted} [0-9]+ checks looked at"))).to_be_visible()
    tab.goto(f"/evaluations/{identity}/looks")
    tab.locator("section.look:visible button.answer:visible").first.click()
    tab.get_by_role("link", name="Result so far").click()
    tab.wait_for_url("**/result")
    expect(tab.get_by_text(re.compile("^1 of [0-9]+ checks looked at"))).to_be_visible()


def test_what_was_typed_at_the_start_is_there_after_going_away_and_back(open_tab: OpenTab) -> None:
    tab = open_tab(PHONE)
    tab.goto("/new/violin")
    tab.get_by_text("More, if you know it").click()
    tab.get_by_label("A name for it").fill("Red violin")
    tab.get_by_label("Asking price").fill("780")
    tab.get_by_role("radio", name="Fiddle").check()
    tab.get_by_role("link", name="Evaluations").click()
    tab.wait_for_url("**/")
    tab.go_back()
    tab.get_by_text("More, if you know it").click()
    expect(tab.get_by_label("A name for it")).to_have_value("Red violin")
    expect(tab.get_by_label("Asking price")).to_have_value("780")
    expect(tab.get_by_role("radio", name="Fiddle")).to_be_checked()


def test_an_answer_can_be_taken_back(open_tab: OpenTab, service: Service) -> None:
    tab = open_tab(PHONE)
    identity = begin(tab)
    tab.goto(f"/evaluations/{identity}/parts/fingerboard")
    back = tab.locator("#check-fingerboard_end .undo")
    expect(back).to_be_hidden()
    choose(tab, "fingerboard_end", "blunt")
    expect(back).to_be_visible()
    back.click()
    expect(back).to_be_hidden()
    tab.get_by_role("button", name="Next: Neck").click()
    tab.wait_for_url("**/parts/neck")
    assert "fingerboard_end" not in answers(service, identity)


def test_what_does_not_apply_folds_away_at_once_and_comes_back(open_tab: OpenTab) -> None:
    tab = open_tab(PHONE)
    identity = begin(tab)
    tab.goto(f"/evaluations/{identity}/parts/edges")
    corners = tab.locator("#check-purfling_corners")
    expect(corners).to_be_visible()
    choose(tab, "purfling", "painted")
    expect(corners).to_be_hidden()
    expect(tab.get_by_text("Does not apply as answered").first).to_be_visible()
    choose(tab, "purfling", "inlaid")
    expect(corners).to_be_visible()


def test_a_luthier_measures_at_the_bench_with_the_keyboard(open_tab: OpenTab, service: Service, tmp_path: Path) -> None:
    tab = open_tab(BENCH)
    tab.goto("/new/violin")
    tab.get_by_text("More, if you know it").click()
    tab.get_by_label("A name for it").fill("Trade violin on the bench")
    tab.get_by_role("radio", name="Luthier").check()
    tab.get_by_role("button", name="All of it").click()
    tab.wait_for_url("**/parts/*")
    identity = tab.url.split("/")[4]
    tab.goto(f"/evaluations/{identity}/parts/whole")
    reading = tab.locator("#r-body_length")
    reading.fill("three hands")
    reading.press("Enter")
    told = tab.locator("#wrong-body_length")
    expect(told).to_be_visible()
    expect(reading).to_have_value("three hands")
    expect(reading).to_have_attribute("aria-describedby", "read-body_length help-body_length wrong-body_length")
    tab.screenshot(path=tmp_path / "luthier_error.png", full_page=True)

    reading.fill("355,5")
    reading.press("Tab")
    expect(tab.locator("#u-body_length")).to_be_focused()
    expect(tab.locator(".saved")).to_have_text("Saved")
    expect(told).to_have_count(0)
    tab.locator("#r-weight_without_chin_rest").fill("436 g")
    tab.get_by_role("navigation", name="Parts").get_by_role("button", name="Result so far").click()
    tab.wait_for_url("**/result")
    kept = answers(service, identity)
    assert kept["body_length"]["reading"] == "355,5"
    assert kept["weight_without_chin_rest"]["reading"] == "436 g"
    tab.locator("details[data-from$='/measured'] summary").first.click()
    expect(tab.locator("svg.slim").first).to_be_visible()
    tab.screenshot(path=tmp_path / "luthier_result.png", full_page=True)
    tab.get_by_role("button", name="Finish", exact=True).click()
    tab.get_by_role("button", name="Look again").click()
    tab.wait_for_url("**/again")
    states = sorted(one.state for one in newest(service.engine))
    assert states == ["draft", "finished"]


def test_readings_are_typed_one_after_the_other_and_a_mistake_is_where_the_keyboard_stands(
    open_tab: OpenTab, service: Service
) -> None:
    tab = open_tab(BENCH)
    identity = begin(tab)
    tab.get_by_role("button", name="All readings on one page").click()
    tab.wait_for_url("**/readings")
    fields = [one.get_attribute("id") for one in tab.locator("input[type=text]").all()]
    tab.locator(f"#{fields[0]}").focus()
    for name in fields[:12]:
        expect(tab.locator(f"#{name}")).to_be_focused()
        tab.keyboard.type("two hands" if name == fields[1] else "")
        tab.keyboard.press("Tab" if name == fields[0] else "Enter")
    expect(tab.locator(f"#wrong-{str(fields[1])[2:]}")).to_contain_text("is not a number")
    expect(tab.get_by_role("status")).to_have_text("Saved. 1 cannot be read yet")
    tab.locator(f"#{fields[-1]}").press("Enter")
    expect(tab.get_by_role("alert")).to_be_visible()
    expect(tab.locator(f"#{fields[1]}")).to_be_focused()
    expect(tab.locator(".wrong[data-check]")).to_have_count(1)
    expect(tab.locator(".wrong[data-check]")).to_be_in_viewport()
    assert answers(service, identity)[str(fields[1])[2:]]["reading"] == "two hands"
    tab.keyboard.type("355")
    tab.keyboard.press("Enter")
    expect(tab.locator(".wrong[data-check]")).to_have_count(0)
    expect(tab.locator("[aria-invalid]")).to_have_count(0)


def test_all_works_without_javascript(open_tab: OpenTab, service: Service) -> None:
    tab = open_tab(PHONE, script=False)
    identity = begin(tab, A_name_for_it="Plain")
    tab.goto(f"/evaluations/{identity}/parts/fingerboard")
    choose(tab, "fingerboard_end", "blunt")
    tab.locator("#check-fingerboard_end").get_by_text("Note", exact=True).first.click()
    tab.locator("#n-fingerboard_end").fill("seen twice")
    tab.get_by_role("button", name="Next: Neck").click()
    assert tab.url.endswith("/parts/neck")
    assert answers(service, identity)["fingerboard_end"] == {"outcome": "blunt", "note": "seen twice"}
    tab.goto(f"/evaluations/{identity}/parts/safety")
    choose(tab, "bridge_stance", "down")
    tab.get_by_role("button", name="Next").click()
    tab.goto(f"/evaluations/{identity}/parts/bridge")
    expect(tab.locator("#check-bridge_fitted_feet")).to_be_hidden()
    tab.get_by_text("Does not apply as answered").first.click()
    expect(tab.locator("details.hangs[open]").first).to_be_visible()


@pytest.mark.parametrize(("size", "scheme"), [(PHONE, "light"), (BENCH, "dark")], ids=["phone", "bench"])
def test_every_page_fits_and_can_be_pressed(
    open_tab: OpenTab, service: Service, tmp_path: Path, size: tuple[int, int], scheme: str
) -> None:
    load_demo(service)
    identity = newest(service.engine)[0].id
    tab = open_tab(size, scheme)
    part = next(iter(service.rubric(newest(service.engine)[0].rubric).parts))
    paths = (
        "/",
        "/new/violin",
        *(f"/evaluations/{identity}/{name}" for name in (f"parts/{part}", "result", "looks", "readings", "message")),
    )
    for number, path in enumerate(paths):
        tab.goto(path)
        assert tab.evaluate("document.documentElement.scrollWidth") <= size[0], f"{path} is wider than the screen"
        if size == PHONE:
            assert too_small(tab) == [], path
        picture = Image.open(BytesIO(tab.screenshot(path=tmp_path / f"{number}.png"))).convert("RGB")
        assert picture.getpixel((3, size[1] // 2)) == PAPER[scheme], path


def test_what_is_pressed_last_shows_only_when_it_can_be_used(open_tab: OpenTab, service: Service) -> None:
    load_demo(service)
    identity = newest(service.engine)[0].id
    tab = open_tab(PHONE)
    tab.goto("/")
    compare = tab.get_by_role("button", name="Compare the ticked")
    expect(compare).to_be_hidden()
    tab.get_by_role("checkbox").first.check()
    expect(compare).to_be_visible()

    tab.goto(f"/evaluations/{identity}/message")
    tab.get_by_label("Message").fill("Is it still for sale?")
    tab.get_by_role("button", name="Copy the message").click()
    expect(tab.get_by_role("status")).to_have_text(re.compile("Copied|Selected"))
    assert tab.evaluate("document.getSelection().toString() || document.activeElement.value") == "Is it still for sale?"
