"""Ten minutes with an instrument, one look after the other, and every reading on one page: nothing typed is lost."""

from typing import Any

import pytest

from evaluator.store.evaluations import create, find
from evaluator.web.looking.forms import size_said
from evaluator.web.looking.readings import measured
from evaluator.web.looking.visit import MOST_LOOKS
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.page import Page

START = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "student"}


def kept_answers(service: Service, identity: str) -> dict[str, Any]:
    kept = find(service.engine, identity)
    assert kept is not None
    return dict(kept.typed["answers"])


def look(client: Client, identity: str, looks: str, at: int = 1) -> Page:
    return client.get(f"/evaluations/{identity}/visit?looks={looks}&at={at}")


def test_ten_minutes_lead_from_look_to_look_and_to_the_result(client: Client, service: Service) -> None:
    page = client.send(client.get("/new/violin"), {"title": "In the shop", "asking": "780", "go": "visit"})
    identity, seen = page.path.split("/")[2], []
    while page.path.endswith("/visit"):
        seen.append(page.heading)
        page = client.send(page)
    assert page.path.endswith("/result")
    assert seen[0] == f"Look 1 of {len(seen)}"
    assert 5 < len(seen) == len(set(seen))
    assert kept_answers(service, identity) == {}, "going past a look answers nothing"


def test_a_look_is_kept_and_going_back_shows_it(client: Client, service: Service, draft: str) -> None:
    page = look(client, draft, "bridge_stance.fingerboard_end")
    page = client.send(page, {"q-bridge_stance": "upright", "n-bridge_stance": "by daylight"})
    assert page.heading == "Look 2 of 2"
    page = client.send(page, {"q-fingerboard_end": "blunt", "go": "back"})
    assert page.heading == "Look 1 of 2"
    assert page.form()["n-bridge_stance"] == "by daylight"
    assert kept_answers(service, draft) == {
        "bridge_stance": {"outcome": "upright", "note": "by daylight"},
        "fingerboard_end": {"outcome": "blunt"},
    }


def test_what_does_not_apply_as_answered_is_passed_both_ways(client: Client, draft: str) -> None:
    page = look(client, draft, "bridge_stance.bridge_fitted_feet.fingerboard_end")
    page = client.send(page, {"q-bridge_stance": "down"})
    assert page.heading == "Look 3 of 3"
    assert client.send(page, {"go": "back"}).heading == "Look 1 of 3"


def test_a_reading_that_cannot_be_read_stays_as_typed_on_its_look(client: Client, service: Service, draft: str) -> None:
    page = client.send(look(client, draft, "body_length.fingerboard_end"), {"r-body_length": "three hands"}, 422)
    assert page.heading == "Look 1 of 2"
    assert page.form()["r-body_length"] == "three hands"
    assert "cannot be read" in page.text
    assert client.send(page, {"r-body_length": "355,5"}).heading == "Look 2 of 2"
    assert kept_answers(service, draft)["body_length"]["reading"] == "355,5"


def test_what_is_looked_at_in_a_visit_is_seen_in_person(client: Client, service: Service) -> None:
    identity = create(service.engine, "violin", {"start": {**START, "seen_by": "photos"}, "answers": {}}, NOW)
    client.send(look(client, identity, "fingerboard_end"), {"q-fingerboard_end": "blunt"})
    assert kept_answers(service, identity)["fingerboard_end"] == {"outcome": "blunt", "seen_by": "in_person"}


def test_photographs_lead_to_the_parts(client: Client) -> None:
    page = client.send(client.get("/new/violin"), {"seen_by": "photos", "go": "visit"})
    assert "/parts/" in page.path


@pytest.mark.parametrize(
    ("asked", "heading"),
    [
        ("looks=no_such_check.fingerboard_end&at=1", "Look 1 of 1"),
        ("looks=fingerboard_end.fingerboard_end&at=9", "Look 1 of 1"),
        ("looks=fingerboard_end&at=-1", "Look 1 of 1"),
        ("looks=fingerboard_end&at=x", "Look 1 of 1"),
        ("looks=afterlength_ratio.fingerboard_end", "Look 1 of 1"),
    ],
)
def test_a_strange_address_of_a_look_shows_what_there_is(client: Client, draft: str, asked: str, heading: str) -> None:
    assert client.get(f"/evaluations/{draft}/visit?{asked}").heading == heading


def test_a_row_of_looks_has_an_end(client: Client, service: Service, draft: str) -> None:
    every = ".".join(service.rubric("violin").checks)
    assert look(client, draft, every).heading == f"Look 1 of {MOST_LOOKS}"


