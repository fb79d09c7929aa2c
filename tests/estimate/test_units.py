"""Faults that are there more than once: how often the job is done, and that the further ones cost their share."""

from typing import Any

import pytest

from evaluator.assessment.model import Observation, Reading
from evaluator.estimate.estimate import estimate, needs_of
from evaluator.estimate.model import Estimate
from evaluator.rubric.rubric import Rubric
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of
from tests.papers.cases import content, evaluation_of, rubric, snapshot_of

JOBS = (
    job_of("seam", (0.5, 1, 1.5), further_unit=0.6, shares=["glue"], parts=[{"part": "linen"}]),
    job_of("all_seams", (4, 4, 4), makes_unnecessary=["seam"], shares=["glue"]),
)
SHARED = (shared_of("glue", (0.2, 0.2, 0.2)),)
FIRST = (0.5 + 4 * 1 + 1.5) / 6


def seams(units: int, cured_by: tuple[str, ...]) -> dict[str, Any]:
    return {
        "check": "seams",
        "part": "whole",
        "ask": "Are the seams closed?",
        "outcomes": {
            "good": {"say": "Closed", "class": "sound"},
            "poor": {"say": "Open", "class": "fault", "cured_by": cured_by, "units": units},
        },
    }


HOW_MANY = {
    "check": "how_many",
    "part": "whole",
    "ask": "How many are open?",
    "count": {"of": "open places", "units_of": ["seams"]},
    "outcomes": {
        "few": {"say": "Few", "class": "acceptable", "at_most": 2},
        "more": {"say": "More", "class": "acceptable", "at_least": 3},
    },
}


def rubric_with(units: int, cured_by: tuple[str, ...] = ("seam",)) -> Rubric:
    checks = (seams(units, cured_by), HOW_MANY)
    return rubric_of(JOBS, {}, SHARED, {"linen": (2, 2, 2)}, checks=checks)


def work_of(judged: Rubric, counted: int | None = None, chance: float = 1.0) -> Estimate:
    reading = Reading((float(counted or 0),), "ratio", 0.0, None, (str(counted),))
    seen = {} if counted is None else {"how_many": (Observation("how_many", "more", reading),)}
    found = assessment_of(judged, finding_of(judged, "seams", chance))
    return estimate(judged, case_of(judged, observations=seen), found, shop_of())


@pytest.mark.parametrize(
    ("least", "counted", "units"), [(1, None, 1), (2, None, 2), (2, 5, 5), (3, 1, 3), (1, 4, 4), (1, 0, 1)]
)
def test_as_counted_and_no_less_than_the_outcome_says(least: int, counted: int | None, units: int) -> None:
    work = work_of(rubric_with(least), counted)
    line, shared = work.lines
    assert line.units == units
    assert line.cost.mean == pytest.approx(85 * FIRST * (1 + 0.6 * (units - 1)) + 2 * units)
    assert line.parts[0].count == units
    assert shared.units == 1
    assert shared.cost.mean == pytest.approx(85 * 0.2)
    assert work.mean == pytest.approx(line.cost.mean + shared.cost.mean)


@pytest.mark.parametrize(("counted", "job"), [(2, "seam"), (5, "seam"), (6, "all_seams"), (9, "all_seams")])
def test_from_so_many_on_the_whole_is_cheaper(counted: int, job: str) -> None:
    assert work_of(rubric_with(1, ("seam", "all_seams")), counted).lines[0].job == job


def test_an_extra_is_priced_for_as_many_as_were_counted() -> None:
    extra = work_of(rubric_with(1), 3, chance=0.3).possible_extras[0]
    assert extra.cost.mean == pytest.approx(85 * (FIRST * 2.2 + 0.2) + 6)


def test_two_checks_of_one_thing_are_not_added_up() -> None:
    """A seam heard and a seam seen may be the same: the larger number counts."""
    judged = rubric_of(JOBS, {"heard": ("seam",)}, SHARED, {"linen": (2, 2, 2)}, checks=(seams(3, ("seam",)),))
    findings = (finding_of(judged, "heard"), finding_of(judged, "seams"))
    work = estimate(judged, case_of(judged), assessment_of(judged, *findings), shop_of())
    assert [one.units for one in work.lines] == [3, 1]


OURS = """
format: 1
rubric: violin
instrument: {size: 4/4, style: classical, tier: student}
purpose: quote
observations:
  open_seams: several
  rib_crack: several
"""


def test_our_rubric_counts_seams_cracks_and_tuners() -> None:
    found = evaluation_of(content(OURS))
    units = {need.check: need.units for need in needs_of(found.rubric, found.case, found.assessment.findings)}
    assert (units["open_seams"], units["rib_crack"]) == (3, 2)
    more = evaluation_of(content(OURS + "  open_seam_count: 4\n  rib_crack_count: 3\n"))
    lines = {line.job: line for line in more.estimate.lines}
    assert lines["seam_reglue"].units == 4
    assert lines["crack_rib"].units == 3
    assert lines["glue_pot"].units == 1
    before = {line.job: line for line in found.estimate.lines}
    assert before["seam_reglue"].cost.mean < lines["seam_reglue"].cost.mean
    assert "seam_reglue_all" not in before  # three short places are cheaper one by one


def test_how_many_tuners_is_a_choice_and_asks_for_no_work() -> None:
    text = OURS.replace("tier: student", "tier: professional") + "  fine_tuners: 5\n"
    found = evaluation_of(content(text)).estimate
    assert not [one.job for one in found.lines if "fine_tuners" in one.cures]


def test_a_count_tells_only_how_often_and_never_how_good() -> None:
    for name in ("violin", "viola", "cello"):
        judged = rubric(name)
        counting = [one for one in judged.checks.values() if one.count and one.count.units_of]
        assert len(counting) >= 4
        for check in counting:
            assert not any(check.weight_at(tier, "classical") for tier in ("student", "intermediate", "professional"))
            assert check.relevant_if
    with_count = snapshot_of(OURS + "  open_seam_count: 4\n")
    assert with_count["score"] == snapshot_of(OURS)["score"]
    assert with_count["coverage"] == snapshot_of(OURS)["coverage"]
