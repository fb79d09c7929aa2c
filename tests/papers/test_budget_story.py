"""The budget curve and the three levels on papers and pages: words, order, numbers of the plot."""

from typing import Any

import pytest

from evaluator.figures.money import budget_figure
from evaluator.figures.shapes import Dot, Label, Line
from evaluator.papers.blocks import Together
from evaluator.papers.sections.budget import ambitions, budget, budget_sentence, in_short, levels, step_words
from evaluator.result.json_form import read_result
from evaluator.result.model.result import Result
from evaluator.result.model.work import Budget
from tests.papers.cases import FEW, full_snapshot, snapshot_of

JOBS = {name: {"job": name, "say": f"Do the {name}"} for name in "abcdefghijkl"}


def money(amount: float) -> dict[str, str]:
    return {"amount": f"{amount:.2f}", "currency": "USD"}


def curve_of(*scores: float, enough: int | None = None, cost: float = 100.0) -> dict[str, Any]:
    """A curve whose step i does the first i jobs."""
    names = list(JOBS)
    steps = [
        {
            "cost": money(cost * i),
            "score": score,
            "adds": [JOBS[names[i - 1]]] if i else [],
            "drops": [],
        }
        for i, score in enumerate(scores)
    ]
    return {"steps": steps, "enough": enough}


def snapshot_with(**keys: Any) -> Result:
    """The result of a violin with other levels or another curve."""
    return read_result(snapshot_of(FEW) | {"budget": None, "ambitions": []} | keys)


def read(curve: dict[str, Any]) -> Budget:
    found = snapshot_with(budget=curve).budget
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("curve", "sentence"),
    [
        (curve_of(60, 80, enough=1), "$100 can bring it from 60 to 80."),
        (curve_of(60, 75, 80, enough=1), "$100 can bring it from 60 to 75, $200 to 80."),
        (curve_of(97.0, 97.3, 97.4, enough=1), "$100 can bring it from 97.0 to 97.3, $200 to 97.4."),
    ],
)
def test_the_sentence(curve: dict[str, Any], sentence: str) -> None:
    assert budget_sentence(snapshot_with(budget=curve)) == sentence


def test_a_step_names_what_it_adds_and_what_falls_away() -> None:
    both = {"adds": [{"job": "x", "say": "Fit a bridge"}, {"job": "y", "say": "Dress the pegs"}], "drops": [JOBS["a"]]}
    none: dict[str, Any] = {"adds": [], "drops": []}
    told = read({"steps": [step | {"cost": money(0), "score": 1.0} for step in (both, none)], "enough": None}).steps
    assert step_words(told[0]) == ("Fit a bridge, dress the pegs", "In the place of: do the a.")
    assert step_words(told[1]) == ("Nothing is done", "")


def test_on_paper_the_steps_that_gain_least_are_joined_to_the_next() -> None:
    curve = curve_of(50, 50.1, 60, 60.1, 70, 70.1, 71, enough=5)
    short = in_short(read(curve), 4)
    assert [step.score for step in short.steps] == [50, 70, 70.1, 71]
    assert short.enough is not None and short.steps[short.enough].score == 70.1
    assert [[job.job for job in step.adds] for step in short.steps] == [[], list("abcd"), ["e"], ["f"]]
    assert in_short(read(curve), 9) == read(curve)


def test_what_comes_and_goes_between_shown_steps_is_not_told() -> None:
    curve = curve_of(50, 51, 70, 80, enough=2)
    curve["steps"][2] |= {"drops": [JOBS["a"]]}
    short = in_short(read(curve), 3)
    assert [step.score for step in short.steps] == [50, 70, 80]
    assert [job.job for job in short.steps[1].adds] == ["b"]
    assert short.steps[1].drops == ()


@pytest.mark.parametrize("width", [80.0, 84.0, 130.0])
@pytest.mark.parametrize("name", ["violin", "cello"])
def test_the_plot_is_in_its_frame_with_a_dot_a_step(name: str, width: float) -> None:
    found = full_snapshot(name, "wanting", "4/4", 20)["budget"]
    figure = budget_figure(read(found), "USD", width)
    assert figure is not None
    dots = [shape for shape in figure.shapes if isinstance(shape, Dot)]
    assert len(dots) == len(found["steps"])
    assert all(0 <= dot.x <= width and 0 <= dot.y <= figure.height for dot in dots)
    marked = [int(shape.text) for shape in figure.shapes if isinstance(shape, Label) and shape.strong]
    assert {found["enough"], len(dots) - 1} <= set(marked)
    assert any(isinstance(shape, Line) and shape.dashed for shape in figure.shapes) == (found["enough"] < len(dots) - 1)
    assert figure.alt.startswith("Without work the score is ")


def test_no_work_no_plot() -> None:
    assert budget_figure(read(curve_of(80)), "USD") is None
    assert budget(snapshot_with(budget=curve_of(80))) == []
    assert budget(snapshot_with()) == []  # kept before there was a curve


def level(name: str, jobs: str, mean: float) -> dict[str, Any]:
    price = {"mean": money(mean), "p80": money(mean), "low": money(mean - 9), "high": money(mean + 9)}
    return {"name": name, "jobs": [JOBS[job] for job in jobs], **price}


@pytest.mark.parametrize(
    ("jobs", "told"),
    [
        (("a", "ab", "abc"), ("Do the a", "That, and: do the b", "That, and: do the c")),
        (("", "ab", "ab"), ("No work, as far as was seen", "Do the a, do the b", "The same work")),
        (("a", "b", "bc"), ("Do the a", "Do the b", "That, and: do the c")),
        (("", "", "c"), ("No work, as far as was seen", "No more, as far as was seen", "Do the c")),
    ],
)
def test_each_level_is_told_from_the_one_before(jobs: tuple[str, ...], told: tuple[str, ...]) -> None:
    names = ("safe", "standard", "recommended")
    found = [level(name, some, 100.0 * i) for i, (name, some) in enumerate(zip(names, jobs, strict=True))]
    rows = levels(snapshot_with(ambitions=found))
    assert tuple(row.work for row in rows) == told
    assert [row.likely for row in rows] == ["$0", "$100", "$200"]
    assert [row.span == "–" for row in rows] == [not some for some in jobs]


def test_no_levels_where_no_work_is_needed_or_none_were_kept() -> None:
    found = [level(name, "", 0) for name in ("safe", "standard", "recommended")]
    assert levels(snapshot_with(ambitions=found)) == ()
    assert ambitions(snapshot_with()) == []


def test_the_blocks_keep_together_and_carry_the_plans_figures() -> None:
    snapshot = read_result(snapshot_of(FEW))
    (table,) = ambitions(snapshot)
    assert isinstance(table, Together)
    standard = levels(snapshot)[1]
    assert standard.likely == f"${round(snapshot.plan.mean):,}"
