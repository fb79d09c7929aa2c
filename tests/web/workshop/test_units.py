"""A shop that works in inches and ounces sees them on pages and papers; the file of a result stays in mm and g."""

import io
import json
from dataclasses import replace

import pytest
from pypdf import PdfReader

from evaluator.assessment.reasons.facts import Reckoned
from evaluator.basis.units import METRIC, ShownUnits, in_units
from evaluator.result.json_form import result_json
from evaluator.store.evaluations import create, find, finish
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import made
from tests.web.workshop.test_bench_tabs import begun

INCHES = ShownUnits("in", "oz")
HEIGHT = {"reading": "5.5", "unit": "mm", "tool": "steel_rule"}
START = {
    "title": "Red violin",
    "size": "4/4",
    "style": "classical",
    "tier": "student",
    "purpose": "quote",
    "looker": "luthier",
}


@pytest.fixture
def seen(client: Client, service: Service) -> str:
    """A finished violin with a high action and a weight, at a shop that shows inches and ounces."""
    client.send(client.get("/shop/terms"), {"units.length": "in", "units.weight": "oz"}, action="/shop/terms")
    answers = {
        "action_high": HEIGHT,
        "action_low": {**HEIGHT, "reading": "1/4 in"},
        "bridge_warp": {"outcome": "bent"},
    }
    identity = create(service.engine, "violin", {"start": START, "answers": answers}, NOW)
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, 1, result_json(service.result(kept)), "hash", NOW)
    return identity


def paper(client: Client, path: str) -> str:
    pages = PdfReader(io.BytesIO(client.http.get(path).get_data())).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_pages_and_papers_show_inches_and_the_file_millimetres(client: Client, seen: str) -> None:
    page = client.get(f"/evaluations/{seen}/result/measured").text
    assert "0.22 ± 0.03 in" in page
    assert "0.098 to 0.142 in" in page
    assert " mm" not in page
    report = paper(client, f"/evaluations/{seen}/report.pdf?for=condition")
    assert "0.22 ± 0.03 in" in report and "Action, thinnest string 0.217 in" in report
    assert "1/4 in" in report and " mm" not in report, "what was typed in inches stays to the letter"
    found = json.loads(client.http.get(f"/evaluations/{seen}/result.json").data)["conformity"]["action_high"]
    assert (found["value"], found["unit"]) == (5.5, "mm")


def test_looks_and_the_work_order_tell_standards_in_inches(client: Client, service: Service, seen: str) -> None:
    draft = create(service.engine, "violin", {"start": START, "answers": {}}, NOW)
    part = client.get(f"/evaluations/{draft}/parts/fingerboard")
    assert "0.098 to 0.142 in" in part.text and part.form()["u-action_high"] == "in"
    client.send(part, {"r-action_high": "1/8"})
    again = client.get(f"/evaluations/{draft}/readings")
    assert (again.form()["u-action_high"], again.form()["u-action_low"]) == ("in", "in")
    kept = find(service.engine, draft)
    assert kept is not None and service.read(kept).case.observations["action_high"][0].reading is not None
    answers = {"action_high": {"reading": "3.2"}}
    of_old = create(service.engine, "violin", {"start": START, "answers": answers}, NOW)
    assert client.get(f"/evaluations/{of_old}/parts/fingerboard").form()["u-action_high"] == "mm", "as it was meant"
    quote = made(client, seen)
    begun(client, service, quote)
    order = client.get(f"/quotes/{quote}/work")
    assert " in, best " in order.text and "As found, in" in order.text and " mm" not in order.text
    client.send(order, {"m-middle_heights-0-found": "0.197 +- 0.004", "m-scoop-0-found": "0.7 mm"}, action="/work")
    assert client.get(order.path).form("/work")["m-middle_heights-0-found"] == "0.197 +- 0.004 in"
    assert "0.197 ± 0.004 in" in paper(client, f"/quotes/{quote}/work.pdf")


def test_what_has_no_length_stays_the_same() -> None:
    angle, there = (
        Reckoned(formula="a", value=12.0, u=1.0, unit="deg"),
        Reckoned(formula="b", value=25.4, u=2.54, unit="mm"),
    )
    assert in_units((angle, "mm"), INCHES) == (angle, "mm")
    assert in_units((angle, there), INCHES) == (angle, replace(there, value=1.0, u=0.1, unit="in"))
    assert in_units(there, METRIC) is there
    assert in_units(angle, INCHES) is angle
