"""What a shop that works in inches and ounces reads of a result that is kept in mm and g."""

from typing import Any

import pytest

from evaluator.assessment.reasons.facts import SeenSign
from evaluator.basis.units import METRIC, ShownUnits
from evaluator.result.making.result import result_of
from evaluator.result.model.result import Result
from evaluator.result.model.score import Cause
from evaluator.result.shown import in_shown
from tests.papers.cases import evaluation_of

INCHES = ShownUnits("in", "oz")
ANSWERS: dict[str, Any] = {
    "action_high": {"reading": ["5.5 mm", "1/4 in", "5,6"], "tool": "steel_rule"},
    "weight_without_chin_rest": {"reading": "15 oz", "tool": "kitchen_scale"},
    "purfling": "painted",
}
KEPT: Result = result_of(evaluation_of({"rubric": "violin", "observations": ANSWERS}))


def answers(result: Result) -> dict[str, list[str]]:
    return {one.check: [seen.answer for seen in one.observations] for one in result.checks if one.observations}


def test_a_shop_in_mm_and_g_reads_it_as_it_was_kept() -> None:
    assert in_shown(KEPT, METRIC) is KEPT


@pytest.mark.parametrize(
    ("shown", "action", "weight"),
    [
        (METRIC, "5.5 mm, 1/4 in, 5,6", "15 oz"),
        (INCHES, "0.217 in, 1/4 in, 0.22 in", "15 oz"),
        (ShownUnits("in", "g"), "0.217 in, 1/4 in, 0.22 in", "15 oz"),
        (ShownUnits("mm", "oz"), "5.5 mm, 1/4 in, 5,6", "15 oz"),
    ],
)
def test_what_was_typed_in_the_shops_unit_stays_to_the_letter(shown: ShownUnits, action: str, weight: str) -> None:
    found = answers(in_shown(KEPT, shown))
    assert found["action_high"] == [action]
    assert found["weight_without_chin_rest"] == [weight]
    assert found["purfling"] == answers(KEPT)["purfling"], "words have no unit"


def test_figures_are_brought_over_and_what_has_no_unit_is_not() -> None:
    found = in_shown(KEPT, INCHES)
    (before, after) = (KEPT.conformity["action_high"], found.conformity["action_high"])
    assert before.unit == "mm" and after.unit == "in"
    assert after.value == pytest.approx(before.value / 25.4)
    assert after.standard_uncertainty == pytest.approx(before.standard_uncertainty / 25.4)
    assert after.probability == before.probability
    assert (found.score, found.plan, found.verdict) == (KEPT.score, KEPT.plan, KEPT.verdict)


def test_a_sign_of_a_cause_is_told_as_its_answer_is() -> None:
    before, after = KEPT.causes, in_shown(KEPT, INCHES).causes
    told = {name: signs_of(cause) for name, cause in after.items()}
    assert told["neglect"]["action_high"] == ("0.217 in", "1/4 in", "0.22 in")
    assert signs_of(before["neglect"])["action_high"] == ("5.5 mm", "1/4 in", "5,6")
    assert {name: one.probability for name, one in after.items()} == {n: one.probability for n, one in before.items()}


def signs_of(cause: Cause) -> dict[str, tuple[str, ...]]:
    """The readings of each sign that was measured."""
    signs = [one for one in cause.signs if isinstance(one, SeenSign) and one.answered and one.answered.readings]
    return {one.check: one.answered.readings for one in signs if one.answered}
