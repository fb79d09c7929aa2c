"""The estimate of a case: lines with their reasons, optional work, extras with their chance, laws of the price."""

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Observation, Reading
from evaluator.estimate.estimate import estimate
from evaluator.estimate.lines import MINIMUM
from evaluator.estimate.model import AtTheBench, Brings, ByLook, Estimate, IfFound
from evaluator.rubric.rubric import Rubric
from tests.estimate.catalogues import random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of
from tests.laws import tried

BRIDGE = job_of(
    "bridge_new",
    (0.8, 1.3, 2.2),
    parts=[{"part": "blank"}],
    shares=["down"],
    after=["post_new"],
    forces=[
        {"job": "post_move", "chance": 0.9, "when": "always, as a check"},
        {"job": "nut_lower", "chance": 0.2, "when": "if the nut is high", "known": "when the bridge stands"},
    ],
    makes_unnecessary=["refit"],
)
JOBS = (
    BRIDGE,
    job_of("refit", (0.5, 0.8, 1.2), shares=["down"], choose_one=["bridge_new"]),
    job_of("post_new", (0.4, 0.6, 1), shares=["down"], makes_unnecessary=["post_move"]),
    job_of("post_move", (0.2, 0.3, 0.5)),
    job_of("nut_lower", (0.2, 0.4, 0.6), shares=["slack"]),
    job_of("clean", (0.5, 0.8, 1.5), urgency="cosmetic"),
)
SHARED = (shared_of("down", (0.25, 0.4, 0.7), includes=["slack"]), shared_of("slack"))
FAULTS = {
    "feet": ("refit", "bridge_new"),
    "warp": ("bridge_new",),
    "post": ("post_new",),
    "nut": ("nut_lower",),
    "dirt": ("clean",),
    "paint": (),
}
RUBRIC = rubric_of(JOBS, FAULTS, SHARED, {"blank": (14, 22, 35)})


def estimate_of(*findings: Any, rubric: Rubric = RUBRIC, **shop: Any) -> Estimate:
    return estimate(rubric, case_of(rubric), assessment_of(rubric, *findings), shop_of(**shop))


def found(check: str, probability: float = 1.0, **keys: Any) -> Any:
    return finding_of(RUBRIC, check, probability, **keys)


def line(work: Estimate, job: str) -> Any:
    return next(one for one in (*work.lines, *work.optional) if one.job == job)


def test_nothing_found_is_an_empty_estimate() -> None:
    work = estimate_of(minimum_charge=30)
    assert (work.lines, work.optional, work.possible_extras) == ((), (), ())
    assert (work.mean, work.p50, work.p80, work.hours_likely) == (0, 0, 0, 0)
    assert work.proven_optimal
    assert work.draws.shape == (4000,)


def test_a_line_says_what_it_cures_and_what_forced_it() -> None:
    work = estimate_of(found("feet"), found("warp", 0.7))
    assert [one.job for one in work.lines] == ["bridge_new", "post_move", "down"]
    bridge, post, down = work.lines
    assert bridge.because == ("feet is poor", "warp is poor")
    assert bridge.cures == ("feet", "warp")
    assert (post.forced_by, post.forced_by_say, post.because) == ("bridge_new", "bridge new", ())
    assert down.shared
    assert down.because == ("bridge new",)
    assert work.cures == {"feet": "bridge_new", "warp": "bridge_new"}
    assert (bridge.cost.low, bridge.cost.likely, bridge.cost.high) == pytest.approx((82, 132.5, 222))
    assert bridge.parts[0].grade == "good"


def test_the_cheaper_cure_is_chosen_and_the_dearer_named() -> None:
    work = estimate_of(found("feet"))
    refit = line(work, "refit")
    assert refit.next_best.job == "bridge_new"
    dearer = estimate_of(found("feet"), found("warp")).mean - work.mean
    assert refit.next_best.price_difference == pytest.approx(dearer)


def test_lines_stand_in_the_order_of_the_bench() -> None:
    jobs = [one.job for one in estimate_of(found("warp"), found("post")).lines]
    assert jobs == ["post_new", "bridge_new", "down"]


def test_urgency_is_the_highest_of_what_is_cured_and_passes_to_what_follows() -> None:
    work = estimate_of(found("feet", urgency="to_play_safely"), found("warp"))
    assert [one.urgency for one in work.lines] == ["to_play_safely"] * 3


