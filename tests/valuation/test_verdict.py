"""The verdict: the seven tests in their order, its words, its probability, and its laws."""

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.money import Money
from evaluator.estimate.estimate import estimate
from evaluator.valuation.guide_curve import rounded_guide
from evaluator.valuation.model import Verdict
from evaluator.valuation.rules import rule
from evaluator.valuation.verdict import decide
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shop_of, three

RUBRIC = rubric_of(
    (
        job_of("bridge_new", (1, 1.5, 2), parts=[{"part": "blank"}], say="Fit a new bridge"),
        job_of("neck_reset", (4, 6, 9), skill="repair", say="Set the neck anew"),
        job_of("peg_bush", (3, 4, 6), say="Bush the peg holes"),
    ),
    {"bridge": ("bridge_new",), "pegs": ("peg_bush",)},
    parts={"blank": (14, 22, 35)},
    checks=(
        {
            "check": "neck",
            "part": "neck",
            "ask": "Is the neck firm?",
            "outcomes": {
                "good": {"say": "Firm", "class": "sound"},
                "poor": {"say": "Neck is loose", "class": "disqualifying", "cured_by": ["neck_reset"]},
            },
        },
    ),
)
SHOP = shop_of()


def usd(amount: float) -> Money:
    return Money(Decimal(str(amount)), "USD")


def verdict(asking: float | None, ready: float | None, *faults: str, **keys: Any) -> Verdict:
    findings = [finding_of(RUBRIC, name) for name in faults]
    stop = keys.pop("stop", None)
    disqualifying = (finding_of(RUBRIC, "neck", stop, class_="disqualifying", required=False),) if stop else ()
    assessment = assessment_of(RUBRIC, *findings, disqualifying=disqualifying, score_after=keys.pop("score", 80.0))
    shop = keys.pop("shop", SHOP)
    case = case_of(
        RUBRIC,
        asking=None if asking is None else usd(asking),
        ready_value=None if ready is None else usd(ready),
        **keys,
    )
    return decide(RUBRIC, case, assessment, estimate(RUBRIC, case, assessment, shop), shop)


PRICES = st.floats(1, 10_000)


@pytest.mark.parametrize(
    ("ready", "mean", "p80", "asking", "stopped", "wanted"),
    [
        (1000, 100, 150, 10, True, ("walk_away", 1)),
        (1000, 400, 501, 10, False, ("walk_away", 2)),
        (1000, 400, 500, 500, False, ("buy", 4)),
        (1000, 400, 500, 501, False, ("buy_if_it_suits", 5)),
        (1000, 400, 500, 600, False, ("buy_if_it_suits", 5)),
        (1000, 400, 500, 601, False, ("negotiate", 6)),
        (1000, 400, 500, 900, False, ("negotiate", 6)),
        (1000, 400, 500, 901, False, ("walk_away", 7)),
        (1000, 0, 0, 1000, False, ("buy", 4)),
        (0, 0, 0, 0, False, ("walk_away", 3)),
    ],
)
def test_seven_tests(
    ready: float, mean: float, p80: float, asking: float, stopped: bool, wanted: tuple[str, int]
) -> None:
    found = rule(ready, mean, p80, asking, stopped=stopped)
    assert (found.advice, found.test) == wanted
    assert found.target <= found.walk_away


@given(PRICES, PRICES, PRICES, PRICES, st.floats(0, 5_000))
def test_a_dearer_price_never_gives_better_advice(
    ready: float, mean: float, p80: float, asking: float, more: float
) -> None:
    order = ("buy", "buy_if_it_suits", "negotiate", "walk_away")
    now, then = rule(ready, mean, p80, asking), rule(ready, mean, p80, asking + more)
    assert order.index(then.advice) >= order.index(now.advice)


@given(PRICES, PRICES, PRICES, PRICES, st.floats(0, 1))
def test_cheaper_work_never_lowers_the_walk_away_price(
    ready: float, mean: float, p80: float, asking: float, share: float
) -> None:
    now, then = rule(ready, mean, p80, asking), rule(ready, share * mean, share * p80, asking)
    assert then.walk_away >= now.walk_away
    assert then.target >= now.target


