"""What stands on the first screen: three reasons in things seen, one price to offer and one ceiling, never more."""

import re
from collections.abc import Mapping
from functools import cache

import pytest
import yaml

from evaluator.result.making.result import result_of
from evaluator.result.model.result import Result
from evaluator.store.folders import rubrics_folder
from evaluator.wording.answer.first_screen import REASONS, first_reasons, money_line, sure_line, turning_line
from evaluator.wording.answer.verdict import words_of
from tests.papers.cases import content, evaluation_of

EXAMPLES = {path.stem: path for path in sorted((rubrics_folder() / "examples").glob("*.yaml"))}
AMOUNT = re.compile(r"[$€£]\s?[\d,.]*\d")


@cache
def of(name: str) -> Result:
    return result_of(evaluation_of(content(EXAMPLES[name].read_text(encoding="utf-8"))))


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_first_screen_names_an_offer_a_ceiling_and_what_is_asked_and_no_more(name: str) -> None:
    result = of(name)
    said = " ".join([words_of(result).sentence, money_line(result) or ""])
    verdict = result.verdict
    allowed = {round(value) for value in (verdict.offer, verdict.ceiling) if value is not None}
    allowed |= {round(float(verdict.asking.amount))} if verdict.asking else set()
    if verdict.advice is None:
        bill = result.plan.invoice
        allowed |= {round(bill.total), round(bill.up_to)} if bill else set()
    assert {round(float(text.strip("$€£ ").replace(",", ""))) for text in AMOUNT.findall(said)} <= allowed


@pytest.mark.parametrize("name", EXAMPLES)
def test_at_most_three_reasons_each_of_something_seen(name: str) -> None:
    result = of(name)
    seen = first_reasons(result)
    assert len(seen) <= REASONS
    answered = {check.check for check in result.checks if check.observations}
    assert all(one.check is None or one.check in answered for one in seen)


def test_where_nothing_was_seen_there_is_no_price_and_no_chance() -> None:
    result = of("photos_only")
    if result.verdict.advice == "look_first":
        assert money_line(result) is None
        assert sure_line(result) is None
        telling = turning_line(result)
        assert telling is None or telling.startswith("What tells most now: ")


SMALL_SIGNS = {
    "purfling": "inlaid",
    "purfling_corners": "fine_point",
    "scroll_carving": "fine",
    "fhole_workmanship": "fine",
    "fingerboard_material": "ebony",
}


def test_of_a_fine_one_that_a_student_looked_over_nobody_says_that_too_little_was_seen() -> None:
    sets = yaml.safe_load((rubrics_folder() / "calibration.yaml").read_text(encoding="utf-8"))["answer_sets"]
    much, some = {**sets["ready"], **sets["whole"]}, sets["ready"]
    assert "too little of it was seen" in _sentence(3000, some)
    assert "far more or far less" in _sentence(3000, much)
    assert "$780 is far too little" in _sentence(780, much)


def _sentence(price: int, seen: Mapping[str, str]) -> str:
    asking = {"amount": price, "currency": "USD"}
    about = {"rubric": "violin", "instrument": {"size": "4/4", "tier": "intermediate"}, "purpose": "buying"}
    who = {"seen_by": "in_person", "looker": "student", "asking": asking}
    found = result_of(evaluation_of({"format": 1, **about, **who, "observations": SMALL_SIGNS | dict(seen)}))
    return words_of(found).sentence