def test_recommended_work_stands_beside_the_plan() -> None:
    work = estimate_of(found("warp"), found("dirt", required=False, urgency="cosmetic"))
    assert [one.job for one in work.optional] == ["clean"]
    assert line(work, "clean").urgency == "cosmetic"
    assert work.mean == pytest.approx(estimate_of(found("warp")).mean)


def test_recommended_work_brings_only_the_labour_that_is_not_paid() -> None:
    beside = estimate_of(found("warp"), found("nut", required=False))
    alone = estimate_of(found("nut", required=False))
    assert [one.job for one in beside.optional] == ["nut_lower"]
    assert [one.job for one in alone.optional] == ["nut_lower", "slack"]


def test_three_ambitions() -> None:
    work = estimate_of(
        found("feet", urgency="to_play_safely"),
        found("warp"),
        found("nut", required=False, urgency="recommended"),
        found("dirt", required=False, urgency="cosmetic"),
    )
    safe, standard, recommended = work.ambitions
    assert safe.jobs == ("refit",)  # alone the cheaper cure will do
    assert standard.jobs == ("bridge_new", "post_move")
    assert recommended.jobs == ("bridge_new", "post_move", "nut_lower")
    assert standard.mean == work.mean
    assert safe.p80 < standard.p80 == work.p80 < recommended.p80
    for one in work.ambitions:
        assert one.low < one.mean < one.p80 < one.high


def test_a_larger_order_outgrows_the_minimum_charge_of_a_smaller() -> None:
    """What raises a small order to the least charge falls away when more is added to it."""
    faults = (found("nut"), found("dirt", required=False, urgency="recommended"))
    _, standard, recommended = estimate_of(*faults, minimum_charge=Decimal(90)).ambitions
    free = estimate_of(*faults).ambitions
    assert (standard.mean, standard.low) == (90, 90)
    assert free[1].mean < 90 < recommended.mean == pytest.approx(free[2].mean)


def test_what_nobody_looked_at_is_priced_apart() -> None:
    work = estimate_of(found("warp"), found("post", 0.3, seen=False))
    assert [one.job for one in work.unseen_extras] == ["post_new"]
    assert "post_new" not in {one.job for one in work.possible_extras}
    assert work.unseen_mean == pytest.approx(0.3 * work.unseen_extras[0].cost.mean)
    assert work.with_extras_mean == pytest.approx(estimate_of(found("warp")).with_extras_mean)
    assert work.draws_with_unseen is not None
    assert np.all(work.draws_with_unseen >= work.draws_with_extras)


def test_what_no_work_cures_is_said() -> None:
    work = estimate_of(found("paint"))
    assert work.uncured == {"paint": "inherent"}
    assert work.lines == ()


def test_a_disqualifying_fault_that_work_can_cure_is_priced() -> None:
    stop = found("post", class_="disqualifying", required=False, urgency="to_play_safely")
    work = estimate(RUBRIC, case_of(RUBRIC), assessment_of(RUBRIC, disqualifying=(stop,)), shop_of())
    assert [one.job for one in work.lines] == ["post_new", "down"]


def test_possible_faults_and_likely_followers_are_extras_outside_the_total() -> None:
    work = estimate_of(found("warp"), found("post", 0.3))
    extras = {one.job: one for one in work.possible_extras}
    assert set(extras) == {"post_new", "nut_lower"}
    assert extras["post_new"].chance == 0.3
    assert extras["post_new"].when == (IfFound(say="post is poor"),)
    post = RUBRIC.checks["post"]
    assert extras["post_new"].known == ByLook(ask=post.ask, minutes=post.minutes, on_limit=False)
    assert extras["nut_lower"].known == AtTheBench(say="when the bridge stands")
    assert extras["nut_lower"].when == (Brings(say="if the nut is high"),)
    assert work.mean == pytest.approx(estimate_of(found("warp")).mean)
    # The post, less the move that it makes unnecessary; bridge and post are down already.
    assert extras["post_new"].cost.mean == pytest.approx(85 * (0.4 + 2.4 + 1 - 0.2 - 1.2 - 0.5) / 6)
    expected = work.mean + sum(one.chance * one.cost.mean for one in work.possible_extras)
    assert work.with_extras_mean == pytest.approx(expected)
    assert work.draws_with_extras.mean() == pytest.approx(expected, rel=0.02)


def test_an_extra_comes_in_the_worlds_in_which_its_fault_is_there() -> None:
    assessment = assessment_of(RUBRIC, found("warp"), found("dirt", 0.25))
    work = estimate(RUBRIC, case_of(RUBRIC), assessment, shop_of())
    there = assessment.worlds.has("dirt", 1)
    only_nut = next(one.cost.high for one in work.possible_extras if one.job == "nut_lower")
    assert np.all((work.draws_with_extras - work.draws)[there] > 0)
    assert np.all((work.draws_with_extras - work.draws)[~there] <= only_nut)


