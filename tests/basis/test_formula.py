"""The formula language: what it gives, what it refuses, and that the tree says the same as the text."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.formulas.formula import MAX_LENGTH, Formula, parse_formula
from evaluator.basis.formulas.reading import MAX_DEPTH
from evaluator.basis.formulas.tree import Value
from evaluator.basis.problem import Problem

VALUES = {"a": 6.0, "b": 2.0, "zero": 0.0, "word": "inlaid", "size": "1/4", "yes": True, "unseen": None}


def formula(text: str) -> Formula:
    found = parse_formula(text)
    assert isinstance(found, Formula), found
    return found


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("a / b", 3.0),
        ("a - b * 2 + 1", 3.0),
        ("-(a + b)", -8.0),
        ("+a", 6.0),
        ("min(a, b, 1)", 1.0),
        ("max(a, b)", 6.0),
        ("abs(b - a)", 4.0),
        ("sqrt(a + b + 1)", 3.0),
        ("1 < b <= 2", True),
        ("1 < b < 2", False),
        ("a == 6 and b != 3", True),
        ("a > 6 or not b > 6", True),
        ('word == "inlaid"', True),
        ("word != 'inlaid'", False),
        ('size in ["1/4", "1/8"]', True),
        ('size not in ["1/4", "1/8"]', False),
        ("yes and a", True),
        # Unknown: arithmetic is unknown, a comparison is False.
        ("a / unseen", None),
        ("a + nobody", None),
        ("unseen > 1", False),
        ("not unseen > 1", True),
        ('unseen == "inlaid"', False),
        ('unseen != "inlaid"', False),
        ('unseen in ["x"]', False),
        ('unseen not in ["x"]', False),
        ("unseen or a > 1", True),
        # A text beside a number has no order and is never equal.
        ("word == a", False),
        ("word < a", False),
        ("word + a", None),
        # No finite result.
        ("a / zero", None),
        ("sqrt(b - a)", None),
        ("a\n  + b", 8.0),
    ],
)
def test_value(text: str, value: Value) -> None:
    assert formula(text).value(VALUES) == value


@pytest.mark.parametrize(
    ("text", "code", "column"),
    [
        ("", "formula.empty", 1),
        ("  ", "formula.empty", 1),
        ("a" * (MAX_LENGTH + 1), "formula.too_long", MAX_LENGTH),
        ("-" * 400 + "a", "formula.too_deep", MAX_DEPTH + 1),
        ("(" * 220 + "a" + ")" * 220, "formula.too_deep", 1),
        ("a +", "formula.syntax", 3),
        ("a b", "formula.syntax", 3),
        ("a = b", "formula.not_allowed", 3),
        ("a % b", "formula.character", 3),
        ("a; b", "formula.character", 2),
        ("a\\b", "formula.character", 2),
        ("{a}", "formula.character", 1),
        ("lambda: 1", "formula.character", 7),
        ("1e999", "formula.number", 1),
        ("a + 0x10", "formula.number", 5),
        ("1_000", "formula.number", 1),
        ("010", "formula.number", 1),
        ("1.2.3", "formula.number", 1),
        ("2mm", "formula.number", 1),
        ("a / " + "9" * 310, "formula.large", 5),
        ("a / " + "9" * 310 + ".0", "formula.large", 5),
        ("a ** b", "formula.not_allowed", 3),
        ("a // b", "formula.not_allowed", 3),
        ("a is b", "formula.not_allowed", 3),
        ("a.real", "formula.not_allowed", 1),
        ("a[0]", "formula.not_allowed", 1),
        ("1 if a else b", "formula.not_allowed", 1),
        ("[a]", "formula.not_allowed", 1),
        ("a, b", "formula.not_allowed", 1),
        ("None", "formula.not_allowed", 1),
        ("True", "formula.not_allowed", 1),
        ("a in b", "formula.not_allowed", 6),
        ("a in [1]", "formula.not_allowed", 6),
        ("min(a, key=b)", "formula.not_allowed", 11),
        ("min(a, **b)", "formula.not_allowed", 1),
        ("[x for x in a]", "formula.not_allowed", 1),
        ("f'a'", "formula.not_allowed", 1),
        ("__import__('os')", "formula.function", 1),
        ("  eval(a)", "formula.function", 3),
        ("a.b()", "formula.function", 1),
        ("min(a)", "formula.arguments", 1),
        ("sqrt(a, b)", "formula.arguments", 1),
        ("'a'", "formula.text", 1),
        ("a + 'b'", "formula.text", 5),
        ("a < 'b'", "formula.text", 5),
        ("'a' == 'b'", "formula.text", 1),
        ("not 'a'", "formula.text", 5),
    ],
)
def test_refused_with_its_column(text: str, code: str, column: int) -> None:
    found = parse_formula(text)
    assert isinstance(found, Problem)
    assert (found.code, found.place and found.place.column) == (code, column)
    assert found.what_to_do


@pytest.mark.parametrize(
    ("text", "code"),
    [("a / zero", "formula.zero"), ("sqrt(b - a)", "formula.root"), ("a * 10 * big", "formula.not_finite")],
)
def test_why_there_is_no_number(text: str, code: str) -> None:
    found = formula(text).problem({**VALUES, "big": 1e308})
    assert found is not None
    assert found.code == code
    assert formula("a / b").problem(VALUES) is None
    assert formula("a / unseen").problem(VALUES) is None


def test_names_and_texts_that_it_reads() -> None:
    found = formula('a / b > 2 and word == "inlaid" and "1/4" != size or c in ["x", "y"]')
    assert found.names == {"a", "b", "word", "size", "c"}
    assert set(found.texts_compared()) == {("word", "inlaid"), ("size", "1/4"), ("c", "x"), ("c", "y")}


def test_conditions_and_numbers_are_told_apart() -> None:
    assert formula("not a > b").is_condition
    assert not formula("max(a, b)").is_condition
    assert formula("a > 1").holds(VALUES)
    assert not formula("unseen > 1").holds(VALUES)


def test_the_tree_is_json() -> None:
    tree = formula('1 < a <= 3 and style == "fiddle" or size in ["1/4"]').tree()
    assert json.loads(json.dumps(tree)) == [
        "or",
        [
            "and",
            ["and", ["<", 1.0, ["name", "a"]], ["<=", ["name", "a"], 3.0]],
            ["==", ["name", "style"], ["text", "fiddle"]],
        ],
        ["in", ["name", "size"], ["1/4"]],
    ]


def expressions() -> st.SearchStrategy[str]:
    numbers = st.integers(0, 20).map(str) | st.sampled_from(["a", "b", "zero"])
    return st.recursive(
        numbers,
        lambda inner: (
            st.builds("({} {} {})".format, inner, st.sampled_from("+-*/"), inner)
            | inner.map("-({})".format)
            | st.builds("{}({}, {})".format, st.sampled_from(["min", "max"]), inner, inner)
        ),
        max_leaves=12,
    )


@given(expressions())
def test_arithmetic_is_python_s(text: str) -> None:
    found = parse_formula(text)
    if isinstance(found, Problem):
        assert found.code == "formula.too_deep" or len(text) > MAX_LENGTH
        return
    names = {"a": 6.0, "b": 2.0, "zero": 0.0}
    try:
        expected = float(eval(text, {"min": min, "max": max}, names))
    except ZeroDivisionError:
        assert found.value(names) is None
        return
    value = found.value(names)
    assert isinstance(value, float)
    assert math.isclose(value, expected, abs_tol=1e-9)


@given(st.text(max_size=80))
def test_any_text_is_a_formula_or_one_problem(text: str) -> None:
    found = parse_formula(text)
    if isinstance(found, Formula):
        found.value({})
    else:
        assert str(found).count("\n") <= text.count("\n")


def test_half_of_a_letter_in_a_word_is_told_with_its_column() -> None:
    found = parse_formula('style == "\ud83c"')
    assert isinstance(found, Problem) and found.code == "formula.syntax" and found.place is not None
    assert found.place.column == 11
