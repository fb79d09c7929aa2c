"""Faults that only two jobs together cure: in the plan, its lines, what comes on top, and the budget curve."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from evaluator.assessment.model import Observation, Reading
from evaluator.estimate.estimate import estimate
from evaluator.estimate.extras import cheapest_addition, paid_by
from evaluator.estimate.planning.catalogue import Need
from evaluator.estimate.planning.plan import Plan, Planner
from evaluator.estimate.price import PriceList
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.written.checks import Outcome, jobs_of
from tests.estimate.catalogues import cheapest_by_trial, joined_cures, random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of
from tests.estimate.test_budget import believed, curve_of, with_evidence

JOBS = (
    job_of("glue", (1, 1, 1), shares=["open"], further_unit=1.0),
    job_of("cleat", (2, 2, 2), shares=["open"], further_unit=0.5),
    job_of("strong_glue", (1.5, 1.5, 1.5), shares=["open"], makes_unnecessary=["glue"]),
    job_of("patch", (6, 6, 6), shares=["open"]),
    job_of("post", (0.5, 0.5, 0.5)),
)
SHARED = (shared_of("open", (1, 1, 1)),)
CRACK = ("glue + cleat", "patch")


def rubric_with(faults: Mapping[str, tuple[str, ...]]) -> Rubric:
    return rubric_of(JOBS, faults, SHARED)


def plan_of(faults: Mapping[str, tuple[str, ...]]) -> Plan:
    planner = Planner(PriceList(rubric_with(faults), shop_of()))
    return planner.plan(Need(check, "poor", check, jobs) for check, jobs in faults.items())


def test_one_entry_may_join_jobs() -> None:
    outcome = Outcome.model_validate({"say": "Open", "class": "fault", "cured_by": ["glue + cleat", "a+b", "patch"]})
    assert [jobs_of(cure) for cure in outcome.cured_by] == [("glue", "cleat"), ("a", "b"), ("patch",)]
    assert outcome.jobs == {"glue", "cleat", "a", "b", "patch"}


@pytest.mark.parametrize(
    ("faults", "jobs", "hours"),
    [
        ({"crack": CRACK}, "glue cleat", 4),  # cheaper than the patch
        ({"crack": ("glue + patch", "patch + cleat")}, "glue patch", 8),
        ({"crack": CRACK, "rib": ("strong_glue",)}, "cleat strong_glue", 4.5),  # the strong glue does for the glue
        ({"crack": CRACK, "top": ("patch",)}, "patch", 7),
        ({"crack": ("glue + cleat + post",)}, "glue cleat post", 4.5),
    ],
)
def test_jobs_that_cure_together_come_together(faults: dict[str, Any], jobs: str, hours: float) -> None:
    plan = plan_of(faults)
    assert " ".join(plan.jobs) == jobs
    assert plan.shared == ("open",)
    assert plan.mean == pytest.approx(85 * hours)
    assert plan.proven


def test_a_way_of_which_one_job_is_missing_is_none() -> None:
    """A job without a price at this shop, or one that clashes, leaves no way; the reason is told."""
    jobs = (*JOBS, job_of("far", parts=[{"part": "nowhere"}]), job_of("no_cleat", choose_one=["cleat"]))
    rubric = rubric_of(jobs, {"a": ("glue + far",), "b": ("no_cleat",), "c": ("glue + cleat",)}, SHARED)
    planner = Planner(PriceList(rubric, shop_of()))
    needs = [Need(check, "poor", check, rubric.checks[check].outcomes["poor"].cured_by) for check in "abc"]
    plan = planner.plan(needs)
    assert {need.check: reason for need, reason in plan.unmet.items()} == {"a": "no_job", "c": "clash"}
    assert plan.jobs == ("no_cleat",)


@pytest.mark.parametrize("block", range(10))
def test_120_plans_equal_trying_every_set_of_jobs(block: int) -> None:
    for seed in range(12 * block, 12 * block + 12):
        rubric, needs = random_catalogue(seed, 10, 5, 3)
        needs = joined_cures(seed, needs)
        planner = Planner(PriceList(rubric, shop_of()))
        price = {name: round(one.whole.mean * 100) for name, one in (planner.price | planner.shared).items()}
        best = cheapest_by_trial(rubric, needs, price)
        plan = planner.plan(needs)
        if best is None:
            assert plan.unmet, seed
            continue
        assert not plan.unmet and plan.proven, seed
        assert sum(price[name] for name in (*plan.jobs, *plan.shared)) == best, seed
        assert all(planner.cured_with(need, plan.jobs) for need in needs), seed


def found(rubric: Rubric, *checks: tuple[str, float], **keys: Any) -> Any:
    findings = (finding_of(rubric, check, chance, **keys) for check, chance in checks)
    return estimate(rubric, case_of(rubric), assessment_of(rubric, *findings), shop_of())


def test_each_line_says_what_it_helps_to_cure_and_what_else_would() -> None:
    work = found(rubric_with({"crack": CRACK}), ("crack", 1.0))
    lines = {one.job: one for one in work.lines}
    assert lines["glue"].because == lines["cleat"].because == ("crack is poor",)
    assert lines["glue"].forced_by is None
    assert lines["cleat"].next_best is not None
    assert (lines["cleat"].next_best.job, lines["cleat"].next_best.price_difference) == ("patch", 85 * 3)
    assert lines["glue"].next_best is not None
    assert lines["glue"].next_best.job == "strong_glue"


def test_both_jobs_of_an_extra_are_named_and_priced() -> None:
    rubric = rubric_with({"crack": CRACK, "rib": ("glue",)})
    alone = found(rubric, ("crack", 0.3)).possible_extras[0]
    assert (alone.job, alone.say) == ("glue + cleat", "glue, and cleat")
    assert alone.cost.mean == pytest.approx(85 * 4)
    beside = found(rubric, ("crack", 0.3), ("rib", 1.0)).possible_extras[0]
    assert (beside.job, beside.cost.mean) == ("cleat", pytest.approx(85 * 2))
    planner = Planner(PriceList(rubric, shop_of()))
    done = cheapest_addition(planner, paid_by(("glue", "cleat"), ("open",)), Need("crack", "poor", "x", CRACK))
    assert done is None


def test_recommended_work_holds_both() -> None:
    work = found(rubric_with({"crack": CRACK}), ("crack", 1.0), required=False, urgency="recommended")
    assert [one.job for one in work.optional] == ["glue", "cleat", "open"]
    assert [one.forced_by for one in work.optional] == [None, None, None]
    assert work.optional[1].because == ("crack is poor",)


def test_a_step_of_the_budget_never_holds_half_a_cure() -> None:
    rubric = with_evidence(rubric_with({"crack": ("glue + cleat",), "post": ("post",)}))
    steps = curve_of(rubric, believed(rubric, (0.1, 0.6)))
    assert all(("glue" in step.jobs) == ("cleat" in step.jobs) for step in steps)
    assert set(steps[-1].jobs) == {"glue", "cleat", "post"}


def test_units_count_for_each_job_of_a_cure() -> None:
    count = {
        "check": "cracks",
        "part": "whole",
        "ask": "How many?",
        "count": {"of": "cracks", "each_is_a_fault": True},
        "outcomes": {
            "none": {"say": "None", "class": "sound", "at_most": 0},
            "poor": {"say": "Cracks", "class": "fault", "cured_by": ["glue + cleat"], "at_least": 1},
        },
    }
    jobs = tuple(job for job in JOBS if job["job"] != "strong_glue")  # which would do for all at once
    rubric = rubric_of(jobs, {}, SHARED, checks=(count,))
    three = {"cracks": (Observation("cracks", "poor", Reading((3.0,), "ratio", 0.0, None, ("3",))),)}
    work = estimate(
        rubric, case_of(rubric, observations=three), assessment_of(rubric, finding_of(rubric, "cracks")), shop_of()
    )
    assert [one.units for one in work.lines] == [3, 3, 1]
    assert work.mean == pytest.approx(85 * (3 * 1 + 2 * 2 + 1))
    assert np.isclose(work.draws.mean(), work.mean)
