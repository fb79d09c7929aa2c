"""Every calculator as a whole: its example works, its doubt is carried, its JSON keeps the contract."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm
from uncertainties import ufloat, umath

from evaluator.calculators.answering import answer, calculator_named, to_json
from evaluator.calculators.model import Calculator
from evaluator.wording.calculators import command_of, description, explained, figure, listing, told
from tests.calculators.asking import ask, value
from tests.known import CALCULATORS

NAMES = (
    "pitch", "string_tension", "string_mass", "downforce", "afterlength", "break_angle", "projection", "bridge_arch",
    "stop_ratio", "moisture", "wood_movement", "peg_fit", "tuner_mass", "service_due", "conformity", "uncertainty",
    "three_point", "photo_scale",
)  # fmt: skip


def test_all_are_there() -> None:
    assert set(CALCULATORS) == set(NAMES)
    assert all(name in listing(CALCULATORS) for name in NAMES)


@pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=lambda one: one.name)
def test_the_example_works_and_everything_is_said(calculator: Calculator) -> None:
    found, problems = answer(calculator, calculator.example)
    assert found is not None, problems
    result = json.loads(json.dumps(to_json(found), allow_nan=False))
    assert {"name", "value", "unit", "source"} <= set(result)
    assert result["name"] == calculator.name
    assert result["source"] == calculator.source != ""
    assert calculator.holds.endswith(".")
    names = [one.name for one in (*found.main, *found.also)]
    assert len(names) == len(set(names))
    assert calculator.source in told(found)
    assert command_of(calculator) in explained(calculator)
    assert [one["name"] for one in description(calculator)["inputs"]] == [one.name for one in calculator.inputs]


@pytest.mark.parametrize("calculator", CALCULATORS.values(), ids=lambda one: one.name)
def test_inputs_are_well_formed(calculator: Calculator) -> None:
    for one in calculator.inputs:
        assert not (one.required and one.default is not None)
        assert not (one.kind == "choice" and not one.choices)
        if one.valid is not None:
            floor = one.above if one.above is not None else one.low
            assert floor is None or floor <= one.valid[0]
            assert one.high is None or one.valid[1] <= one.high
    if calculator.plot is not None:
        assert calculator.plot[0] in {one.name for one in calculator.inputs}


def test_the_agreed_calls() -> None:
    moist = ask("moisture", temperature="70degF", humidity="50%")
    assert (moist["unit"], moist["name"]) == ("%", "moisture")
    assert moist["value"] == pytest.approx(9.2, abs=0.066)  # Wood Handbook, table 4-2
    target = ask("afterlength", length="328mm")
    assert (target["unit"], round(target["value"], 2)) == ("mm", 54.67)
    assert "uncertainty" not in target


def test_doubt_agrees_with_a_library_of_uncertainties() -> None:
    """Oracle: the `uncertainties` package, which differentiates instead of stepping."""
    assert ask("afterlength", length="328+-0.5mm")["uncertainty"] == pytest.approx((ufloat(328, 0.5) / 6).s, rel=1e-6)
    both = ask("afterlength", length="328+-0.5mm", afterlength="54.5+-0.3mm")["also"]
    oracle = 1200 * umath.log(ufloat(328, 0.5) / ufloat(54.5, 0.3)) / math.log(2)
    assert both["cents"]["uncertainty"] == pytest.approx(oracle.s, rel=1e-6)
    pull = ask("string_tension", length="328+-0.5mm", linear_density="0.65+-0.01", frequency="440+-1 Hz")
    oracle = ufloat(0.65e-3, 1e-5) * (2 * ufloat(0.328, 0.0005) * ufloat(440, 1)) ** 2
    assert pull["value"] == pytest.approx(oracle.n)
    assert pull["uncertainty"] == pytest.approx(oracle.s, rel=1e-6)
    line = ask("projection", near_height="14+-0.2", end_height="22.5+-0.2", between="140+-1", to_bridge="60+-1")
    near, end, between, on = ufloat(14, 0.2), ufloat(22.5, 0.2), ufloat(140, 1), ufloat(60, 1)
    assert line["uncertainty"] == pytest.approx((end + (end - near) / between * on).s, rel=1e-6)


def test_doubt_of_a_list_adds_as_squares() -> None:
    total = ask("string_tension", length="328", note="G3;D4", linear_density="2.6+-0.026; 1.35+-0.0135")
    parts = [total["also"][name] for name in ("string_1", "string_2")]
    assert parts[0]["uncertainty"] == pytest.approx(0.01 * parts[0]["value"], rel=1e-6)
    assert total["uncertainty"] == pytest.approx(math.hypot(*(part["uncertainty"] for part in parts)), rel=1e-6)


def test_a_count_carries_no_doubt() -> None:
    found = ask("peg_fit", diameter="7.5+-0.05", limit="8.5")
    assert found["also"]["refits_left"] == {"value": 5, "unit": "ratio"}
    assert found["uncertainty"]["loosest"] > 0
    assert found["also"]["travel_left"]["uncertainty"] == pytest.approx(1.5)


@given(st.floats(-50.0, 50.0), st.floats(0.01, 20.0), st.floats(-50.0, 50.0))
def test_complementary_tolerances_sum_to_one(reading: float, u: float, limit: float) -> None:
    typed = {"value": f"{reading:.9f}", "uncertainty": f"{u:.9f}"}
    below = value("conformity", **typed, high=f"{limit:.9f}")
    above = value("conformity", **typed, low=f"{limit:.9f}")
    assert below + above == pytest.approx(1.0, abs=1e-12)
    assert below == pytest.approx(norm.cdf(round(limit, 9), round(reading, 9), round(u, 9)), abs=1e-9)


@given(st.floats(-5.0, 5.0), st.floats(0.1, 5.0), st.floats(-5.0, 5.0))
def test_complementary_tolerances_under_bounds_alone(reading: float, half: float, limit: float) -> None:
    typed = {"value": f"{reading:.9f}", "half_width": f"{half:.9f}"}
    both = value("conformity", **typed, high=f"{limit:.9f}") + value("conformity", **typed, low=f"{limit:.9f}")
    assert both == pytest.approx(1.0, abs=1e-9)


def test_points_and_angles_agree() -> None:
    """One string in the middle plane, once by its three points and once by the angles they make."""
    front, back = math.degrees(math.atan(40 / 326)), math.degrees(math.atan(14 / 53))
    points = ask("downforce", tension="55", nut="-326,0,-40", notch="0,0,0", saddle="53,0,-14")
    angles = ask("downforce", tension="55", front=f"{front:.12f}", back=f"{back:.12f}")
    assert points["value"] == pytest.approx(angles["value"])
    assert points["also"]["along"]["value"] == pytest.approx(angles["also"]["along"]["value"])


def test_a_stated_tension_at_another_pitch() -> None:
    """T goes with the square of length and pitch: 55 N at 325 mm and 440 Hz is 56.02 N at 328 mm (derived)."""
    typed = {"stated_tension": "55", "stated_length": "325", "stated_frequency": "440", "length": "328", "note": "A4"}
    assert value("string_tension", **typed) == pytest.approx(55 * (328 / 325) ** 2)


def test_tension_and_mass_are_each_other_s_inverse() -> None:
    pull = value("string_tension", length="328", note="A4", linear_density="0.65")
    assert value("string_mass", tension=f"{pull:.9f}", length="328", note="A4") == pytest.approx(0.65)


def test_a_plain_steel_string() -> None:
    """T = pi rho (d L f)^2: 0.26 mm of steel at E5 and 328 mm (derived)."""
    expected = math.pi * 7850 * (0.26e-3 * 0.328 * 659.255114) ** 2
    assert value("string_tension", length="328", note="E5", diameter="0.26") == pytest.approx(expected, rel=1e-6)


def test_strings_over_the_end_of_the_board() -> None:
    found = ask(
        "bridge_arch", notch="-16.5,30; 0,34; 16.5,30", nut="-8,1; 0,1.2; 8,1", length="328", board_length="270",
        board_radius="42", crown="23",
    )["also"]  # fmt: skip
    share = 270 / 328
    middle = 1.2 + share * (34 - 1.2) - 23
    assert found["clearance_2"]["value"] == pytest.approx(middle)
    assert found["clearance_1"]["value"] == pytest.approx(found["clearance_3"]["value"])


def test_names() -> None:
    assert isinstance(calculator_named("pitch", CALCULATORS), Calculator)
    assert 'Did you mean "moisture"?' in str(calculator_named("moist", CALCULATORS))


def test_figures_show_what_their_doubt_allows() -> None:
    found, _ = answer(CALCULATORS["bridge_arch"], CALCULATORS["bridge_arch"].example)
    assert found is not None
    assert figure(found.main[0]) == "43.4 mm (standard uncertainty 1.4 mm)"
