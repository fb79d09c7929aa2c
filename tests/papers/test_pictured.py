"""The drawings on the paper for a customer: right beside wrong for what the work cures, dearest first, none twice."""

from pathlib import Path
from typing import Any, get_args

import pytest

from evaluator.drawings.geometry.pen import Fill, Mark
from evaluator.papers.blocks import Pictured, PicturedRow, Together
from evaluator.papers.printing.pictures import DASHES, FILLS, INKS, WEIGHTS
from evaluator.papers.sections.costs import numbers_of
from evaluator.papers.sections.pictured import MOST, pictured
from evaluator.result.json_form import read_result, to_json
from tests.laws import sampled
from tests.papers.cases import content, evaluation_of, paper_of, text_of
from tests.papers.test_pdf import EXAMPLES


def rows_of(snapshot: dict[str, Any]) -> list[PicturedRow]:
    found = []
    for block in pictured(read_result(snapshot)):
        inner = block.blocks if isinstance(block, Together) else (block,)
        found += [row for one in inner if isinstance(one, Pictured) for row in one.rows]
    return found


def numbered(snapshot: dict[str, Any], checks: list[str]) -> list[int]:
    numbers = numbers_of(read_result(snapshot))
    return [numbers[check] for check in checks if check in numbers]


@pytest.mark.parametrize("path", sampled(EXAMPLES, 3), ids=lambda path: path.stem)
def test_each_row_is_a_finding_that_the_plan_cures(path: Path) -> None:
    snapshot = to_json(evaluation_of(content(path.read_text(encoding="utf-8"))))
    rows = rows_of(snapshot)
    assert len(rows) <= MOST
    assert {row.number for row in rows} <= set(numbers_of(read_result(snapshot)).values())
    assert len({row.sheets for row in rows}) == len(rows)
    assert [row.number for row in rows] == sorted(row.number for row in rows)
    assert all(row.sheets[-1].judged == "Wrong" or len(row.sheets) == 1 for row in rows)
    cured = {number for line in snapshot["plan"]["lines"] for number in numbered(snapshot, line["cures"])}
    assert {row.number for row in rows} <= cured
    text = text_of(paper_of(snapshot, "customer"))
    shown = "What it looks like" in text
    assert shown <= bool(rows), "three pages leave no room for pictures where much is to be done"
    for row in rows if shown else ():
        for sheet in row.sheets:
            assert sheet.caption in text


def test_every_mark_and_fill_has_its_ink() -> None:
    assert set(INKS) == set(WEIGHTS) == set(get_args(Mark))
    assert set(FILLS) == set(get_args(Fill))
    assert set(DASHES) <= set(get_args(Mark))


def test_what_is_looked_at_stands_out_in_grey_too() -> None:
    assert WEIGHTS["look"] == max(WEIGHTS.values())


def test_a_paper_frozen_before_drawings_were_kept_has_none() -> None:
    snapshot = to_json(evaluation_of(content(EXAMPLES[-1].read_text(encoding="utf-8"))))
    for check in snapshot["checks"]:
        check.pop("drawing", None)
    assert pictured(read_result(snapshot)) == []
    assert "What it looks like" not in text_of(paper_of(snapshot, "customer"))


def test_the_job_says_what_else_it_cures() -> None:
    rows = rows_of(to_json(evaluation_of(content(example("good_body_raw_set_up")))))
    cures = {row.number: row.cure for row in rows}
    assert cures[1] == "What cures it: fit a new bridge. That cures 3, 4, 5, 13 and 14 too."
    assert "What cures it: fit a new soundpost." in cures.values()


def test_a_job_shows_its_weightiest_finding_that_a_drawing_shows() -> None:
    """Pegs that are stuck have no drawing; what the same job cures besides has one."""
    snapshot = to_json(evaluation_of(content(example("good_body_raw_set_up"))))
    pegs = next(line for line in snapshot["plan"]["lines"] if "peg_function" in line["cures"])
    shown = {row.number for row in rows_of(snapshot)}
    assert shown & set(numbered(snapshot, pegs["cures"])) == {numbers_of(read_result(snapshot))["peg_taper_fit"]}


def test_a_cello_is_told_that_the_shapes_are_a_violins() -> None:
    said = {
        name: repr(pictured(read_result(to_json(evaluation_of(content(example(name)))))))
        for name in ("cello_from_a_school", "bow_due_for_work", "good_body_raw_set_up")
    }
    assert [name for name, text in said.items() if "The shapes are a violin's" in text] == ["cello_from_a_school"]


def example(name: str) -> str:
    return next(path for path in EXAMPLES if path.stem == name).read_text(encoding="utf-8")
