"""What was merged or renamed is still read: answers, overlays, waits and conditions by the names of before."""

from pathlib import Path
from typing import Any

import pytest

from evaluator.assessment.model import Case
from evaluator.assessment.observing.case import read_case
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.sense.check import check_path
from tests.rubric.small import VIOLIN, write_rubrics

RENAMED = """
renamed:
  - was: feet_by_light
    now: bridge_feet
    outcomes: {dark: fitted, light: gaps}
    why: it was asked twice.
  - was: weight_by_scale
    now: bridge_feet
    measure: {quantity: mass, unit: g, tools: [scale]}
    standard: {table: weight}
    outcomes: {meets: fitted, too_high: gaps}
    why: it was measured, and is now judged by eye.
  - was: tuner_number
    now: tuners
    numbers: {0: few, 3: many}
    why: it was counted twice.
  - was: feet_and_tuners
    now: bridge_feet
    outcomes: {good: fitted + tuners.few, light: gaps, many: tuners.many}
    why: it asked two things at once.
  - was: label_colour
    why: it told nothing.
  - was: purfling
    outcomes: {scribbled: painted, cast: bridge_feet.gaps}
    why: nobody could tell them apart.
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_rubrics(tmp_path, violin=VIOLIN + RENAMED)


@pytest.fixture
def rubric(root: Path) -> Rubric:
    found, problems = load_rubric(root, "violin")
    assert found is not None, problems
    return found


def read(rubric: Rubric, observations: dict[str, Any]) -> Case:
    case, problems = read_case(rubric, {"format": 1, "rubric": "violin", "observations": observations})
    assert case is not None, problems
    return case


def outcomes(rubric: Rubric, observations: dict[str, Any]) -> dict[str, list[str | None]]:
    case = read(rubric, observations)
    return {name: [one.outcome for one in seen] for name, seen in case.observations.items()}


@pytest.mark.parametrize(
    ("given", "today"),
    [
        ({"feet_by_light": "light"}, {"bridge_feet": ["gaps"]}),
        ({"feet_by_light": "cannot_tell"}, {"bridge_feet": ["cannot_tell"]}),
        ({"feet_by_light": {"outcome": "dark", "seen_by": "photos"}}, {"bridge_feet": ["fitted"]}),
        ({"feet_by_light": "light", "bridge_feet": "fitted"}, {"bridge_feet": ["fitted", "gaps"]}),
        ({"weight_by_scale": "428 g"}, {"bridge_feet": ["fitted"]}),
        ({"weight_by_scale": {"reading": 0.5, "unit": "kg", "tool": "scale"}}, {"bridge_feet": ["gaps"]}),
        ({"weight_by_scale": ["428 g", "500 g"]}, {"bridge_feet": ["fitted", "gaps"]}),
        ({"weight_by_scale": {"reading": ["428 g", "500 g"]}}, {"bridge_feet": ["gaps"]}),
        ({"purfling": "scribbled"}, {"purfling": ["painted"]}),
        ({"purfling": "painted"}, {"purfling": ["painted"]}),
        ({"purfling": "cast"}, {"bridge_feet": ["gaps"]}),
        ({"feet_and_tuners": "good"}, {"bridge_feet": ["fitted"], "tuners": ["few"]}),
        ({"feet_and_tuners": {"outcome": "many"}}, {"tuners": ["many"]}),
        ({"feet_and_tuners": "cannot_tell"}, {"bridge_feet": ["cannot_tell"]}),
        ({"label_colour": "red"}, {}),
    ],
)
def test_an_answer_of_before_is_the_one_of_today(
    rubric: Rubric, given: dict[str, Any], today: dict[str, list[str]]
) -> None:
    assert outcomes(rubric, given) == today


def test_a_number_of_before_is_the_outcome_of_today(rubric: Rubric) -> None:
    assert outcomes(rubric, {"tuner_number": 4}) == {"tuners": ["many"]}
    assert outcomes(rubric, {"tuner_number": "0"}) == {"tuners": ["few"]}


def test_what_was_typed_is_kept_in_the_note(rubric: Rubric) -> None:
    (one,) = read(rubric, {"weight_by_scale": {"reading": "500 g", "note": "with rest"}}).observations["bridge_feet"]
    assert one.note == "with rest Asked before as weight by scale: 500 g."


def test_what_nobody_asks_any_more_is_told(rubric: Rubric) -> None:
    assert read(rubric, {"label_colour": "red"}).no_longer_asked == {"label_colour": "it told nothing."}


def test_what_cannot_be_read_is_still_a_mistake(rubric: Rubric) -> None:
    case, problems = read_case(rubric, {"observations": {"feet_by_light": "maybe", "weight_by_scale": "heavy"}})
    assert case is None
    assert len(problems) == 2


def test_an_overlay_that_names_a_merged_check_is_told_and_works(root: Path, tmp_path: Path) -> None:
    overlay = tmp_path / "mine.yaml"
    overlay.write_text(
        "extends: violin\nchange:\n  feet_by_light:\n    weight: 2\n    outcomes: {light: {worth: 0.1}}\n"
        "  purfling:\n    relevant_if: not (feet_by_light in [\"light\", \"dark\"])\n"
        "    postponed_by: [feet_by_light.light]\n"
        "drop: [label_colour]\n",
        encoding="utf-8",
    )  # fmt: skip
    rubric, problems = load_rubric(root, "violin", [overlay])
    assert problems == ()
    assert rubric is not None
    assert rubric.checks["bridge_feet"].outcomes["gaps"].worth == 0.1
    assert rubric.checks["bridge_feet"].weight == 1.0
    assert rubric.checks["purfling"].postponed_by == ("bridge_feet.gaps",)
    assert rubric.relevant["purfling"].text == 'not (bridge_feet in ["gaps", "fitted"])'
    told = check_path(overlay, root).problems
    assert [(one.code, one.place.line if one.place else 0) for one in told] == [
        ("file.old_name", 3), ("file.gone_name", 9)]  # fmt: skip
    assert str(told[0]).endswith(
        'mine.yaml:3:3 "feet_by_light" is a name of before. It is understood; write "bridge_feet" when you next can. '
        "The reason: it was asked twice."
    )


def test_an_outcome_of_before_in_an_overlay_is_told_too(root: Path, tmp_path: Path) -> None:
    overlay = tmp_path / "mine.yaml"
    overlay.write_text(
        "extends: violin\nchange:\n  purfling:\n    outcomes: {scribbled: {worth: 0.2}}\n", encoding="utf-8"
    )
    rubric, problems = load_rubric(root, "violin", [overlay])
    assert problems == ()
    assert rubric is not None and rubric.checks["purfling"].outcomes["painted"].worth == 0.2
    assert set(rubric.checks["purfling"].outcomes) == {"inlaid", "painted"}


def test_an_overlay_on_a_check_that_became_two_changes_both(root: Path, tmp_path: Path) -> None:
    overlay = tmp_path / "mine.yaml"
    overlay.write_text(
        "extends: violin\nchange:\n  feet_and_tuners:\n    outcomes: {light: {worth: 0.1}, many: {worth: 0.2}}\n"
        '  purfling:\n    relevant_if: feet_and_tuners in ["light", "many"]\n'
        '    outcomes: {cast: {means: "Look again."}}\n',
        encoding="utf-8",
    )
    rubric, problems = load_rubric(root, "violin", [overlay])
    assert problems == ()
    assert rubric is not None
    assert rubric.checks["bridge_feet"].outcomes["gaps"].worth == 0.1
    assert rubric.checks["tuners"].outcomes["many"].worth == 0.2
    assert rubric.relevant["purfling"].text == '(bridge_feet in ["gaps"] or tuners in ["many"])'
    assert rubric.checks["bridge_feet"].outcomes["gaps"].means == "Look again."
    assert "cast" not in rubric.checks["purfling"].outcomes
