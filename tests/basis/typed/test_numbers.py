"""Percent, shares, factors and whole numbers: what is read, and what is asked back."""

import pytest

from evaluator.basis.problem import Problem
from evaluator.basis.typed.numbers import read_factor, read_percent, read_share, read_whole


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("19", 19),
        ("19 %", 19),
        ("19,5%", 19.5),
        ("0.5 %", 0.5),
        ("0", 0),
        ("1", 1),
        ("100", 100),
        (12.5, 12.5),
        ("１９％", 19),
    ],
)
def test_percent(text: object, value: float) -> None:
    assert read_percent(text) == value


@pytest.mark.parametrize("text", ["0,19", "0.8", ".5"])
def test_a_part_of_one_where_percent_are_asked_is_asked_back(text: str) -> None:
    found = read_percent(text)
    assert isinstance(found, Problem) and found.code == "number.two_readings"
    first, second = found.what_to_do.removeprefix("Write ").removesuffix(".").split(" or ")
    assert read_percent(first) == pytest.approx(100 * (read_percent(second) or 0))  # type: ignore[operator]


@pytest.mark.parametrize(
    ("text", "value"), [("0.8", 0.8), ("0,8", 0.8), ("80 %", 0.8), ("1", 1), ("0", 0), (0.75, 0.75)]
)
def test_share(text: object, value: float) -> None:
    assert read_share(text) == pytest.approx(value)


@pytest.mark.parametrize(("text", "told"), [("80", "Write 80 % or 0.8."), ("1.5", "Write 1.5 % or 0.015.")])
def test_percent_where_a_part_of_one_is_asked_are_asked_back(text: str, told: str) -> None:
    found = read_share(text)
    assert isinstance(found, Problem) and found.what_to_do == told


@pytest.mark.parametrize(("text", "value"), [("1.1", 1.1), ("1,125", 1.125), ("110 %", 1.1), ("2", 2), (0.5, 0.5)])
def test_factor(text: object, value: float) -> None:
    assert read_factor(text, least=0.2, most=5) == pytest.approx(value)


@pytest.mark.parametrize("read", [read_percent, read_share, read_factor])
@pytest.mark.parametrize(
    "text", ["", "x", "-1", "nan", "1e1", "1 000", "1.000,5", True, None, "1\x00", "9" * 40, "½ of it"]
)
def test_no_number(read: object, text: object) -> None:
    found = read(text)  # type: ignore[operator]
    assert isinstance(found, Problem) and found.what_to_do


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("3", 3),
        (3, 3),
        ("0", 0),
        ("-2", -2),
        (2.0, 2),
        ("2.0", 2),
        ("1.450", 1450),
        ("1,450", 1450),
        ("1 450", 1450),
        ("３", 3),
    ],
)
def test_whole(text: object, value: int) -> None:
    assert read_whole(text) == value


@pytest.mark.parametrize("text", ["2.5", "300%", "three", "3 mm", True, "1/3", "", "1450.000", None])
def test_not_whole(text: object) -> None:
    assert isinstance(read_whole(text), Problem)


def test_bounds_of_a_count() -> None:
    assert getattr(read_whole("240", least=1, most=24), "code", "") == "number.outside"
