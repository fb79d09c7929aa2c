"""The plan takes the cure that fits before the one that costs less, and works at nothing that nobody looked at."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument, Observation
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.known import know
from evaluator.estimate.budget import budget_curve
from evaluator.estimate.estimate import estimate, plan_known
from evaluator.estimate.model import IfFound
from evaluator.estimate.planning.catalogue import Need
from evaluator.estimate.planning.plan import Planner, left_by
from evaluator.estimate.price import PriceList
from evaluator.rubric.fitting import Seen, Setting
from tests.estimate.catalogues import random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shop_of

OUTCOMES = {
    "none": {"say": "None", "class": "sound"},
    "felt": {"say": "Felt", "class": "fault", "degree": 0.15, "cured_by": ["dress", "plane", "board"]},
    "deep": {"say": "Deep", "class": "fault", "degree": 0.4, "cured_by": ["plane", "board"]},
    "dressed": {"say": "Dressed before", "class": "acceptable", "worth": 0.8},
}
CHECKS = (
    {"check": "grooves", "part": "whole", "ask": "How deep?", "degree_of": "mm", "outcomes": OUTCOMES,
     "evidence_of": {"playability": 2}},
    {"check": "edge", "part": "whole", "ask": "How thick?", "degree_of": "mm", "outcomes": {
        "much": {"say": "Much", "class": "sound", "degree": 6},
        "little": {"say": "Little", "class": "acceptable", "degree": 4}}},
    {"check": "wood", "part": "whole", "ask": "What is it?", "seen_by": {"in_person": 1.0}, "outcomes": {
        "ebony": {"say": "Ebony", "class": "sound"},
        "pale": {"say": "Pale", "class": "fault", "inherent": True}}},
)  # fmt: skip
JOBS = (
    job_of("dress", (0.4, 0.6, 1), limits=[{"check": "grooves", "at_most": 0.15}], leaves_as={"grooves": "dressed"}),
    job_of("plane", (1, 1.5, 2), limits=[{"check": "edge", "at_least": 5}], not_for=["student"]),
    job_of("board", (3, 4, 6), leaves=1.0, leaves_as={"wood": "ebony", "edge": "much"}),
)
RUBRIC = rubric_of(JOBS, {}, checks=CHECKS)


def planned(setting: Setting | None, outcome: str = "felt") -> tuple[str, ...]:
    planner = Planner(PriceList(RUBRIC, shop_of()), setting)
    cures = RUBRIC.checks["grooves"].outcomes[outcome].cured_by
    return planner.plan([Need("grooves", outcome, outcome, cures)]).jobs


def setting(tier: Any = "intermediate", **seen: str) -> Setting:
    return Setting(tier, {}, {name: Seen(outcome) for name, outcome in seen.items()})


@pytest.mark.parametrize(
    ("here", "outcome", "jobs"),
    [
        (None, "felt", ("dress",)),
        (setting(grooves="felt"), "felt", ("dress",)),
        (setting(grooves="deep"), "deep", ("plane",)),
        (setting(grooves="deep", edge="much"), "deep", ("plane",)),
        (setting(grooves="deep", edge="little"), "deep", ("board",)),
        (setting("student", grooves="deep"), "deep", ("board",)),  # planing is not for a student here
    ],
)
def test_what_fits_goes_before_what_costs_less(here: Setting | None, outcome: str, jobs: tuple[str, ...]) -> None:
    assert planned(here, outcome) == jobs


@pytest.mark.parametrize(("edge", "offered"), [("much", {"plane"}), ("little", {"board"})])
def test_no_step_of_the_budget_holds_what_does_not_fit_here(edge: str, offered: set[str]) -> None:
    better = Instrument(size="4/4", style="classical", tier="intermediate")
    case = replace(seen_case(grooves="deep", edge=edge), instrument=better)
    steps = budget_curve(RUBRIC, case, assess(RUBRIC, case), shop_of())
    assert {job for step in steps for job in step.jobs} == offered


def test_where_nothing_suits_the_class_what_the_bench_can_do_is_done() -> None:
    short = job_of("a", (1, 1, 1), limits=[{"check": "grooves", "at_most": 0.2}])
    rubric = rubric_of((short, job_of("b", (2, 2, 2), not_for=["student"])), {}, checks=CHECKS)
    planner = Planner(PriceList(rubric, shop_of()), setting("student", grooves="deep"))
    assert planner.plan([Need("grooves", "deep", "deep", ("a", "b"))]).jobs == ("b",)
    assert planner.plan([Need("grooves", "deep", "deep", ("a",))]).jobs == ("a",)  # nothing else is listed


def test_what_holds_half_a_year_is_no_saving() -> None:
    jobs = (job_of("bend", (0.3, 0.3, 0.3), holds_years={"student": 0.5, "daily": 0.25}), job_of("new", (1, 1, 1)))
    rubric = rubric_of(jobs, {"warp": ("bend", "new")})
    need = [Need("warp", "poor", "Bent", ("bend", "new"))]
    assert Planner(PriceList(rubric, shop_of()), Setting("student")).plan(need).jobs == ("new",)
    lasting = Planner(PriceList(rubric, shop_of())).plan(need)
    assert lasting.jobs == ("bend",)
    assert lasting.mean == pytest.approx(0.3 * 85)


def test_a_job_is_paid_as_often_as_it_must_be_done_in_the_years_it_should_hold_and_once_at_least() -> None:
    """Worked by hand for a daily player: as often as a quarter of a year goes into those years; twenty years hold."""
    jobs = (job_of("bend", holds_years={"student": 0.5, "daily": 0.25}), job_of("new"),
            job_of("last", holds_years={"student": 20.0, "daily": 20.0}))  # fmt: skip
    rubric = rubric_of(jobs, {"warp": ("bend", "new", "last")})
    kept = rubric.figure("kept_years")
    student, daily = (Planner(PriceList(rubric, shop_of()), Setting(tier)) for tier in ("student", "professional"))
    assert [student.over_life(name) for name in ("bend", "new", "last", "unknown")] == [2 * kept, 1.0, 1.0, 1.0]
    assert daily.over_life("bend") == 4 * kept
    assert Planner(PriceList(rubric, shop_of())).over_life("bend") == 1.0, "of nobody's instrument nothing is known"


def test_what_fits_and_cannot_be_had_together_gives_way_before_a_fault_is_left() -> None:
    """A short peg and a worn hole: one new peg excludes the new set that the bushed holes ask for, so the set is taken,
    though a set does not fit worn holes.
    """
    holes = {
        "check": "holes", "part": "whole", "ask": "How wide?", "outcomes": {
            "bushed": {"say": "Bushed", "class": "sound"},
            "worn": {"say": "Worn", "class": "fault", "cured_by": ["bush"]}},
    }  # fmt: skip
    jobs = (
        job_of("bush", (2, 2, 2), leaves_as={"holes": "bushed"},
               forces=[{"one_of": ["set", "dress"], "chance": 1.0, "when": "always"}]),
        job_of("set", (1, 1, 1), limits=[{"check": "holes", "not_when": ["worn"]}], choose_one=["single"]),
        job_of("single", (0.5, 0.5, 0.5), choose_one=["set"]),
        job_of("dress", (0.6, 0.6, 0.6), limits=[{"check": "short", "not_when": ["poor"]}]),
    )  # fmt: skip
    rubric = rubric_of(jobs, {"short": ("single", "set")}, checks=(holes,))
    needs = [Need("holes", "worn", "Worn", ("bush",)), Need("short", "poor", "Short", ("single", "set"))]
    plan = Planner(PriceList(rubric, shop_of()), setting(holes="worn", short="poor")).plan(needs)
    assert plan.unmet == {}
    assert plan.jobs == ("bush", "set")


def test_what_follows_fits_too() -> None:
    jobs = (
        job_of("neck", (2, 2, 2), forces=[{"one_of": ["dress", "plane"], "chance": 0.95, "when": "always"}]),
        job_of("dress", (0.5, 0.5, 0.5), limits=[{"check": "grooves", "at_most": 0.15}]),
        job_of("plane", (1, 1, 1)),
    )
    rubric = rubric_of(jobs, {"low": ("neck",)}, checks=CHECKS)
    need = [Need("low", "poor", "Low", ("neck",))]
    assert Planner(PriceList(rubric, shop_of()), setting(grooves="deep")).plan(need).jobs == ("neck", "plane")
    assert Planner(PriceList(rubric, shop_of()), setting(grooves="felt")).plan(need).jobs == ("neck", "dress")


def test_nothing_is_planned_that_nobody_looked_at() -> None:
    rubric = rubric_of((job_of("mend"),), {"a": ("mend",), "b": ("mend",)})
    expected = finding_of(rubric, "a", 0.9, seen=False)
    work = estimate(rubric, case_of(rubric), assessment_of(rubric, expected), shop_of())
    assert work.lines == ()
    assert work.mean == 0
    assert [one.job for one in work.unseen_extras] == ["mend"]
    assert estimate(rubric, case_of(rubric), assessment_of(rubric, finding_of(rubric, "a", 0.9)), shop_of()).mean > 0


def test_a_reading_on_its_limit_forces_nothing() -> None:
    rubric = rubric_of((job_of("mend"),), {"a": ("mend",)})
    found = finding_of(rubric, "a", 0.6, on_limit=True)
    work = estimate(rubric, case_of(rubric), assessment_of(rubric, found), shop_of())
    assert work.lines == ()
    (extra,) = work.possible_extras
    assert extra.when == (IfFound(say="a is poor", on_limit=True),)


def seen_case(**answers: str) -> Any:
    return case_of(RUBRIC, observations={name: (Observation(name, one),) for name, one in answers.items()})


def left(**answers: str) -> dict[str, tuple[float | None, ...]]:
    case = seen_case(**answers)
    known = know(RUBRIC, case)
    plan = plan_known(RUBRIC, case, known, shop_of())
    found = left_by(plan.planner, plan.plan, case, known.held)
    return {one.term.check: mine for one, mine in zip(known.held, found, strict=True)}


def test_a_mend_leaves_what_it_is_worth_where_it_is_found() -> None:
    assert left(grooves="felt")["grooves"] == (0.8, 0.8, None, 0.8)  # a deep one would be beyond the job


def test_a_new_part_is_new_whether_anybody_looked_or_not() -> None:
    """A new board: its edge is thick again. What lies in the making and asks for other work stays."""
    found = left(grooves="deep", edge="little")
    assert found["grooves"] == (None, 1.0, 1.0, None)
    assert found["edge"] == (1.0, 1.0)
    assert found["wood"] == (1.0, None)
    assert left(grooves="none")["edge"] == (None, None)


def test_the_score_after_counts_what_the_plan_leaves() -> None:
    case = seen_case(grooves="felt")
    known = know(RUBRIC, case)
    plan = plan_known(RUBRIC, case, known, shop_of())
    mine = replace(known, left=left_by(plan.planner, plan.plan, case, known.held))
    best, here = assess(RUBRIC, case), assess(RUBRIC, case, known=mine)
    assert here.score.expected == pytest.approx(best.score.expected)
    assert here.score_after.expected < best.score_after.expected  # the best on the list is a new board


@given(st.integers(0, 10_000), st.data())
def test_no_line_stands_without_a_look(seed: int, data: st.DataObject) -> None:
    """Every line cures something that was seen, or names the line that brings it, in whatever order they came."""
    rubric, needs = random_catalogue(seed, 10, 5, 3)
    found = [
        finding_of(rubric, need.check, data.draw(st.sampled_from((0.2, 0.6, 1.0))), seen=data.draw(st.booleans()))
        for need in needs
    ]
    work = estimate(rubric, case_of(rubric), assessment_of(rubric, *found, count=200), shop_of())
    looked = {one.check for one in found if one.seen}
    jobs = {line.job for line in work.lines}
    for line in work.lines:
        if not line.shared:
            assert set(line.cures) <= looked
            assert line.cures or line.forced_by in jobs
    turned = data.draw(st.permutations(found))
    again = estimate(rubric, case_of(rubric), assessment_of(rubric, *turned, count=200), shop_of())
    assert {line.job for line in again.lines} == jobs
    assert again.mean == pytest.approx(work.mean)
