"""The decision in words: each fact as it is told, to the letter, so that no wording changes unseen."""

from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any

import pytest

from evaluator.basis.money import Money
from evaluator.result.making.result import result_of
from evaluator.result.model.decision import Reason, Turning, Verdict
from evaluator.result.model.instrument import Making, MakingClass
from evaluator.result.model.result import Result
from evaluator.valuation.model import Fact
from evaluator.valuation.worth.ready import ByGuide, BySales
from evaluator.wording.answer.headline import HEADLINES, headline
from evaluator.wording.answer.source import source_words
from evaluator.wording.answer.verdict import named_checks, words_of
from tests.papers.cases import FEW, content, evaluation_of

POST = {"check": "soundpost_crack_back", "outcome": "repaired", "term": "soundpost crack, back", "say": "Patched."}
EDGE = {"check": "edge_work", "outcome": "flat", "term": None, "say": "E string cuts in"}
CLASSES = (MakingClass(making="factory", say="factory work", means="So."),)
MADE = Making(shares={"factory": 0.8}, likeliest="factory", groups_seen=1, classes=CLASSES, signs=())


@cache
def base() -> Result:
    return replace(result_of(evaluation_of(content(FEW), draws=100)), making=MADE)


def told(*because: Reason, **verdict: Any) -> Result:
    """A result with these reasons, at a price of $900 and a ceiling of $700."""
    usual: dict[str, Any] = {
        "advice": "negotiate",
        "asking": usd(900),
        "offer": 640.0,
        "ceiling": 700.0,
        "turning": None,
    }
    kept: Verdict = replace(base().verdict, because=because, **(usual | verdict))
    return replace(base(), verdict=kept)


def usd(amount: int) -> Money:
    return Money(Decimal(amount), "USD")


@pytest.mark.parametrize(
    ("reason", "said"),
    [
        (Reason(fact=Fact.STOPS, share=1.0, **POST), "Soundpost crack, back: patched."),
        (Reason(fact=Fact.STOPS, share=0.8, **POST), "Soundpost crack, back: patched (we think so, about 4 in 5)."),
        (Reason(fact=Fact.MADE, class_="factory", share=0.8), "Most likely factory work (about 4 in 5)."),
        (
            Reason(fact=Fact.LASTS, share=0.63, **POST),
            "Soundpost crack, back: patched. Well mended, that leaves about 63 of 100 of its value.",
        ),
        (
            Reason(fact=Fact.SOUNDS_BAD, share=0.6),
            "It sounds poor; that leaves about 60 of 100 of what its like brings.",
        ),
        (Reason(fact=Fact.FAULT, **EDGE), "Not as it should be: edge work: E string cuts in."),
        (Reason(fact=Fact.GOOD, **POST), "As it should be: soundpost crack, back: patched."),
        (
            Reason(fact=Fact.MAY_STOP, share=0.2, **POST),
            "One thing could still stop it: soundpost crack, back: patched (about 1 in 5).",
        ),
        (
            Reason(fact=Fact.BARELY_SEEN, share=0.1),
            "Hardly anybody has looked yet at whether it is sound and plays well.",
        ),
        (
            Reason(fact=Fact.FAR_TOO_CHEAP, amount=900.0),
            "$900 is far less than such an instrument brings. There is a reason: find it before you pay.",
        ),
        (
            Reason(fact=Fact.READY, amount=1000.0),
            "Ready to play it would be worth about $1,000 (your own figure).",
        ),
        (
            Reason(fact=Fact.WORK, amount=200.0, most=260.0),
            "With what may come on top, the work takes about $200, in four of five cases no more than $260.",
        ),
        (Reason(fact=Fact.UNSEEN, amount=60.0), "What nobody has looked at usually costs about $60."),
        (Reason(fact=Fact.MUCH_WORK), "That much work leaves no room for a surprise."),
        (Reason(fact=Fact.CHANCE, share=0.8), "How likely it is to be worth $900 to you: about 4 in 5."),
    ],
    ids=lambda one: one.fact.value if isinstance(one, Reason) else "",
)
def test_each_reason_is_told_to_the_letter(reason: Reason, said: str) -> None:
    assert words_of(told(reason)).reasons == (said,)
    assert named_checks(told(reason)) == ({reason.check} if reason.check else set())


