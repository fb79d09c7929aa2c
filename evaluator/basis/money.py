"""Money: a Decimal amount and an ISO 4217 currency code. Estimates are floats; what is charged is Money."""

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Literal

Rounding = Literal["cent", "five_cents", "whole"]
_STEP: dict[Rounding, Decimal] = {"cent": Decimal("0.01"), "five_cents": Decimal("0.05"), "whole": Decimal(1)}


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency; adding two currencies is a programmer's mistake and raises ValueError."""

    amount: Decimal
    currency: str

    def __add__(self, other: "Money") -> "Money":
        if other.currency != self.currency:
            raise ValueError(f"cannot add {other.currency} to {self.currency}")
        return Money(self.amount + other.amount, self.currency)

    def rounded(self, to: Rounding = "cent") -> "Money":
        """To the nearest step, ties to even (banker's rounding), as on an invoice total."""
        step = _STEP[to]
        return Money((self.amount / step).quantize(Decimal(1), ROUND_HALF_EVEN) * step, self.currency)
