"""Evaluation files: read whole, or every mistake in them at its place."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument
from evaluator.assessment.observing.case import age_of, read_case, read_kept, rubric_name_of
from evaluator.basis.document import Document, parse_document
from evaluator.basis.money import Money
from evaluator.basis.problem import Problem
from tests.assessment.small import check_of, rubric_of

RUBRIC = rubric_of(check_of("purfling"), check_of("wood"))
WHOLE: dict[str, Any] = {
    "format": 1,
    "rubric": "small",
    "title": "No. 7",
    "instrument": {"size": "3/4", "style": "fiddle", "tier": "intermediate", "about": "Žofie's", "year": 1911},
    "purpose": "trade_in",
    "asking": {"amount": "780,50", "currency": "EUR"},
    "ready_value": {"amount": 1200, "currency": "EUR"},
    "seen_by": "photos",
    "looker": "teacher",
    "observations": {"wood": "good", "purfling": {"outcome": "poor", "seen_by": "in_person"}},
}


def document(text: str) -> Document:
    found, problems = parse_document(text, "a.yaml")
    assert found is not None, problems
    return found


def test_a_whole_file() -> None:
    case, problems = read_case(RUBRIC, WHOLE)
    assert problems == ()
    assert case is not None
    assert (case.title, case.purpose, case.seen_by, case.looker) == ("No. 7", "trade_in", "photos", "teacher")
    assert case.asking == Money(Decimal("780.50"), "EUR")
    assert (case.instrument.size, case.instrument.age, case.instrument.about) == ("3/4", "over_100", "Žofie's")
    assert list(case.observations) == ["purfling", "wood"]
    assert [one.seen_by for one in (*case.observations["purfling"], *case.observations["wood"])] == [
        "in_person",
        "photos",
    ]


def test_defaults() -> None:
    case, problems = read_case(RUBRIC, {"rubric": "small"})
    assert case is not None and not problems
    assert (case.instrument.size, case.instrument.style, case.instrument.tier) == ("4/4", "classical", "student")
    assert (case.asking, case.instrument.age, case.observations) == (None, None, {})
    assert (case.title, case.instrument.about, case.purpose, case.seen_by) == ("", "", "buying", "in_person")
    assert Instrument("4/4", "classical", "student") == replace(case.instrument, strings=None)


@pytest.mark.parametrize(
    ("change", "part"),
    [
        ({"format": 2}, 'the format "2" is not known'),
        ({"rubric": "cello"}, 'for the rubric "cello"'),
        ({"colour": "red"}, 'unknown key "colour"'),
        ({"purpos": "buying"}, 'Did you mean "purpose"?'),
        ({"purpose": "fun"}, "Use buying or trade_in or quote."),
        ({"instrument": "violin"}, "instrument must be a list of keys and values"),
        ({"instrument": {"size": "5/4"}}, '"5/4" is not one of the choices'),
        ({"instrument": {"tier": "begginer"}}, '"begginer" is not one of the choices'),
        ({"instrument": {"year": "19th century"}}, "is not a year"),
        ({"instrument": {"year": True}}, "is not a year"),
        ({"instrument": {"about": ["a"]}}, "this must be text"),
        ({"title": "x" * 401}, "longer than 400 letters"),
        ({"title": "a\x00b"}, "title: a sign stands in it that is no letter"),
        ({"asking": 780}, "a price needs an amount and a currency"),
        ({"asking": {"currency": "EUR"}}, "a price needs an amount and a currency"),
        ({"asking": {"amount": -3, "currency": "EUR"}}, '"-3" is less than nothing'),
        ({"asking": {"amount": 0, "currency": "EUR"}}, '"0" is no price'),
        ({"asking": {"amount": float("nan"), "currency": "EUR"}}, '"nan" is not an amount'),
        ({"asking": {"amount": "1e999", "currency": "EUR"}}, '"1e999" is not an amount'),
        ({"asking": {"amount": True, "currency": "EUR"}}, '"True" is not an amount'),
        ({"asking": {"amount": 780, "currency": "euro"}}, '"euro" is not a currency'),
        ({"asking": {"amount": 780, "currency": "USD"}}, "different currencies"),
        ({"observations": ["wood"]}, "observations must be a list of keys and values"),
        ({"observations": {"wod": "good"}}, 'Did you mean "wood"?'),
        ({"observations": {"wood": "god"}}, 'Did you mean "good"?'),
        ({"looker": 3}, "Use student or teacher or luthier."),
    ],
)
def test_one_sentence_about_each_mistake(change: dict[str, Any], part: str) -> None:
    case, problems = read_case(RUBRIC, WHOLE | change)
    assert case is None
    assert [part in str(one) for one in problems] == [True], problems


def test_a_sign_that_is_no_letter_is_told_at_its_line() -> None:
    file = document('rubric: small\ninstrument: {about: "a\\u0000b"}\n')
    _, (told,) = read_case(RUBRIC, file.data, file)
    assert told.place is not None and (told.place.line, told.place.column) == (2, 21)


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"asking": {"amount": 780, "currency": "euro"}}, "asking.currency"),
        ({"asking": {"amount": -3, "currency": "EUR"}}, "asking.amount"),
        ({"asking": 780}, "asking"),
        ({"ready_value": {"amount": 780, "currency": "eur"}}, "ready_value.currency"),
        ({"instrument": {"size": "5/4"}}, "instrument.size"),
        ({"instrument": {"style": "jazz"}}, "instrument.style"),
        ({"instrument": {"tier": "begginer"}}, "instrument.tier"),
        ({"instrument": {"year": "19th century"}}, "instrument.year"),
        ({"instrument": {"age": "old"}}, "instrument.age"),
        ({"instrument": {"about": ["a"]}}, "instrument.about"),
        ({"instrument": "violin"}, "instrument"),
        ({"seen_by": "radio"}, "seen_by"),
        ({"looker": 3}, "looker"),
        ({"title": "x" * 401}, "title"),
        ({"format": 2}, "format"),
        ({"rubric": "cello"}, "rubric"),
        ({"purpose": "fun"}, "purpose"),
    ],
)
def test_each_mistake_says_where(change: dict[str, Any], where: str) -> None:
    _, problems = read_case(RUBRIC, WHOLE | change)
    assert [one.where for one in problems] == [where]


@pytest.mark.parametrize("data", [None, "", {}, [], 3, "violin", [1]])
def test_what_is_no_evaluation(data: object) -> None:
    case, problems = read_case(RUBRIC, data)
    assert case is None
    assert len(problems) == 1


TEN_MISTAKES = """\
format: 7
rubric: small
purpose: fun
asking: {amount: much, currency: USD}
ready_value: {amount: 100, currency: dollars}
instrument:
  size: 9/9
  stile: fiddle
