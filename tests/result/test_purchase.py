"""The risk of the purchase is a part of the result of its own: no points, no finding, its place on page and paper."""

from typing import Any

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.papers.blocks import Heading, Listing, TableBlock
from evaluator.papers.sections.condition import causes
from evaluator.papers.sections.condition import purchase as on_paper
from evaluator.papers.sections.parent import second_page
from evaluator.result.evaluation import evaluate
from evaluator.result.json_form import read_result, result_json
from evaluator.result.making.result import result_of
from evaluator.result.model.result import Result
from evaluator.wording.answer import purchase
from tests.papers.cases import rubric, shop

SEEN = {"purfling": "inlaid", "bridge_carved": "carved", "open_seams": "none"}
RISKS = {
    "seller_type": "unknown_online",
    "return_terms": "none",
    "label_claim": "proven",
    "provenance_ownership": "plausible",
    "trial_period": "cannot_tell",
}


def result(answers: dict[str, Any], purpose: str = "buying", name: str = "violin") -> Result:
    content = {"format": 1, "rubric": name, "purpose": purpose, "instrument": {"tier": "student"}}
    case, problems = read_case(rubric(name), content | {"observations": answers})
    assert case is not None, problems
    return result_of(evaluate(rubric(name), case, shop(), draws=200))


def test_risks_stand_apart_the_gravest_first_and_are_no_findings() -> None:
    found = result(SEEN | RISKS | {"written_condition_report": "refused"})
    levels = [one.level for one in found.purchase]
    assert levels == sorted(levels, key=list(purchase.GROUPS).index)
    told = {one.check: one.level for one in found.purchase if one.level != "open"}
    assert told == {
        "written_condition_report": "stops",
        "seller_type": "great",
        "return_terms": "great",
        "provenance_ownership": "some",
        "label_claim": "none",
    }
    assert not {one.check for one in found.purchase} & {one.check for one in found.findings}
    assert {one.check for one in found.disqualifying if one.seen} == {"written_condition_report"}
    assert purchase.line(found) == "1 stops it, 2 risks, 1 to bear in mind; 7 not asked yet"


def test_they_take_no_points() -> None:
    risks = {
        "return_terms": "none",
        "provenance_ownership": "evasive",
        "case_condition": "broken",
        "trial_period": "none",
    }
    with_them, without = result(SEEN | risks), result(SEEN)
    assert with_them.score.expected == without.score.expected
    assert with_them.score_after_work.expected == without.score_after_work.expected
    assert not {one.check for one in with_them.deductions} & set(risks)


@pytest.mark.parametrize(("said", "stops"), [("proven", False), ("claimed_genuine", True)])
def test_a_famous_name_stops_only_without_its_paper(said: str, *, stops: bool) -> None:
    found = result(SEEN | {"label_claim": said, "certificate_identity": "matching"})
    assert bool(found.verdict.stopped_by) is stops


def test_two_who_answer_unlike_count_as_the_graver() -> None:
    answers = [{"outcome": "good", "by": "Ana"}, {"outcome": "tight", "by": "Ben"}]
    found = result(SEEN | {"case_condition": answers})
    assert next(one.outcome for one in found.purchase if one.check == "case_condition") == "tight"


def test_a_quote_names_what_was_told_and_asks_no_more() -> None:
    found = result(SEEN | {"case_condition": "tight"}, purpose="quote")
    assert [group.level for group in purchase.groups(found)] == ["great"]
    assert purchase.line(result(SEEN, purpose="quote")) is None
    assert purchase.line(result(SEEN)) == "12 not asked yet"


def test_a_bow_has_them_too() -> None:
    found = result({"bow_hair": "fresh", "bow_stamp": "name_without_proof"}, name="bow")
    assert next(one.level for one in found.purchase if one.check == "bow_stamp") == "great"


def test_the_papers_tell_them_apart_from_the_findings() -> None:
    found = result(SEEN | RISKS)
    heading, _, table, more = on_paper(found)
    assert heading == Heading(purchase.TITLE, room=30)
    assert isinstance(table, TableBlock)
    assert [row[1] for row in table.rows] == ["A risk", "A risk", "To bear in mind", "In order"]
    assert "trial" in str(more)
    assert on_paper(result(SEEN)) == []
    assert len(found.causes["seller"].signs) > 1
    assert "seller" not in str(causes(found))
    short = [one for block in second_page(found, 5) for one in getattr(block, "blocks", ()) if isinstance(one, Listing)]
    assert ("Seller: somebody unknown, far away", "Return terms: no return, sold as seen") in [
        one.items for one in short
    ]


def test_it_is_in_the_json_and_an_older_result_has_none() -> None:
    found = result(SEEN | RISKS)
    kept = result_json(found)
    assert kept["purchase"][0] | {"means": ""} == {
        "check": "seller_type", "part": "papers", "ask": "Who is selling it?", "term": "seller",
        "outcome": "unknown_online", "say": "Somebody unknown, far away", "means": "", "level": "great"}  # fmt: skip
    assert read_result(kept) == found
    del kept["purchase"]
    assert read_result(kept).purchase == ()


def test_an_owner_reads_nothing_of_what_only_a_purchase_asks_but_what_was_answered() -> None:
    about = {name: one.about for name, one in rubric("violin").checks.items()}
    buyer, owner = (result(SEEN, purpose).checks for purpose in ("buying", "quote"))
    assert any(about[one.check] == "purchase" for one in buyer)
    assert {about[one.check] for one in owner} == {"instrument"}
    assert {one.check for one in owner} < {one.check for one in buyer}
    told = {one.check for one in result(SEEN | RISKS, "quote").checks if about[one.check] == "purchase"}
    assert told and told <= set(RISKS)
