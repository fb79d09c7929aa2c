"""Bills of random orders: lines, taxes and rounding make the total, and a credit takes it back exactly."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.money import Money, total_of
from evaluator.papers.bill_story import bill_paper
from evaluator.papers.blocks import TableBlock, Together
from evaluator.quoting.answers import all_yes, standing, tax_in, totals
from evaluator.quoting.billing.bill import Adjustment, Bill, Order, Payment, Seller, number_of, series_of
from evaluator.quoting.billing.making import bill_of, credit_of, most_billed
from evaluator.quoting.changes import Change
from evaluator.quoting.quote import Quote
from evaluator.quoting.records import from_data, to_data
from tests.laws import tried
from tests.quoting.test_changes import AMOUNTS, RATES, STEPS, edited
from tests.quoting.test_quote import quote_of

ON = date(2026, 3, 20)
SELLER = Seller("Bench and Bow", ("1 Hill Lane",), "XX 123")


def usd(amount: str) -> Money:
    return Money(Decimal(amount), "USD")


def order_of(*quotes: Quote, most: str = "100000") -> Order:
    parts = tuple((quote, all_yes(quote)) for quote in quotes)
    promised = total_of((totals(quote, standing(quote, answers)).total for quote, answers in parts), "USD")
    return Order(parts, "A violin", date(2026, 3, 18), promised, usd(most), (3.0, 2.5), ())


def billed(order: Order, *adjustments: Adjustment) -> Bill:
    made = bill_of(order, adjustments, SELLER, ("Mother of Anna", "2 Mill Road"), ON, 14)
    assert isinstance(made, Bill), made
    return made


def adds_up(bill: Bill) -> None:
    taxes = total_of((row.tax for row in bill.taxes), "USD")
    assert bill.net + taxes + bill.rounding == bill.total
    shown = total_of((line.shown for line in bill.lines), "USD") + bill.haste + bill.least + bill.rounding
    assert shown + (taxes if bill.prices == "net" else usd("0")) == bill.total


def printed(bill: Bill) -> tuple[Decimal, Decimal]:
    """(what the rows above the total on the paper add up to, the total) as they are printed."""
    rows: list[tuple[str, str]] = []
    for block in bill_paper(bill).blocks:
        tables = block.blocks if isinstance(block, Together) else (block,)
        for table in tables:
            if isinstance(table, TableBlock):
                rows += [(str(row[0]), str(row[-1])) for row in table.rows]
    place = next(at for at, row in enumerate(rows) if row[0] == "Total")
    amounts = [Decimal(text.replace("$", "").replace(",", "")) for _, text in rows]
    return sum(amounts[:place], Decimal(0)), amounts[place]


@given(
    st.lists(STEPS, max_size=4), st.lists(STEPS, max_size=2), RATES, RATES, st.sampled_from(["net", "gross"]),
    st.sampled_from(["cent", "five_cents", "whole"]), st.sampled_from(["0", "2500"]), st.lists(AMOUNTS, max_size=2),
    st.booleans(),
)  # fmt: skip
@tried(50)
def test_lines_shared_labour_and_tax_are_the_total_on_every_bill(
    steps: list[Change], more: list[Change], labour: float, parts: float, prices: Any, rounding: Any, least: str,
    extra: list[Money], second: bool
) -> None:  # fmt: skip
    shop = {"tax": {"labour": labour, "parts": parts}, "prices_shown": prices, "rounding": rounding}
    quotes = [edited(steps, **shop, minimum_charge=least)]
    quotes += [replace(edited(more, **shop, minimum_charge="0"), number="Q-7/1")] if second else []
    order = order_of(*quotes)
    plain = billed(order)
    assert plain.total == order.promised, "without a change the bill is what was agreed, to the cent"
    adds_up(plain)
    more_work = [Adjustment("More of it", one, usd("0.07")) for one in extra]
    bill = billed(order, *more_work)
    adds_up(bill)
    assert printed(bill) == (bill.total.amount, bill.total.amount)
    note = credit_of(replace(bill, number="B-1"), ON, "Wrong name")
    assert isinstance(note, Bill)
    adds_up(note)
    assert note.total + bill.total == usd("0") and note.corrects == "B-1"
    assert total_of((line.shown for line in note.lines), "USD") + total_of(
        (line.shown for line in bill.lines), "USD"
    ) == usd("0")
    assert from_data(Bill, to_data(bill)) == bill


def test_tax_stands_by_rate() -> None:
    apart = billed(order_of(quote_of(tax={"labour": 0.19, "parts": 0.07})))
    same = billed(order_of(quote_of(tax={"labour": 0.19, "parts": 0.19})))
    none = billed(order_of(quote_of(tax={"labour": 0.0, "parts": 0.0})))
    inside = billed(order_of(quote_of(tax={"labour": 0.19, "parts": 0.19}, prices_shown="gross")))
    assert [(row.what, row.rate) for row in apart.taxes] == [("work", 0.19), ("parts", 0.07)]
    assert [(row.what, row.rate) for row in same.taxes] == [("work", 0.19), ("parts", 0.19)]
    assert [(row.what, row.rate) for row in inside.taxes] == [("all", 0.19)]
    assert inside.taxes[0].tax == tax_in(inside.total, 0.19)
    assert {row.tax for row in none.taxes} == {usd("0.00")}


def test_what_was_paid_comes_off_what_is_due() -> None:
    paid = (Payment("R-1", ON, usd("100.00"), "cash", "Mother of Anna"),)
    bill = billed(replace(order_of(quote_of()), payments=paid))
    assert bill.due + usd("100.00") == bill.total


@pytest.mark.parametrize(
    ("adjustments", "buyer", "most", "codes"),
    [
        ((Adjustment("More", Money(Decimal(5000), "USD"), Money(Decimal(0), "USD")),), ("A",), "900", ["bill.over"]),
        ((Adjustment("Less", Money(Decimal(-5000), "USD"), Money(Decimal(0), "USD")),), ("A",), "900", ["bill.below"]),
        (
            (Adjustment(" ", Money(Decimal(1), "USD"), Money(Decimal(0), "USD")),),
            (" ",),
            "900",
            ["bill.no_buyer", "bill.no_words"],
        ),
    ],
)
def test_what_speaks_against_a_bill(adjustments: Any, buyer: Any, most: str, codes: list[str]) -> None:
    found = bill_of(order_of(quote_of(), most=most), adjustments, SELLER, buyer, ON, 14)
    assert isinstance(found, tuple)
    assert [one.code for one in found] == codes


@pytest.mark.parametrize(
    ("ceiling", "share", "amount", "most"),
    [("600", 0.0, "0", "600"), ("500", 0.1, "5", "550"), ("500", 0.1, "80", "580"), ("900", 0.1, "5", "900")],
)
def test_the_most_is_the_ceiling_or_what_the_place_lets_pass(
    ceiling: str, share: float, amount: str, most: str
) -> None:
    assert most_billed(usd("500"), usd(ceiling), share, Decimal(amount)) == usd(most)


def test_a_credit_note_wants_a_reason_and_is_not_taken_back_itself() -> None:
    bill = replace(billed(order_of(quote_of())), number="B-1")
    note = credit_of(bill, ON, "x")
    assert isinstance(note, Bill)
    assert [getattr(one, "code", "") for one in (credit_of(bill, ON, " "), credit_of(note, ON, "x"))] == [
        "bill.no_reason",
        "bill.is_credit",
    ]


def test_a_series_is_the_workshops_own() -> None:
    assert number_of(series_of("B{year}-{number}", ON), 7) == "B2026-0007"
    assert number_of(series_of("{number}", ON), 12345) == "12345"
