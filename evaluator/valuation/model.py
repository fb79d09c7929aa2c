"""The records of a decision: advice, the prices at which it turns, and how sure it is."""

from dataclasses import dataclass
from typing import Literal

from ..basis.money import Money
from .price_guide import ReadyValue

Advice = Literal["buy", "buy_if_it_suits", "negotiate", "walk_away"]


@dataclass(frozen=True, slots=True)
class Ruling:
    """The advice, the number 1..7 of the test that decided, and both prices."""

    advice: Advice
    test: int
    walk_away: float
    target: float


@dataclass(frozen=True, slots=True)
class Verdict:
    """`advice` is None without a price or a ready value. Prices are floats in `currency`, unrounded.

    `test` is the number of the rule (1..7) that decided, `reasons` at most three sentences, `say_to_seller` one.
    `stopped_by` names the disqualifying findings. `allowing_for_unseen` is the ruling if the faults that nobody has
    looked for cost what they usually do (None where nothing is left to look for, or without a ready value). `ready`
    is the ready value with all that it rests on.
    """

    advice: Advice | None
    sentence: str
    test: int | None
    reasons: tuple[str, ...]
    asking: Money | None
    ready_value: Money | None
    ready_value_from: str | None
    walk_away_price: float | None
    target_price: float | None
    probability_worth_it: float | None
    stopped_by: tuple[str, ...] = ()
    say_to_seller: str | None = None
    change_scope: str | None = None
    allowing_for_unseen: Ruling | None = None
    ready: ReadyValue | None = None