def test_signs_and_a_private_seller_go_into_the_sentence_that_they_belong_to() -> None:
    made = told(Reason(fact=Fact.MADE, class_="factory", share=0.8), Reason(fact=Fact.SIGN, **EDGE))
    assert words_of(made).reasons == (
        "Most likely factory work (about 4 in 5). For that speak: edge work: E string cuts in.",
    )
    private = told(Reason(fact=Fact.READY, amount=1000.0), Reason(fact=Fact.NO_SHOP, amount=750.0))
    assert words_of(private).reasons == (
        "Ready to play it would be worth about $1,000 (your own figure); "
        "without a shop that stands behind it, about $750.",
    )


@pytest.mark.parametrize(
    ("missing", "said"),
    [
        ("nothing_seen", "Too little was looked at to say what it is worth."),
        (
            "too_wide",
            "What was seen so far fits one worth little and one worth many times that, so there is no figure yet.",
        ),
        ("no_guide", "The shop has no guide for such an instrument, so there is no figure."),
    ],
)
def test_why_there_is_no_value_is_told_to_the_letter(missing: Any, said: str) -> None:
    assert words_of(told(Reason(fact=Fact.NO_VALUE), ready_value_missing=missing)).reasons == (said,)


STOP = Reason(fact=Fact.STOPS, share=1.0, **POST)
NO_VALUE = Reason(fact=Fact.NO_VALUE)
MINUTES = Turning(minutes=6.0, chance=0.4, gain=30.0)


@pytest.mark.parametrize(
    ("result", "said"),
    [
        (told(asking=Money(Decimal(900), "EUR")), "The prices are not all in USD, the currency of the work: "
         "give them in USD to compare them."),
        (replace(told(), checks=(), set_aside={}), "Nothing has been looked at yet. Begin with ten minutes."),
        (told(advice="buy"), "A good buy at $900."),
        (told(advice="buy_if_it_suits"), "A fair price: buy it if it suits you, up to $700."),
        (told(), "Worth bargaining for: offer $640, and pay no more than $700."),
        (
            told(Reason(fact=Fact.FAR_TOO_CHEAP), advice="look_first"),
            "Look first: $900 is far too little for what it seems to be.",
        ),
        (
            told(NO_VALUE, advice="look_first", seen=0.5),
            "Look first: it may be worth far more or far less. Ask somebody who values instruments.",
        ),
        (told(NO_VALUE, advice="look_first", seen=0.3), "Look first: too little of it was seen yet to name a price."),
        (told(advice="look_first", turning=MINUTES), "Look first: 6 minutes more may well turn the answer."),
        (told(STOP, advice="walk_away"), "Walk away: soundpost crack, back: patched."),
        (
            told(Reason(fact=Fact.NOTHING_LEFT), advice="walk_away"),
            "Walk away: making it right costs more than it will be worth.",
        ),
        (
            told(advice="walk_away", ceiling=None),
            "Walk away: even if all the rest is sound, it is not worth $900.",
        ),
        (told(advice="walk_away"), "Walk away, unless the price comes down to about $700."),
        (
            told(STOP, advice=None, asking=None, ceiling=0.0),
            "Leave it, whatever the price: soundpost crack, back: patched.",
        ),
        (
            told(STOP, advice=None, asking=None),
            "Leave it, but at the price of such an instrument: soundpost crack, back: patched.",
        ),
        (told(advice=None, asking=None, ceiling=0.0), "Making it right costs more than it will be worth."),
        (told(advice=None, asking=None), "As it stands it is worth up to $700 to you."),
        (
            replace(told(advice=None, asking=None, ceiling=None), plan=replace(base().plan, lines=())),
            "No work is needed to reach the standard, as far as was seen.",
        ),
        (
            replace(told(advice=None, asking=None, ceiling=None),
                    plan=replace(base().plan, invoice=None, mean=210.0, p80=290.0)),
            "About $210 of work brings it to the standard, in four of five cases no more than $290.",
        ),
    ],
    ids=lambda one: headline(one).value if isinstance(one, Result) else "",
)  # fmt: skip
def test_each_headline_is_told_to_the_letter(result: Result, said: str) -> None:
    assert words_of(result).sentence == said


