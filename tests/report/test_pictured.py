"""The drawings on the paper for a customer: right beside wrong for what the work cures, dearest first, none twice."""

from pathlib import Path
from typing import Any, get_args

import pytest

from evaluator.drawings.pen import Fill, Mark
from evaluator.report.blocks import Pictured, PicturedRow, Together
from evaluator.report.costs import numbers_of
from evaluator.report.pdf import report_pdf
from evaluator.report.pictured import MOST, pictured
from evaluator.report.sheets import DASHES, FILLS, INKS, WEIGHTS
from evaluator.snapshot import to_json
from tests.report.cases import content, evaluation_of
from tests.report.test_pdf import EXAMPLES, text_of


def rows_of(snapshot: dict[str, Any]) -> list[PicturedRow]:
    found = []
    for block in pictured(snapshot):
        inner = block.blocks if isinstance(block, Together) else (block,)
        found += [row for one in inner if isinstance(one, Pictured) for row in one.rows]
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_row_is_a_finding_that_the_plan_cures(path: Path) -> None:
    snapshot = to_json(evaluation_of(content(path.read_text(encoding="utf-8"))))
    rows = rows_of(snapshot)
    assert len(rows) <= MOST
    assert {row.number for row in rows} <= set(numbers_of(snapshot).values())
    assert len({row.sheets for row in rows}) == len(rows)
    assert all([sheet.judged for sheet in row.sheets] == ["Right", "Wrong"] for row in rows)
    text = text_of(report_pdf(snapshot, "customer"))
    assert ("What it looks like" in text) == bool(rows)
    for row in rows:
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
    assert pictured(snapshot) == []
    assert "What it looks like" not in text_of(report_pdf(snapshot, "customer"))
