"""A draft in the workshop's hands: what changes, what follows, what is taken back, and that it always adds up."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.money import Money, total_of
from evaluator.basis.problem import Problem
from evaluator.estimate.planning.plan import Planner
from evaluator.estimate.price import PriceList
from evaluator.quoting.answers import all_yes, shown_price, standing, totals
from evaluator.quoting.changes import Change, changed, falls_with, free_line, own_place, wrong_change
from evaluator.quoting.lines import catalogue_of, from_catalogue, with_units
from evaluator.quoting.quote import Quote, up_to, up_to_with_extras
from evaluator.quoting.records import from_data, to_data
from tests.estimate.small import shop_of
from tests.quoting.test_quote import RUBRIC, quote_of

QUOTE = quote_of()


def usd(amount: str) -> Money:
    return Money(Decimal(amount), "USD")


def planner(**shop: Any) -> Planner:
    return Planner(PriceList(RUBRIC, shop_of(**shop)))


def jobs(quote: Quote) -> list[str]:
    return [line.job for line in quote.lines]


def test_words_hours_and_price_of_a_line_are_the_workshops_with_the_catalogues_beside() -> None:
    made = changed(
        QUOTE, [Change("set", "bridge_new", say="Fit a bridge of mine", labour=usd("99.00"), parts=usd("0"))]
    )
    line, before = made.line("bridge_new"), QUOTE.line("bridge_new")
    assert line is not None and before is not None and line.listed is not None
    assert (line.say, line.price, line.cost.mean) == ("Fit a bridge of mine", usd("99.00"), 99.0)
    assert (line.listed.say, line.listed.labour, line.listed.parts) == (before.say, before.labour, before.parts)
    assert line.cost.low < 99 < line.cost.high, "what was uncertain stays so"
    assert made.fingerprint() != QUOTE.fingerprint()


def test_other_hours_are_charged_at_the_same_rate() -> None:
    before = QUOTE.line("clean")
    assert before is not None
    made = changed(QUOTE, [Change("set", "clean", hours=before.hours_likely / 2)]).line("clean")
    assert made is not None
    assert made.labour == before.labour.times(0.5).rounded()
    assert made.parts == before.parts


def test_what_hangs_on_a_line_is_told_and_can_stay() -> None:
    assert [line.job for line in falls_with(QUOTE, "bridge_new")] == ["check"]
    with_it = changed(QUOTE, [Change("leave", "bridge_new", reason="I re-use the bridge")])
    alone = changed(QUOTE, [Change("leave", "bridge_new", reason="I re-use the bridge", alone=True)])
    assert set(jobs(QUOTE)) - set(jobs(with_it)) == {"bridge_new", "check"}
    assert set(jobs(QUOTE)) - set(jobs(alone)) == {"bridge_new"}
    assert [(one.job, one.reason, one.with_it) for one in with_it.left_out] == [
        ("bridge_new", "I re-use the bridge", ("Check the post",))
    ]
    assert "check" in [line.job for line in standing(alone, all_yes(alone))]


def test_shared_labour_goes_with_the_last_job_that_needs_it() -> None:
    one = changed(QUOTE, [Change("leave", "bridge_new", reason="x")])
    none = changed(one, [Change("leave", "post_new", reason="x")])
    assert "down" in jobs(one) and "down" not in jobs(none)


def test_a_job_of_the_catalogue_brings_what_it_needs_at_its_price() -> None:
    bare = changed(QUOTE, [Change("leave", "bridge_new", reason="x"), Change("leave", "post_new", reason="x")])
    added = from_catalogue(planner(), bare, "bridge_new", 1, "recommended")
    made = changed(bare, [Change("add", "bridge_new", lines=added.lines)])
    assert {"bridge_new", "down"} <= set(jobs(made))
    line, first = made.line("bridge_new"), QUOTE.line("bridge_new")
    assert line is not None and first is not None
    assert (line.price, line.group) == (first.price, "recommended")
    assert [one.job for one in made.left_out] == ["post_new"], "what came in again is not left out"


def test_units_are_the_catalogues_price_for_so_many() -> None:
    line = QUOTE.line("clean")
    assert line is not None
    three = with_units(planner(), line, 3)
    made = changed(QUOTE, [Change("add", "clean", lines=(three,), alone=True)])
    found = made.line("clean")
    assert found is not None
    assert (found.units, found.price, found.because) == (3, three.price, line.because)
    assert len(made.lines) == len(QUOTE.lines)
    listed = catalogue_of(planner(), found)
    assert listed is not None and (listed.labour + listed.parts) == three.price


def test_taking_the_last_change_back_is_the_draft_before_it() -> None:
    steps = [Change("set", "clean", hours=3.0), Change("leave", "bridge_new", reason="x")]
    assert changed(QUOTE, steps[:1]) == changed(QUOTE, steps[:1])
    assert changed(QUOTE, []) == replace(QUOTE, ceiling=QUOTE.ceiling)
    assert changed(QUOTE, steps) != changed(QUOTE, steps[:1])


def test_a_change_to_a_line_that_is_gone_is_passed_over() -> None:
    gone = replace(QUOTE, lines=tuple(line for line in QUOTE.lines if line.job != "clean"))
    steps = [
        Change("set", "clean", hours=3.0),
        Change("leave", "clean", reason="x"),
        Change("grades", "", grades=(("clean", "x", "good"),)),
    ]
    assert changed(gone, steps).lines == gone.lines


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (Change("set", "moon", hours=1.0), "edit.no_line"),
        (Change("set", "clean", say=" "), "edit.no_words"),
        (Change("leave", "clean", reason=" "), "edit.no_reason"),
        (Change("add", "clean", lines=QUOTE.lines[:1]), "edit.there"),
    ],
)
def test_what_speaks_against_a_change(change: Change, code: str) -> None:
    wrong = wrong_change(QUOTE, change)
    assert isinstance(wrong, Problem) and wrong.code == code


def test_the_last_line_stays_and_what_was_offered_is_not_changed() -> None:
    one = replace(QUOTE, lines=tuple(line for line in QUOTE.lines if line.job == "clean"))
    wrong = wrong_change(one, Change("leave", "clean", reason="x"))
    late = wrong_change(replace(QUOTE, state="offered"), Change("set", "clean", hours=1.0))
    assert wrong is not None and wrong.code == "edit.last_line"
    assert late is not None and late.code == "edit.late"


def test_a_level_with_extras_is_never_below_the_one_without() -> None:
    assert QUOTE.extras
    assert up_to(QUOTE, QUOTE.lines) <= up_to_with_extras(QUOTE, QUOTE.lines)
    sure = replace(QUOTE, extras=tuple(replace(one, chance=1.0) for one in QUOTE.extras))
    more = sum((one.price.amount for one in QUOTE.extras), Decimal(0))
    assert float((up_to_with_extras(sure, QUOTE.lines) - up_to(QUOTE, QUOTE.lines)).amount) == pytest.approx(
        float(more) * 1.0825, abs=0.02
    )


AMOUNTS = st.decimals(0, 2000, places=2).map(lambda amount: Money(amount, "USD"))
HOURS = st.floats(0, 30).map(lambda hours: round(hours, 2))
JOBS = st.sampled_from([*jobs(QUOTE), "own_1", "own_2"])
STEPS = st.one_of(
    st.builds(
        Change,
        st.just("set"),
        JOBS,
        hours=st.none() | HOURS,
        labour=st.none() | AMOUNTS,
        parts=st.none() | AMOUNTS,
        group=st.none() | st.sampled_from(["required", "recommended", "rest"]),
    ),
    st.builds(Change, st.just("leave"), JOBS, reason=st.just("why"), alone=st.booleans()),
    st.builds(
        lambda place, labour, parts: Change(
            "add", f"own_{place}", lines=(free_line(place, "Mine", labour, parts, "rest"),)
        ),
        st.integers(1, 2),
        AMOUNTS,
        AMOUNTS,
    ),
)
RATES = st.sampled_from([0.0, 0.07, 0.0825, 0.19, 0.081])


def edited(steps: Sequence[Change], **shop: Any) -> Quote:
    """The draft with every step that nothing speaks against."""
    quote = quote_of(**shop)
    done: list[Change] = []
    for step in steps:
        if wrong_change(changed(quote, done), step) is None:
            done.append(step)
    return changed(quote, done)


@given(
    st.lists(STEPS, max_size=6), RATES, RATES, st.sampled_from(["net", "gross"]),
    st.sampled_from(["cent", "five_cents", "whole"]), st.sampled_from(["0", "300", "2500"]), st.booleans(),
)  # fmt: skip
def test_lines_shared_labour_and_tax_are_the_total_whatever_was_changed(
    steps: list[Change], labour: float, parts: float, prices: Any, rounding: Any, least: str, haste: bool
) -> None:
    shop = {"tax": {"labour": labour, "parts": parts}, "prices_shown": prices, "rounding": rounding}
    quote = edited(steps, **shop, minimum_charge=least)
    quote = replace(quote, terms=replace(quote.terms, rush=0.25 if haste else 0.0))
    stand = standing(quote, all_yes(quote))
    found = totals(quote, stand)
    taxes = found.labour_tax + found.parts_tax
    assert found.labour + found.parts + found.rush + found.minimum + taxes + found.rounding == found.total
    lines = total_of((shown_price(quote.terms, line) for line in stand), "USD")
    if found.gross is None:
        assert lines + found.rush + found.minimum + taxes + found.rounding == found.total
    else:
        assert lines + found.gross[2] + found.gross[3] + found.rounding == found.total
        assert total_of(found.gross, "USD") + found.rounding == found.total
    assert found.total <= found.up_to
    assert from_data(Quote, to_data(quote)) == quote


@given(st.lists(STEPS, max_size=6), st.sampled_from(["net", "gross"]))
def test_a_no_to_a_line_never_raises_the_total_of_a_changed_draft(steps: list[Change], prices: Any) -> None:
    quote = edited(steps, prices_shown=prices)
    every = all_yes(quote)
    whole = totals(quote, standing(quote, every)).total
    for job in every:
        assert totals(quote, standing(quote, {**every, job: "no"})).total <= whole


def test_the_next_line_of_ones_own_has_a_number_of_its_own() -> None:
    one = Change("add", "own_1", lines=(free_line(1, "Mine", usd("1"), usd("1"), "rest"),))
    assert (own_place([]), own_place([one])) == (1, 2)
