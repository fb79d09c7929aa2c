"""What may be typed, and the sentence for what may not: nothing is clipped, nothing is guessed in silence."""

import pytest

from evaluator.basis.typed.quantities import Quantity, read_quantity
from evaluator.calculators.reading import split_pairs
from tests.calculators.asking import ask, mistakes, value

WRONG = (
    ("moisture", {"temperature": "70kg", "humidity": "50%"}, "temperature", "is a weight"),
    ("moisture", {"temperature": "20 degC"}, "humidity", "missing"),
    ("moisture", {"temprature": "70degF", "humidity": "50%"}, "temprature", 'Did you mean "temperature"?'),
    ("moisture", {"temperature": "20", "humidity": "130 %"}, "humidity", "130 % is above 100 %"),
    ("moisture", {"temperature": "20", "humidity": "-5 %"}, "humidity", "-5 % is below 0 %"),
    ("moisture", {"temperature": "145", "humidity": "50 %"}, "moisture", "no meaning at this temperature"),
    ("moisture", {"temperature": "warm", "humidity": "50 %"}, "temperature", "is not a number"),
    ("moisture", {"temperature": "20 furlong", "humidity": "50 %"}, "temperature", "is not known"),
    ("afterlength", {"length": "-328 mm"}, "length", "not above 0 mm"),
    ("afterlength", {"length": "0"}, "length", "not above 0 mm"),
    ("afterlength", {"length": ""}, "length", "nothing is written"),
    ("bridge_arch", {"notch": "0,0; 10,5; 20,10"}, "bridge_arch", "lie on a line"),
    ("bridge_arch", {"notch": "0,0; 0,0; 20,10"}, "bridge_arch", "coincide"),
    ("bridge_arch", {"notch": "0,0; 10,5"}, "notch", "3 to 12 points"),
    ("bridge_arch", {"notch": "0,0; 10; 20,10"}, "notch", "not a point of 2 numbers"),
    ("bridge_arch", {}, "bridge_arch", "three or more notches"),
    ("bridge_arch", {"chord": "32"}, "bridge_arch", "chord and rise"),
    ("bridge_arch", {"notch": "-9,3; 0,4; 9,3", "nut": "0,0;1,0;2,0"}, "bridge_arch", "also need length"),
    ("downforce", {"tension": "50", "front": "7"}, "downforce", "nut, notch and saddle"),
    ("downforce", {"tension": "50;60", "front": "7;8;9", "back": "15"}, "downforce", "3 values for 2 strings"),
    ("downforce", {"tension": "50", "nut": "0,0,0", "notch": "0,0,0", "saddle": "9,0,0"}, "downforce", "coincide"),
    ("downforce", {"tension": "50", "front": "7", "back": "9", "bass_foot": "0"}, "downforce", "treble_foot together"),
    ("pitch", {"note": "H4"}, "note", "is not a note"),
    ("pitch", {"frequency": "440 Hz"}, "pitch", "a reference"),
    ("string_tension", {"length": "328", "note": "A4"}, "string_tension", "linear density"),
    ("string_tension", {"length": "328", "linear_density": "0.6"}, "string_tension", "notes or the frequencies"),
    ("string_tension", {"length": "328", "linear_density": "0,65", "note": "A4"}, "linear_density", "decimal point"),
    ("string_tension", {"length": "328", "linear_density": "1;2", "note": "A4"}, "string_tension", "2 strings and 1"),
    ("string_mass", {"tension": "0 N", "length": "328", "note": "A4"}, "tension", "not above 0 N"),
    ("peg_fit", {"diameter": "7.5", "material": "boxwod"}, "material", 'Did you mean "boxwood"?'),
    ("peg_fit", {"diameter": "7.5", "material": "jujube"}, "peg_fit", "no published shrinkage of Jujube"),
    ("wood_movement", {"size": "9", "species": "jujube", "direction": "radial"}, "wood_movement", "Jujube"),
    ("wood_movement", {"size": "9", "species": "beech"}, "wood_movement", "direction"),
    ("wood_movement", {"size": "9", "coefficient": "0.002"}, "wood_movement", "from_humidity"),
    ("wood_movement", {"size": "9", "coefficient": "0.002", "from_moisture": "31 %"}, "from_moisture", "above 30 %"),
    ("service_due", {"hours_a_week": "169"}, "hours_a_week", "above 168 h"),
    ("service_due", {"hours_a_week": "5", "last": "2024-02-30"}, "last", "is not a date"),
    ("tuner_mass", {}, "tuner_mass", "how many"),
    ("tuner_mass", {"steel": "1.5"}, "tuner_mass", "whole numbers"),
    ("conformity", {"value": "436 g", "high": "440 g"}, "conformity", "uncertainty"),
    ("conformity", {"value": "436 g+-2g"}, "conformity", "limit"),
    ("conformity", {"value": "436 g+-2g", "high": "440 mm"}, "high", "is a length"),
    ("conformity", {"value": "436 g+-2g", "high": "4+-1 g"}, "high", "cannot carry +-"),
    ("conformity", {"value": "5+-1", "low": "6", "high": "4"}, "conformity", "low must be below high"),
    ("conformity", {"value": "5", "uncertainty": "-1", "high": "4"}, "uncertainty", "below 0"),
    ("uncertainty", {}, "uncertainty", "give repeats"),
    ("uncertainty", {"parts": "1;1;1", "correlation": "-1"}, "uncertainty", "cannot all be correlated"),
    ("three_point", {"low": "1", "likely": "3", "high": "2"}, "three_point", "3 must lie between 1 and 2"),
    ("three_point", {"low": "1;2", "likely": "3", "high": "4"}, "three_point", "2, 1, 1"),
    ("photo_scale", {"corners": "0,0;9,0;18,0;0,9", "start": "1,1", "end": "2,2"}, "photo_scale", "on a line"),
    ("photo_scale", {"corners": "0,0;9,0;9,0;0,9", "start": "1,1", "end": "2,2"}, "photo_scale", "coincide"),
    ("photo_scale", {"corners": "0,0;9,0;9,9;0,9", "start": "1,1", "end": "1,1"}, "photo_scale", "coincide"),
    ("photo_scale", {"corners": "0,0;9,0;9,9", "start": "1,1", "end": "1,2"}, "corners", "4 points"),
    ("break_angle", {"length": "328"}, "nut_height", "missing"),
)  # fmt: skip