@pytest.mark.parametrize(
    ("asking", "advice", "sentence"),
    [
        (800, "buy", "A good buy at $800."),
        (1045, "buy_if_it_suits", "A fair price: buy it if it suits you, up to $1,050."),
        (1300, "negotiate", "Worth bargaining for, up to $1,050."),
        (1600, "walk_away", "Walk away, unless the price comes down to about $1,050."),
    ],
)
def test_words_of_the_verdict(asking: float, advice: str, sentence: str) -> None:
    found = verdict(asking, 1200.33, "bridge")
    assert (found.advice, found.sentence) == (advice, sentence)
    assert found.walk_away_price == pytest.approx(1200.33 - 127.5 - 22.83, abs=0.1)
    assert 1 <= len(found.reasons) <= 3
    assert "your own figure" in found.reasons[0]


def test_too_much_work_offers_another_scope() -> None:
    rubric_shop = shop_of(part_prices={"blank": (400, 500, 600)})
    found = verdict(500, 1200, "bridge", shop=rubric_shop)
    assert (found.advice, found.test) == ("walk_away", 2)
    assert found.change_scope is None  # the shop's own price is the same for every grade
    safe = [finding_of(RUBRIC, "bridge", urgency="to_play_safely"), finding_of(RUBRIC, "pegs")]
    assessment = assessment_of(RUBRIC, *safe)
    case = case_of(RUBRIC, asking=usd(300), ready_value=usd(700))
    second = decide(RUBRIC, case, assessment, estimate(RUBRIC, case, assessment, SHOP), SHOP)
    assert second.test == 2
    assert second.change_scope is not None
    assert "safe to play takes about $150" in second.change_scope


def test_plain_parts_can_rescue_a_deal() -> None:
    prices = {"violin": {"plain": three(5, 10, 15), "good": three(300, 400, 500)}}
    part = RUBRIC.part_prices["blank"].model_validate({"part": "blank", "say": "blank", "prices": prices})
    rubric = replace(RUBRIC, part_prices={"blank": part})
    assessment = assessment_of(rubric, finding_of(rubric, "bridge"))
    case = case_of(rubric, asking=usd(300), ready_value=usd(800))
    found = decide(rubric, case, assessment, estimate(rubric, case, assessment, SHOP), SHOP)
    assert (found.advice, found.test) == ("walk_away", 2)
    assert found.change_scope is not None
    assert "worth up to $662" in found.change_scope


def test_a_disqualifying_fault_stops_it_at_any_price() -> None:
    found = verdict(1, 5000, stop=0.8)
    assert (found.advice, found.test, found.stopped_by) == ("walk_away", 1, ("neck",))
    assert found.sentence == "Walk away: neck is loose."
    assert found.probability_worth_it is not None
    assert found.probability_worth_it < 0.3


def test_a_disqualifying_fault_that_is_only_possible_is_a_reason() -> None:
    found = verdict(1000, 5000, stop=0.2)
    assert found.advice == "buy"
    assert found.stopped_by == ()
    assert any("could still stop it" in reason for reason in found.reasons)
    assert found.probability_worth_it == pytest.approx(0.8, abs=0.05)


@pytest.mark.parametrize(
    ("asking", "ready", "purpose", "sentence"),
    [
        (None, 1200, "buying", "As it stands it is worth up to $1,050 to you."),
        (800, None, "buying", "About $150 of work brings it to the standard, in four of five cases"),
        (None, None, "quote", "About $150 of work brings it to the standard, in four of five cases"),
    ],
)
def test_without_a_price_or_a_value_there_is_no_advice(
    asking: float | None, ready: float | None, purpose: str, sentence: str
) -> None:
    found = verdict(asking, ready, "bridge", purpose=purpose)
    assert found.advice is None
    assert found.test is None
    assert found.probability_worth_it is None
    assert found.sentence.startswith(sentence)
    assert (found.walk_away_price is None) == (ready is None)


def test_two_currencies_are_not_compared() -> None:
    case = case_of(RUBRIC, asking=Money(Decimal(800), "EUR"), ready_value=usd(1200))
    assessment = assessment_of(RUBRIC)
    found = decide(RUBRIC, case, assessment, estimate(RUBRIC, case, assessment, SHOP), SHOP)
    assert found.advice is None
    assert "USD" in found.sentence


