"""Lasting faults: which count, that they multiply, that one accident counts once, and that nothing counts twice."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Assessment, Observation
from evaluator.assessment.scoring.draws import assess
from evaluator.basis.money import Money
from evaluator.rubric.model import Cause, Check
from evaluator.rubric.rubric import Rubric
from evaluator.valuation.condition import lasting, scores_without
from evaluator.valuation.price_guide import guide_reading, ready_value
from evaluator.valuation.sales.sales_book import SalesBook
from tests.estimate.small import case_of, job_of, rubric_of
from tests.laws import tried
from tests.valuation.test_sales_book import ON, guide_shop, sale

CAUSES = (("fall", "condition"), ("cut_corners_body", "made_in"))


def check_of(name: str, loss: float, **keys: Any) -> dict[str, Any]:
    """A check with one lasting outcome, mended and firm, that nothing cures any more."""
    points = {"low": loss / 2, "likely": loss, "high": min(1.0, 2 * loss)}
    outcomes = {
        "whole": {"say": "Whole", "class": "sound"},
        "mended": {"say": f"The {name} is mended", "class": "acceptable", "worth": 0.9, "lasting_loss": points},
    }
    base = {"check": name, "part": "cracks", "ask": "How is it?", "outcomes": outcomes, "seen_by": {"in_person": 0.99}}
    return base | {"evidence_of": {"soundness": 1}} | keys


def rubric_with(*checks: dict[str, Any]) -> Rubric:
    causes = [{"cause": name, "say": "So", "if_not": "Not so", "about": about, "prior": 0.1} for name, about in CAUSES]
    found = [Check.model_validate(one) for one in (*checks, {**check_of("rest", 0.0), "part": "whole"})]
    return replace(
        rubric_of((job_of("mend"),), {}),
        checks={one.check: one for one in found},
        causes={one["cause"]: Cause.model_validate(one) for one in causes},
    )


def assessed(rubric: Rubric, **seen: str) -> Assessment:
    observations = {name: (Observation(name, outcome),) for name, outcome in seen.items()}
    return assess(rubric, case_of(rubric, observations=observations), draws=100)


def test_independent_losses_multiply_and_are_told_with_their_words() -> None:
    """0.97 x 0.92 x 0.90 = 0.803 (worked out here)."""
    rubric = rubric_with(check_of("wing", 0.03), check_of("top", 0.08), check_of("neck", 0.10))
    found = lasting(rubric, assessed(rubric, wing="mended", top="mended", neck="mended", rest="whole"))
    assert found.left == pytest.approx(0.803, abs=5e-4)
    assert found.least == pytest.approx(0.94 * 0.84 * 0.80)
    assert found.most == pytest.approx(0.985 * 0.96 * 0.95)
    assert [fault.say for fault in found.faults] == ["The neck is mended", "The top is mended", "The wing is mended"]


def test_faults_of_one_cause_are_one_accident() -> None:
    checks = [check_of(name, loss, cause="fall") for name, loss in (("wing", 0.06), ("top", 0.12), ("rib", 0.03))]
    rubric = rubric_with(*checks)
    found = lasting(rubric, assessed(rubric, wing="mended", top="mended", rib="mended"))
    assert found.left == pytest.approx(1 - 0.15)


@pytest.mark.parametrize(
    ("keys", "seen"),
    [
        ({"part": "papers"}, "mended"),
        ({"cause": "cut_corners_body"}, "mended"),
        ({}, "whole"),
        ({"outcomes": check_of("x", 0.005)["outcomes"]}, "mended"),
    ],
    ids=["what papers claim", "made so", "not believed", "too little"],
)
def test_what_does_not_count(keys: dict[str, Any], seen: str) -> None:
    rubric = rubric_with(check_of("top", 0.2, **keys))
    assert lasting(rubric, assessed(rubric, top=seen)).left == 1.0


def test_a_fault_taken_off_as_a_share_is_not_in_the_score_too() -> None:
    rubric = rubric_with(check_of("top", 0.2, evidence_of={"soundness": 1, "workmanship": 1}))
    seen = assessed(rubric, top="mended", rest="whole")
    case = case_of(rubric)
    found = lasting(rubric, seen)
    without = scores_without(rubric, case, seen, found)
    top = seen.beliefs["top"].worth_after
    assert without["after"] > seen.score_after.expected + 2
    assert without["workmanship"] == pytest.approx(seen.domains_after["workmanship"].expected + 100 * (1 - top))
    reading = guide_reading(rubric, case, seen, guide_shop())
    assert reading.score == pytest.approx(min(without.values()))
    price, clean = reading.price(), replace(reading, lasting=lasting(rubric, assessed(rubric, top="whole"))).price()
    assert price is not None
    assert clean is not None
    assert price.likely == pytest.approx(0.8 * clean.likely)


def test_the_guide_says_what_lasting_faults_leave_but_an_own_figure_stays() -> None:
    rubric = rubric_with(check_of("top", 0.2))
    seen = assessed(rubric, top="mended", rest="whole")
    guide = ready_value(rubric, case_of(rubric), seen, guide_shop())
    assert guide is not None
    assert guide.source.endswith("lasting faults left out; its lasting faults leave 80 of 100 of that")
    typed = case_of(rubric, ready_value=Money(Decimal(777), "USD"))
    own = ready_value(rubric, typed, seen, guide_shop())
    assert own is not None
    assert (float(own.value.amount), own.source) == (777, "your own figure")


def test_sales_of_clean_ones_are_lowered_and_sales_of_the_like_are_not() -> None:
    rubric = rubric_with(check_of("top", 0.2))
    seen = assessed(rubric, top="mended", rest="whole")
    for retention, wanted in ((1.0, 800), (0.8, 1000)):
        book = SalesBook((sale(1000, retention=retention),) * 3, ON)
        found = ready_value(rubric, case_of(rubric), seen, guide_shop(), book)
        assert found is not None
        assert (found.kind, float(found.value.amount)) == ("comparables", pytest.approx(wanted))


def test_where_the_score_takes_more_than_the_share_the_score_decides() -> None:
    check = check_of("top", 0.03)
    check["outcomes"]["mended"]["worth"] = 0.2
    rubric = rubric_with(check)
    seen = assessed(rubric, top="mended", rest="whole")
    reading = guide_reading(rubric, case_of(rubric), seen, guide_shop())
    assert not reading.by_share
    assert reading.score_with == pytest.approx(seen.score_after.expected)
    found = ready_value(rubric, case_of(rubric), seen, guide_shop())
    assert found is not None
    assert found.source.endswith(f"score {seen.score_after.expected:.0f} after the work")


@tried(25)
@given(st.floats(0.0, 0.9), st.floats(0.01, 0.09), st.floats(0.0, 1.0))
def test_a_graver_lasting_fault_never_raises_the_guide(loss: float, more: float, worth: float) -> None:
    prices = []
    for share in (loss, loss + more):
        check = check_of("top", share)
        check["outcomes"]["mended"]["worth"] = worth
        rubric = rubric_with(check)
        found = guide_reading(rubric, case_of(rubric), assessed(rubric, top="mended"), guide_shop()).price()
        assert found is not None
        prices.append(found)
    assert prices[1].likely <= prices[0].likely
    assert prices[0].low <= prices[0].likely <= prices[0].high