def test_where_somebody_else_answered_the_same_look_both_are_shown(client: Client, draft: str) -> None:
    mine, theirs = look(client, draft, "fingerboard_end"), look(client, draft, "fingerboard_end")
    client.send(theirs, {"q-fingerboard_end": "tapered"})
    page = client.send(mine, {"q-fingerboard_end": "blunt"}, 409)
    assert page.heading == "Somebody else saved first"
    page = client.send(page)
    assert page.path.endswith("/result")


def test_what_was_typed_after_somebody_finished_is_shown(client: Client, draft: str) -> None:
    one, many = look(client, draft, "fingerboard_end"), client.get(f"/evaluations/{draft}/readings")
    client.send(client.get(f"/evaluations/{draft}/result"), action="/finish")
    for page, typed in ((one, {"q-fingerboard_end": "blunt"}), (many, {"r-body_length": "355"})):
        assert client.send(page, typed, 409).heading == "It is finished"
    for path in ("visit", "readings"):
        assert client.get(f"/evaluations/{draft}/{path}").path.endswith("/result")


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_every_reading_that_applies_is_on_one_page(client: Client, service: Service, family: str) -> None:
    start = {**START, "size": service.rubric(family).default_size}
    identity = create(service.engine, family, {"start": start, "answers": {}}, NOW)
    page = client.get(f"/evaluations/{identity}/readings")
    asked = {name[2:] for name in page.form() if name.startswith("r-")}
    names = {check.check for check in measured(service.rubric(family))}
    always = {name for name in names if name not in service.rubric(family).relevant}
    assert always <= asked <= names


def test_readings_in_mixed_units_are_kept_as_typed_and_wrong_ones_told_in_place(
    client: Client, service: Service, draft: str
) -> None:
    typed = {
        "r-body_length": "35,55 cm",
        "r-weight_without_chin_rest": "436g",
        "r-action_low": "13/64 in",
        "r-action_high": "2..5",
        "r-string_length": "327; 328; 328",
    }
    page = client.send(client.get(f"/evaluations/{draft}/readings"), typed, 422)
    assert {name: page.form()[name] for name in typed} == typed
    wrong = [line.attributes["id"] for line in page.tree.find("p") if "data-check" in line.attributes]
    assert wrong == ["wrong-action_high"]
    page = client.send(page, {"r-action_high": "3,5"})
    assert page.path.endswith("/result")
    assert kept_answers(service, draft)["action_low"]["reading"] == "13/64 in"


def test_unit_tool_and_note_of_a_reading_stay_when_it_is_changed_there(client: Client, service: Service) -> None:
    before = {"reading": "14", "unit": "in", "tool": "tape", "note": "twice", "seen_by": "photos"}
    identity = create(service.engine, "violin", {"start": START, "answers": {"body_length": before}}, NOW)
    page = client.get(f"/evaluations/{identity}/readings")
    client.send(page, {"r-body_length": "13 7/8"})
    assert kept_answers(service, identity)["body_length"] == {**before, "reading": "13 7/8"}


def test_at_home_a_rule_is_taken_and_a_caliper_at_the_bench(client: Client, service: Service) -> None:
    for looker, tool in (("student", "steel_rule"), ("teacher", "steel_rule"), ("luthier", "caliper")):
        identity = create(service.engine, "violin", {"start": {**START, "looker": looker}, "answers": {}}, NOW)
        assert client.get(f"/evaluations/{identity}/parts/fingerboard").form()["t-board_end_width"] == tool
        client.send(client.get(f"/evaluations/{identity}/readings"), {"r-board_end_width": "42"})
        assert kept_answers(service, identity)["board_end_width"]["tool"] == tool


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_the_message_names_what_it_asks_after(client: Client, service: Service, family: str) -> None:
    start = {**START, "size": service.rubric(family).default_size}
    identity = create(service.engine, family, {"start": start, "answers": {}}, NOW)
    assert f"I am interested in this {family}." in client.get(f"/evaluations/{identity}/message").text


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ("4/4", "4/4"),
        ("14 in", "14 in"),
        ("405 mm", "405 mm (about 16 in)"),
        ("420 mm", "420 mm (about 16.5 in)"),
        ("380 mm", "380 mm (about 15 in)"),
    ],
)
def test_a_size_in_millimetres_is_said_in_inches_too(size: str, said: str) -> None:
    assert size_said(size) == said
