"""Every reading on one page, and the message to the seller: nothing typed is lost."""

from typing import Any

import pytest

from evaluator.store.evaluations import create, find
from evaluator.web.looking.forms import size_said
from evaluator.web.looking.readings import measured
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client

START = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "student"}


def kept_answers(service: Service, identity: str) -> dict[str, Any]:
    kept = find(service.engine, identity)
    assert kept is not None
    return dict(kept.typed["answers"])


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
    owned = create(service.engine, family, {"start": {**start, "purpose": "quote"}, "answers": {}}, NOW)
    told = client.get(f"/evaluations/{owned}/message").text
    assert "message to the owner" in told
    assert "interested" not in told


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
