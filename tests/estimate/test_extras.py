"""What an extra adds to an order: nothing that is paid already, nothing twice, and no labour that nobody needs."""

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.estimate.estimate import estimate
from evaluator.estimate.extras import addition, paid_by
from evaluator.estimate.model import Estimate, IfFound, PossibleExtra
from evaluator.estimate.planning.plan import Planner
from evaluator.estimate.price import PriceList
from evaluator.rubric.rubric import Rubric
from tests.estimate.catalogues import random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of
from tests.laws import tried

HOUR = (1, 1, 1)  # one hour of set-up costs 85
JOBS = (
    job_of("nut", HOUR, shares=["slack"]),
    job_of("bridge", HOUR, shares=["down"], makes_unnecessary=["feet"]),
    job_of("feet", HOUR, shares=["down"], choose_one=["bridge"]),
    job_of("post", HOUR, shares=["down"]),
    job_of("polish", HOUR),
    job_of("crack", HOUR, shares=["open"], forces=[{"job": "retouch", "chance": 1, "when": "always"}]),
    job_of("cleat", HOUR, shares=["open"], forces=[{"job": "retouch", "chance": 1, "when": "always"}]),
    job_of("retouch", HOUR),
)
SHARED = (
    shared_of("slack", (0.2, 0.2, 0.2)),
    shared_of("down", (0.4, 0.4, 0.4), includes=["slack"]),
    shared_of("open", (3, 3, 3)),
)
FAULTS = {job["job"]: (job["job"],) for job in JOBS if job["job"] != "retouch"}
RUBRIC = rubric_of(JOBS, FAULTS, SHARED)


def found(check: str, probability: float = 1.0, **keys: Any) -> Any:
    return finding_of(RUBRIC, check, probability, **keys)


def estimate_of(*findings: Any, **shop: Any) -> Estimate:
    return estimate(RUBRIC, case_of(RUBRIC), assessment_of(RUBRIC, *findings), shop_of(**shop))


def extra(work: Estimate, job: str) -> PossibleExtra:
    return next(one for one in (*work.possible_extras, *work.unseen_extras) if one.job == job)


@pytest.mark.parametrize(
    ("planned", "possible", "hours"),
    [
        ((), "post", 1.4),  # alone it needs bridge and post taken down
        (("bridge",), "post", 1.0),  # that is paid by the bridge
        (("nut",), "post", 1.2),  # slackening the strings is part of taking down, and then not paid for itself
        (("post",), "nut", 1.0),  # and what is paid as part of taking down is not paid again
        (("feet", "post"), "bridge", 0.0),  # takes the place of the feet, at the same price
        (("crack",), "cleat", 1.0),  # the body is open, and retouching is planned
        (("polish",), "crack", 5.0),
    ],
)
def test_an_extra_costs_what_it_adds(planned: tuple[str, ...], possible: str, hours: float) -> None:
    work = estimate_of(*(found(name) for name in planned), found(possible, 0.4))
    if hours == 0:
        assert possible not in {one.job for one in work.possible_extras}  # nothing to tell
    else:
        assert extra(work, possible).cost.mean == pytest.approx(85 * hours)
        assert work.with_extras_mean == pytest.approx(work.mean + 0.4 * 85 * hours)


def test_labour_of_a_job_that_falls_away_is_not_paid_for() -> None:
    jobs = (
        job_of("wedge", HOUR, shares=["down"], choose_one=["raise"]),
        job_of("raise", HOUR, shares=["open"], choose_one=["wedge"]),
    )
    rubric = rubric_of(jobs, {"a": ("wedge",), "b": ("raise",)}, SHARED)
    planner = Planner(PriceList(rubric, shop_of()))
    more = addition(planner, paid_by(("wedge",), ("down",)), "raise")
    assert (more.shared, more.dropped, more.needless) == (("open",), ("wedge",), ("down",))
    assert more.cost.mean == pytest.approx(85 * (1 + 3 - 1 - 0.4))


def test_what_two_extras_share_is_paid_once() -> None:
    """Opened for either, the body is opened once; each alone is still shown with the opening."""
    work = estimate_of(found("polish"), found("crack", 0.4), found("cleat", 0.4))
    crack, cleat = extra(work, "crack"), extra(work, "cleat")
    assert crack.cost.mean == cleat.cost.mean == pytest.approx(85 * 5)
    both = work.with_extras_mean - work.mean
    any_ = 1 - 0.6 * 0.6  # the faults of two checks without a cause are independent
    assert both == pytest.approx(85 * (0.4 + 0.4 + 4 * any_), rel=0.03)
    assert both < 0.4 * (crack.cost.mean + cleat.cost.mean)
    added = work.draws_with_extras - work.draws
    assert set(np.round(added / 85, 6)) == {0, 5, 6}
    assert both == pytest.approx(added.mean(), rel=0.03)


def test_what_was_seen_and_what_was_not_share_too() -> None:
    work = estimate_of(found("polish"), found("crack", 0.4), found("cleat", 0.4, seen=False))
    assert work.with_extras_mean == pytest.approx(work.mean + 0.4 * 85 * 5)
    assert work.unseen_mean == pytest.approx(85 * (0.4 + 4 * (0.64 - 0.4)), rel=0.06)
    assert work.draws_with_unseen is not None
    assert set(np.round((work.draws_with_unseen - work.draws) / 85, 6)) == {0, 5, 6}