@pytest.mark.parametrize(("calculator", "typed", "where", "what"), WRONG)
def test_mistakes_are_told(calculator: str, typed: dict[str, str], where: str, what: str) -> None:
    found = mistakes(calculator, **typed)
    assert any(one.startswith(f"{where}: ") and what in one for one in found), found


def test_all_mistakes_are_told_at_once() -> None:
    found = mistakes("afterlength", length="long", afterlength="-3 mm", colour="red")
    assert len(found) == 3


def test_a_misspelt_key_is_not_told_again_as_missing() -> None:
    assert len(mistakes("moisture", temprature="20", humidity="50 %")) == 1


@pytest.mark.parametrize(
    ("calculator", "typed", "warning"),
    [
        ("moisture", {"temperature": "60 degC", "humidity": "50 %"}, "temperature: 60 degC lies outside"),
        ("moisture", {"temperature": "20 degC", "humidity": "0.5"}, "humidity: 0.5 % lies outside"),
        ("moisture", {"temperature": "20 degC", "humidity": "100 %"}, "humidity: 100 % lies outside"),
        ("pitch", {"note": "A4", "a4": "300 Hz"}, "a4: 300 Hz lies outside"),
        ("string_tension", {"length": "328", "note": "A4", "linear_density": "9"}, "unusual pull"),
        ("downforce", {"tension": "50", "front": "-9", "back": "-9"}, "lift the bridge"),
        ("bridge_arch", {"notch": "-9,3; 0,4; 9,3"}, "Three notches always fit"),
        ("bridge_arch", {"notch": "-9,3; -3,6; 3,4; 9,3"}, "one of them is off"),
        ("downforce", {"tension": "45,55", "front": "7", "back": "9"}, "was read as two values"),
        ("peg_fit", {"diameter": "9", "limit": "8.5"}, "already wider"),
        ("photo_scale", {"corners": "0,0;5,0;5,9;0,9", "start": "1,1", "end": "2,2"}, "begin with a long side"),
        ("photo_scale", {"corners": "0,0;86,0;86,54;0,54", "start": "1,1", "end": "300,2"}, "beyond the card"),
        ("wood_movement", {"size": "9", "species": "ebony", "direction": "radial", "from_humidity": "50 %",
                           "to_humidity": "90 %"}, "goes beyond"),
    ],
)  # fmt: skip
def test_what_is_odd_but_computable_is_told(calculator: str, typed: dict[str, str], warning: str) -> None:
    assert any(warning in one for one in ask(calculator, **typed)["warnings"])


