"""The work in a snapshot: the three levels and the budget curve agree with the plan and name every job in words."""

import json
from itertools import pairwise
from typing import Any

import pytest

from tests.papers.cases import FEW, evaluation_of, full, full_snapshot, in_numbers, rubric, snapshot_of


def figures(snapshot: dict[str, Any]) -> dict[str, Any]:
    """The snapshot with its money as numbers."""
    found: dict[str, Any] = in_numbers(snapshot)
    return found


@pytest.fixture(params=["few", "wanting", "sound"])
def snapshot(request: pytest.FixtureRequest) -> dict[str, Any]:
    match request.param:
        case "few":
            return figures(snapshot_of(FEW))
        case "wanting":
            return figures(full_snapshot("cello", "wanting", "4/4", 20))
    return figures(full_snapshot("violin", "sound", "4/4"))


def test_three_levels_each_dearer_than_the_one_before(snapshot: dict[str, Any]) -> None:
    levels = snapshot["ambitions"]
    assert [one["name"] for one in levels] == ["safe", "standard", "recommended"]
    for less, more in pairwise(levels):
        assert less["mean"] <= more["mean"] + 0.01
        assert less["p80"] <= more["p80"] + 0.01
    standard = levels[1]
    planned = [line["job"] for line in snapshot["plan"]["lines"] if not line["shared"]]
    assert [one["job"] for one in standard["jobs"]] == planned
    assert standard["mean"] == snapshot["plan"]["mean"]
    assert standard["p80"] == snapshot["plan"]["p80"]


def test_the_lines_add_up_to_the_plan_and_those_of_the_set_up_to_its_share(snapshot: dict[str, Any]) -> None:
    plan, jobs = snapshot["plan"], rubric(snapshot["rubric"]["name"]).jobs
    lines = plan["lines"]
    assert sum(line["mean"] for line in lines) == pytest.approx(plan["mean"], abs=0.005 * (len(lines) + 1))
    of_set_up = [line["mean"] for line in lines if line["job"] in jobs and jobs[line["job"]].skill == "set_up"]
    assert plan["set_up_mean"] == pytest.approx(sum(of_set_up), abs=0.005 * (len(of_set_up) + 1))
    assert any(line["mean"] % 1 for line in lines) == bool(lines), "to the cent, not to the unit"


def test_the_steps_rise_and_tell_what_they_add_and_drop(snapshot: dict[str, Any]) -> None:
    steps = snapshot["budget"]["steps"]
    if snapshot["score"]["expected"] is None:
        assert snapshot["budget"] == {"steps": [], "enough": None}
        return
    assert steps[0] == {
        "cost": 0,
        "score": pytest.approx(snapshot["score"]["expected"]),
        "adds": [],
        "drops": [],
    }
    done: set[str] = set()
    for before, after in pairwise(steps):
        assert before["cost"] < after["cost"]
        assert before["score"] <= after["score"]
        gone = {one["job"] for one in after["drops"]}
        come = {one["job"] for one in after["adds"]}
        assert come
        assert not come & done
        assert gone <= done
        done = (done - gone) | come
    enough = snapshot["budget"]["enough"]
    assert (enough is None) == (len(steps) == 1)
    if enough is not None:
        rise = steps[-1]["score"] - steps[0]["score"]
        assert steps[enough]["score"] - steps[0]["score"] >= 0.66 * rise
        assert steps[enough - 1]["score"] - steps[0]["score"] < 0.67 * rise


def test_how_much_less_another_plan_could_cost_is_told() -> None:
    plan = figures(snapshot_of(FEW))["plan"]
    assert plan["proven_optimal"] is True and plan["may_save"] == 0


def test_every_named_job_is_named_in_the_rubrics_words() -> None:
    snapshot = full_snapshot("cello", "wanting", "4/4", 20)
    jobs = rubric("cello").jobs
    named = [one for level in snapshot["ambitions"] for one in level["jobs"]]
    named += [one for step in snapshot["budget"]["steps"] for one in step["adds"]]
    assert len(named) > 20
    assert all(one["say"] == jobs[one["job"]].say for one in named)
    assert json.loads(json.dumps(snapshot["budget"])) == snapshot["budget"]


def test_a_curve_ends_no_lower_than_the_score_after_the_planned_work() -> None:
    for name, size in (("violin", "4/4"), ("bow", "violin 4/4")):
        found = evaluation_of(full(name, "wanting", size, 20))
        steps = figures(full_snapshot(name, "wanting", size, 20))["budget"]["steps"]
        assert steps[-1]["score"] >= 0.9 * found.assessment.score_after.expected
