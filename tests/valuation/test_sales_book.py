"""The shop's book of sales: which of them count for an instrument, the order of trust, and the switch."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Instrument, Range
from evaluator.basis.money import Money
from evaluator.result.evaluation import evaluate
from evaluator.rubric.shop import Shop
from evaluator.valuation.price_guide import ReadyValue, ready_value
from evaluator.valuation.sales.comparables import Comparable
from evaluator.valuation.sales.sales_book import SalesBook, alike, enough, reconciled, size_class
from tests.estimate.small import assessment_of, case_of, job_of, rubric_of, shop_of

ON = date(2026, 3, 1)
RUBRIC = rubric_of((job_of("mend"),), {"x": ("mend",)})
VIOLIN = Instrument(size="4/4", style="classical", tier="student")
GUIDE = {
    "violin": {
        "student": [
            {"score": 40, "price": {"low": 300, "likely": 400, "high": 500}},
            {"score": 80, "price": {"low": 600, "likely": 800, "high": 1000}},
        ]
    }
}


def sale(price: float = 1000, **keys: Any) -> Comparable:
    base: dict[str, Any] = {"name": "one", "sold_on": ON, "kind": "dealer_sale", "price": price}
    base |= {"currency": "USD", "family": "violin", "size": "4/4", "tier": "student"}
    return Comparable(**(base | keys))


def guide_shop(**keys: Any) -> Shop:
    return shop_of(price_guide=GUIDE, **keys)


def value(book: SalesBook | None, shop: Shop, own: float | None = None, made: float = 80.0) -> ReadyValue:
    found = replace(
        assessment_of(RUBRIC, count=100, score_after=80.0), domains_after={"workmanship": Range(made, made, made)}
    )
    typed = None if own is None else Money(Decimal(str(own)), "USD")
    ready = ready_value(RUBRIC, case_of(RUBRIC, ready_value=typed), found, shop, book)
    assert ready is not None
    return ready


@pytest.mark.parametrize(
    ("keys", "counts"),
    [
        ({}, True),
        ({"family": "viola"}, False),
        ({"size": "3/4"}, False),
        ({"tier": "professional"}, False),
        ({"currency": "EUR"}, False),
        ({"sold_on": date(2015, 1, 1)}, False),
        ({"sold_on": date(2026, 3, 2)}, False),
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


def test_enough_sales_go_before_the_own_figure_and_that_before_the_guide() -> None:
    shop = guide_shop()
    three = SalesBook((sale(1000), sale(1100), sale(1200)), ON)
    by_sales = value(three, shop, own=700)
    assert (by_sales.kind, float(by_sales.value.amount)) == ("comparables", 1100)
    assert by_sales.source == (
        "from 3 sales of your own book; between $1,000 and $1,200; they go before your own figure of $700"
    )
    two = SalesBook((sale(1000), sale(1100)), ON)
    own = value(two, shop, own=700)
    assert (own.kind, own.source, own.sales is not None) == ("own_figure", "your own figure", True)
    guide = value(two, shop)
    assert (guide.kind, float(guide.value.amount)) == ("price_guide", 800)
    assert value(None, shop).sales is None


def test_what_moved_by_more_than_half_does_not_make_enough() -> None:
    far = [sale(600, kind="auction", set_up=400) for _ in range(3)]
    shop = guide_shop()
    found = reconciled(SalesBook(tuple(far), ON), RUBRIC, VIOLIN, shop, None, 1.0)
    assert found is not None
    assert (len(found.rows), found.little_moved, enough(found, shop)) == (3, 0, False)
    near = tuple(sale(price) for price in (900, 1000, 1100))
    both = value(SalesBook((*near, *far), ON), shop)
    switched = value(SalesBook((*near, *far), ON, leave_out_much=True), shop)
    assert both.sales is not None
    assert switched.sales is not None
    assert (len(both.sales.rows), len(switched.sales.rows), switched.sales.left_out) == (6, 3, 3)


def test_what_was_set_aside_or_graded_for_this_one() -> None:
    rows = tuple(sale(1000, key=f"{i}") for i in range(4))
    shop = guide_shop()
    found = value(SalesBook(rows, ON, set_aside=frozenset({"0"}), grades={"1": 1.2}), shop)
    assert found.sales is not None
    assert [row.value for row in found.sales.rows] == pytest.approx([1200, 1000, 1000])


@pytest.mark.parametrize(("made", "there", "factor"), [(80, 80, 1.0), (80, 40, 2.0), (40, 80, 0.5), (60, None, 1.0)])
def test_making_is_brought_near_by_the_guide(made: float, there: float | None, factor: float) -> None:
    found = value(SalesBook((sale(1000, made=there),), ON), guide_shop(), made=made)
    assert found.sales is not None
    assert found.sales.rows[0].value == pytest.approx(1000 * factor)


@given(st.lists(st.floats(200, 5000), min_size=3, max_size=8), st.floats(1, 500))
def test_dearer_sales_never_lower_the_value(prices: list[float], more: float) -> None:
    shop = guide_shop()
    now = value(SalesBook(tuple(sale(price) for price in prices), ON), shop)
    then = value(SalesBook(tuple(sale(price + more) for price in prices), ON), shop)
    assert now.kind == then.kind == "comparables"
    assert then.value.amount >= now.value.amount
    assert now.low <= float(now.value.amount) <= now.high


def test_the_worked_table_becomes_the_ready_value_of_an_evaluation() -> None:
    """Five sales that come to 1,900 between 1,700 and 2,100 (worked out here, inputs from memory)."""
    rows = (
        sale(2200, sold_on=date(2025, 1, 1), grade=0.95),
        sale(1450, sold_on=date(2025, 10, 1), grade=1.12, retention=0.92),
        sale(775, kind="auction", sold_on=date(2025, 7, 1), set_up=450),
        sale(1200, kind="private_sale", sold_on=date(2025, 12, 1), extras=150, retention=0.97, set_up=200),
        sale(2400, kind="listing", sold_on=ON),
    )
    case = case_of(RUBRIC, asking=Money(Decimal(900), "USD"))
    found = evaluate(RUBRIC, case, guide_shop(), draws=200, book=SalesBook(rows, ON, retention=0.97))
    assert found.verdict.ready_value == Money(Decimal("1900.00"), "USD")
    assert found.verdict.ready_value_from == "from 5 sales of your own book; between $1,700 and $2,100"
    assert found.verdict.walk_away_price == pytest.approx(1900 - found.estimate.with_extras_mean)
    again = evaluate(RUBRIC, case, guide_shop(), draws=200)
    assert again.verdict.ready_value_from != found.verdict.ready_value_from
