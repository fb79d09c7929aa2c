"""Money: a Decimal amount and an ISO 4217 currency code. Estimates are floats; what is charged is Money.

How many decimals a currency has is what is used in shops: a forint has none, though the standard gives it two.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Literal

from .frozen import dataclass

Rounding = Literal["cent", "five_cents", "whole"]
_STEP: dict[Rounding, Decimal] = {"cent": Decimal("0.01"), "five_cents": Decimal("0.05"), "whole": Decimal(1)}
NO_DECIMALS = frozenset({"JPY", "KRW", "ISK", "HUF", "CLP", "VND", "PYG", "UGX", "XAF", "XOF"})
THREE_DECIMALS = frozenset({"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"})
SHOWN = 2


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency; adding two currencies is a programmer's mistake and raises ValueError."""

    amount: Decimal
    currency: str

    def __add__(self, other: "Money") -> "Money":
        return Money(self.amount + self._same(other).amount, self.currency)

    def __sub__(self, other: "Money") -> "Money":
        return Money(self.amount - self._same(other).amount, self.currency)

    def __le__(self, other: "Money") -> bool:
        return self.amount <= self._same(other).amount

    def __lt__(self, other: "Money") -> bool:
        return self.amount < self._same(other).amount

    def times(self, share: float) -> "Money":
        """The share of it, unrounded; the share is taken as it is written (0.07 is seven hundredths exactly)."""
        return Money(self.amount * Decimal(repr(share)), self.currency)

    def rounded(self, to: Rounding = "cent") -> "Money":
        """To the nearest step, ties to even (banker's rounding), as on an invoice total."""
        step = _STEP[to]
        return Money((self.amount / step).quantize(Decimal(1), ROUND_HALF_EVEN) * step, self.currency)

    def _same(self, other: "Money") -> "Money":
        if other.currency != self.currency:
            raise ValueError(f"cannot put {other.currency} together with {self.currency}")
        return other


def places_of(currency: str) -> int:
    """How many decimals an amount of this currency can have."""
    if currency in NO_DECIMALS:
        return 0
    return 3 if currency in THREE_DECIMALS else SHOWN


def money_of(amount: float, currency: str) -> Money:
    """A computed figure as money, to the cent: where an estimate becomes a price."""
    return Money(Decimal(repr(amount)), currency).rounded("cent")


def written(amount: float | Decimal) -> str:
    """'3700.00': an amount for other programs, to the cent; its currency stands beside it."""
    return f"{Decimal(str(amount)).quantize(Decimal('0.01'), ROUND_HALF_EVEN):f}"


def total_of(amounts: Iterable[Money], currency: str) -> Money:
    """The sum; nothing at all is zero in this currency."""
    return sum(amounts, Money(Decimal("0.00"), currency))
