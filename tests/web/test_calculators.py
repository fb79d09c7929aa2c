"""The calculators' pages: each shows its example, takes a form without JavaScript, and tells mistakes at the field."""

from typing import Any

import pytest

from evaluator.calculators.answering import answer
from evaluator.figures.calculators import drawn
from evaluator.figures.shapes import Curve, Dot, Figure, Label, Line
from evaluator.web.calculators import GROUPS, PHONE_MM, WIDE_MM
from tests.known import CALCULATORS
from tests.web.conftest import Client


def test_the_list_shows_each_calculator_once(client: Client) -> None:
    links = [one.attributes["href"] for one in client.get("/calculators").tree.find("a")]
    assert all(links.count(f"/calculators/{name}") == 1 for name in CALCULATORS)
    assert sorted(name for _, names in GROUPS for name in names) == sorted(CALCULATORS)


@pytest.mark.parametrize("name", CALCULATORS)
def test_a_page_shows_example_source_and_caution(client: Client, name: str) -> None:
    page, calculator = client.get(f"/calculators/{name}"), CALCULATORS[name]
    assert page.heading == calculator.title
    assert calculator.source in page.text
    assert calculator.caution in page.text
    assert page.tree.find("svg")


def test_a_form_is_answered(client: Client) -> None:
    page = client.get("/calculators/moisture?temperature=70+degF&humidity=50+%25")
    assert "9.24 %" in page.text
    assert page.form()["temperature"] == "70 degF"


def test_a_mistake_stands_at_its_field_and_nothing_typed_is_lost(client: Client) -> None:
    page = client.get("/calculators/moisture?temperature=70+kg&humidity=130+%25", 422)
    assert "130 % is above 100 %" in page.text
    assert page.tree.find("p", id="wrong-temperature")
    assert page.form()["temperature"] == "70 kg"
    assert not page.tree.find("svg")


@pytest.mark.parametrize("name", CALCULATORS)
def test_no_typed_text_breaks_a_page(client: Client, name: str) -> None:
    for typed in ("<b>&'\"", "1;" * 200, "9" * 50, "0", "-1", "1,1;1,1;1,1;1,1", "nan", "1e9"):
        fields = {one.name: typed for one in CALCULATORS[name].inputs}
        response = client.http.get(f"/calculators/{name}", query_string=fields)
        assert response.status_code in {200, 422}, typed
        assert "<b>&'" not in response.get_data(as_text=True), typed


def test_unknown_calculator(client: Client) -> None:
    assert client.get("/calculators/tone", 404).heading
    assert client.http.get("/calculators/tone.json").status_code == 404


@pytest.mark.parametrize(
    ("query", "status", "expected"),
    [
        ("length=328mm", 200, {"name": "afterlength", "unit": "mm"}),
        ("length=long", 422, {}),
        ("lenght=328mm", 422, {}),
        ("", 200, {"name": "afterlength", "example": {"length": "328 mm", "afterlength": "56 mm"}}),
    ],
)
def test_json(client: Client, query: str, status: int, expected: dict[str, Any]) -> None:
    response = client.http.get(f"/calculators/afterlength.json?{query}")
    assert response.status_code == status
    found = response.get_json()
    assert found.items() >= expected.items()
    assert ("problems" in found) == (status == 422)


def places(figure: Figure) -> list[tuple[float, float]]:
    found = []
    for shape in figure.shapes:
        match shape:
            case Line():
                found += [(shape.x1, shape.y1), (shape.x2, shape.y2)]
            case Dot() | Label():
                found.append((shape.x, shape.y))
            case Curve():
                found += [shape.start, *((part[4], part[5]) for part in shape.segments)]
    return found


@pytest.mark.parametrize("name", CALCULATORS)
@pytest.mark.parametrize("width", [WIDE_MM, PHONE_MM])
def test_a_drawing_stays_on_its_sheet(name: str, width: float) -> None:
    found, _ = answer(CALCULATORS[name], CALCULATORS[name].example)
    assert found is not None
    figure = drawn(found, width)
    assert figure is not None
    assert figure.alt
    assert all(-0.5 <= x <= figure.width + 0.5 and -0.5 <= y <= figure.height + 0.5 for x, y in places(figure))


def test_a_peg_loosens_in_winter_and_binds_in_summer() -> None:
    """Three woods in two climates: six curves of twelve months; y grows downwards, so looser lies higher."""
    found, _ = answer(CALCULATORS["peg_fit"], CALCULATORS["peg_fit"].example)
    assert found is not None
    figure = drawn(found, WIDE_MM)
    assert figure is not None
    curves = [shape for shape in figure.shapes if isinstance(shape, Curve)]
    assert [len(curve.segments) for curve in curves] == [11] * 6
    for curve in curves[:3]:
        february, august = curve.segments[0][5], curve.segments[6][5]
        assert february < august