def test_every_headline_has_its_sentence() -> None:
    assert set(HEADLINES) == set(type(headline(base())))


@pytest.mark.parametrize(
    ("advice", "because", "said"),
    [
        ("buy_if_it_suits", (STOP,), "I like it, and it has this (soundpost crack, back: patched), which stays in its "
         "value: would you allow for that and take $640?"),
        ("negotiate", (), "I like it, but some of it is still unknown, so could we meet at $640?"),
        ("walk_away", (), "I like it, but some of it is still unknown, so to me it is worth no more than $700."),
        ("buy", (), None),
        ("look_first", (), None),
    ],
)  # fmt: skip
def test_what_to_say_to_the_seller(advice: Any, because: tuple[Reason, ...], said: str | None) -> None:
    bare = replace(base().plan, lines=())
    assert words_of(replace(told(*because, advice=advice), plan=bare)).say_to_seller == said


def test_the_dearest_three_jobs_are_named_and_the_rest_is_counted() -> None:
    line = next(one for one in base().plan.lines if not one.shared)
    lines = tuple(replace(line, say=f"Job {number}", mean=float(number)) for number in range(1, 6))
    plan = replace(base().plan, lines=lines, invoice=None, mean=300.0)
    said = words_of(replace(told(), plan=plan)).say_to_seller
    assert said is not None and "(job 5, job 4, job 3 and 2 more jobs) comes to about $300" in said
    said = words_of(replace(told(), plan=replace(plan, lines=lines[:4]))).say_to_seller
    assert said is not None and "job 2 and 1 more job)" in said
    said = words_of(replace(told(), plan=replace(plan, lines=lines[:1]))).say_to_seller
    assert said is not None and "the work it needs (job 1) comes" in said


@pytest.mark.parametrize(
    ("source", "said"),
    [
        (
            BySales(book=None, count=4, low=1300.0, high=1500.0, before=usd(900)),
            "from 4 sales of your own book; between $1,300 and $1,500; they go before your own figure of $900",
        ),
        (
            BySales(book="book.csv", count=1, low=1300.0, high=1500.0, before=None),
            "from 1 sale of book.csv; between $1,300 and $1,500",
        ),
        (
            ByGuide(shop=None, making="factory", low=500.0, high=950.0, outfit=True, left=0.9),
            "between $500 and $950, by a guide from memory, not from sales: violin 4/4, most likely factory work, "
            "with bow and case; its lasting faults leave 90 of 100 of that",
        ),
        (
            ByGuide(shop="The Bench", making="factory", low=500.0, high=950.0, outfit=False, left=None),
            "between $500 and $950, by the price guide of The Bench: violin 4/4, most likely factory work",
        ),
    ],
)
def test_where_a_value_is_from_is_told_to_the_letter(source: Any, said: str) -> None:
    assert source_words(told(ready_value_from=source)) == said


def test_to_an_owner_a_shop_calls_its_own_what_is_its_own() -> None:
    sales = told(ready_value_from=BySales(book=None, count=4, low=1300.0, high=1500.0, before=usd(900)))
    assert source_words(sales, "owner") == "from 4 sales of the shop's own book; between $1,300 and $1,500"
    assert source_words(base(), "owner") == "the shop's own figure"
