"""Trade-in, comparables, sales files, repair or replace, rent or buy, owning: laws and bad input."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.choosing.ownership import (
    BuyTerms,
    RentTerms,
    calendar_text,
    cost_of_owning,
    habits_for,
    rent_or_buy,
    service_dates,
)
from evaluator.choosing.ownership import Prices as OwningPrices
from evaluator.choosing.repair_or_replace import Advice, as_found, repair_or_replace
from evaluator.choosing.trade_in import Answers, Work, before_any_figure, cash_offer, trade_in
from evaluator.rubric.shop import Buying
from evaluator.valuation.sales.comparables import Comparable, adjusted, reconcile, told
from evaluator.valuation.sales.sales_file import read_sales, write_sales
from evaluator.valuation.worth.lasting import accident, retained
from tests.estimate.small import shop_of
from tests.known import OWNING

ON = date(2026, 3, 1)
SHARES = st.floats(0.05, 0.9)
REPAIRING = OWNING.repairing
MONEY = st.floats(1, 50_000)


@given(MONEY, MONEY, SHARES, SHARES, st.floats(0, 0.09), st.floats(0, 1000))
def test_the_cash_offer_falls_with_margin_holding_and_cost(
    price: float, cost: float, margin: float, holding: float, more: float, dearer: float
) -> None:
    now = cash_offer(price, cost, Buying(margin=margin, holding=holding))
    assert cash_offer(price, cost, Buying(margin=margin + more, holding=holding)) <= now + 1e-9
    assert cash_offer(price, cost + dearer, Buying(margin=margin, holding=holding)) <= now + 1e-9
    if now >= 0:
        assert cash_offer(price, cost, Buying(margin=margin, holding=holding + more)) <= now + 1e-9


def test_offers_stand_side_by_side_and_the_shops_gain_is_named() -> None:
    shop = shop_of()
    work = Work(hours=2, parts_retail=0, price=170)
    found = trade_in(work, 1900, shop, new_price=4000)
    by_kind = {one.kind: one for one in found.offers}
    assert list(by_kind) == ["cash", "trade", "consignment", "alone"]
    assert found.making_ready == pytest.approx(100)
    assert by_kind["cash"].to_owner == pytest.approx((1805 * 0.6 - 100) / 1.1)
    assert by_kind["trade"].to_owner == pytest.approx(by_kind["cash"].to_owner + 0.15 * 0.4 * 4000)
    assert by_kind["consignment"].expected < by_kind["consignment"].to_owner
    assert by_kind["cash"].shop_earns == pytest.approx(0.4 * 1805)
    assert found.profits_shop_most == "trade"
    assert [one.kind for one in trade_in(work, 1900, shop).offers] == ["cash", "consignment", "alone"]


@pytest.mark.parametrize(
    ("answers", "codes"),
    [
        (Answers(), ["trade_in.materials_unknown", "trade_in.owner", "trade_in.identity"]),
        (Answers("not_allowed", True, True), ["trade_in.materials_not_allowed"]),
        (Answers("none", True, True), []),
        (Answers("allowed", True, True), []),
    ],
)
def test_no_figure_before_materials_owner_and_identity(answers: Answers, codes: list[str]) -> None:
    assert [one.code for one in before_any_figure(answers)] == codes


@given(st.lists(st.floats(0, 1), max_size=6))
def test_losses_multiply_and_one_accident_costs_no_more_than_its_parts(losses: list[float]) -> None:
    assert 0 <= retained(losses) <= 1
    assert max(losses, default=0) <= accident(losses) + 1e-12
    assert accident(losses) <= sum(losses) + 1e-12


def sale(price: float = 1000, **keys: object) -> Comparable:
    base: dict = {"name": "one", "sold_on": ON, "kind": "dealer_sale", "price": price, "currency": "USD"}
    return Comparable(**(base | keys))


def test_a_like_sale_of_today_is_its_own_value() -> None:
    found = reconcile([sale(1234)], 1.0, ON)
    assert found is not None
    assert (found.mean, found.median, found.spread, found.value) == (1234, 1234, 0, 1230)
    assert adjusted(sale(1234), 1.0, ON).gross == 0


def test_what_moved_by_more_than_half_can_be_left_out() -> None:
    sales = [sale(1000), sale(500, kind="auction", set_up=400)]
    whole, some = reconcile(sales, 1.0, ON), reconcile(sales, 1.0, ON, leave_out_much=True)
    assert whole is not None
    assert some is not None
    assert (len(whole.rows), len(some.rows), some.left_out) == (2, 1, 1)
    assert reconcile(sales[1:], 1.0, ON, leave_out_much=True) is None
    assert reconcile([], 1.0, ON) is None


@given(st.lists(st.floats(50, 20_000), min_size=1, max_size=8))
def test_the_band_holds_mean_and_median_but_for_rounding(prices: list[float]) -> None:
    found = reconcile([sale(price) for price in prices], 1.0, ON)
    assert found is not None
    assert min(prices) - 1e-6 <= found.mean <= max(prices) + 1e-6
    for middle in (found.mean, found.median):
        assert found.low <= told(middle) + 1e-6
        assert told(middle) <= found.high + 1e-6


@pytest.mark.parametrize(
    ("amount", "wanted"), [(1913, 1910), (1692, 1690), (2134, 2140), (5430, 5450), (96.2, 96), (0, 0), (104.4, 104)]
)
def test_a_value_is_told_to_a_hundredth(amount: float, wanted: float) -> None:
    assert told(amount) == pytest.approx(wanted)


GOOD = "name,sold_on,kind,price,currency,extras,note\n"


def test_sales_come_back_as_they_were_written() -> None:
    sales = (
        sale(1450.5, name='A "fine", one', note="with a comma, and ø", family="viola", size="14 in", made=61.0),
        sale(775, kind="auction", set_up=-450.0),
    )
    found, problems = read_sales(write_sales(sales), "sales.csv", "USD", ON)
    assert problems == ()
    assert found == sales


@pytest.mark.parametrize(
    ("row", "place", "word"),
    [
        ("A,2026-01-01,dealer_sale,abc,USD,,", "2:4", "not an amount"),
        ("A,2026-01-01,dealer_sale,-5,USD,,", "2:4", "outside"),
        ("A,2026-01-01,dealer_sale,1e9,USD,,", "2:4", "not an amount"),
        ('A,2026-01-01,dealer_sale,"1,23,4",USD,,', "2:4", "points and commas"),
        ("A,01/02/2026,dealer_sale,5,USD,,", "2:2", "can be 1 February 2026 or 2 January 2026"),
        ("A,2026-02-31,dealer_sale,5,USD,,", "2:2", "not a date"),
        ("A,2027-01-01,dealer_sale,5,USD,,", "2:2", "after the day"),
        ("A,2026-01-01,deeler_sale,5,USD,,", "2:3", 'Did you mean "dealer_sale"'),
        ("A,2026-01-01,dealer_sale,5,EUR,,", "2:5", "two currencies"),
        (",2026-01-01,dealer_sale,5,USD,,", "2:1", "nothing is written"),
        ("A,2026-01-01,dealer_sale,5", "2:4", "cells"),
        ("A,2026-01-01,dealer_sale,5,USD,NaN,", "2:6", "not an amount"),
    ],
)
def test_a_bad_cell_is_named_by_line_and_column(row: str, place: str, word: str) -> None:
    found, problems = read_sales(GOOD + row + "\nB,2026-01-01,listing,7,USD,,\n", "sales.csv", "USD", ON)
    assert [one.name for one in found] == ["B"]
    assert len(problems) == 1
    assert str(problems[0].place) == f"sales.csv:{place}"
    assert word in str(problems[0])


@pytest.mark.parametrize(("text", "price"), [("1,500", 1500), ("12,345.50", 12345.5), ("1500,5", 1500.5), ("750", 750)])
def test_a_comma_before_three_digits_of_money_parts_thousands(text: str, price: float) -> None:
    found, problems = read_sales(GOOD + f'A,2026-01-01,listing,"{text}",USD,,\n', "sales.csv", "USD", ON)
    assert problems == ()
    assert found[0].price == price


@pytest.mark.parametrize(
    ("cells", "place", "word"),
    [
        ("violn,4/4,student,70", "2:6", 'Did you mean "violin"'),
        ("violin,4/5,student,70", "2:7", "not a size of a violin"),
        (",4/4,student,70", "2:7", "without a family"),
        ("violin,4/4,beginner,70", "2:8", "student, intermediate, professional"),
        ("violin,4/4,student,101", "2:9", "outside 0 to 100"),
    ],
)
def test_what_was_sold_is_read_by_the_sizes_of_its_family(cells: str, place: str, word: str) -> None:
    head = "name,sold_on,kind,price,currency,family,size,tier,made\n"
    sizes = {"violin": ("4/4", "3/4")}
    found, problems = read_sales(f"{head}A,2026-01-01,listing,5,USD,{cells}\n", "sales.csv", "USD", ON, sizes)
    assert (found, len(problems)) == ((), 1)
    assert str(problems[0].place) == f"sales.csv:{place}"
    assert word in str(problems[0])
    good, none = read_sales(f"{head}A,2026-01-01,listing,5,USD,Violin,4/4,,\n", "sales.csv", "USD", ON, sizes)
    assert none == ()
    assert (good[0].family, good[0].size, good[0].tier, good[0].made) == ("violin", "4/4", "", None)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "no rows"),
        ("name,sold_on,kind,price,currency\n", "no rows"),
        ("name,sold_on,kind,price\nA,2026-01-01,listing,5\n", '"currency" is missing'),
        ("name,sold_on,kind,prise,currency\nA,2026-01-01,listing,5,USD\n", 'Did you mean "prise"'),
        ("name,name,sold_on,kind,price,currency\nA,A,2026-01-01,listing,5,USD\n", "twice"),
        (GOOD + 'A,2026-01-01,"listing,5,USD,,\n', "quotation mark"),
    ],
)
def test_a_bad_file_gives_no_sales(text: str, word: str) -> None:
    found, problems = read_sales(text, "sales.csv", "USD", ON)
    assert found == ()
    assert any(word in str(one) for one in problems)


@pytest.mark.parametrize(
    ("work", "ready", "equal", "trade", "advice"),
    [
        (300, 1000, None, 0, Advice.SMALL_PART_OF_THE_VALUE),
        (500, 1000, 900, 200, Advice.CHEAPER_THAN_ITS_EQUAL),
        (500, 1000, 600, 200, Advice.ITS_EQUAL_IS_NO_DEARER),
        (600, 1000, None, 0, Advice.LOOK_AT_ITS_EQUAL),
        (700, 1000, None, 0, Advice.COSTS_MORE_THAN_IT_ADDS),
        (10, 0, None, 0, Advice.COSTS_MORE_THAN_IT_ADDS),
    ],
)
def test_repair_or_replace(work: float, ready: float, equal: float | None, trade: float, advice: Advice) -> None:
    found = repair_or_replace(work, ready, 0.4 * ready, REPAIRING, equal, trade)
    assert found.advice is advice
    assert found.net_cost == pytest.approx(work - 0.6 * ready)


@given(MONEY, MONEY, st.floats(0, 1), st.none() | MONEY)
def test_the_advice_on_repair_names_only_a_reason_that_holds(
    work: float, ready: float, share: float, equal: float | None
) -> None:
    found = repair_or_replace(work, ready, share * ready, REPAIRING, equal)
    assert found.advice is not Advice.COSTS_MORE_THAN_IT_ADDS or found.net_cost > 0
    dear = found.instead is not None and found.instead <= work
    assert found.advice is not Advice.CHEAPER_THAN_ITS_EQUAL or (found.instead is not None and work < found.instead)
    assert found.advice is not Advice.ITS_EQUAL_IS_NO_DEARER or dear


@given(MONEY, MONEY, MONEY)
def test_an_unrepaired_one_brings_less_the_dearer_its_work(ready: float, work: float, more: float) -> None:
    now, then = as_found(ready, work, REPAIRING), as_found(ready, work + more, REPAIRING)
    assert 0 <= then <= now <= 0.9 * ready
    assert repair_or_replace(work, ready, now, REPAIRING).gain >= min(work, ready) - 1e-6


@given(st.integers(0, 120), st.integers(0, 120))
def test_rent_only_grows_and_credit_never_passes_it(months: int, more: int) -> None:
    terms, buy = RentTerms(25, 5, 0.75, 21, 0.2), BuyTerms(900, 198, 0.4, 0.7, 50)
    now, then = rent_or_buy(months, terms, buy, 800), rent_or_buy(months + more, terms, buy, 800)
    assert then.rent_paid >= now.rent_paid
    assert now.credit <= min(now.rent_paid, 0.2 * 800) + 1e-9
    assert now.cheapest


@given(st.floats(0, 2000))
def test_more_playing_never_costs_less(hours: float) -> None:
    prices = OwningPrices(100, 85, 0, 211, 1000)
    now, then = habits_for(hours, OWNING.habits), habits_for(hours + 50, OWNING.habits)
    assert cost_of_owning(then, prices).total >= cost_of_owning(now, prices).total - 1e-9


def test_service_by_hours_and_at_the_latest_after_a_year() -> None:
    """Who plays 400 hours comes after six months; a child after a year, as workshops and teachers advise on their pages
    (ateliergfl.com, luthierquimper.com: yearly); who does not say, after six months.
    """
    shop = shop_of()
    assert service_dates(ON, 1000, shop, 1)[0] == date(2026, 5, 13)
    assert service_dates(ON, 400, shop, 1)[0] == date(2026, 8, 31)
    assert service_dates(ON, 100, shop, 2) == (date(2027, 3, 1), date(2028, 2, 29))
    assert service_dates(ON, 0, shop, 1)[0] == date(2026, 8, 31)


def test_calendar_file() -> None:
    text = calendar_text(service_dates(ON, 400, shop_of(), 2), "Service: cello, 4/4; Å" * 6, ON)
    lines = text.split("\r\n")
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-2] == "END:VCALENDAR"
    assert text.count("BEGIN:VEVENT") == 2
    assert "DTSTART;VALUE=DATE:20260831" in lines
    assert all(len(line.encode()) <= 75 for line in lines)
    assert "\\, 4/4\\; Å" in text.replace("\r\n ", "")
