"""The paper of proposed work: at most three pages, findings and work that name each other, and no buyer's words."""

from typing import Any

import pytest

from evaluator.papers.printing.pdf import report_pdf
from evaluator.papers.sections.costs import half_of, taxed
from evaluator.papers.sections.frame import money
from evaluator.papers.sections.proposed import LENGTHS, proposed_for
from evaluator.result.evaluation import evaluate
from evaluator.result.json_form import read_result, to_json
from evaluator.result.model.result import Result
from evaluator.rubric.shop import Tax
from evaluator.wording.answer.verdict import words_of
from evaluator.wording.words import believed, title
from tests.papers.cases import content, evaluation_of, full, full_snapshot, pages_of, paper_of, text_of
from tests.papers.test_pdf import EXAMPLES

BUYERS = (
    "aim for",
    "Papers and seller",
    "Ask the seller",
    "You could say",
    "what you risk by buying",
    "pay no more",
    "resale",
)
OWNED = ("student_violin_cut_corners", "fallen_post", "bow_due_for_work")


def owned(name: str) -> dict[str, Any]:
    text = next(path for path in EXAMPLES if path.stem == name).read_text(encoding="utf-8")
    return {**content(text), "purpose": "quote"}


def result_of(data: dict[str, Any]) -> Result:
    return read_result(to_json(evaluation_of(data)))


@pytest.mark.parametrize("name", OWNED)
def test_an_owners_paper_has_three_pages_and_no_buyers_words(name: str) -> None:
    result = result_of(owned(name))
    for paper in ("A4", "Letter"):
        pdf = report_pdf(result, "customer", paper)
        assert len(pages_of(pdf)) <= 3
        told = text_of(pdf)
        assert [one for one in BUYERS if one.casefold() in told.casefold()] == []
        assert all(title(item).casefold() in told.casefold() for item in believed(result))
    assert (result.verdict.asking, words_of(result).say_to_seller, result.questions) == (None, None, ())
    assert "open" not in {risk.level for risk in result.purchase}


def test_three_pages_hold_even_where_all_is_wanting() -> None:
    for name, size in (("violin", "4/4"), ("bow", "violin 4/4")):
        assert len(pages_of(paper_of(full_snapshot(name, "wanting", size), "customer"))) <= 3


def test_findings_and_work_name_each_other() -> None:
    """Each finding that a line cures says that line, in every length of the paper; no other job is offered."""
    result = result_of({**full("violin", "wanting", "4/4", 20), "purpose": "quote"})
    says = {line.say.casefold() for line in (*result.plan.lines, *result.optional)}
    others = {one.casefold() for item in result.findings for one in item.cures} - says
    cured = {check for line in result.plan.lines for check in line.cures}
    assert others and cured
    for item in believed(result):
        told = proposed_for(result, item).casefold()
        assert any(say in told for say in says) or item.check not in cured
        assert not [one for one in others if one == told]
    assert len(LENGTHS) > 1


def test_levels_beside_the_total_are_in_the_same_money() -> None:
    """With 19 % on all of it, what is safe and what half of all orders stay under bear it too."""
    data = owned("fallen_post")
    judged = evaluation_of(data)
    shop = judged.shop.model_copy(update={"tax": Tax(labour=0.19, parts=0.19)})
    found = evaluate(judged.rubric, judged.case, shop, draws=400)
    result = read_result(to_json(found))
    assert result.plan.invoice is not None
    assert taxed(result, 100.0) == pytest.approx(119.0, abs=0.02)
    assert half_of(result).endswith("with tax.")
    assert money(result, 1.19 * result.plan.p50) in half_of(result)
    assert taxed(result_of(data), 100.0) == 100.0
