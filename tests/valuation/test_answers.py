"""What was answered of a check and how surely: words, readings on either side of a standard, and looks that differ."""

from typing import Any

import pytest

from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.rubric import Rubric
from evaluator.valuation.worth.answers import Answer, answers_of, general_worth, seen_share
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

SEEN_BY = {"in_person": 0.9, "photos": 0.6, "seller_statement": 0.5}
LENGTH = {"measure": {"quantity": "length", "unit": "mm", "tools": ("steel_rule",)}, "seen_by": SEEN_BY}
RUBRIC = rubric_of(
    check_of("wood", seen_by=SEEN_BY),
    check_of("length", **LENGTH, standard={"low": 325.0, "high": 332.0}),
    check_of("width", **LENGTH, standard={"high": 210.0}),
    check_of("depth", **LENGTH),
    check_of(
        "one_sided", **LENGTH, standard={"low": 325.0, "high": 332.0}, outcomes={"meets": SOUND, "too_high": FAULT}
    ),
    check_of("for_student", seen_by=SEEN_BY, relevant_if='tier == "professional"'),
    check_of("for_fiddle", seen_by=SEEN_BY, relevant_if='style == "fiddle"'),
)


def answered(rubric: Rubric = RUBRIC, **answers: Any) -> dict[str, Answer]:
    case = case_of(rubric, answers)
    return answers_of(rubric, case, assess(rubric, case, draws=50))


def told(check: str, answer: Any) -> tuple[str, float] | None:
    found = answered(**{check: answer}).get(check)
    return None if found is None else (found.name, found.sure)


@pytest.mark.parametrize(
    ("answer", "name", "sure"),
    [
        ("poor", "poor", 0.9),
        ({"outcome": "poor", "seen_by": "photos"}, "poor", 0.6),
        # The most reliable look counts; one that says the same adds nothing, one that differs leaves what it misses.
        ([{"outcome": "poor", "seen_by": "photos"}, "good"], "good", 0.9 * 0.4),
        (["good", {"outcome": "good", "seen_by": "photos"}], "good", 0.9),
        (["good", {"outcome": "poor", "seen_by": "photos"}, {"outcome": "poor", "seen_by": "seller_statement"}],
         "good", 0.9 * 0.4 * 0.5),
        (["good", {"outcome": "cannot_tell", "seen_by": "photos"}], "good", 0.9),
    ],
)  # fmt: skip
def test_the_surest_look_counts_less_what_others_say_against_it(answer: Any, name: str, sure: float) -> None:
    assert told("wood", answer) == (name, pytest.approx(sure))


@pytest.mark.parametrize(
    ("check", "reading", "name", "of_it"),
    [
        ("length", "328.5 mm", "meets", 1.0),
        ("length", "320 mm", "too_low", 1.0),
        ("length", "340 mm", "too_high", 1.0),
        ("length", "332 mm", "meets", 0.5),  # on the very limit it is as likely within
        ("length", "325 mm", "meets", 0.5),
        ("width", "205 mm", "meets", 1.0),
        ("width", "215 mm", "too_high", 1.0),
        ("width", "210 mm", "meets", 0.5),
    ],
)
def test_a_reading_says_the_side_it_lies_on_as_far_as_it_is_likely(
    check: str, reading: str, name: str, of_it: float
) -> None:
    assert told(check, reading) == (name, pytest.approx(0.9 * of_it, abs=1e-4))


@pytest.mark.parametrize(
    ("check", "answer"),
    [("wood", "cannot_tell"), ("depth", "40 mm"), ("one_sided", "300 mm"), ("for_fiddle", "good")],
)
def test_what_tells_nothing_is_no_answer(check: str, answer: str) -> None:
    """Nobody could tell; no standard; a side that is none of its outcomes; not asked of such an instrument."""
    assert told(check, answer) is None


def test_what_is_set_aside_for_the_standard_held_to_still_says_what_is_there() -> None:
    assert told("for_student", "poor") == ("poor", 0.9)


def test_who_names_a_fault_has_seen_one() -> None:
    """Worked by hand: of a doubt of 0.4 a third stays."""
    wood = RUBRIC.checks["wood"]
    assert Answer(wood, "poor", 0.6).borne_out == pytest.approx(1 - 0.4 / 3)
    assert (Answer(wood, "poor", 1.0).borne_out, Answer(wood, "poor", 0.0).borne_out) == (1.0, pytest.approx(2 / 3))


def test_worth_without_a_standard_is_as_written_or_by_class() -> None:
    outcomes = rubric_of(check_of("it", outcomes={"a": SOUND, "b": FAULT, "c": FAULT | {"worth": 0.0}})).checks["it"]
    assert [general_worth(one) for one in outcomes.outcomes.values()] == [1.0, 0.25, 0.0]


def test_the_share_that_was_seen_goes_by_weight_strength_and_reliability() -> None:
    """Worked by hand: weights 3 and 1 by strengths 1 and 2 are 3 and 2; the first seen to 0.9 is 2.7 of 5."""
    rubric = rubric_of(
        check_of("heavy", weight=3.0, seen_by=SEEN_BY, evidence_of={"soundness": 1.0}),
        check_of("light", weight=1.0, seen_by=SEEN_BY, evidence_of={"soundness": 2.0}),
        check_of("other", weight=5.0, evidence_of={"tone": 3.0}),
        check_of("fiddle", weight=5.0, evidence_of={"soundness": 3.0}, styles=("fiddle",)),
    )
    domains = {"soundness": 1.0}
    both = case_of(rubric, {"heavy": "good", "light": {"outcome": "good", "seen_by": "photos"}})
    assert seen_share(rubric, case_of(rubric, {"heavy": "good"}), domains, 1.0) == pytest.approx(2.7 / 5)
    assert seen_share(rubric, both, domains, 1.0) == pytest.approx((2.7 + 1.2) / 5)
    assert seen_share(rubric, both, domains, 0.9) == pytest.approx(3.9 / 4.5)
    assert seen_share(rubric, both, domains, 0.5) == 1.0, "never more than all"
    assert seen_share(rubric, both, {}, 1.0) == 0.0
