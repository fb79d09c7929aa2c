"""rubrics/judging.yaml: every figure of judgement stands there within its bounds, and what it says is what happens."""

from pathlib import Path

import pytest

from evaluator.rubric.diff import differences
from evaluator.rubric.files.load import load_rubric, read_family_file
from evaluator.rubric.written.surroundings import BOUNDS, FIGURES, SHARE
from evaluator.store.folders import rubrics_folder
from tests.known import JUDGED, shipped

OVERLAY = "extends: violin\nby: A workshop\ntitle: Ours\nversion: '1'\nchange:\n  {figure}: {{value: {value}}}\n"


def test_every_figure_stands_once_with_its_source_and_reason() -> None:
    assert set(JUDGED) == set(FIGURES)
    assert all(one.say and one.sources for one in JUDGED.values())
    assert set(BOUNDS) < set(FIGURES)


@pytest.mark.parametrize(
    ("figure", "low", "high"),
    [("sold_on", 0.2, 0.4), ("plainly_worth", 1.2, 1.8), ("few_minutes", 5, 15), ("kept_years", 1.5, 3)],
)
def test_a_figure_lies_where_a_luthier_would_put_it(figure: str, low: float, high: float) -> None:
    """Judged at the bench, no source: a change beyond these bands is another opinion and wants its reason."""
    assert low <= next(one.value for one in JUDGED.values() if one.judged == figure) <= high


def overlay(folder: Path, figure: str, value: float) -> Path:
    path = folder / "ours.yaml"
    path.write_text(OVERLAY.format(figure=figure, value=value), encoding="utf-8")
    return path


def test_a_workshop_puts_its_own_figure_in_its_overlay(tmp_path: Path) -> None:
    mine, problems = load_rubric(rubrics_folder(), "violin", [overlay(tmp_path, "opening", 0.8)])
    assert mine is not None, problems
    assert mine.figure("opening") == 0.8
    assert mine.figure("probably") == JUDGED["probably"].value


def test_a_figure_cannot_be_dropped(tmp_path: Path) -> None:
    path = tmp_path / "ours.yaml"
    path.write_text("extends: violin\nby: Us\ntitle: Ours\nversion: '1'\ndrop: [opening]\n", encoding="utf-8")
    mine, problems = load_rubric(rubrics_folder(), "violin", [path])
    assert mine is None
    assert ["nothing says opening" in str(one) for one in problems] == [True]


def test_what_a_workshop_judges_otherwise_is_told(tmp_path: Path) -> None:
    before = shipped("violin")
    after, _ = load_rubric(rubrics_folder(), "violin", [overlay(tmp_path, "opening", 0.8)])
    assert before is not None and after is not None
    (said,) = differences(before, after)
    assert "opening" in said and "0.8" in said and "0.7" in said
    assert after.opinion_of["opening"] == "A workshop"


@pytest.mark.parametrize("figure", ["opening", "out_of_reach", "few_minutes"])
def test_a_figure_out_of_its_bounds_is_refused_with_its_place(tmp_path: Path, figure: str) -> None:
    _, high = BOUNDS.get(figure, SHARE)
    mine, problems = load_rubric(rubrics_folder(), "violin", [overlay(tmp_path, figure, high + 1)])
    assert mine is None
    assert [one.place.line for one in problems if one.place] == [6]
    assert f"{figure} must lie between" in str(problems[0])


def test_of_a_rubric_with_some_figures_it_is_told_which_are_missing(tmp_path: Path) -> None:
    (tmp_path / "families").mkdir()
    text = "rubric: small\nversion: '1'\ntitle: Small\nfamily: violin\nsizes: [4/4]\njudged:\n"
    for one in JUDGED.values():
        if one.judged != "opening":
            text += f"  - {{judged: {one.judged}, say: So., value: {one.value}, sources: [judged], confidence: low}}\n"
    path = tmp_path / "families" / "small.yaml"
    path.write_text(text, encoding="utf-8")
    rubric, problems = load_rubric(tmp_path, "small")
    assert rubric is None
    assert ["nothing says opening" in str(one) for one in problems if one.code == "rubric.not_judged"] == [True]


def test_a_rubric_of_ones_own_has_the_figures_of_the_program(tmp_path: Path) -> None:
    path = tmp_path / "small.yaml"
    path.write_text("rubric: small\nversion: '1'\ntitle: Small\nfamily: violin\nsizes: [4/4]\n", encoding="utf-8")
    found = read_family_file(path, rubrics_folder()).rubric
    assert found is not None
    assert found.figure("opening") == JUDGED["opening"].value
