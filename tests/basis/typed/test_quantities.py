"""The reader of readings with units: what it takes, what it refuses in one sentence, and what it asks back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.problem import Problem
from evaluator.basis.typed.quantities import Between, Quantity, read_quantity, with_unit_behind


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("2,35", "mm", 2.35),
        ("2.35", "mm", 2.35),
        ("2,3", "mm", 2.3),
        (" 327.5 mm ", "mm", 327.5),
        ("327.5mm", "mm", 327.5),
        ("32,75 cm", "mm", 327.5),
        ("1 1/64 in", "mm", 25.796875),
        ('12 15/16"', "mm", 328.6125),
        ("15/16 inch", "mm", 23.8125),
        ("-3 mm", "mm", -3.0),
        ("−3 mm", "mm", -3.0),
        ("+3", "mm", 3.0),
        (".5", "mm", 0.5),
        ("5.", "mm", 5.0),
        ("1 lb", "g", 453.59237),
        ("70degF", "degC", 21.1111111),
        ("50%", "ratio", 0.5),
        ("50", "%", 50.0),
        ("82°", "deg", 82.0),
        ("420 kg/m3", "kg/m3", 420.0),
        ("0.65 g/m", "kg/m", 0.00065),
        ("1\u202f1/64 in", "mm", 25.796875),
        ("12½ in", "mm", 317.5),
        ("２，３５", "mm", 2.35),
        ("12.938 in", "mm", 328.6252),
        ("0,125 in", "mm", 3.175),
        ("2.350", "mm", 2.35),
        (328, "mm", 328.0),
        (2.5, "mm", 2.5),
    ],
)
def test_read(text: object, unit: str, value: float) -> None:
    found = read_quantity(text, unit)
    assert isinstance(found, Quantity), found
    assert math.isclose(found.value, value, rel_tol=1e-6)
    assert (found.unit, found.text) == (unit, str(text))


@pytest.mark.parametrize(
    ("text", "unit", "told"),
    [
        ("", "mm", "nothing is written. Enter a length, for example 54.5 mm."),
        ("4,5,6", "mm",
         '"4,5,6" has more than one comma or point. Enter a length without thousands marks, for example 54.5 mm.'),
        ("1.000,5", "mm",
         '"1.000,5" has more than one comma or point. Enter a length without thousands marks, for example 54.5 mm.'),
        ("1 000", "mm", '"1 000" is not a number. Enter a length, for example 54.5 mm.'),
        ("1_000", "mm", '"1_000" is not a number. Enter a length, for example 54.5 mm.'),
        ("NaN", "mm", '"NaN" is not a number. Enter a length, for example 54.5 mm.'),
        ("Infinity", "g", '"Infinity" is not a number. Enter a weight, for example 436 g.'),
        ("1e999", "mm", '"1e999" is written with an exponent. Write the digits out, for example 54.5 mm.'),
        ("1e3", "mm", '"1e3" is written with an exponent. Write the digits out, for example 54.5 mm.'),
        ("12 kg", "mm", '"12 kg" is a weight. Enter a length, for example 54.5 mm.'),
        ("30 cm", "g", '"30 cm" is a length. Enter a weight, for example 436 g.'),
        ("5 mm", "ratio", '"5 mm" is a length. Enter a number, for example 0.5.'),
        ("3 mmm", "mm", 'the unit "mmm" is not known. Enter a length, for example 54.5 mm. Did you mean "mm"?'),
        ("1/0", "mm", '"1/0" has a fraction over zero. Enter a length, for example 54.5 mm.'),
        ("٣ mm", "mm", '"٣ mm" is not a number. Enter a length, for example 54.5 mm.'),
        ("2,350", "mm", '"2,350" can be 2.35 mm or 2350 mm. Write 2.35 mm or 2350 mm.'),
        ("-2,350 kg", "g", '"-2,350 kg" can be -2.35 kg or -2350 kg. Write -2.35 kg or -2350 kg.'),
        ("1,450", "ratio", '"1,450" can be 1.45 or 1450. Write 1.45 or 1450.'),
        ("2\x00", "mm", "a sign stands in it that is no letter and no figure (number 0 of the table of signs). "
         "Take it out, or type the text anew."),
        ("about 5", "mm", '"about 5" is not a number. Enter a length, for example 54.5 mm.'),
        ("5 mm - 6 mm", "mm", '"5 mm - 6 mm" is not a number. Enter a length, for example 54.5 mm.'),
        ("5 +- 1 mm", "mm", '"5 +- 1 mm" is not a number. Enter a length, for example 54.5 mm.'),
        ("9" * 70, "mm", "this is too long for a number. Enter a length, for example 54.5 mm."),
        ("9" * 20, "mm", '"99999999999999999999" is too large a number. Enter a length, for example 54.5 mm.'),
        (True, "mm", '"True" is not a number. Enter a length, for example 54.5 mm.'),
        (math.inf, "mm", '"inf" is not a number. Enter a length, for example 54.5 mm.'),
        (math.nan, "mm", '"nan" is not a number. Enter a length, for example 54.5 mm.'),
        (None, "mm", '"None" is not a number. Enter a length, for example 54.5 mm.'),
        ([1], "mm", '"[1]" is not a number. Enter a length, for example 54.5 mm.'),
    ],
)  # fmt: skip
def test_refused_in_one_sentence(text: object, unit: str, told: str) -> None:
    assert str(read_quantity(text, unit)) == told
    assert str(read_quantity(text, unit, "Nut height")) == f"Nut height: {told}"


@pytest.mark.parametrize(
    ("text", "value", "half"),
    [("328 mm +- 0.5 mm", 328, 0.5), ("328 ± 0.5", 328, 0.5), ("32.8 cm +/- 1", 328, 10),
     ("328 mm +- 1/64 in", 328, 0.396875), ("32.8 +- 1 cm", 328, 10)],
)  # fmt: skip
def test_a_spread_of_a_length(text: str, value: float, half: float) -> None:
    found = read_quantity(text, "mm", spread=True)
    assert isinstance(found, Quantity)
    assert found.value == pytest.approx(value)
    assert found.plus_minus == pytest.approx(half)


def test_a_spread_of_a_temperature_is_a_difference() -> None:
    found = read_quantity("68 degF +- 9 degF", "degC", spread=True)
    assert isinstance(found, Quantity)
    assert (found.value, found.plus_minus) == pytest.approx((20, 5))
    assert isinstance(read_quantity("68 degF +- 9 mm", "degC", spread=True), Problem)
    assert isinstance(read_quantity("1 +- 2 +- 3", "degC", spread=True), Problem)


@given(st.decimals(min_value=-100000, max_value=100000, places=3), st.sampled_from([",", "."]))
def test_what_is_typed_is_what_is_read_or_asked_back(number: object, mark: str) -> None:
    found = read_quantity(str(number).replace(".", mark) + " mm", "mm")
    if mark == "," and 1 <= abs(float(str(number))) < 1000:
        assert isinstance(found, Problem) and found.code == "reading.two_readings"
    else:
        assert isinstance(found, Quantity) and found.value == float(str(number))


@pytest.mark.parametrize(
    ("text", "unit", "between", "value"),
    [
        ("2,350", "mm", (0, 10), 2.35),
        ("2.350", "mm", (0, 10), 2.35),
        ("2,350", "mm", (100, 9000), 2350),
        ("2.350", "g", (2000, 4500), 2350),
        ("3,200 kg", "g", (2000, 4500), 3200),
        ("12,938 in", "mm", (300, 400), 328.6252),
        ("2.350", "mm", (0, 9000), 2.35),
        ("2.350", "mm", (20, 30), 2.35),
    ],
)
def test_of_two_readings_the_one_that_can_be_is_meant(
    text: str, unit: str, between: tuple[float, float], value: float
) -> None:
    found = read_quantity(text, unit, between=Between(*between))
    assert isinstance(found, Quantity) and found.value == pytest.approx(value)


@pytest.mark.parametrize("between", [(0, 9000), (20, 30), (None, None)])
def test_a_comma_that_nothing_settles_is_asked_back(between: tuple[float, float]) -> None:
    found = read_quantity("2,350", "mm", "Nut", between=Between(*between))
    assert isinstance(found, Problem) and "2.35 mm or 2350 mm" in found.what_to_do


@pytest.mark.parametrize(
    ("text", "joined"),
    [("2,35", "2,35 cm"), ("12 15/16\"", "12 15/16\""), ("2 mm", "2 mm"), ("", ""), ("½", "½ cm"),
     ("32 +- 0.5", "32 +- 0.5 cm")],
)  # fmt: skip
def test_a_chosen_unit_holds_where_none_is_typed(text: str, joined: str) -> None:
    assert with_unit_behind(text, "cm") == joined


@given(st.text(max_size=70))
def test_any_text_is_a_finite_quantity_or_one_line(text: str) -> None:
    found = read_quantity(text, "mm", spread=True)
    if isinstance(found, Quantity):
        assert math.isfinite(found.value)
    else:
        assert found.what
