"""An offer that is kept: rounded as a shop says it, moved along its states, and what comes in by it."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from evaluator.basis.money import Money
from evaluator.basis.problem import Problem
from evaluator.choosing.offer_letter import OfferLetter, Way, moved
from evaluator.choosing.stock import Cost, Item, marked, sale_of, sold, with_cost
from evaluator.choosing.trade_in import as_said
from evaluator.quoting.records import from_data, to_data

ON = date(2026, 3, 4)


def usd(amount: str) -> Money:
    return Money(Decimal(amount), "USD")


def letter() -> OfferLetter:
    ways = (
        Way("cash", "Cash today", usd("640.00"), usd("640.00"), "Paid today.", usd("260.00")),
        Way("trade", "In trade", usd("0.00"), usd("0.00"), "", usd("0.00")),
        Way("consignment", "Sold for you", usd("900.00"), usd("600.00"), "", usd("200.00")),
        Way("alone", "You sell it", usd("800.00"), usd("500.00"), "", usd("0.00")),
    )
    nothing = usd("0.00")
    return OfferLetter(
        "O2026-0001", ON, ON + timedelta(days=14), "abc", "Red violin", "violin", "4/4", "", usd("1500.00"),
        "own figure", nothing, nothing, nothing, "none", ways, (), (), (), 0.8,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("exact", "said"),
    [(13.0, 10), (4.99, 0), (99.9, 95), (637.2, 630), (1000.0, 1000), (3588.97, 3550), (7777.0, 7700), (-5.0, 0)],
)
def test_what_is_paid_is_said_in_whole_steps_and_never_rounded_up(exact: float, said: int) -> None:
    assert as_said(exact) == said


@pytest.mark.parametrize(
    ("to", "on", "way", "code"),
    [
        ("accepted", ON + timedelta(days=14), "cash", ""),
        ("accepted", ON + timedelta(days=15), "cash", "offer.old"),
        ("accepted", ON, "trade", "offer.no_way"),
        ("accepted", ON, "alone", "offer.no_way"),
        ("accepted", ON, "gold", "offer.no_way"),
        ("declined", ON + timedelta(days=90), "", ""),
        ("withdrawn", ON, "", ""),
    ],
)
def test_an_offer_moves_once_and_only_where_it_may(to: str, on: date, way: str, code: str) -> None:
    found = moved(letter(), to, on, way)  # type: ignore[arg-type]
    if code:
        assert isinstance(found, Problem)
        assert found.code == code
        return
    assert isinstance(found, OfferLetter)
    assert isinstance(moved(found, "accepted", ON, "cash"), Problem)
    assert from_data(OfferLetter, to_data(found)) == found


def item() -> Item:
    paid = Cost(ON, "Paid to the owner", usd("640.00"))
    return Item("S2026-0001", "abc", "O2026-0001", "Red violin", "violin", "4/4", "student", ON, (paid,))


def test_costs_add_up_and_what_is_left_of_a_sale_is_told() -> None:
    more = with_cost(item(), ON, "Set-up", usd("180.50"))
    assert isinstance(more, Item)
    assert more.cost == usd("820.50")
    priced = marked(more, usd("1500.00"))
    assert isinstance(priced, Item)
    gone = sold(priced, ON, usd("1400.00"), ON)
    assert isinstance(gone, Item)
    assert gone.margin == usd("579.50")
    sale = sale_of(gone)
    assert (sale.price, sale.kind, sale.family, sale.tier) == (1400.0, "dealer_sale", "violin", "student")
    assert isinstance(with_cost(gone, ON, "Strings", usd("20.00")), Problem)
    assert isinstance(marked(gone, usd("1.00")), Problem)
    assert from_data(Item, to_data(gone)) == gone


def test_a_sale_lies_neither_ahead_nor_before_it_came_in() -> None:
    for day in (ON + timedelta(days=1), ON - timedelta(days=1)):
        assert isinstance(sold(item(), day, usd("1400.00"), ON), Problem)
    assert isinstance(sold(replace(item(), sold_on=ON), ON, usd("1.00"), ON), Problem)
