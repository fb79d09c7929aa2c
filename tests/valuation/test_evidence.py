"""Sales as evidence: a far one moves nothing, twins count once, weak ones never outweigh, and a range that holds."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from evaluator.valuation.evidence.screening import held_down, near_ones
from evaluator.valuation.evidence.spread import spread_of, student_quantile
from evaluator.valuation.sales.comparables import (
    BAND,
    Comparable,
    Market,
    Reconciled,
    adjusted,
    mark,
    reconcile,
    told,
)

ON = date(2026, 3, 1)
PRICES = st.lists(st.floats(700, 2100), min_size=3, max_size=30)


def book(prices: list[float], **keys: object) -> list[Comparable]:
    return [Comparable(f"no. {place}", ON, "dealer_sale", price, "USD", **keys) for place, price in enumerate(prices)]  # type: ignore[arg-type]


def together(sales: list[Comparable]) -> Reconciled:
    found = reconcile(sales, 1.0, ON)
    assert found is not None
    return found


def figures(found: Reconciled) -> tuple[float | None, ...]:
    return (found.value, found.low, found.high, found.mean, found.median, found.spread)


@given(PRICES, st.floats(700, 2100))
def test_one_a_hundred_times_too_high_moves_nothing_of_what_the_others_say(prices: list[float], price: float) -> None:
    strange = book([100 * price])[0]
    assert figures(together([*book(prices), strange])) == figures(together(book(prices)))


@pytest.mark.parametrize("seed", range(10))
def test_any_one_of_forty_a_hundred_times_too_high_moves_the_value_by_less_than_two_in_a_hundred(seed: int) -> None:
    """Forty sales that spread by a fifth: each in turn is written a hundred times too high, so that thirty-nine are
    left. What is missing of the outermost one moves an end of the range by up to four hundredths.
    """
    random = np.random.default_rng(seed)
    prices = [float(price) for price in 1500 * np.exp(random.normal(0, 0.2, 40))]
    right = together(book(prices))
    for place in range(len(prices)):
        wrong = together(book([price * (100 if at == place else 1) for at, price in enumerate(prices)]))
        assert wrong.value is not None
        assert right.value is not None
        assert wrong.value == pytest.approx(right.value, rel=0.02)
        assert (wrong.low, wrong.high) == pytest.approx((right.low, right.high), rel=0.04)


def test_a_plain_mean_would_follow_it() -> None:
    """What the rule is for: of these the mean is 26,000."""
    found = together(book([900, 1000, 1100, 100_000]))
    assert (found.value, [row.standing for row in found.rows][-1], found.little_moved) == (1000, "far", 3)


@given(PRICES, st.integers(1, 4))
def test_what_stands_there_twice_counts_once(prices: list[float], times: int) -> None:
    once = book(prices)
    again = [replace(one, name=f" {one.name.upper()}") for one in once]
    found = together([*once, *(again * times)])
    assert figures(found) == figures(together(once))
    assert found.again == times * len(once)


@given(st.integers(1, 3), st.integers(0, 40))
def test_weak_ones_together_weigh_a_quarter_at_most(strong: int, weak: int) -> None:
    near = book([1000 + place for place in range(strong)])
    far_moved = [Comparable(f"weak {place}", ON, "auction", 600 + place, "USD", set_up=500) for place in range(weak)]
    found = together([*near, *far_moved])
    assert sum(found.weight_share(row) for row in found.rows if row.much) <= 0.25 + 1e-9


def test_thirty_nine_that_had_to_be_moved_a_long_way_give_no_figure_to_go_by() -> None:
    """Auction prices from 400 to 4,400 with set-up added: none is evidence, and the range is all that is told."""
    rows = [Comparable(f"{place}", ON, "auction", 400 + 105 * place, "USD", set_up=500) for place in range(39)]
    found = together(rows)
    assert found.little_moved == 0
    assert found.value is None
    assert found.low < found.median < found.high


@pytest.mark.parametrize("share", [0.8, 0.9, 0.95])
@pytest.mark.parametrize("freedom", [2.0, 2.7, 3.0, 5.0, 12.0, 80.0])
def test_students_quantile_is_that_of_scipy(share: float, freedom: float) -> None:
    assert student_quantile(0.5 + share / 2, freedom) == pytest.approx(stats.t.ppf(0.5 + share / 2, freedom), rel=0.008)


def test_with_equal_weights_and_nothing_presumed_it_is_the_textbooks_prediction_interval() -> None:
    """Mean, standard deviation and t interval of the logarithms as scipy works them out."""
    prices = [900.0, 1250.0, 1010.0, 1400.0, 1100.0, 1320.0]
    found, logs = spread_of(prices, [1.0] * 6, usual_counts=0.0), np.log(prices)
    described = stats.describe(logs)
    assert (found.middle, found.sd**2) == pytest.approx((described.mean, described.variance))
    low, high = stats.t.interval(BAND, 5, described.mean, np.sqrt(described.variance * (1 + 1 / 6)))
    assert (found.middle - found.ahead(BAND), found.middle + found.ahead(BAND)) == pytest.approx((low, high), rel=1e-4)


@pytest.mark.parametrize("count", [3, 5, 12])
def test_the_range_holds_the_next_price_in_four_of_five_cases(count: int) -> None:
    """A thousand books of lognormal prices, spread by a fifth: how often the range holds one more."""
    random = np.random.default_rng(count)
    held = 0
    for _ in range(1000):
        *known, new = np.exp(random.normal(7, 0.2, count + 1))
        ahead = spread_of(known, [1.0] * count)
        held += abs(np.log(new) - ahead.middle) <= ahead.ahead(BAND)
    assert 0.77 <= held / 1000 <= 0.87


def test_far_is_3_5_by_the_modified_score() -> None:
    """Worked by hand: distances 2, 1, 0, 1, 2, 0, x in the logarithm; their median 1, so that 3.5 / 0.6745 is far."""
    for x, near in ((5.0, True), (6.5, False)):
        prices = [float(np.exp(5 + one)) for one in (-2, -1, 0, 1, 2, 0, x)]
        assert near_ones(prices, [True] * 7)[-1] is near
    assert near_ones([1000.0, 1000.0, 1000.0, 1999.0], [True] * 4) == (True,) * 4
    assert near_ones([0.0, -5.0, 10.0], [True] * 3) == (False, False, True)


def test_weights_are_left_alone_where_weak_ones_are_few_or_all() -> None:
    assert held_down([3.0, 0.5], [True, False]) == (3.0, 0.5)
    assert held_down([1.0, 2.0], [False, False]) == (1.0, 2.0)
    assert held_down([3.0, 4.0, 4.0], [True, False, False]) == pytest.approx((3.0, 0.5, 0.5))


def test_rounding_moves_no_figure_by_over_half_a_hundredth() -> None:
    for amount in np.exp(np.linspace(3, 12, 500)):
        assert told(float(amount)) == pytest.approx(amount, rel=0.0051)


def test_two_records_of_one_sale_are_told_by_all_but_capitals_and_spaces() -> None:
    one = Comparable("Old  brown violin", ON, "dealer_sale", 1000, "USD", note="seen", key="a")
    assert mark(one) == mark(replace(one, name=" old brown VIOLIN ", note="", key="b", grade=1.2))
    for other in ({"name": "Old brown viola"}, {"price": 1001.0}, {"kind": "auction"}, {"making": "maker"},
                  {"sold_on": date(2026, 3, 2)}, {"size": "3/4"}, {"currency": "EUR"}):  # fmt: skip
        assert mark(one) != mark(replace(one, **other)), other  # type: ignore[arg-type]
    twice = together([one, replace(one, key="b"), *book([900, 1100])])
    assert (len(twice.rows), twice.again) == (3, 1)
    assert together(book([900, 1100])).again == 0


@pytest.mark.parametrize(("extras", "standing"), [(500.0, "evidence"), (500.5, "check")])
def test_what_was_moved_by_half_is_still_evidence(extras: float, standing: str) -> None:
    found = together(book([1000], extras=extras))
    assert [row.standing for row in found.rows] == [standing]
    assert found.rows[0].gross == pytest.approx(extras / 1000)


def test_each_step_of_a_sale_is_reckoned_on_the_one_before() -> None:
    """By hand: 1000 less 100; an auction times 2; four years at 2 %; half again; 0.8 for 0.9; and 50 of set-up."""
    market = Market({"auction": 2.0}, 0.02, {"auction": 0.6})  # type: ignore[arg-type]
    old = Comparable("one", date(2022, 3, 1), "auction", 1000, "USD", extras=100, grade=1.5, retention=0.9, set_up=50)
    row = adjusted(old, 0.8, ON, market)
    years = 1461 / 365.25
    level, dated = 1800, 1800 * (1 + 0.02 * years)
    condition = dated * 1.5 * 0.8 / 0.9
    assert (row.start, row.after_level, row.after_date) == pytest.approx((900, level, dated))
    assert (row.after_grade, row.after_condition, row.value) == pytest.approx((dated * 1.5, condition, condition + 50))
    moved = 100 + 900 + (dated - level) + dated * 0.5 + (dated * 1.5 - condition) + 50
    assert row.gross == pytest.approx(moved / 1000)
    assert row.weight == pytest.approx(0.6 / (0.1 + moved / 1000))
    listed = adjusted(replace(old, kind="listing"), 0.8, ON, Market({"listing": 1.0}, 0.02, {"listing": 0.5}))  # type: ignore[arg-type]
    assert listed.after_date == listed.after_level, "what is offered is offered today"


@pytest.mark.parametrize(
    ("amount", "said"),
    [(0, 0), (-5, 0), (1234, 1230), (1236, 1240), (3333, 3340), (3329, 3320), (6666, 6650), (99.4, 99.5)],
)
def test_a_figure_is_told_by_1_2_or_5_of_its_third_figure(amount: float, said: float) -> None:
    assert told(amount) == pytest.approx(said)
