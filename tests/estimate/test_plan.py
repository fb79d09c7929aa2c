"""The plan against trying every set of jobs, against a second solver, and each rule of the catalogue by itself."""

from collections.abc import Callable
from time import process_time

import cbcbox
import pulp
import pytest

from evaluator.estimate.planning import highs
from evaluator.estimate.planning.catalogue import Need
from evaluator.estimate.planning.plan import Plan, Planner, cheapest
from evaluator.estimate.planning.programme import ALWAYS, Programme, any_choice
from evaluator.estimate.price import PriceList
from tests.estimate.catalogues import cheapest_by_trial, random_catalogue
from tests.estimate.small import job_of, rubric_of, shared_of, shop_of

HOUR = (1.0, 1.0, 1.0)
TWO = (2.0, 2.0, 2.0)
TINY = (0.1, 0.1, 0.1)
ALWAYS_FORCES = {"chance": 0.9, "when": "always"}


def plan_of(jobs: list[dict], cures: dict[str, tuple[str, ...]], shared: tuple = ()) -> Plan:
    rubric = rubric_of(tuple(jobs), cures, shared)
    return Planner(PriceList(rubric, shop_of())).plan(
        Need(check, "poor", check, cured_by) for check, cured_by in cures.items()
    )


@pytest.mark.parametrize(
    ("jobs", "cures", "wanted"),
    [
        ([job_of("a", HOUR), job_of("b", TWO)], {"x": ("a", "b")}, "a"),
        ([job_of("a", HOUR), job_of("b", TWO), job_of("c", TWO)], {"x": ("a", "b"), "y": ("b", "c")}, "b"),
        ([job_of("a", HOUR, requires=["p"]), job_of("p", HOUR)], {"x": ("a",)}, "a p"),
        ([job_of("a", HOUR, forces=[{"job": "p", **ALWAYS_FORCES}]), job_of("p")], {"x": ("a",)}, "a p"),
        ([job_of("a", HOUR, forces=[{"job": "p", "chance": 0.8, "when": "often"}]), job_of("p")], {"x": ("a",)}, "a"),
        (
            [job_of("a", forces=[{"one_of": ["p", "q"], **ALWAYS_FORCES}]), job_of("p", TWO), job_of("q", HOUR)],
            {"x": ("a",)},
            "a q",
        ),
        ([job_of("a", HOUR, choose_one=["b"]), job_of("b"), job_of("c")], {"x": ("a", "c"), "y": ("b",)}, "b c"),
        ([job_of("a", TWO, makes_unnecessary=["b"]), job_of("b", HOUR)], {"x": ("a",), "y": ("b",)}, "a"),
        (
            [job_of("a", HOUR, requires=["p"]), job_of("p", HOUR), job_of("q", TINY, makes_unnecessary=["p"])],
            {"x": ("a",)},
            "a q",
        ),
        (
            [job_of("a", forces=[{"job": "p", **ALWAYS_FORCES}]), job_of("p"), job_of("q", makes_unnecessary=["p"])],
            {"x": ("a",), "y": ("q",)},
            "a q",
        ),
        ([], {}, ""),
    ],
    ids=[
        "cheapest",
        "one for two",
        "prerequisite",
        "forced",
        "only likely",
        "one of",
        "choose one",
        "makes unnecessary",
        "done by another",
        "forced done by another",
        "nothing",
    ],
)
def test_rules_of_the_catalogue(jobs: list[dict], cures: dict[str, tuple[str, ...]], wanted: str) -> None:
    found = plan_of(jobs, cures)
    assert " ".join(found.jobs) == wanted
    assert found.proven
    assert not found.unmet


def test_shared_labour_is_paid_once_and_not_where_it_is_included() -> None:
    shared = (shared_of("down", TWO, includes=["slack"]), shared_of("slack", HOUR))
    jobs = [job_of("a", HOUR, shares=["down"]), job_of("b", HOUR, shares=["down"]), job_of("c", HOUR, shares=["slack"])]
    found = plan_of(jobs, {"x": ("a",), "y": ("b",), "z": ("c",)}, shared)
    assert found.shared == ("down",)
    assert found.mean == pytest.approx(5 * 85)
    assert plan_of(jobs, {"z": ("c",)}, shared).shared == ("slack",)


