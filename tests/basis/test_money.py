"""Money adds to the cent, keeps currencies apart, and rounds ties to even."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.money import Money, Rounding, money_of, total_of

CENTS = st.decimals(-(10**7), 10**7, places=2)


def usd(text: str) -> Money:
    return Money(Decimal(text), "USD")


@given(st.lists(CENTS))
def test_sums_are_exact(amounts: list[Decimal]) -> None:
    assert total_of((Money(one, "USD") for one in amounts), "USD").amount == sum(amounts, Decimal("0.00"))


@pytest.mark.parametrize(
    ("amount", "to", "wanted"),
    [
        ("1.005", "cent", "1.00"),
        ("1.015", "cent", "1.02"),
        ("1.025", "five_cents", "1.00"),
        ("1.03", "five_cents", "1.05"),
        ("2.5", "whole", "2"),
        ("3.5", "whole", "4"),
        ("-1.005", "cent", "-1.00"),
    ],
)
def test_rounding(amount: str, to: Rounding, wanted: str) -> None:
    assert usd(amount).rounded(to).amount == Decimal(wanted)


def test_shares_are_taken_as_written() -> None:
    assert usd("100.00").times(0.07).rounded() == usd("7.00")
    assert usd("19.99").times(0.0825).rounded() == usd("1.65")
    assert money_of(0.1 + 0.2, "USD") == usd("0.30")


@pytest.mark.parametrize("action", ["add", "subtract", "compare"])
def test_two_currencies_never_meet(action: str) -> None:
    one, other = usd("1.00"), Money(Decimal("1.00"), "EUR")
    with pytest.raises(ValueError, match="EUR"):
        _ = {"add": lambda: one + other, "subtract": lambda: one - other, "compare": lambda: one < other}[action]()
