"""Findings: how sure, whether the tier asks for them, in what order, and what the work cures."""

from typing import Any

import pytest

from evaluator.assessment.model import Assessment
from evaluator.assessment.scoring.bites import MOST
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.findings import level_of
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

SURE = {"in_person": 1.0, "photos": 0.5}
CURED = FAULT | {"inherent": False, "cured_by": ("mend",)}


def judged(checks: list[dict[str, Any]], answers: dict[str, Any]) -> Assessment:
    jobs = ({"job": "mend", "leaves": 0.9}, {"job": "polish", "leaves": 1.0, "urgency": "cosmetic"})
    rubric = rubric_of(*checks, jobs=jobs)
    return assess(rubric, case_of(rubric, answers), draws=20_000)


def one(outcomes: dict[str, Any], **keys: Any) -> list[dict[str, Any]]:
    return [check_of("it", outcomes=outcomes, seen_by=SURE) | keys]


@pytest.mark.parametrize(
    ("probability", "level"),
    [
        (1.0, "confirmed"),
        (0.95, "confirmed"),
        (0.94, "probable"),
        (0.5, "probable"),
        (0.49, "possible"),
        (0.05, "possible"),
        (0.049, None),
        (0.0, None),
    ],
)
def test_levels(probability: float, level: str | None) -> None:
    assert level_of(probability) == level


def test_of_what_is_as_sure_the_weightier_comes_first_and_of_equals_that_of_the_rubric() -> None:
    checks = [
        check_of(name, outcomes={"good": SOUND, "poor": FAULT}, seen_by=SURE, weight=weight)
        for name, weight in (("edge", 1.0), ("neck", 5.0), ("scroll", 1.0))
    ]
    found = judged(checks, dict.fromkeys(("edge", "neck", "scroll"), "poor"))
    assert [finding.check for finding in found.findings] == ["neck", "edge", "scroll"]


@pytest.mark.parametrize(
    ("outcome", "required", "urgency"),
    [
        (CURED, True, "to_standard"),
        (CURED | {"urgency": "to_play_safely"}, True, "to_play_safely"),
        (CURED | {"urgency": "recommended"}, False, "recommended"),
        (CURED | {"urgency": "can_wait"}, False, "can_wait"),
        (CURED | {"cured_by": ("polish",)}, False, "cosmetic"),
        (FAULT, True, "to_standard"),
        (CURED | {"class": "disqualifying"}, True, "to_standard"),
    ],
)
def test_what_the_standard_asks_for(outcome: dict[str, Any], required: bool, urgency: str) -> None:
    found = judged(one({"good": SOUND, "poor": outcome}), {"it": "poor"})
    (finding,) = (*found.findings, *found.disqualifying)
    assert (finding.level, finding.required, finding.urgency) == ("confirmed", required, urgency)
    assert (finding.class_ == "disqualifying") == (finding in found.disqualifying)


@pytest.mark.parametrize(
    ("outcome", "seen_by", "after"),
    [
        (CURED, "in_person", 0.9),
        (CURED | {"urgency": "recommended"}, "in_person", 0.25),
        (FAULT, "in_person", 0.25),
        (CURED | {"class": "disqualifying"}, "in_person", 0.9),
    ],
)
def test_worth_after_the_work(outcome: dict[str, Any], seen_by: str, after: float) -> None:
    """A cure leaves 0.9; what is only recommended, or inherent, stays."""
    found = judged(one({"good": SOUND, "poor": outcome}), {"it": {"outcome": "poor", "seen_by": seen_by}})
    assert found.beliefs["it"].worth_after == pytest.approx(after)
    left = 100 * (1 - MOST / 15 * (1 - after))
    assert found.score_after.expected == pytest.approx(left)
    assert found.worlds.score_after.mean() == pytest.approx(left)


def test_a_fault_that_is_only_possible_is_not_counted_on_to_be_cured() -> None:
    found = judged(one({"good": SOUND, "poor": CURED}), {})
    (finding,) = found.findings
    assert finding.level == "possible"
    assert found.beliefs["it"].worth_after == found.beliefs["it"].worth


def test_a_probable_fault_is_cured_in_the_worlds_that_have_it() -> None:
    found = judged(one({"good": SOUND, "poor": CURED}), {"it": {"outcome": "poor", "seen_by": "photos"}})
    (finding,) = found.findings
    assert finding.level == "probable"
    poor = found.beliefs["it"].probability["poor"]
    assert found.beliefs["it"].worth_after == pytest.approx(poor * 0.9 + (1 - poor))
    assert found.score_after.expected > found.score.expected
    worlds = found.worlds
    assert (worlds.score_after >= worlds.score - 1e-9).all()
    assert worlds.score_after[worlds.has("it", 1)].mean() > worlds.score[worlds.has("it", 1)].mean()


def test_what_was_seen_comes_before_what_is_expected() -> None:
    checks = [
        check_of("unseen", outcomes={"good": SOUND, "poor": CURED}, weight=5.0),
        check_of("blurred", outcomes={"good": SOUND, "poor": CURED}, seen_by={"photos": 0.2}, weight=1.0),
        check_of("sure", outcomes={"good": SOUND, "poor": CURED}, seen_by=SURE, weight=0.5),
    ]
    found = judged(checks, {"blurred": {"outcome": "poor", "seen_by": "photos"}, "sure": "poor"})
    assert [finding.check for finding in found.findings] == ["sure", "blurred", "unseen"]