def test_what_cannot_be_met_is_said() -> None:
    jobs = [job_of("a", HOUR, choose_one=["b"]), job_of("b", HOUR)]
    found = plan_of(jobs, {"x": ("a",), "y": ("b",), "z": ("nothing",)})
    assert found.jobs == ("a",)
    assert {need.check: words for need, words in found.unmet.items()} == {"y": "clash", "z": "no_job"}


def test_next_best_choice() -> None:
    rubric = rubric_of((job_of("a", HOUR), job_of("b", TWO), job_of("c")), {"x": ("a", "b"), "y": ("c",)})
    planner = Planner(PriceList(rubric, shop_of()))
    plan = planner.plan([Need("x", "poor", "x", ("a", "b")), Need("y", "poor", "y", ("c",))])
    assert planner.next_best(plan, "a") == ("b", pytest.approx(85.0))
    assert planner.next_best(plan, "c") is None


@pytest.mark.parametrize("block", range(10))
def test_300_random_catalogues_equal_trying_every_set(block: int) -> None:
    for seed in range(30 * block, 30 * block + 30):
        rubric, needs = random_catalogue(seed, 3 + seed % 12, 1 + seed % 7, seed % 4)
        planner = Planner(PriceList(rubric, shop_of()))
        price = {name: round(one.whole.mean * 100) for name, one in (planner.price | planner.shared).items()}
        plan = planner.plan(needs)
        least = cheapest_by_trial(rubric, needs, price)
        if least is None:
            assert plan.unmet
            met = [need for need in needs if need not in plan.unmet]
            least = cheapest_by_trial(rubric, met, price)
        else:
            assert not plan.unmet
        assert plan.proven
        assert sum(price[name] for name in (*plan.jobs, *plan.shared)) == least, seed


def by_second_solver(programme: Programme) -> int:
    """Cents of the optimum by CBC."""
    problem = pulp.LpProblem("plan", pulp.LpMinimize)
    x = [problem.add_variable(f"x{i}", cat="Binary") for i in range(len(programme.names))]
    problem += pulp.lpSum(cents * one for cents, one in zip(programme.cents, x, strict=True))
    for asks, need in programme.clauses:
        problem += pulp.lpSum(x[i] for i in need) >= (1 if asks == ALWAYS else x[asks])
    for a, b in programme.exclusions:
        problem += x[a] + x[b] <= 1
    problem.solve(pulp.COIN_CMD(path=cbcbox.cbc_bin_path(), msg=False))
    assert pulp.LpStatus[problem.status] == "Optimal"
    return round(pulp.value(problem.objective))


def real_size(seed: int) -> Plan:
    rubric, needs = random_catalogue(1000 + seed, 100, 60, 10, links=0.2)
    return Planner(PriceList(rubric, shop_of())).plan(needs)


@pytest.mark.parametrize("seed", range(40))
def test_40_plans_of_real_size_equal_a_second_solver(seed: int) -> None:
    plan = real_size(seed)
    assert plan.proven
    assert sum(round(plan.prices[name].whole.mean * 100) for name in (*plan.jobs, *plan.shared)) == by_second_solver(
        plan.programme
    )


@pytest.mark.parametrize("seed", range(5))
def test_an_order_that_outgrows_the_search_goes_to_highs(seed: int) -> None:
    plan = real_size(seed)
    found, usual = cheapest(plan.programme, nodes=1), cheapest(plan.programme)
    assert found is not None
    assert usual is not None
    assert found.proven
    assert found.chosen == usual.chosen


def test_a_solver_that_ran_out_of_time_says_what_could_be_saved() -> None:
    plan = real_size(3)
    late = highs.solve(plan.programme, seconds=0.0)
    assert late is not None
    assert not late.proven
    some = any_choice(plan.programme)
    assert some is not None
    assert not plan.programme.broken(some.chosen)
    assert plan.programme.cost(some.chosen) >= sum(
        round(plan.prices[name].whole.mean * 100) for name in (*plan.jobs, *plan.shared)
    )


def test_time_of_plans_of_real_size() -> None:
    """60 faults and 100 jobs: median of 40 under one plain loop of a million, the worst under six."""
    loop = min(_timed(lambda: sum(i * i for i in range(10**6))) for _ in range(3))
    real_size(0)
    times = sorted(min(_timed(lambda seed=seed: real_size(seed)) for _ in range(2)) for seed in range(40))
    assert times[20] < loop
    assert times[-1] < 6 * loop


def _timed(work: Callable[[], object]) -> float:
    start = process_time()
    work()
    return process_time() - start
