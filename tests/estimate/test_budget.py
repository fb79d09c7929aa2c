"""The budget curve against trying every set of jobs, its order, and its time."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from time import process_time

import numpy as np
import pytest

from evaluator.assessment.model import Assessment, Belief, Deduction, Range
from evaluator.estimate.budget import Step, budget_curve, gains, risen, worthwhile
from evaluator.estimate.planning.plan import Planner
from evaluator.estimate.price import PriceList
from evaluator.rubric.rubric import Rubric
from tests.estimate.catalogues import cheapest_by_trial, random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of

SHOP = shop_of()


def believed(rubric: Rubric, shares: Sequence[float], required: bool = True) -> Assessment:
    """Every fault is there; check i leaves `shares[i]` of the score now, and 0.95 of it after its cure."""
    found = assessment_of(rubric, *(finding_of(rubric, check, required=required) for check in rubric.checks), count=100)
    beliefs = {
        check: Belief(check, {"good": 0.0, "poor": 1.0}, share, 0.0, 0.95, True)
        for check, share in zip(rubric.checks, shares, strict=True)
    }
    now, after = scored(rubric, shares), scored(rubric, [max(share, 0.95) for share in shares])
    both = {"score": now[0], "deductions": now[1], "score_after": after[0], "deductions_after": after[1]}
    return replace(found, beliefs=beliefs, **both)


def scored(rubric: Rubric, shares: Sequence[float]) -> tuple[Range, tuple[Deduction, ...]]:
    """The score of which each check leaves such a share, and the points that each takes, by its logarithm."""
    score = 100 * math.prod(shares)
    each = (100 - score) / -math.log(score / 100) if score < 100 else 0.0
    taken = (Deduction(check, "poor", "tone", -math.log(share) * each, 0.0)
             for check, share in zip(rubric.checks, shares, strict=True))  # fmt: skip
    return Range(score, score, score), tuple(taken)


def with_evidence(rubric: Rubric) -> Rubric:
    checks = {
        name: check.model_copy(update={"evidence_of": {"playability": 1.0}}) for name, check in rubric.checks.items()
    }
    return replace(rubric, checks=checks)


def curve_of(rubric: Rubric, assessment: Assessment) -> tuple[Step, ...]:
    return budget_curve(rubric, case_of(rubric), assessment, SHOP)


def test_steps_by_hand() -> None:
    jobs = (job_of("cheap", (1, 1, 1)), job_of("dear", (4, 4, 4)), job_of("both", (4.5, 4.5, 4.5)))
    rubric = with_evidence(rubric_of(jobs, {"a": ("cheap", "both"), "b": ("dear", "both")}))
    steps = curve_of(rubric, believed(rubric, (0.45, 0.45)))
    assert [(one.cost, one.jobs) for one in steps] == [(0, ()), (85, ("cheap",)), (382.5, ("both",))]
    assert [one.score for one in steps] == pytest.approx([100 * 0.45**2, 100 * 0.45 * 0.95, 100 * 0.95**2])
    assert (steps[2].adds, steps[2].drops) == (("both",), ("cheap",))


def two_ways(**keys: float) -> Rubric:
    """A check with two faults, each cured by a job of its own; `keys`: what the jobs leave."""
    fault = {"class": "fault", "worth": 0.25}
    outcomes = {
        "good": {"say": "Good", "class": "sound"},
        "poor": fault | {"say": "Poor", "cured_by": ["mend"]},
        "bad": fault | {"say": "Bad", "cured_by": ["patch"]},
    }
    jobs = (job_of("mend", leaves=keys.get("mend", 0.9)), job_of("patch", leaves=keys.get("patch", 0.9)))
    it = {"check": "it", "part": "whole", "ask": "How is it?", "outcomes": outcomes}
    return rubric_of(jobs, {}, checks=(it | {"evidence_of": {"playability": 1.0}},))


def gained(rubric: Rubric, outcomes: Sequence[str], required: bool) -> list[tuple[str, float]]:
    """The fault that is reckoned with and what its cure brings, of a check that takes ln 2 and a cure that gives all
    but a tenth of it back."""
    found = []
    for name in outcomes:
        one = rubric.checks["it"].outcomes[name]
        found.append(finding_of(rubric, "it", 0.5, outcome=name, say=one.say, cured_by=one.cured_by, required=required))
    later = 100 * 2**-0.1
    beliefs = {"it": Belief("it", {"good": 0.0, "poor": 0.5, "bad": 0.5}, 0.25, 0.0, 0.9, True)}
    assessment = replace(
        assessment_of(rubric, *found, count=10),
        beliefs=beliefs,
        score=Range(50, 50, 50),
        deductions=(Deduction("it", outcomes[0], "tone", 50.0, 0.0),),
        score_after=Range(later, later, later),
        deductions_after=(Deduction("it", outcomes[0], "tone", 100 - later, 0.0),),
    )
    planner = Planner(PriceList(rubric, SHOP))
    return [(one.need.outcome, one.points) for one in gains(rubric, case_of(rubric), assessment, planner)]


def test_of_two_faults_of_one_check_the_surer_is_reckoned_with_once() -> None:
    """A half is 69.3 hundredths of the logarithm, and nine tenths of that come back."""
    assert gained(two_ways(), ("poor", "bad"), required=True) == [("poor", pytest.approx(100 * math.log(2) * 0.9))]
    assert gained(two_ways(), ("bad", "poor"), required=True)[0][0] == "bad"


def test_work_that_is_only_recommended_gains_what_it_gives_back() -> None:
    """All where it leaves it like new, nothing where it leaves it as it is, and more the more it leaves."""
    whole = 100 * math.log(2)
    assert gained(two_ways(mend=1.0), ("poor",), required=False) == [("poor", pytest.approx(whole))]
    assert gained(two_ways(mend=0.25), ("poor",), required=False) == []
    half, most = (gained(two_ways(mend=left), ("poor",), required=False)[0][1] for left in (0.5, 0.8))
    assert 0 < half < most < whole
    assert gained(two_ways(mend=0.5, patch=0.8), ("poor", "bad"), required=False) == [("bad", pytest.approx(most))]


def test_nothing_to_gain_is_one_step() -> None:
    rubric = with_evidence(rubric_of((job_of("one"),), {"a": ("one",)}))
    assert len(curve_of(rubric, believed(rubric, (0.95,)))) == 1


def test_shared_labour_comes_with_the_first_job_that_needs_it() -> None:
    jobs = (job_of("one", (1, 1, 1), shares=["down"]), job_of("two", (1, 1, 1), shares=["down"]))
    rubric = with_evidence(rubric_of(jobs, {"a": ("one",), "b": ("two",)}, (shared_of("down", (1, 1, 1)),)))
    steps = curve_of(rubric, believed(rubric, (0.2, 0.5)))
    assert [one.cost for one in steps] == [0, 255] or [one.cost for one in steps] == [0, 170, 255]


def test_no_step_costs_less_than_the_shop_charges_at_least() -> None:
    jobs = (job_of("tiny", (0.1, 0.1, 0.1)), job_of("small", (0.4, 0.4, 0.4)), job_of("dear", (4, 4, 4)))
    rubric = with_evidence(rubric_of(jobs, {"a": ("tiny",), "b": ("small",), "c": ("dear",)}))
    shop = shop_of(minimum_charge="60")
    steps = budget_curve(rubric, case_of(rubric), believed(rubric, (0.2, 0.5, 0.5)), shop)
    assert [(one.cost, one.adds) for one in steps] == [(0, ()), (60, ("tiny", "small")), (382.5, ("dear",))]


@pytest.mark.parametrize(
    ("scores", "enough"), [((50, 70, 78, 80), 1), ((50, 55, 70, 80), 2), ((50, 80), 1), ((50,), None)]
)
def test_the_first_step_that_brings_two_thirds(scores: tuple[float, ...], enough: int | None) -> None:
    steps = tuple(Step(100.0 * i, score, (), (), ()) for i, score in enumerate(scores))
    assert worthwhile(steps) == (None if enough is None else steps[enough])


def best_by_trial(rubric: Rubric, assessment: Assessment, budget: float) -> float:
    """The most points that this budget can buy, over every set of faults cured at the least price."""
    planner = Planner(PriceList(rubric, SHOP))
    found = gains(rubric, case_of(rubric), assessment, planner)
    price = {name: round(one.whole.mean * 100) for name, one in (planner.price | planner.shared).items()}
    best = 0.0
    for chosen in range(1 << len(found)):
        some = [one for i, one in enumerate(found) if chosen >> i & 1]
        points = sum(one.points for one in some)
        if points <= best:
            continue
        cents = cheapest_by_trial(rubric, [one.need for one in some], price)
        if cents is not None and cents <= round(budget * 100):
            best = points
    return best


@pytest.mark.parametrize("seed", range(12))
def test_every_step_is_the_best_that_its_money_buys(seed: int) -> None:
    rubric, _ = random_catalogue(seed, 8, 5, 2)
    rubric = with_evidence(rubric)
    random = np.random.default_rng(seed)
    assessment = believed(rubric, random.uniform(0.3, 0.9, len(rubric.checks)).tolist())
    steps = curve_of(rubric, assessment)
    base = assessment.score.expected
    assert all(b.cost > a.cost and b.score > a.score for a, b in pairwise(steps))
    for step in steps:
        gained = best_by_trial(rubric, assessment, step.cost)
        assert step.score == pytest.approx(risen(base, gained), abs=0.02)


def test_time_of_a_curve_of_real_size() -> None:
    """60 faults and 100 jobs: under eight plain loops of a million (median of five seeds)."""
    loop = min(_loop() for _ in range(3))
    times = []
    for seed in range(5):
        rubric, _ = random_catalogue(1000 + seed, 100, 60, 10, links=0.2)
        rubric = with_evidence(rubric)
        assessment = believed(rubric, np.random.default_rng(seed).uniform(0.8, 0.94, 60).tolist())
        assert len(curve_of(rubric, assessment)) > 3
        times.append(min(_timed(rubric, assessment) for _ in range(2)))
    assert sorted(times)[2] < 8 * loop


def _timed(rubric: Rubric, assessment: Assessment) -> float:
    start = process_time()
    curve_of(rubric, assessment)
    return process_time() - start


def _loop() -> float:
    start = process_time()
    sum(i * i for i in range(10**6))
    return process_time() - start