@pytest.mark.parametrize(
    ("calculator", "typed", "expected"),
    [
        ("afterlength", {"length": "327,6 mm"}, 54.6),
        ("afterlength", {"length": "12 15/16 in"}, 54.76875),
        ("moisture", {"temperature": "70 degF", "humidity": "0.5 ratio"}, 9.2423),
        ("moisture", {"temperature": "21.1111111", "humidity": "50"}, 9.2423),
        ("downforce", {"tension": "10, 10 lbf", "front": "90", "back": "0"}, 88.9644),
        ("downforce", {"tension": "44.4822; 44.4822 N", "front": "90", "back": "0"}, 88.9644),
        ("bridge_arch", {"notch": "0,1; 1,0; 0,-1 in"}, 25.4),
        ("bridge_arch", {"notch": "(0, 1); (1, 0); (0, -1)"}, 1.0),
    ],
)
def test_ways_of_writing(calculator: str, typed: dict[str, str], expected: float) -> None:
    assert value(calculator, **typed) == pytest.approx(expected, abs=1e-4)


def test_pairs() -> None:
    example = {"length": "328 mm"}
    typed, problems = split_pairs(["length=328mm", "note=A=4"], example)
    assert (typed, problems) == ({"length": "328mm", "note": "A=4"}, ())
    assert "example length=328 mm" in str(split_pairs(["length"], example)[1][0])
    assert "given twice" in str(split_pairs(["a=1", "a=2"], example)[1][0])


@pytest.mark.parametrize(
    ("text", "unit", "read", "half"),
    [
        ("328+-0.5mm", "mm", 328.0, 0.5),
        ("328mm+-0.5mm", "mm", 328.0, 0.5),
        ("12.9+-0.1in", "mm", 327.66, 2.54),
        ("70+-1 degF", "degC", 21.111111, 0.555556),
        ("20 degC +- 1 degF", "degC", 20.0, 0.555556),
        ("50+-2%", "%", 50.0, 2.0),
    ],
)
def test_doubt_behind_a_value(text: str, unit: str, read: float, half: float) -> None:
    """A unit written once, behind both numbers, belongs to both; a difference of temperatures has no offset."""
    found = read_quantity(text, unit, spread=True)
    assert isinstance(found, Quantity)
    assert found.value == pytest.approx(read, abs=1e-6)
    assert found.plus_minus == pytest.approx(half, abs=1e-6)


def test_a_width_of_temperature_has_no_zero() -> None:
    """1.8 degF are 1 degC as a width; as a place on the scale they would be -16.8 degC."""
    found = ask("conformity", value="20 degC", uncertainty="1.8 degF", high="21 degC")
    assert found["value"] == pytest.approx(0.841345, abs=1e-6)
    assert "below 0 degC" in mistakes("conformity", value="20 degC", uncertainty="-1 degF", high="21 degC")[0]
    assert value("uncertainty", readings="20 degC", parts="36 degF") == pytest.approx(20.0)
    assert "is not a number" in mistakes("uncertainty", readings="20 degC", step="1+-1 degC")[0]
