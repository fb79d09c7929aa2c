"""A visit on a phone in a real browser: taps, room on the screen, and answers given while the net is cut."""

import random
from collections.abc import Callable

import pytest
from playwright.sync_api import FilePayload
from playwright.sync_api import Page as Tab

from evaluator.store.evaluations import create, find, save_plan
from evaluator.web.service import Service
from tests.web.conftest import NOW, PHONE, Client
from tests.web.looking.test_photos import picture

pytestmark = pytest.mark.browser
OpenTab = Callable[..., Tab]
SEED = 5
HUNDRED_KB = 100_000


def begun(service: Service, count: int) -> tuple[str, list[str]]:
    """A violin with the first so many checks that are choices before it."""
    start = {"size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
    identity = create(service.engine, "violin", {"start": start, "answers": {}}, NOW)
    rubric = service.rubric("violin")
    names = [name for name, check in rubric.checks.items() if check.kind == "choice" and name not in rubric.relevant]
    save_plan(service.engine, identity, {"looks": names[:count], "channel": "in_person"})
    return identity, names[:count]


def kept_answers(service: Service, identity: str) -> dict[str, str]:
    kept = find(service.engine, identity)
    assert kept is not None
    return {name: one.get("outcome", "") for name, one in kept.typed["answers"].items()}


def tap(tab: Tab, place: int = 0) -> tuple[str, str]:
    """Press an answer of the look that is shown; gives the look and the answer."""
    look = tab.locator("section.look:visible")
    name = look.get_attribute("data-look") or ""
    button = look.locator("button.answer:visible").nth(place)
    value = button.get_attribute("value") or ""
    button.click()
    return name, value


MOST_BEYOND = 14
COUNTING = """() => document.addEventListener("click", (event) => {
  if (event.isTrusted) localStorage.setItem("taps", Number(localStorage.getItem("taps") || 0) + 1);
}, true)"""


def test_from_the_front_page_to_the_verdict_in_few_taps(open_tab: OpenTab, service: Service) -> None:
    """The browser counts every tap, those that answer too; what is left of them must be few."""
    tab = open_tab(PHONE)
    tab.add_init_script(f"({COUNTING})()")
    tab.goto("/")
    tab.get_by_role("link", name="Violin", exact=True).first.tap()
    price = tab.get_by_label("Asking price")
    price.tap()
    price.fill("780")
    tab.get_by_role("button", name="Begin").tap()
    tab.wait_for_url("**/looks*")
    assert len(tab.content()) < HUNDRED_KB
    answers = 0
    while tab.locator("section.look:visible").get_attribute("data-look"):
        tap(tab)
        answers += 1
    tab.get_by_role("link", name="See the result").tap()
    tab.wait_for_url("**/result")
    assert tab.locator("h1").inner_text().strip(), "the verdict stands first"
    taps = int(tab.evaluate("() => localStorage.getItem('taps')"))
    assert answers >= 8
    assert 4 <= taps - answers <= MOST_BEYOND, (taps, answers)


def test_question_and_answers_stand_on_one_screen(open_tab: OpenTab, service: Service) -> None:
    identity, names = begun(service, 40)
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/looks")
    below = []
    for name in names:
        tab.evaluate("name => history.pushState({}, '', `?at=${name}`)", name)
        tab.evaluate("() => window.dispatchEvent(new PopStateEvent('popstate'))")
        bottom = tab.locator("section.look:visible .answer:not(.quiet)").last.evaluate(
            "one => one.getBoundingClientRect().bottom"
        )
        if bottom > PHONE[1]:
            below.append((name, round(bottom)))
    assert below == []


LIKE = """name => [...document.querySelectorAll(`section[data-look=${name}] *:not(input[type=hidden])`)].map((one) => [
  one.tagName, one.checkVisibility() || one.closest("details:not([open])") !== null,
  one.childElementCount ? "" : one.textContent.trim(),
  ...[...one.attributes].filter((at) => !["data-size", "data-judged"].includes(at.name))
    .map((at) => `${at.name}=${at.value}`).sort()].join(" "))"""
OF_EACH_KIND = (
    "purfling",
    "nut_height",
    "string_length",
    "rib_height",
    "scroll_carving",
    "worm_damage",
    "weight_without_chin_rest",
)


def test_a_look_that_is_filled_in_is_the_one_that_stands_open(open_tab: OpenTab, service: Service) -> None:
    """What comes in short and is made whole on the phone must not differ from what comes whole."""
    identity, _ = begun(service, 0)
    save_plan(service.engine, identity, {"looks": [*OF_EACH_KIND, "varnish_type"], "channel": "in_person"})
    tab = open_tab(PHONE)

    def opened(at: str) -> None:
        with tab.expect_response("**/told.json"):
            tab.goto(f"/evaluations/{identity}/looks?at={at}")
        tab.wait_for_function("() => document.querySelector('.look:not([hidden]) .folds').children.length > 1")

    def seen(name: str) -> list[str]:
        tab.evaluate("name => history.pushState({}, '', `?at=${name}`)", name)
        tab.evaluate("() => window.dispatchEvent(new PopStateEvent('popstate'))")
        return list(tab.evaluate(LIKE, name))

    opened("varnish_type")
    filled = {name: seen(name) for name in OF_EACH_KIND}
    for name in OF_EACH_KIND:
        opened(name)
        assert filled[name] == seen(name), name


def test_a_tap_can_be_undone(open_tab: OpenTab, service: Service) -> None:
    identity, names = begun(service, 3)
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/looks")
    tap(tab)
    tab.wait_for_function("name => document.querySelector('.where').textContent.startsWith('Look 2')", arg=names[1])
    tab.get_by_role("button", name="Undo").click()
    tab.wait_for_function("() => JSON.parse(localStorage['answers that wait'] || '[]').length === 0")
    assert kept_answers(service, identity) == {}
    assert tab.locator("section.look:visible").get_attribute("data-look") == names[0]


def test_answers_given_without_a_net_and_in_a_closed_tab_are_all_kept(open_tab: OpenTab, service: Service) -> None:
    drawn = random.Random(SEED)
    identity, names = begun(service, 40)
    tab = open_tab(PHONE)
    window = tab.context
    tab.goto(f"/evaluations/{identity}/looks")
    given: dict[str, str] = {}
    for number in range(len(names)):
        window.set_offline(drawn.random() < 0.5)
        name, value = tap(tab, drawn.randrange(2))
        given[name] = value
        if number == 25:
            tab.close()  # some of the answers still wait
            window.set_offline(False)
            tab = window.new_page()
            tab.goto(f"/evaluations/{identity}/looks")
    window.set_offline(False)
    tab.evaluate("() => window.dispatchEvent(new Event('online'))")
    tab.wait_for_function("() => JSON.parse(localStorage['answers that wait'] || '[]').length === 0")
    assert kept_answers(service, identity) == given
    assert len(given) == len(names)


def test_a_photo_shows_at_once_and_can_be_taken_off(open_tab: OpenTab, client: Client, service: Service) -> None:
    """Also on a page that is older than the service's key, and on a look that did not stand open when the page came."""
    identity, names = begun(service, 3)
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/looks")
    tap(tab)
    look = tab.locator("section.look:visible")
    look.get_by_text("Note, photo").click()
    client.app.config["SECRET_KEY"] = client.app.secret_key = "another key"
    photo = FilePayload(name="IMG_1.jpg", mimeType="image/jpeg", buffer=picture().getvalue())
    look.locator("input[type=file]").set_input_files([photo])
    look.get_by_role("button", name="Take it off").wait_for()
    assert look.locator(".photos img").evaluate_all("all => all.map((one) => one.naturalWidth)") == [60]
    kept = find(service.engine, identity)
    assert kept is not None
    assert len(kept.typed["photos"][names[1]]) == 1
    look.get_by_role("button", name="Take it off").click()
    tab.wait_for_function("() => !document.querySelector('.photos img')")
    kept = find(service.engine, identity)
    assert kept is not None
    assert names[1] not in kept.typed["photos"]


def test_what_waits_is_said(open_tab: OpenTab, service: Service) -> None:
    identity, _ = begun(service, 5)
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/looks")
    tab.context.set_offline(True)
    tap(tab)
    tab.get_by_text("1 answer waits for the net").wait_for()
    tab.context.set_offline(False)
    tab.evaluate("() => window.dispatchEvent(new Event('online'))")
    tab.wait_for_function("() => document.querySelector('.waiting').hidden")
