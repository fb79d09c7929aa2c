"""The list of looks for a visit, by the minutes there are, the way of seeing and the tools at hand."""

import pytest

from evaluator.assessment.looking.next_checks import measurable
from evaluator.result.evaluation import MOST_LOOKS, MOST_PHOTO_LOOKS, Evaluation, planned_looks, turning_looks
from tests.papers.cases import FEW, content, evaluation_of

NO_TOOLS: frozenset[str] = frozenset()


@pytest.fixture(scope="module")
def few() -> Evaluation:
    return evaluation_of(content(FEW) | {"looker": "luthier"}, draws=200)


def minutes_of(evaluation: Evaluation, names: tuple[str, ...]) -> float:
    return sum(evaluation.rubric.checks[name].minutes for name in names)


def test_looks_fit_into_the_minutes_and_what_was_seen_is_not_asked_again(few: Evaluation) -> None:
    found = planned_looks(few, 10.0, "in_person", None)
    assert len(found) == len(set(found)) > 3
    assert minutes_of(few, found) <= 10.0
    assert not set(found) & set(few.case.observations)


def test_photographs_are_gone_through_in_six_to_eight_looks(few: Evaluation) -> None:
    """Three minutes in the hand are few looks; of photographs at least six are taken, however long they take."""
    short, long = (planned_looks(few, minutes, "photos", NO_TOOLS) for minutes in (3.0, 60.0))
    assert 6 <= len(short) <= len(long) == MOST_PHOTO_LOOKS == 8
    assert len(planned_looks(few, None, "photos", NO_TOOLS)) == 8


def test_a_visit_of_hours_has_forty_looks_and_one_without_limit_the_whole_usual_look(few: Evaluation) -> None:
    usual = {name for name, one in few.rubric.checks.items() if one.usual} - set(few.case.observations)
    assert len(planned_looks(few, 600.0, "in_person", None)) == MOST_LOOKS == 40
    whole = planned_looks(few, None, "in_person", None)
    assert len(whole) > MOST_LOOKS and set(whole) <= usual


def test_what_asks_for_a_tool_that_is_not_there_is_left_out(few: Evaluation) -> None:
    checks = few.rubric.checks
    without, with_rule = (
        planned_looks(few, None, "in_person", tools) for tools in (NO_TOOLS, frozenset({"steel_rule"}))
    )
    assert all(checks[name].measure is None for name in without)
    measured = [one for name in with_rule if (one := checks[name].measure)]
    assert measured and all("steel_rule" in one.tools for one in measured)


def test_looks_that_could_turn_the_advice_come_as_the_decision_ranks_them(few: Evaluation) -> None:
    ranked = [one.check for one in few.verdict.could_change]
    assert list(turning_looks(few, None)) == ranked
    checks = few.rubric.checks
    assert list(turning_looks(few, NO_TOOLS)) == [name for name in ranked if measurable(checks[name], NO_TOOLS)]
