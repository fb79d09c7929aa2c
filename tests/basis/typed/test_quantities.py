"""The reader of typed numbers: what it takes, what it refuses in one sentence, and that it never changes the size."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.problem import Problem
from evaluator.basis.typed.quantities import Quantity, read_quantity, read_whole, without_groups


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
        ("½", "mm", '"½" is not a number. Enter a length, for example 54.5 mm.'),
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


@pytest.mark.parametrize(("text", "value"), [("3", 3), (3, 3), ("0", 0), ("-2", -2), (2.0, 2)])
def test_whole(text: object, value: int) -> None:
    assert read_whole(text) == value


@pytest.mark.parametrize("text", ["2.5", "300%", "three", "3 mm", True, "1/3"])
def test_not_whole(text: object) -> None:
    assert isinstance(read_whole(text), Problem)


@given(st.decimals(min_value=-100000, max_value=100000, places=3), st.sampled_from([",", "."]))
def test_what_is_typed_is_what_is_read(number: object, mark: str) -> None:
    found = read_quantity(str(number).replace(".", mark) + " mm", "mm")
    assert isinstance(found, Quantity)
    assert found.value == float(str(number))


@given(st.text(max_size=70))
def test_any_text_is_a_finite_quantity_or_one_line(text: str) -> None:
    found = read_quantity(text, "mm", spread=True)
    if isinstance(found, Quantity):
        assert math.isfinite(found.value)
    else:
        assert found.what


@pytest.mark.parametrize(
    ("text", "bare"),
    [
        ("1,500", "1500"),
        ("12,345,678.90", "12345678.90"),
        ("-1,500", "-1500"),
        ("2,5", "2,5"),
        ("12,50", "12,50"),
        ("1500,25", "1500,25"),
        ("1,500,5", "1,500,5"),
        ("a lot", "a lot"),
        ("", ""),
    ],
)
def test_thousands_marks_of_a_sum_are_taken_away(text: str, bare: str) -> None:
    assert without_groups(text) == bare
