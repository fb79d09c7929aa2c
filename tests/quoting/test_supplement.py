"""Second quotes: nothing shared is paid twice, what falls away comes off, and the first quote stays as it was."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument
from evaluator.basis.money import Money, total_of
from evaluator.basis.problem import Problem
from evaluator.estimate.estimate import estimate
from evaluator.quoting.answers import all_yes, effect_of_no, standing, three_totals, totals
from evaluator.quoting.consent import beyond
from evaluator.quoting.draft import make_quote
from evaluator.quoting.quote import Quote, QuoteLine, moved
from evaluator.quoting.records import from_data, to_data
from evaluator.quoting.supplement import addable, held_lines, joint, make_supplement, offered_units
from evaluator.quoting.work_order import noted, with_more, work_order
from evaluator.rubric.rubric import Rubric
from tests.estimate.catalogues import random_catalogue
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shared_of, shop_of
from tests.laws import tried
from tests.quoting.test_quote import NOON, consent

ON = date(2026, 3, 9)
RUBRIC = rubric_of(
    (
        job_of("recut", (0.3, 0.5, 0.7), say="Recut the bridge", shares=["down"]),
        job_of(
            "bridge_new",
            (0.8, 1.3, 2.2),
            say="Fit a new bridge",
            parts=[{"part": "blank"}],
            shares=["down"],
            choose_one=["recut"],
            forces=[{"job": "check", "chance": 1.0, "when": "always"}],
        ),
        job_of("post_new", (0.4, 0.6, 1.0), say="Fit a new post", shares=["down"], after=["bridge_new"]),
        job_of("check", (0.1, 0.2, 0.3), say="Check the post"),
        job_of("nut", (0.2, 0.4, 0.6), say="Lower the nut"),
    ),
    {"high": ("recut",), "nut_high": ("nut",), "split": ("bridge_new",)},
    (shared_of("down", (0.25, 0.4, 0.7), say="Bridge and post down and up"),),
    {"blank": (14, 22, 35)},
)
TAX = {"labour": 0.0825, "parts": 0.07}
INSTRUMENT = Instrument("4/4", "classical", "student")


def first_quote(rubric: Rubric = RUBRIC, faults: tuple[str, ...] = ("high",), **shop: Any) -> Quote:
    found = assessment_of(rubric, *(finding_of(rubric, fault) for fault in faults), count=200)
    prices = shop_of(tax=TAX, **shop)
    made = make_quote(rubric, prices, estimate(rubric, case_of(rubric), found, prices), "2026-0001", ON)
    assert isinstance(made, Quote)
    return replace(made, state="agreed")


def more_of(first: Quote, *wanted: str, rubric: Rubric = RUBRIC, **keys: Any) -> Quote:
    held = held_lines([(first, all_yes(first))])
    made = make_supplement(rubric, shop_of(tax=TAX), first, held, wanted, ON, "The foot is split.", **keys)
    assert isinstance(made, Quote), made
    return made


def line_of(quote: Quote, job: str) -> QuoteLine:
    line = quote.line(job)
    assert line is not None
    return line


def test_shared_labour_that_is_agreed_is_not_paid_again() -> None:
    first = first_quote()
    more = more_of(first, "post_new")
    assert [line.job for line in first.lines] == ["recut", "down"]
    assert [line.job for line in more.lines] == ["post_new"]
    assert (more.number, more.belongs_to, more.about) == ("2026-0001/1", "2026-0001", "The foot is split.")
    alone = held_lines([(first, {"recut": "no"})])
    assert alone == ()
    made = make_supplement(RUBRIC, shop_of(), first, alone, ["post_new"], ON, "It fell.")
    assert isinstance(made, Quote)
    assert [line.job for line in made.lines] == ["post_new", "down"]


def test_three_tuners_offered_once_are_three_tuners_later() -> None:
    heavy = {
        "heavy": {"say": "Heavy", "class": "fault", "cured_by": ["tuner"], "units": 3},
        "light": {"say": "Light", "class": "sound"},
    }
    checks = ({"check": "tuners", "part": "whole", "ask": "How heavy?", "outcomes": heavy},)
    rubric = rubric_of((job_of("tuner", further_unit=0.5), job_of("nut")), {"a": ("nut",)}, checks=checks)
    nut = finding_of(rubric, "a")
    tuner = replace(nut, check="tuners", outcome="heavy", cured_by=("tuner",), required=False)
    found, prices = assessment_of(rubric, nut, tuner, count=200), shop_of(tax=TAX)
    made = make_quote(rubric, prices, estimate(rubric, case_of(rubric), found, prices), "2026-0001", ON)
    assert isinstance(made, Quote)
    first = replace(made, state="agreed")
    held = held_lines([(first, {"nut": "yes", "tuner": "no"})])
    offered = line_of(first, "tuner")
    assert offered.units == 3
    (again,) = (one for one in addable(rubric, prices, held, units=offered_units(first)) if one.job == "tuner")
    assert again.adds == offered.price
    more = make_supplement(rubric, prices, first, held, ["tuner"], ON, "They scratch.")
    assert isinstance(more, Quote)
    later = line_of(more, "tuner")
    assert (later.units, later.price) == (3, offered.price)


def test_what_a_job_brings_comes_with_it_and_what_it_replaces_comes_off() -> None:
    first = first_quote()
    more = more_of(first, "bridge_new")
    assert [(line.job, line.is_credit) for line in more.lines] == [
        ("bridge_new", False),
        ("check", False),
        ("off_recut", True),
    ]
    credit = line_of(more, "off_recut")
    assert credit.takes_off == "recut"
    assert (credit.say, credit.price.amount) == (
        "No longer charged: recut the bridge",
        -line_of(first, "recut").price.amount,
    )
    found = totals(more, standing(more, all_yes(more)))
    whole = found.labour + found.parts + found.rush + found.minimum + found.tax + found.rounding
    assert whole == found.total
    assert total_of((line.price for line in more.lines), "USD") == found.labour + found.parts
    assert three_totals(more)["required"] == found
    assert standing(more, {"bridge_new": "no", "check": "yes"}) == (), "the credit goes when the new job goes"
    assert held_lines([(first, all_yes(first)), (more, all_yes(more))]) == tuple(
        line for line in (line_of(first, "down"), line_of(more, "bridge_new"), line_of(more, "check"))
    )


def test_a_cheaper_way_gives_money_back() -> None:
    first = first_quote(faults=("split",))
    more = more_of(first, "recut")
    found = totals(more, standing(more, all_yes(more)))
    assert found.total.amount < 0
    assert (found.minimum.amount, found.total) == (0, found.labour + found.parts + found.tax + found.rounding)
    assert found.up_to.amount >= 0
    record = consent(replace(more, state="offered"))[0]
    assert joint(record, [record]).agreed == record.total + record.total
    assert effect_of_no(more, all_yes(more), "recut").saves == found.total


def test_nothing_comes_off_for_work_that_was_done_already() -> None:
    first = first_quote()
    assert not any(line.is_credit for line in more_of(first, "bridge_new", begun={"recut"}).lines)


def test_the_charge_up_to_the_least_comes_off_again() -> None:
    first = first_quote(minimum_charge=Decimal("90.00"))
    paid = totals(first, standing(first, all_yes(first)))
    assert paid.minimum.amount > 0
    more = more_of(first, "post_new", topped_up=paid.minimum)
    assert line_of(more, "off_minimum_charge").price.amount == -min(
        paid.minimum.amount, line_of(more, "post_new").price.amount
    )
    assert totals(more, more.lines).minimum.amount == 0, "an order has one least charge, not two"


def test_the_first_quote_is_not_touched_and_both_add_up() -> None:
    first = first_quote()
    before = first.fingerprint()
    more = moved(more_of(first, "post_new"), "offered")
    assert isinstance(more, Quote)
    assert first.fingerprint() == before
    assert from_data(Quote, to_data(more)) == more
    one = consent(replace(first, state="offered"))[0]
    two = consent(more)[0]
    assert joint(one, []).waiting is None
    waiting = joint(replace(one, ceiling=one.total), [], more)
    assert (waiting.agreed, waiting.waiting, waiting.is_beyond) == (one.total, two.total, True)
    together = joint(one, [two])
    assert (together.agreed, together.ceiling) == (one.total + two.total, one.ceiling + two.ceiling)
    whole = Money(Decimal("900.00"), "USD")
    assert joint(one, [replace(two, whole=whole)]).ceiling == whole, "what the customer set for all of it"
    declined = consent(more, answers={"post_new": "no"})[0]
    assert joint(one, [declined]).ceiling == one.ceiling, "a no brings no ceiling with it"


@pytest.mark.parametrize(
    ("first", "wanted", "found", "code"),
    [
        ({"state": "offered"}, ["nut"], "Found.", "more.state"),
        ({"state": "done"}, ["nut"], "Found.", "more.state"),
        ({"belongs_to": "2026-0009"}, ["nut"], "Found.", "more.state"),
        ({}, [], "Found.", "more.nothing"),
        ({}, ["nut"], "  ", "more.found"),
        ({}, ["gold"], "Found.", "more.unknown"),
        ({}, ["recut"], "Found.", "more.agreed"),
        ({}, ["nut", "bridge_new"], "", "more.found"),
    ],
)
def test_what_speaks_against_a_second_quote_is_said(
    first: dict[str, Any], wanted: list[str], found: str, code: str
) -> None:
    quote = first_quote()
    held = held_lines([(quote, all_yes(quote))])
    made = make_supplement(RUBRIC, shop_of(), replace(quote, **first), held, wanted, ON, found)
    assert isinstance(made, tuple)
    assert [one.code for one in made] == [code]
    assert str(made[0]).endswith(".")


def test_two_that_exclude_each_other_and_another_currency_are_told() -> None:
    quote = first_quote(faults=("nut_high",))
    made = make_supplement(RUBRIC, shop_of(currency="EUR"), quote, (), ["recut", "bridge_new"], ON, "Both.")
    assert isinstance(made, tuple)
    assert [one.code for one in made] == ["more.currency", "more.clash"]


def test_the_bench_gets_what_was_agreed_once_and_in_order() -> None:
    first = first_quote(faults=("high", "nut_high"))
    order = work_order(RUBRIC, INSTRUMENT, first, {"recut": "yes", "nut": "no"})
    held = held_lines([(first, {"recut": "yes", "nut": "no"})])
    more = make_supplement(RUBRIC, shop_of(tax=TAX), first, held, ["post_new", "bridge_new", "nut"], ON, "It is split.")
    assert isinstance(more, Quote)
    joined = with_more(order, RUBRIC, INSTRUMENT, more, {**all_yes(more), "post_new": "yes"})
    assert [(task.job, task.quote) for task in joined.tasks] == [
        ("bridge_new", "2026-0001/1"),
        ("post_new", "2026-0001/1"),
        ("check", "2026-0001/1"),
        ("nut", "2026-0001/1"),
    ]
    assert (joined.fallen, joined.not_agreed, joined.more) == (("Recut the bridge",), (), ("2026-0001/1",))
    assert with_more(joined, RUBRIC, INSTRUMENT, more, all_yes(more)) == joined
    begun = noted(order, "recut", 0.5)
    assert "recut" in [task.job for task in with_more(begun, RUBRIC, INSTRUMENT, more, all_yes(more)).tasks]
    refused = with_more(order, RUBRIC, INSTRUMENT, more, {"post_new": "no", "bridge_new": "no", "nut": "yes"})
    assert refused.not_agreed == ("Fit a new bridge", "Fit a new post", "Check the post")
    assert [task.job for task in refused.tasks] == ["recut", "nut"]


def test_the_ceiling_grows_with_what_was_agreed_besides() -> None:
    first = first_quote()
    extra = make_quote(
        RUBRIC, shop_of(), estimate(RUBRIC, case_of(RUBRIC), assessment_of(
            RUBRIC, finding_of(RUBRIC, "high"), finding_of(RUBRIC, "nut_high", 0.3), count=200), shop_of()), "Q", ON,
    )  # fmt: skip
    assert isinstance(extra, Quote)
    quote = replace(extra, state="offered")
    total = totals(quote, standing(quote, all_yes(quote))).total
    one = consent(quote, ceiling=total)[0]
    assert isinstance(beyond(quote, one, "nut"), Problem)
    room = replace(one, total=Money(Decimal(1), "USD"), ceiling=Money(Decimal(500), "USD"), at=NOON)
    assert beyond(quote, one, "nut", [room]) is None
    assert first.state == "agreed"


@tried(40)
@given(st.integers(0, 5000), st.data())
def test_no_line_is_charged_twice_and_no_answer_makes_it_dearer(seed: int, data: st.DataObject) -> None:
    """Laws: no line of the first comes again; the lines cost what the job adds; what it replaces comes off in full."""
    rubric, needs = random_catalogue(seed, 10, 6, 3)
    faults = tuple(need.check for need in needs[:3])
    found = assessment_of(rubric, *(finding_of(rubric, fault) for fault in faults), count=50)
    made = make_quote(rubric, shop_of(), estimate(rubric, case_of(rubric), found, shop_of()), "Q", ON)
    if isinstance(made, Problem):
        return
    first = replace(made, state="agreed")
    held = held_lines([(first, all_yes(first))])
    free = addable(rubric, shop_of(), held)
    if not free:
        return
    chosen = data.draw(st.sampled_from(free))
    more = make_supplement(rubric, shop_of(), first, held, [chosen.job], ON, "Found.")
    assert isinstance(more, Quote)
    assert not {line.job for line in more.lines if not line.is_credit} & {line.job for line in held}
    total = total_of((line.price for line in more.lines), "USD")
    assert abs(total.amount - chosen.adds.amount) <= Decimal("0.01") * len(more.lines)
    assert totals(more, more.lines).total == total, "without tax nothing is added, nor filled up to nothing"
    credits = [line for line in more.lines if line.is_credit]
    assert len(credits) >= len(chosen.instead_of)
    assert all(credit.price.amount == -line_of(first, str(credit.takes_off)).price.amount for credit in credits)
    for line in more.lines:
        if not line.shared and not credits:
            assert effect_of_no(more, all_yes(more), line.job).saves.amount >= 0
