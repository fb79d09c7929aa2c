"""Intervals hold every value that can occur, and find the divisions that can go wrong."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.formulas.formula import Formula, parse_formula
from evaluator.rubric.sense.formulas import _Walk, dangers
from evaluator.rubric.written.checks import Check


def check(name: str, low: float | None, high: float | None, quantity: str = "length") -> Check:
    measure = {"quantity": quantity, "unit": "mm", "at_least": low, "at_most": high}
    return Check.model_validate({"check": name, "part": "p", "ask": "?", "measure": measure})


CHECKS = {
    "a": check("a", 2.0, 5.0),
    "b": check("b", -1.0, 3.0),
    "c": check("c", None, None),
    "t": check("t", None, None, "temperature"),
    "n": Check.model_validate({"check": "n", "part": "p", "ask": "?", "count": {"of": "things", "at_least": 1}}),
}


def formula(text: str) -> Formula:
    found = parse_formula(text)
    assert isinstance(found, Formula), found
    return found


@pytest.mark.parametrize(
    ("text", "zero", "root"),
    [
        ("b / a", (), False),
        ("a / b", ("b",), False),
        ("a / c", ("c",), False),
        ("a / (c + 1)", (), False),
        ("a / (t + 1)", ("t",), False),
        ("a / n", (), False),
        ("a / (a - b)", ("a", "b"), False),
        ("a / (a - 1)", (), False),
        ("a / (a - a + 1)", ("a",), False),  # too careful: the same name twice
        ("a / max(b, 1)", (), False),
        ("a / min(b, 1)", ("b",), False),
        ("a / abs(b - 4)", (), False),
        ("a / (b * b)", ("b",), False),
        ("1 / derived", (), False),
        ("1 / (derived - 1)", ("derived",), False),
        ("sqrt(a)", (), False),
        ("sqrt(b)", (), True),
        ("a / year", (), False),
        ("a > 1 and 1 / b > 2", ("b",), False),
        ("a / nowhere", (), False),
    ],
)
def test_dangers(text: str, zero: tuple[str, ...], root: bool) -> None:
    derived = {"derived": formula("a / 2")}
    checks = {
        **CHECKS,
        "derived": Check.model_validate({"check": "derived", "part": "p", "ask": "?", "formula": "a / 2"}),
    }
    assert dangers(formula(text), checks, derived) == (zero, root)


def expressions() -> st.SearchStrategy[str]:
    return st.recursive(
        st.sampled_from(["a", "b", "1", "2.5", "0"]),
        lambda inner: (
            st.builds("({} {} {})".format, inner, st.sampled_from("+-*/"), inner)
            | inner.map("abs({})".format)
            | inner.map("-({})".format)
            | st.builds("{}({}, {})".format, st.sampled_from(["min", "max"]), inner, inner)
        ),
        max_leaves=8,
    )


@given(expressions(), st.floats(2, 5), st.floats(-1, 3))
def test_every_value_lies_in_the_interval(text: str, a: float, b: float) -> None:
    found = parse_formula(text)
    if not isinstance(found, Formula):
        return
    walk = _Walk(CHECKS, {})
    interval = walk.interval(found.node)
    value = found.value({"a": a, "b": b})
    if not isinstance(value, float):
        assert walk.zero or "0" in text or not math.isfinite(interval.high)
        return
    slack = 1e-9 * max(1.0, abs(value))
    assert interval.low - slack <= value <= interval.high + slack
