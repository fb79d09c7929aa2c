"""What goes wrong with a phone in the hand: each is told in a sentence, and nothing that was typed is lost."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page as Tab

from evaluator.store.evaluations import create, find, finish, save_plan
from evaluator.store.guests import make_link
from evaluator.web.app import create_app
from evaluator.web.people.doors import limiter
from evaluator.web.people.house import LOCAL, House
from evaluator.web.service import Service
from tests.web.conftest import NOW, PHONE, Client
from tests.web.page import Page

START = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "student"}
PHOTOS = {**START, "seen_by": "photos"}


def begun(service: Service, looks: list[str], start: dict[str, str] = START, channel: str = "in_person") -> str:
    identity = create(service.engine, "violin", {"start": start, "answers": {}}, NOW)
    save_plan(service.engine, identity, {"looks": looks, "channel": channel})
    return identity


def post(client: Client, identity: str, status: int = 200, **typed: str) -> Page:
    sent = {"csrf_token": client.token(), **typed}
    return client.post(f"/evaluations/{identity}/looks", sent, status)


def sentences(text: str) -> int:
    return len(re.findall(r"[.!?](?:\s|$)", text))


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("328", "in", "8,331.2 mm is more than 900 mm"),
        ("12.9", "mm", "12.9 mm is less than 100 mm"),
        ("328 g", "mm", "is a weight"),
    ],
)
def test_a_reading_in_the_wrong_unit(client: Client, service: Service, typed: str, unit: str, said: str) -> None:
    identity = begun(service, ["string_length", "purfling"])
    fields = {"r-string_length": typed, "u-string_length": unit, "go": "reading"}
    page = post(client, identity, 422, check="string_length", **fields)
    (told,) = [p.text for p in page.tree.find("p") if "wrong" in p.attributes.get("class", "").split() and p.text]
    assert said in told
    assert sentences(told) <= 2, "what is wrong, and what to do"
    field = next(one for one in page.tree.find("input") if one.attributes.get("name") == "r-string_length")
    assert field.attributes["value"] == typed
    kept = find(service.engine, identity)
    assert kept is not None
    assert kept.typed["answers"]["string_length"]["reading"] == typed


def test_a_price_that_can_be_read_two_ways(client: Client, service: Service) -> None:
    page = client.send(client.get("/new/violin"), {"asking": "1.450", "title": "Corner shop"})
    assert page.path.endswith("/looks"), "three figures behind the point are thousands"
    start = client.get(f"/evaluations/{page.path.split('/')[2]}/start")
    assert start.form()["asking"] == "1.450"
    assert "1,450" in start.text, "it says how it is read"
    assert start.form()["title"] == "Corner shop"


def test_a_code_guessed_five_times(service: Service) -> None:
    service.house = House(open_=False, hosts=LOCAL, address="http://localhost", reachable=True)
    stranger = Client(create_app(service, "a key for tests"))
    limiter.reset()
    page = stranger.get("/in")
    for number in range(5):
        page = stranger.post("/in", {**page.form(), "code": f"GUESS{number}", "name": "Ada"}, 422)
        assert "does not open" in page.text
        assert page.form()["name"] == "Ada"
    page = stranger.post("/in", {**page.form(), "code": "GUESS6"}, 429)
    assert page.heading == "Those were many tries"
    limiter.reset()


def test_a_link_that_was_altered(service: Service, draft: str) -> None:
    token = make_link(service.engine, draft, ("purfling",), "Her teacher", NOW)
    service.house = House(open_=False, hosts=LOCAL, address="http://localhost", reachable=True)
    teacher = Client(create_app(service, "a key for tests"))
    limiter.reset()
    for altered in (token[:-1], token + "x", token.swapcase()):
        page = teacher.get(f"/g/{altered}", 404)
        assert page.heading == "This link leads nowhere"
        assert "ask for a new one" in page.text
    limiter.reset()


def test_behind_the_photos_there_are_three_ways(client: Client, service: Service) -> None:
    identity = begun(service, ["purfling"], PHOTOS, "photos")
    page = post(client, identity, check="purfling", **{"q-purfling": "painted"})
    for words in ("Skip it", "Ask for these photos", "Go and see it"):
        assert words in page.text
    message = client.get(f"/evaluations/{identity}/message")
    assert "could you send sharp photographs" in message.source
    page = post(client, identity, go="see")
    kept = find(service.engine, identity)
    assert kept is not None
    assert kept.typed["plan"]["channel"] == "in_person"
    assert len(kept.typed["plan"]["looks"]) > 5
    assert kept.typed["answers"]["purfling"] == {"outcome": "painted", "seen_by": "photos"}
    assert "Open:" not in page.text


@pytest.mark.browser
def test_answers_that_come_too_late_are_said_and_stay_on_the_phone(
    open_tab: Callable[..., Tab], service: Service
) -> None:
    identity = begun(service, ["purfling", "fingerboard_end", "bridge_stance"])
    tab = open_tab(PHONE)
    tab.goto(f"/evaluations/{identity}/looks")
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, kept.version, {}, "hash", NOW)
    tab.locator("section.look:visible button[value=painted]").click()
    tab.get_by_text("This evaluation is finished").wait_for()
    said = tab.locator(".waiting").inner_text()
    assert "Not put in, and kept on this phone" in said
    assert "Painted, the grain" in said