observations:
  wood: god
  purflin: good
  purfling: {outcome: good, tol: caliper}
colour: red
looker: nobody
"""


def test_ten_mistakes_come_at_once_in_the_order_of_the_file() -> None:
    file = document(TEN_MISTAKES)
    case, problems = read_case(RUBRIC, file.data, file)
    assert case is None
    assert [one.place.line for one in problems if one.place] == [1, 3, 4, 5, 7, 8, 10, 11, 12, 13, 14]
    at = {one.place.line: one.place.column for one in problems if one.place}
    assert (at[8], at[13]) == (3, 1), "an unknown key is told at the key"
    assert (at[7], at[14]) == (9, 9), "anything else at its value"
    lines = [str(one) for one in problems]
    assert lines[0] == 'a.yaml:1:9 format: the format "7" is not known. Write format: 1.'
    assert lines[7].startswith('a.yaml:11:3 check "purflin": there is no such check. Did you mean "purfling"?')


@pytest.mark.parametrize(
    ("text", "name"), [("rubric: violin\n", "violin"), ("format: 1\n", None), ("rubric: 3\n", None)]
)
def test_the_rubric_is_named_in_the_file(text: str, name: str | None) -> None:
    found = rubric_name_of(document(text))
    assert isinstance(found, Problem) if name is None else found == name


@pytest.mark.parametrize(("text", "code"), [("{}\n", "case.empty"), ("rubric: ' '\n", "case.no_rubric")])
def test_a_file_that_names_no_rubric_says_what_is_wrong(text: str, code: str) -> None:
    found = rubric_name_of(document(text))
    assert isinstance(found, Problem)
    assert found.code == code


def test_of_what_is_kept_the_answers_that_can_be_read_count() -> None:
    answers = {"wood": ["good", "god"], "purfling": ["pour", "poor"]}
    case, problems, wrong = read_kept(RUBRIC, WHOLE | {"observations": answers})
    assert case is not None and problems == ()
    assert {name: [one.outcome for one in seen] for name, seen in case.observations.items()} == {"wood": ["good"]}
    assert list(wrong) == ["purfling"], "where the first, which stands, cannot be read, none counts"
    assert [one.code for one in wrong["purfling"]] == ["observation.unknown_outcome"]
    none, told, _ = read_kept(RUBRIC, WHOLE | {"looker": 3})
    assert none is None
    assert [one.where for one in told] == ["looker"]


KEYS = st.sampled_from(
    (*WHOLE, "a\nb", "size", "tier", "year", "amount", "currency", "wood", "purfling", "reading", "outcome")
)
LEAVES = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(("good", "3 mm", "a\nb"))
)
ANYTHING = st.recursive(LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4))


@given(st.dictionaries(KEYS, ANYTHING, max_size=6))
def test_whatever_is_sent_is_read_or_refused(data: dict[str, object]) -> None:
    case, problems = read_case(RUBRIC, data)
    assert (case is None) == bool(problems or not data)
    assert all("\n" not in str(one) and one.what.strip() for one in problems)


@pytest.mark.parametrize(("year", "age"), [(None, None), (2020, "up_to_40"), (1980, "40_to_100"), (1890, "over_100")])
def test_age(year: int | None, age: str | None) -> None:
    assert age_of(year) == age


@pytest.mark.parametrize(("typed", "amount"), [("1,500", "1500"), ("1500,50", "1500.50"), ("780", "780")])
def test_a_price_may_have_thousands_marks(typed: str, amount: str) -> None:
    asking = {"amount": typed, "currency": "EUR"}
    case, problems = read_case(RUBRIC, {**WHOLE, "asking": asking})
    assert problems == () and case is not None and case.asking is not None
    assert case.asking.amount == Decimal(amount)
