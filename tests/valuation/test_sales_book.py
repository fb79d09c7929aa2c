"""The shop's book of sales: which of them count for an instrument, the order of trust, and the switch."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument
from evaluator.valuation.sales.comparables import Comparable, Reconciled, told
from evaluator.valuation.sales.sales_book import (
    SalesBook,
    alike,
    brought_near,
    enough,
    level_of,
    reconciled,
    size_class,
    usual_price,
)
from evaluator.valuation.worth.guide import GuideReading
from evaluator.valuation.worth.ready import BySales
from tests.estimate.small import job_of, rubric_of, shop_of, three
from tests.valuation.made import GUIDE, SEEN, case_with, shop_with, usd, weighed

ON = date(2026, 3, 1)
RUBRIC = rubric_of((job_of("mend"),), {"x": ("mend",)})
VIOLIN = Instrument(size="4/4", style="classical", tier="student")


def sale(price: float = 1000, **keys: Any) -> Comparable:
    base: dict[str, Any] = {"name": "one", "sold_on": ON, "kind": "dealer_sale", "price": price}
    base |= {"currency": "USD", "family": "violin", "size": "4/4", "tier": "student"}
    return Comparable(**(base | keys))


@pytest.mark.parametrize(
    ("keys", "counts"),
    [
        ({}, True),
        ({"family": "viola"}, False),
        ({"size": "3/4"}, False),
        ({"tier": "professional"}, True),
        ({"currency": "EUR"}, False),
        ({"sold_on": date(2015, 1, 1)}, False),
        ({"sold_on": date(2026, 3, 2)}, False),
        ({"sold_on": ON - timedelta(days=3652)}, True),  # ten years are 3652.5 days
        ({"sold_on": ON - timedelta(days=3653)}, False),
        ({"family": "", "size": "", "tier": ""}, True),
    ],
)
def test_only_the_like_counts(keys: dict[str, Any], counts: bool) -> None:
    book = SalesBook((sale(**keys),), ON)
    assert bool(alike(book, RUBRIC, VIOLIN, shop_of())) == counts


@pytest.mark.parametrize(
    ("family", "size", "wanted"),
    [
        ("viola", "405 mm", "full size"),
        ("viola", "14 in", "14 in"),
        ("violin", "7/8", "7/8"),
        ("bow", "viola", "viola"),
    ],
)
def test_full_sized_violas_are_one_class(family: str, size: str, wanted: str) -> None:
    assert size_class(family, size) == wanted


def reading_of(share: float = 1.0) -> GuideReading:
    """The guide read for an instrument that is factory work with this share, else a maker's."""
    found = weighed(case_with(SEEN), {"factory": share, "maker": 1.0 - share}).ready.reading
    assert found is not None
    return found


def together(book: SalesBook, share: float = 1.0) -> Reconciled:
    found = reconciled(book, RUBRIC, VIOLIN, shop_with(), reading_of(share))
    assert found is not None
    return found


def test_what_moved_by_more_than_half_does_not_make_enough() -> None:
    far = tuple(sale(600, kind="auction", set_up=400, name=name) for name in "abc")
    found = together(SalesBook(far, ON))
    assert (len(found.rows), found.little_moved, enough(found, shop_with())) == (3, 0, False)
    near = tuple(sale(price) for price in (900, 1000, 1100))
    both = together(SalesBook((*near, *far), ON))
    switched = together(SalesBook((*near, *far), ON, leave_out_much=True))
    assert (len(both.rows), len(switched.rows), switched.left_out) == (6, 3, 3)


def test_what_was_set_aside_or_graded_for_this_one() -> None:
    rows = tuple(sale(1000, key=f"{i}", name=f"{i}") for i in range(4))
    found = together(SalesBook(rows, ON, set_aside=frozenset({"0"}), grades={"1": 1.2}))
    assert [row.value for row in found.rows] == pytest.approx([1200, 1000, 1000])


@pytest.mark.parametrize(
    ("share", "made", "tier", "factor"),
    [
        (1.0, 40.0, "student", 1.0),
        (1.0, 90.0, "student", 1 / 20),
        (0.0, 40.0, "student", 20.0),
        (1.0, None, "student", 1.0),  # a learner's standard is mostly bought as factory work
        (1.0, None, "", 1.0),
        (1.0, 65.0, "", 1 / 20**0.5),  # half way between the classes, in the logarithm
    ],
)
def test_making_is_brought_near_by_the_guide(share: float, made: float | None, tier: str, factor: float) -> None:
    found = together(SalesBook((sale(1000, made=made, tier=tier),), ON), share)
    assert found.rows[0].value == pytest.approx(1000 * factor)


