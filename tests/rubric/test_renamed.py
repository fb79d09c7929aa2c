"""What was merged or renamed is still read in overlays: changes, waits and conditions by the names of before."""

from pathlib import Path

import pytest

from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.sense.check import check_path
from tests.rubric.small import RENAMED, VIOLIN, write_rubrics


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write_rubrics(tmp_path, violin=VIOLIN + RENAMED)


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