def test_a_possible_fault_that_the_plan_cures_anyway_is_no_extra() -> None:
    work = estimate_of(found("warp"), found("feet", 0.3))
    assert "refit" not in {one.job for one in work.possible_extras}


def test_units_counted_cost_less_each() -> None:
    seams = {
        "check": "seams",
        "part": "whole",
        "ask": "How many seams are open?",
        "count": {"of": "open seams", "each_is_a_fault": True},
        "outcomes": {
            "none": {"say": "None", "class": "sound", "at_most": 0},
            "poor": {"say": "Seams are open", "class": "fault", "cured_by": ["seam"], "at_least": 1},
        },
    }
    rubric = rubric_of((job_of("seam", (1, 1, 1), further_unit=0.5),), {}, checks=(seams,))
    three = {"seams": (Observation("seams", "poor", Reading((3.0,), "ratio", 0.0, None, ("3",))),)}
    work = estimate(
        rubric, case_of(rubric, observations=three), assessment_of(rubric, finding_of(rubric, "seams")), shop_of()
    )
    assert work.lines[0].units == 3
    assert work.mean == pytest.approx(85 * (1 + 0.5 + 0.5))


def test_a_small_order_is_brought_up_to_the_minimum_charge() -> None:
    work = estimate_of(found("nut"), minimum_charge=Decimal("100.00"))
    assert work.lines[-1].job == MINIMUM
    assert work.mean == pytest.approx(100)
    assert MINIMUM not in {one.job for one in estimate_of(found("warp"), minimum_charge=Decimal(100)).lines}


def test_same_arguments_same_draws() -> None:
    first, second = (estimate_of(found("warp"), found("post", 0.3)) for _ in range(2))
    assert np.array_equal(first.draws_with_extras, second.draws_with_extras)
    assert first.lines == second.lines


SEEDS = st.integers(0, 10_000)


@tried(60)
@given(SEEDS, st.data())
def test_removing_a_fault_never_raises_the_cost(seed: int, data: st.DataObject) -> None:
    rubric, needs = random_catalogue(seed, 10, 6, 3)
    checks = [need.check for need in needs]
    whole = estimate(
        rubric, case_of(rubric), assessment_of(rubric, *(finding_of(rubric, c) for c in checks), count=100), shop_of()
    )
    if whole.uncured:
        return  # what cannot be met together is dropped, so the sets of faults that are cured cannot be compared
    fewer = [one for one in checks if one != data.draw(st.sampled_from(checks))]
    less = estimate(
        rubric, case_of(rubric), assessment_of(rubric, *(finding_of(rubric, c) for c in fewer), count=100), shop_of()
    )
    assert less.mean <= whole.mean + 0.01


@tried(60)
@given(SEEDS, st.data(), st.floats(1, 3))
def test_raising_a_price_never_lowers_the_cost(seed: int, data: st.DataObject, factor: float) -> None:
    rubric, needs = random_catalogue(seed, 10, 6, 3)
    assessment = assessment_of(rubric, *(finding_of(rubric, need.check) for need in needs), count=100)
    name = data.draw(st.sampled_from(list(rubric.jobs)))
    price = [85 * getattr(rubric.jobs[name].hours, key) for key in ("low", "likely", "high")]
    before = estimate(rubric, case_of(rubric), assessment, shop_of(job_prices={name: price}))
    after = estimate(rubric, case_of(rubric), assessment, shop_of(job_prices={name: [factor * one for one in price]}))
    assert after.mean >= before.mean - 0.01


@tried(40)
@given(SEEDS)
def test_levels_are_in_order_and_the_lines_add_up(seed: int) -> None:
    rubric, needs = random_catalogue(seed, 12, 6, 3)
    assessment = assessment_of(rubric, *(finding_of(rubric, need.check) for need in needs), count=400)
    work = estimate(rubric, case_of(rubric), assessment, shop_of())
    assert work.mean == pytest.approx(sum(one.cost.mean for one in work.lines))
    assert sum(one.cost.low for one in work.lines) - 1e-6 <= work.draws.min()
    assert work.draws.max() <= sum(one.cost.high for one in work.lines) + 1e-6
    assert work.p50 <= work.p80 <= work.with_extras_p80 + 1e-9
    assert work.mean <= work.with_extras_mean + 1e-9