def test_lasting_faults_lower_what_clean_ones_brought_and_not_what_the_like_brought() -> None:
    for retention, wanted in ((1.0, 940), (0.94, 1000)):
        book = SalesBook(tuple(sale(1000, retention=retention, name=name) for name in "abc"), ON)
        ready = weighed(case_with(SEEN | {"wing": "mended"}), book=book).ready
        assert ready.kind == "comparables" and ready.sales is not None
        assert ready.sales.mean == pytest.approx(wanted)


@given(st.lists(st.integers(20_000, 500_000), min_size=3, max_size=8, unique=True), st.floats(1.0, 3.0))
def test_where_all_prices_are_a_share_dearer_so_is_the_value(cents: list[int], by: float) -> None:
    """Of sales that stay apart: two of one price on one day are one sale."""
    now, then = (together(SalesBook(tuple(sale(one / 100 * factor) for one in cents), ON)) for factor in (1.0, by))
    assert then.mean == pytest.approx(by * now.mean)
    assert [row.far for row in then.rows] == [row.far for row in now.rows]
    assert now.low <= told(now.mean) <= now.high


def test_the_worked_table_becomes_the_ready_value_of_an_evaluation() -> None:
    """Five sales that come to 1,910 (worked out here, inputs from memory)."""
    rows = (
        sale(2200, sold_on=date(2025, 1, 1), grade=0.95),
        sale(1450, sold_on=date(2025, 10, 1), grade=1.12, retention=0.92),
        sale(775, kind="auction", sold_on=date(2025, 7, 1), set_up=450),
        sale(1200, kind="private_sale", sold_on=date(2025, 12, 1), extras=150, retention=0.97, set_up=200),
        sale(2400, kind="listing", sold_on=ON),
    )
    found = weighed(case_with(SEEN), book=SalesBook(rows, ON, retention=0.97)).ready
    assert found.value == usd(1910)
    assert found.source == BySales(book=None, count=5, low=1450.0, high=2520.0, before=None)
    assert (found.low, found.high) == (1450, 2520)


@pytest.mark.parametrize(
    ("made", "price"), [(0.0, 800), (40.0, 800), (65.0, 800 * 20**0.5), (90.0, 16_000), (100.0, 16_000)]
)
def test_the_usual_price_runs_between_the_classes_and_is_flat_beyond(made: float, price: float) -> None:
    """Factory work is made like 40 and brings 800, a maker's like 90 and 16,000: half way, times the root of 20."""
    assert usual_price(shop_with(), "violin", "4/4", made) == pytest.approx(price)
    assert usual_price(shop_with(), "cello", "4/4", made) is None


def test_beyond_the_best_class_it_is_the_best_ones_price() -> None:
    three_classes = {"factory": 40, "maker": 90, "workshop": 60}
    prices = GUIDE["prices"]["violin"] | {"workshop": three(1000, 2000, 4000)}  # type: ignore[index]
    shop = shop_with(guide=GUIDE | {"made_like": three_classes, "prices": {"violin": prices}})
    assert [usual_price(shop, "violin", "4/4", made) for made in (30, 40, 60, 90, 95)] == [
        800, 800, pytest.approx(2000), pytest.approx(16_000), 16_000]  # fmt: skip
    assert usual_price(shop, "violin", "4/4", 50) == pytest.approx((800 * 2000) ** 0.5)


def test_two_classes_that_are_made_alike_are_no_division_by_nothing() -> None:
    alike_made = shop_with(guide=GUIDE | {"made_like": {"factory": 40, "maker": 40}})
    assert usual_price(alike_made, "violin", "4/4", 40.0) == 800
    assert usual_price(alike_made, "violin", "4/4", 41.0) == 16_000


@pytest.mark.parametrize(
    ("keys", "level"),
    [
        ({"made": 55.0, "making": "maker"}, 55.0),
        ({"made": 0.0, "making": "maker"}, 0.0),
        ({"making": "maker"}, 90),
        ({"making": "robot", "tier": "student"}, 40),
        ({"tier": "student"}, 40),
        ({"tier": "professional"}, None),  # this guide has no fine workshop
        ({"tier": ""}, None),
    ],
)
def test_how_well_a_sold_one_was_made(keys: dict[str, Any], level: float | None) -> None:
    assert level_of(sale(**keys), shop_with()) == level


def test_a_sale_is_brought_to_the_making_in_hand_where_both_are_known() -> None:
    one, reading, shop = sale(grade=1.5, making="maker"), reading_of(), shop_with()
    near = brought_near(one, reading, shop, VIOLIN)
    assert near.grade == pytest.approx(1.5 * reading.unhurt.middle / 16_000)
    assert brought_near(one, None, shop, VIOLIN) == one
    assert brought_near(sale(tier=""), reading, shop, VIOLIN) == sale(tier="")
    without = shop_with(guide=GUIDE | {"prices": {"cello": GUIDE["prices"]["violin"]}})  # type: ignore[index]
    assert brought_near(one, reading, without, VIOLIN) == one