@pytest.mark.parametrize(
    ("planned", "minimum", "adds"),
    [
        (("polish",), 100, 85 - 15),  # 15 were charged up to the minimum already
        (("polish",), 200, 0),  # all of it
        ((), 100, 100),  # alone it is an order, and an order costs the minimum
        ((), 60, 85),
        (("polish",), 60, 85),
    ],
)
def test_the_minimum_charge_counts_once(planned: tuple[str, ...], minimum: int, adds: float) -> None:
    jobs = (*JOBS, job_of("clean", HOUR))
    rubric = rubric_of(jobs, FAULTS | {"clean": ("clean",)}, SHARED)
    faults = [finding_of(rubric, name) for name in planned]
    assessment = assessment_of(rubric, *faults, finding_of(rubric, "clean", 0.4))
    work = estimate(rubric, case_of(rubric), assessment, shop_of(minimum_charge=Decimal(minimum)))
    assert extra(work, "clean").cost.mean == pytest.approx(adds)
    assert work.with_extras_mean == pytest.approx(work.mean + 0.4 * adds, rel=0.03, abs=0.5)
    assert (work.draws_with_extras - work.draws).max() == pytest.approx(adds)


@tried(80)
@given(st.integers(0, 10_000), st.data())
def test_an_order_with_an_addition_holds_and_costs_the_difference(seed: int, data: st.DataObject) -> None:
    """Every job's labour is paid, nothing excluded is left, nothing needless is paid, and the sums agree."""
    rubric, needs = random_catalogue(seed, 12, 6, 3)
    planner = Planner(PriceList(rubric, shop_of()))
    plan = planner.plan(needs)
    free = [job for job in planner.jobs if job not in plan.jobs]
    more = addition(planner, paid_by(plan.jobs, plan.shared), data.draw(st.sampled_from(free))) if free else None
    if more is None or _excludes_itself(planner, rubric, more.jobs):
        return
    jobs = (set(plan.jobs) - set(more.dropped)) | set(more.jobs)
    shared = (set(plan.shared) - set(more.needless)) | set(more.shared)
    assert all(options & shared for job in jobs for options in planner.labour(job))
    assert not any(planner.excluded_by(job) & jobs for job in more.jobs)
    asked = [options for job in jobs for options in planner.labour(job)]
    assert all(any(not options & (shared - {name}) for options in asked) for name in plan.shared if name in shared)
    change = sum(planner.price_of(name).whole.mean for name in (*jobs, *shared)) - plan.mean
    assert more.cost.mean == pytest.approx(max(0.0, change), abs=_clipped(planner, more))


def _excludes_itself(planner: Planner, rubric: Rubric, jobs: tuple[str, ...]) -> bool:
    """Whether a random catalogue made a job bring along what it cannot be combined with."""
    return any(planner.excluded_by(job) & set(jobs) for job in jobs)


def _clipped(planner: Planner, more: Any) -> float:
    """How far clipping low, likely and high at nothing can move the mean: only where something falls away."""
    gone = sum(planner.price_of(name).whole.high for name in (*more.dropped, *more.needless))
    return gone + 0.01


def test_an_extra_with_two_reasons_comes_where_either_holds_and_names_both() -> None:
    rubric = rubric_of(JOBS, FAULTS | {"dull": ("polish",), "grimy": ("polish",)}, SHARED)
    faults = [finding_of(rubric, name, 0.4, say=name) for name in ("polish", "dull", "grimy")]
    work = estimate(rubric, case_of(rubric), assessment_of(rubric, finding_of(rubric, "nut"), *faults), shop_of())
    (one,) = [found for found in work.possible_extras if found.job == "polish"]
    assert one.chance == pytest.approx(1 - 0.6**3, abs=0.02), "the faults of checks without a cause are independent"
    assert [told.say for told in one.when if isinstance(told, IfFound)] == ["polish", "dull", "grimy"]
    assert work.with_extras_mean == pytest.approx(work.mean + 85 * one.chance)


def test_what_falls_away_for_an_extra_is_spared_in_the_same_worlds() -> None:
    jobs = (
        job_of("wedge", HOUR, shares=["down"], choose_one=["raise"]),
        job_of("raise", HOUR, shares=["open"], choose_one=["wedge"]),
    )
    rubric = rubric_of(jobs, {"a": ("wedge",), "b": ("raise",)}, SHARED)
    found = assessment_of(rubric, finding_of(rubric, "a"), finding_of(rubric, "b", 0.4))
    work = estimate(rubric, case_of(rubric), found, shop_of())
    assert work.mean == pytest.approx(85 * 1.4)
    added = work.draws_with_extras - work.draws
    assert sorted(set(np.round(added / 85, 6))) == [0, pytest.approx(1 + 3 - 1 - 0.4)]
    assert work.with_extras_mean == pytest.approx(work.mean + 0.4 * 85 * 2.6)


def test_of_so_many_units_only_what_was_asked_for_is_paid_so_often() -> None:
    """Three pegs fitted, the further ones at half: two hours; the dressing that it brings is done once."""
    jobs = (
        job_of("peg", HOUR, further_unit=0.5, forces=[{"job": "dress", "chance": 1, "when": "always"}]),
        job_of("dress", HOUR, further_unit=0.5),
    )
    planner = Planner(PriceList(rubric_of(jobs, {"a": ("peg",)}), shop_of()))
    more = addition(planner, paid_by((), ()), "peg", units=3)
    assert (more.jobs, more.units) == (("peg", "dress"), 3)
    assert more.cost.mean == pytest.approx(85 * (2 + 1))
