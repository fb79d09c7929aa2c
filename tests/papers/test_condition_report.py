"""The condition report holds every answer by part, good ones too, and neither advice nor price."""

import pytest

from evaluator.papers.printing.pdf import report_pdf
from evaluator.result.json_form import read_result, to_json
from evaluator.store.folders import rubrics_folder
from evaluator.wording.answer.verdict import words_of
from evaluator.wording.words import believed, recorded
from tests.papers.cases import content, evaluation_of, text_of

NAMES = ("good_body_raw_set_up", "bow_due_for_work", "two_cheap_signs")


@pytest.mark.parametrize("name", NAMES)
def test_every_answer_stands_in_it_and_no_money(name: str) -> None:
    text = (rubrics_folder() / "examples" / f"{name}.yaml").read_text("utf-8")
    result = read_result(to_json(evaluation_of(content(text))))
    found = text_of(report_pdf(result, "condition"))
    for check in result.checks:
        for answer in check.observations:
            assert " ".join(recorded(answer).split()) in found
    believed_too = {item.check for item in believed(result)} - set(result.conformity)
    assert ("not as it should be" in found or "part of its making" in found) or not believed_too
    assert "no fault seen" in found or name == "two_cheap_signs"
    assert "$" not in found and words_of(result).sentence not in found
    assert "Looked at by" in found
