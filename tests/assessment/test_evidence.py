"""What the observations of one check say of its outcomes, before anything else is known."""

from dataclasses import replace
from typing import Any

import pytest

from evaluator.assessment.believing.evidence import Evidence, Value, evidence_of, values_of
from evaluator.assessment.believing.terms import Term, term_of
from evaluator.assessment.believing.worth import worth_moments
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

LENGTH = {"quantity": "length", "unit": "mm", "tools": ("steel_rule",)}
ALIKE = {"too_low": FAULT | {"worth": 0.2}, "meets": SOUND, "too_high": FAULT | {"worth": 0.4}}
RUBRIC = rubric_of(
    check_of("neck", measure=LENGTH, standard={"low": 129.0, "high": 131.0}, outcomes=ALIKE),
    check_of("gap", measure=LENGTH, standard={"high": 0.0}, outcomes=ALIKE),
    check_of("twice", formula="neck * 2", unit="mm", standard={"high": 262.0}),
    check_of("of_twice", formula="twice / gap", unit="ratio", standard={"high": 4.0}),
    check_of("fixed", formula="2 * 3", unit="ratio", standard={"high": 4.0}),
)


def term(name: str) -> Term:
    case = case_of(RUBRIC)
    return term_of(RUBRIC, RUBRIC.checks[name], case.instrument)


def evidence(name: str, *answers: Any, value: Value | None = None) -> Evidence:
    case = case_of(RUBRIC, {name: list(answers)} if answers else {})
    return evidence_of(RUBRIC.checks[name], term(name), case.observations.get(name, ()), value)


def test_a_side_without_a_slope_is_worth_what_its_outcome_says() -> None:
    """A limit at nought gives no width to slope over. Half of the reading's mass lies beyond it."""
    found = evidence("gap", value=Value(0.0, 0.1, 1.0)).moments
    assert found is not None
    low, meets, high = found
    assert (low.share, low.first, low.second) == (0.0, 0.0, 0.0), "nothing is too low where there is no lower limit"
    assert (meets.share, meets.first, meets.second) == pytest.approx((0.5, 0.5, 0.5))
    assert (high.share, high.first, high.second) == pytest.approx((0.5, 0.2, 0.08))


def test_an_exact_value_on_a_limit_meets_it() -> None:
    found = evidence("neck", value=Value(131.0, 0.0, 1.0)).moments
    assert found is not None
    assert [one.share for one in found] == [0.0, 1.0, 0.0]
    beyond = evidence("neck", value=Value(131.01, 0.0, 1.0)).moments
    assert beyond is not None
    assert [one.share for one in beyond] == [0.0, 0.0, 1.0]


@pytest.mark.parametrize(("reliability", "signs"), [(0.0, 0), (0.4, 1)])
def test_a_reading_that_shows_nothing_is_no_evidence(reliability: float, signs: int) -> None:
    found = evidence("neck", value=Value(140.0, 0.5, reliability))
    assert len(found.signs) == signs
    assert (found.value is None) == (signs == 0)


@pytest.mark.parametrize(("answers", "clash"), [(("too_low", "too_high"), True), (("too_low", "too_low"), False)])
def test_answers_that_name_two_outcomes_clash(answers: tuple[str, ...], clash: bool) -> None:
    assert evidence("neck", *answers).clash is clash


def test_a_reading_and_a_word_against_it_clash() -> None:
    assert evidence("neck", "too_low", value=Value(140.0, 0.5, 0.9)).clash
    assert not evidence("neck", "too_high", value=Value(140.0, 0.5, 0.9)).clash


def test_what_follows_from_readings_is_worked_out_step_by_step() -> None:
    case = case_of(RUBRIC, {"neck": "130 mm", "gap": "65 mm"})
    found = values_of(RUBRIC, case, tuple(RUBRIC.checks))
    assert found.keys() == {"neck", "gap", "twice", "of_twice"}, "a formula that asks for nothing has no reading"
    assert (found["twice"].value, found["of_twice"].value) == (260.0, 4.0)
    assert found["twice"].u == pytest.approx(2 * found["neck"].u)
    uncounted = values_of(RUBRIC, case, ("neck", "of_twice"))
    assert uncounted.keys() == {"neck"}, "what does not count is no step to what does"
    nought = values_of(RUBRIC, case_of(RUBRIC, {"neck": "130 mm", "gap": "0 mm"}), tuple(RUBRIC.checks))
    assert "of_twice" not in nought


def test_a_derived_value_is_as_reliable_as_its_weakest_reading() -> None:
    rubric = replace(
        RUBRIC,
        checks=RUBRIC.checks
        | {
            name: RUBRIC.checks[name].model_copy(update={"seen_by": {"in_person": share}})
            for name, share in (("neck", 0.9), ("gap", 0.6))
        },
    )
    case = case_of(rubric, {"neck": "130 mm", "gap": "65 mm"})
    found = values_of(rubric, case, tuple(rubric.checks))
    assert found["of_twice"].reliability == pytest.approx(0.6)


def test_the_moments_of_an_exact_value() -> None:
    points = ((0.0, 0.0), (1.0, 1.0))
    assert worth_moments(points, 0.3, 0.0, 0.0, 1.0) == pytest.approx((1.0, 0.3, 0.09))
    assert worth_moments(points, 0.3, 0.0, 0.3, 0.3) == pytest.approx((1.0, 0.3, 0.09)), "both ends are inside"
    outside = worth_moments(points, 1.3, 0.0, 0.0, 1.0)
    assert (outside, outside.mean, outside.variance) == ((0.0, 0.0, 0.0), 0.0, 0.0)
