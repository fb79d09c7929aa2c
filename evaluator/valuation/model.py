"""The one decision, frozen: what to do, what to offer, what to pay at most, why, what could change it, and how sure.

Every page, paper and command draws from it, so that no two of them name two prices. Facts are codes with ids and
amounts; the words are made where they are shown.
"""

from enum import StrEnum

from ..basis.frozen import dataclass
from ..basis.money import Money
from .deciding.ladder import Advice
from .worth.ready import ReadyValue

__all__ = ["Advice", "Because", "CouldChange", "Decision", "Fact", "Turning"]


class Fact(StrEnum):
    """What a reason says. First what was seen, then what is not known, then money."""

    STOPS = "stops"  # a fault that stops it: check, outcome, chance; share 1 where at any price
    MADE = "made"  # the class of making that it most likely is: class, chance
    SIGN = "sign"  # an answer that speaks for that class: check, outcome
    LASTS = "lasts"  # a fault that stays in the value: check, outcome, share of value left
    FAULT = "fault"  # another fault that was seen: check, outcome
    GOOD = "good"  # what was looked at and is as it should be: check, outcome
    SOUNDS_BAD = "sounds_bad"  # share of value that its sound leaves
    BARELY_SEEN = "barely_seen"  # share of soundness and set-up that was looked at
    MAY_STOP = "may_stop"  # nobody knows yet whether it is there: check, outcome, chance
    FAR_TOO_CHEAP = "far_too_cheap"  # the price, against what it seems to be worth: amount asked, share of the ceiling
    NO_VALUE = "no_value"  # why there is no figure
    READY = "ready"  # what it would be worth ready to play, in a shop: amount
    NO_SHOP = "no_shop"  # nobody stands behind it: share that it is worth then, amount
    WORK = "work"  # mean cost of the work: amount, and at most in four of five cases
    MUCH_WORK = "much_work"  # the work takes more than half of what it will be worth
    UNSEEN = "unseen"  # usual cost of what nobody looked at: amount
    NOTHING_LEFT = "nothing_left"  # the work and the rest take all that it would be worth
    CHANCE = "chance"  # the chance that it is worth the price


@dataclass(frozen=True, slots=True)
class Because:
    """One reason: a fact with the check and outcome or the class that it is about, amounts and shares (0..1)."""

    fact: Fact
    check: str | None = None
    outcome: str | None = None
    class_: str | None = None
    amount: float | None = None
    most: float | None = None
    share: float | None = None


@dataclass(frozen=True, slots=True)
class CouldChange:
    """A look that could still turn the advice: its minutes, and the chance that it does so by itself."""

    check: str
    minutes: float
    chance: float


@dataclass(frozen=True, slots=True)
class Turning:
    """Those looks together: their minutes, the chance that they turn the advice, and what they are worth in money."""

    minutes: float
    chance: float
    gain: float


@dataclass(frozen=True, slots=True)
class Decision:
    """The one decision. Prices are floats in `currency`, rounded as one says them.

    `advice` is None without an asking price, or where the prices are in two currencies. `offer` <= `ceiling`, and never
    above what is asked; both None without a ready value, 0 where nothing is left to pay. `sure`: the chance that it is
    worth what is asked, None without a price or a value. `settled`: no further look can turn the advice. `worth` is
    what it is worth to this buyer, ready to play; `work` and `work_dear` the mean of the work and what it stays under
    in four of five cases, as the buyer pays it; `unseen` the usual cost of what nobody looked at. `hard`: the ceiling
    is lowered for a hard case. `stopped_by` names checks.
    """

    advice: Advice | None
    currency: str
    asking: Money | None
    offer: float | None
    ceiling: float | None
    sure: float | None
    because: tuple[Because, ...]
    could_change: tuple[CouldChange, ...]
    settled: bool
    turning: Turning | None
    ready: ReadyValue
    worth: float | None
    work: float
    work_dear: float
    unseen: float
    seen: float
    hard: bool
    stopped_by: tuple[str, ...] = ()
    two_currencies: bool = False

    @property
    def ready_value(self) -> Money | None:
        return self.ready.value
