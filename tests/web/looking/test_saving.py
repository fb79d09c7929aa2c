"""Saving while one types, two pages on one instrument, and what finishing freezes."""

from dataclasses import replace
from pathlib import Path

import pytest

from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.evaluations import create, find, newest
from evaluator.store.folders import rubrics_folder
from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page

FEET = "q-bridge_fitted_feet"
DEARER = """
shop: Dear workshop
rates:
  set_up: {low: 900, likely: 950, high: 990}
  repair: {low: 900, likely: 950, high: 990}
  restoration: {low: 900, likely: 950, high: 990}
"""


def answers(service: Service, identity: str) -> dict[str, dict[str, str]]:
    kept = find(service.engine, identity)
    assert kept is not None
    return dict(kept.typed["answers"])


def save(client: Client, page: Page, **typed: str) -> tuple[int, dict[str, object]]:
    """What the script of an open page sends while somebody types."""
    fields = {**page.form(), **{name.replace("__", "-"): text for name, text in typed.items()}}
    answer = client.http.post(f"{page.path}/save", data=fields)
    assert answer.mimetype == "application/json"
    return answer.status_code, answer.get_json()


def bridge(client: Client, identity: str) -> Page:
    return client.get(f"/evaluations/{identity}/parts/bridge")


def test_a_page_saves_while_it_is_filled_in_and_never_clashes_with_itself(
    client: Client, service: Service, draft: str
) -> None:
    page = bridge(client, draft)
    first = save(client, page, **{FEET: "gaps"})
    second = save(client, page, **{FEET: "no_light"})  # the old version again: answers on their way may overtake
    assert (first[0], second[0]) == (200, 200)
    assert first[1]["saved"] is second[1]["saved"] is True
    assert int(str(second[1]["version"])) > int(str(first[1]["version"]))
    assert answers(service, draft)["bridge_fitted_feet"] == {"outcome": "no_light"}
    assert "1 of" in bridge(client, draft).text


def test_a_reading_that_is_none_is_saved_as_typed_and_told(client: Client, service: Service, draft: str) -> None:
    page = bridge(client, draft)
    status, told = save(client, page, **{"r-bridge_height": "4,5,6", FEET: "gaps"})
    assert status == 200
    problems = told["problems"]
    assert isinstance(problems, dict)
    assert list(problems) == ["bridge_height"]
    assert answers(service, draft)["bridge_height"]["reading"] == "4,5,6"
    assert bridge(client, draft).form()["r-bridge_height"] == "4,5,6"


def test_two_people_on_different_checks_do_not_disturb_each_other(client: Client, service: Service, draft: str) -> None:
    mine, theirs = bridge(client, draft), client.get(f"/evaluations/{draft}/parts/papers")
    client.send(theirs, {"n-trial_period": "seven days, he said"})
    client.send(mine, {FEET: "gaps"})
    client.send(theirs)
    assert {name: answer for name, answer in answers(service, draft).items() if answer} == {
        "bridge_fitted_feet": {"outcome": "gaps"},
    }, "the second sending of the papers took the note back, and nothing else"


def test_two_people_on_the_same_check_see_both_answers(client: Client, service: Service, draft: str) -> None:
    mine, theirs = bridge(client, draft), bridge(client, draft)
    client.send(theirs, {FEET: "no_light"})
    status, told = save(client, mine, **{FEET: "gaps"})
    assert (status, told["saved"]) == (409, False)
    clash = client.send(mine, {FEET: "gaps", "n-bridge_fitted_feet": "two cards fit under it"}, 409)
    assert clash.heading == "Somebody else saved first"
    for text in ("Clear gaps", "No light", "two cards fit under it"):
        assert text in clash.text
    assert answers(service, draft)["bridge_fitted_feet"] == {"outcome": "no_light"}, "nothing is overwritten unasked"
    client.send(clash)
    assert answers(service, draft)["bridge_fitted_feet"]["outcome"] == "gaps", "asked, what was typed is put in"


def test_two_people_on_the_first_page_see_both_answers(client: Client, service: Service, draft: str) -> None:
    mine, theirs = client.get(f"/evaluations/{draft}/start"), client.get(f"/evaluations/{draft}/start")
    client.send(theirs, {"asking": "500"})
    clash = client.send(mine, {"asking": "600"}, 409)
    assert "500" in clash.text and "600" in clash.text
    kept = find(service.engine, draft)
    assert kept is not None
    assert kept.typed["start"]["asking"] == "500"


@pytest.fixture
def looked_at(client: Client, draft: str) -> str:
    client.send(bridge(client, draft), {FEET: "gaps"})
    return draft


def test_finishing_freezes_page_paper_and_figures(
    client: Client, service: Service, looked_at: str, tmp_path: Path
) -> None:
    path = f"/evaluations/{looked_at}"
    finished = client.send(client.get(f"{path}/result"), action="/finish")
    figures = client.http.get(f"{path}/result.json").get_json()
    assert figures["plan"]["lines"], "a price that could change"
    (tmp_path / "dear.yaml").write_text(DEARER)
    dear, problems = load_shop(tmp_path / "dear.yaml", rubrics_folder() / "shop.yaml")
    assert dear is not None, problems
    later = Client(create_app(replace(service, shop=dear), "a key for tests"))
    assert later.http.get(f"{path}/result.json").get_json() == figures
    shown = later.get(f"{path}/result")
    assert shown.text == finished.text
    again = later.send(shown, action="/again")
    redone = again.path.split("/")[2]
    assert redone != looked_at
    old = [box.attributes["value"] for box in again.tree.find("input", type="checkbox")]
    assert old, "what was answered stands there as old"
    later.post(f"{again.path}/confirm", {**again.form("/confirm"), "check": old})
    then = later.http.get(f"/evaluations/{redone}/result.json").get_json()
    assert float(then["plan"]["mean"]["amount"]) > float(figures["plan"]["mean"]["amount"])


def test_a_finished_evaluation_takes_no_more_answers(client: Client, service: Service, looked_at: str) -> None:
    page = bridge(client, looked_at)
    client.send(client.get(f"/evaluations/{looked_at}/result"), action="/finish")
    before = find(service.engine, looked_at)
    status, told = save(client, page, **{FEET: "no_light"})
    assert (status, told["saved"]) == (409, False)
    shown = client.send(page, {FEET: "no_light", "n-bridge_fitted_feet": "mended since"}, 409)
    assert "mended since" in shown.text and "No light" in shown.text
    assert find(service.engine, looked_at) == before


def test_figures_that_changed_behind_an_open_result_are_not_finished_unseen(
    client: Client, service: Service, looked_at: str
) -> None:
    result = client.get(f"/evaluations/{looked_at}/result")
    client.send(bridge(client, looked_at), {FEET: "no_light"})
    client.send(result, status=409, action="/finish")
    kept = find(service.engine, looked_at)
    assert kept is not None
    assert kept.state == "draft"


def test_the_list_shows_the_last_changed_first(client: Client, service: Service) -> None:
    for day, title in ((1, "Older"), (2, "Newer")):
        create(service.engine, "violin", {"start": {"title": title, "size": "4/4"}, "answers": {}}, f"2026-03-0{day}")
    text = client.get("/").text
    assert text.index("Newer") < text.index("Older")
    assert len(newest(service.engine)) == 2
