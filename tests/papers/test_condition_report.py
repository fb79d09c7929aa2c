"""The condition report holds every answer by part, good ones too, and neither advice nor price."""

import pytest

from evaluator.papers.blocks import Drawing, Heading, TableBlock, Together
from evaluator.papers.printing.pdf import report_pdf
from evaluator.papers.readers import Issued
from evaluator.papers.sections.by_part import OF_A_REPAIR, OF_THE_SALE, by_part, numbers
from evaluator.papers.story import paper
from evaluator.result.json_form import read_result, to_json
from evaluator.store.folders import rubrics_folder
from evaluator.wording.answer.verdict import words_of
from evaluator.wording.words import believed, recorded
from tests.papers.cases import FEW, content, evaluation_of, rubric, snapshot_of, text_of
from tests.papers.golden.papers import example

NAMES = ("good_body_raw_set_up", "bow_due_for_work", "two_cheap_signs")


@pytest.mark.parametrize("name", NAMES)
def test_every_answer_stands_in_it_and_no_money(name: str) -> None:
    text = (rubrics_folder() / "examples" / f"{name}.yaml").read_text("utf-8")
    result = read_result(to_json(evaluation_of(content(text))))
    found = text_of(report_pdf(result, "condition"))
    for check in result.checks:
        for answer in check.observations:
            assert check.check in OF_THE_SALE or " ".join(recorded(answer).split()) in found
    assert "Return terms" not in found, "how it is sold is no part of its condition"
    believed_too = {item.check for item in believed(result)} - set(result.conformity)
    assert ("not as it should be" in found or "part of its making" in found) or not believed_too
    assert " good " in found or name == "two_cheap_signs"
    assert "$" not in found and words_of(result).sentence not in found
    assert "Looked at by" in found


@pytest.mark.parametrize("name", ["student_violin_cut_corners", "cello_from_a_school", "bow_due_for_work"])
def test_the_map_and_the_rows_number_the_same_findings_in_the_order_of_the_report(name: str) -> None:
    result = example(name)
    told = numbers(result)
    recorded_ = {check.check for check in result.checks if check.observations}
    assert set(told) == {item.check for item in believed(result)} & recorded_, "what is derived stands under Measured"
    tables = [block for block in by_part(result) if isinstance(block, TableBlock)]
    rows = [str(row[0]) for table in tables for row in table.rows if row[0]]
    assert rows == [str(number) for number in range(1, len(told) + 1)]
    (kept,) = [block.blocks for block in by_part(result) if isinstance(block, Together)]
    (drawn,) = [block for block in kept if isinstance(block, Drawing)]
    assert all(number in drawn.figure.alt for number in rows)
    heads = [block.text for block in by_part(result) if isinstance(block, Heading)]
    repaired = any(check.observations and check.check in OF_A_REPAIR for check in result.checks)
    assert (heads[-1] == "Earlier repairs, and parts that were changed") == repaired


def test_next_years_report_tells_what_changed_since() -> None:
    then, now = (read_result(snapshot_of(text)) for text in (FEW, FEW.replace("blunt", "tapered")))
    issued = Issued("3f2a", 2, "2027-03-02", draft=False, before=("2026-03-02", then))
    (table,) = [
        block
        for block in paper(now, "condition", issued).blocks
        if isinstance(block, TableBlock) and block.columns[-1].title == "Now"
    ]
    assert len(table.rows) == 1 and table.columns[1].title == "On 2 March 2026"
    assert table.rows[0][1] != table.rows[0][2]
    same = paper(then, "condition", issued)
    assert "Every answer is the same as then." in [getattr(block, "text", "") for block in same.blocks]
    buyer = [getattr(block, "text", "") for block in paper(now, "buyer", issued).blocks]
    assert "Since 2 March 2026" not in buyer


def test_every_id_that_is_told_apart_is_a_check_of_the_rubrics() -> None:
    known = {check for name in ("violin", "viola", "cello", "bow") for check in rubric(name).checks}
    assert not (OF_THE_SALE | OF_A_REPAIR) - known
