"""Where the points went: the rows add up to what is missing, and say what took them."""

from typing import Any

import pytest

from evaluator.result.json_form import read_result, to_json
from evaluator.store.folders import rubrics_folder
from evaluator.wording.answer.points import band_line, place_line, points_rows
from tests.papers.cases import content, evaluation_of


def example(name: str) -> dict[str, Any]:
    path = rubrics_folder() / "examples" / f"{name}.yaml"
    return to_json(evaluation_of(content(path.read_text(encoding="utf-8"))))


@pytest.mark.parametrize("name", ["good_body_raw_set_up", "fallen_post", "bow_due_for_work", "everything_looked_at"])
def test_the_rows_add_up_to_what_is_missing(name: str) -> None:
    result = read_result(example(name))
    rows = points_rows(result)
    assert result.score.expected is not None
    assert sum(row.points for row in rows) == pytest.approx(100 - result.score.expected, abs=1e-9)
    named = [row.points for row in rows if row.check]
    assert named == sorted(named, reverse=True)
    assert all(row.domains for row in rows if row.check)


def test_what_is_heard_through_a_fallen_post_is_to_be_judged_again() -> None:
    rows = points_rows(read_result(example("fallen_post")))
    assert any("judged again" in row.remark for row in rows)


def test_the_number_has_its_words_and_its_place() -> None:
    snapshot = example("good_body_raw_set_up")
    result = read_result(snapshot)
    assert band_line(result) == f"{snapshot['score']['expected']:.0f} of 100. {snapshot['band']['say']}"
    assert "Of a hundred of its class (" in place_line(result)
    for better, said in ((0, "hardly one is better"), (40, "about 40 are better"), (100, "nearly all are better")):
        snapshot["place_in_class"]["better"] = better
        assert place_line(read_result(snapshot)).endswith(f"{said}.")


def test_without_a_number_nothing_is_said_of_points() -> None:
    result = read_result(example("two_cheap_signs"))
    assert (points_rows(result), band_line(result), place_line(result)) == ((), "", "")
