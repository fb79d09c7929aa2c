"""The records of a decision: advice, the prices at which it turns, and how sure it is."""

from dataclasses import dataclass
from typing import Literal

from ..basis.money import Money

Advice = Literal["buy", "buy_if_it_suits", "negotiate", "walk_away"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """`advice` is None without a price or a ready value. Prices are floats in `currency`, unrounded.

    `test` is the number of the rule (1..7) that decided, `reasons` at most three sentences, `say_to_seller` one.
    `stopped_by` names the disqualifying findings. `views_holds` is the share of weightings in which the advice stands.
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