GUIDE = {
    "violin": {
        "student": [{"score": 50, "price": three(300, 400, 500)}, {"score": 90, "price": three(900, 1200, 1500)}]
    }
}


@pytest.mark.parametrize(("score", "value"), [(20, 400), (50, 400), (60.7, 615), (70, 800), (90, 1200), (99, 1200)])
def test_the_shops_guide_gives_a_value_where_nobody_typed_one(score: float, value: float) -> None:
    found = verdict(100, None, score=score, shop=shop_of(price_guide=GUIDE))
    assert found.ready_value == usd(value)
    assert found.ready_value_from is not None
    assert "The Test Bench" in found.ready_value_from
    assert "between $300 and $500" in found.ready_value_from if score <= 50 else "between" in found.ready_value_from
    assert "default" in (verdict(100, None, shop=shop_of(price_guide=GUIDE, is_default=True)).ready_value_from or "")


@pytest.mark.parametrize(
    ("amount", "wanted"), [(0, 0), (9.42, 9.4), (98, 98), (417, 415), (3417, 3400), (3431, 3450), (22_222, 22_000)]
)
def test_a_guide_is_not_read_to_the_dollar(amount: float, wanted: float) -> None:
    assert rounded_guide(amount) == pytest.approx(wanted)


def test_what_nobody_looked_at_makes_a_good_buy_provisional() -> None:
    unseen = finding_of(RUBRIC, "pegs", 0.45, seen=False)
    assessment = assessment_of(RUBRIC, unseen)
    case = case_of(RUBRIC, asking=usd(1180), ready_value=usd(1200))
    found = decide(RUBRIC, case, assessment, estimate(RUBRIC, case, assessment, SHOP), SHOP)
    assert found.advice == "buy"
    assert found.sentence == "A good buy at $1,180, if what nobody has looked at is sound. Look first."
    assert found.probability_worth_it == pytest.approx(0.55, abs=0.05)
    assert any("nobody has looked at" in reason for reason in found.reasons)
    allowing = found.allowing_for_unseen
    assert allowing is not None
    assert allowing.advice == "negotiate"
    assert found.walk_away_price is not None
    assert allowing.walk_away < 1180 < found.walk_away_price


def test_a_typed_value_goes_before_the_guide() -> None:
    found = verdict(100, 555, shop=shop_of(price_guide=GUIDE))
    assert (found.ready_value, found.ready_value_from) == (usd(555), "your own figure")


@given(st.floats(100, 3000), st.floats(0, 500))
def test_a_dearer_price_is_never_likelier_to_be_worth_it(asking: float, more: float) -> None:
    now, then = verdict(round(asking), 1200, "bridge"), verdict(round(asking + more), 1200, "bridge")
    assert now.probability_worth_it is not None
    assert then.probability_worth_it is not None
    assert then.probability_worth_it <= now.probability_worth_it


def test_probability_is_the_share_of_worlds() -> None:
    found = verdict(1050, 1200, "bridge")
    assert found.probability_worth_it == pytest.approx(0.5, abs=0.1)
    assert np.isclose(found.walk_away_price or 0, 1050, atol=1)


def test_what_to_say_to_the_seller_names_the_work_and_a_price() -> None:
    found = verdict(1500, 2000, "bridge", "pegs")
    assert found.advice == "negotiate" or found.say_to_seller is not None
    assert found.say_to_seller is not None
    assert "fit a new bridge" in found.say_to_seller
    assert "$" in found.say_to_seller
    assert verdict(100, 2000, "bridge").say_to_seller is None


def test_what_is_offered_never_passes_what_the_reasons_allow_for_the_unseen() -> None:
    unseen = finding_of(RUBRIC, "pegs", 0.45, seen=False)
    assessment = assessment_of(RUBRIC, finding_of(RUBRIC, "bridge"), unseen)
    case = case_of(RUBRIC, asking=usd(1300), ready_value=usd(1200))
    found = decide(RUBRIC, case, assessment, estimate(RUBRIC, case, assessment, SHOP), SHOP)
    assert found.advice == "negotiate" and found.allowing_for_unseen is not None
    assert found.say_to_seller is not None
    offered = [int(one.replace(",", "")) for one in re.findall(r"\$([\d,]+)", found.say_to_seller)]
    assert offered[-1] <= round(found.allowing_for_unseen.walk_away)
