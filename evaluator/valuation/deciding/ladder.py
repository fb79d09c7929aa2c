"""The ladder of advice, as pure functions of prices: what to offer, what to pay at most, and where advice turns.

    worth     what it will be worth to this buyer, ready to play
    ceiling   worth - mean cost of the work - usual cost of what nobody looked at
    offer     the same where its worth turns out on the low side and the work on the dear side

A hard case has its ceiling lowered: where the work is dear against the worth, one surprise more leaves nothing; and
what a repair cannot make good is hard to sell on, so it is bought at the price of such an instrument or not at all.
"""

from dataclasses import dataclass
from typing import Literal

Advice = Literal["look_first", "buy", "buy_if_it_suits", "negotiate", "walk_away"]
Rung = Literal["buy", "buy_if_it_suits", "negotiate", "walk_away"]
RUNGS: tuple[Rung, ...] = ("walk_away", "negotiate", "buy_if_it_suits", "buy")  # from the lowest

TOO_MUCH_WORK = 0.5  # of its worth: with more, one surprise is enough and nothing is left
MUCH_WORK = 0.7  # of the ceiling: what is left of a walk-away price where dear work comes out dear; common practice
UNSELLABLE = 0.55  # of the ceiling, where a fault that money does not cure keeps it from being sold on; judged
OUT_OF_REACH = 1.5  # a seller who asks half as much again as it is worth to you seldom comes down to it
PROBABLY = 0.65  # the chance from which it is probably worth its price; two in three, near enough
OPENING = 0.7  # of the ceiling: less is no offer that anybody takes for one, however dear it may turn out


@dataclass(frozen=True, slots=True)
class Sums:
    """The prices that the ladder is built from, all in one currency.

    `worth` and `worth_low` to this buyer, the likely one and one that it falls short of in a third of cases; `work` and
    `work_dear` its mean and 80 % level; `unseen` the usual cost of what nobody looked at.
    """

    worth: float
    worth_low: float
    work: float
    work_dear: float
    unseen: float

    @property
    def much_work(self) -> bool:
        return max(self.work, self.work_dear) > TOO_MUCH_WORK * self.worth

    def factor(self, *, stopped: bool) -> float:
        """What a hard case leaves of the ceiling, 1 where it is none."""
        return UNSELLABLE if stopped else MUCH_WORK if self.much_work else 1.0


@dataclass(frozen=True, slots=True)
class Limits:
    """What to pay at most and what to offer, the offer no higher; 0 where nothing is left to pay."""

    ceiling: float
    offer: float

    def offer_at(self, asking: float) -> float:
        """The offer for this price: nobody offers more than is asked."""
        return min(self.offer, asking)


NOTHING = Limits(0.0, 0.0)


def limits(sums: Sums, *, stopped: bool = False) -> Limits:
    """The ceiling and the offer; `stopped`: a fault is there that stops the purchase unless it is priced as such."""
    ceiling = (sums.worth - sums.work - sums.unseen) * sums.factor(stopped=stopped)
    if ceiling <= 0.0:
        return NOTHING
    # Rare dear extras can lift the mean above the 80 % level.
    dear = min(sums.worth, sums.worth_low) - max(sums.work, sums.work_dear) - sums.unseen
    return Limits(ceiling, min(ceiling, max(dear, OPENING * ceiling)))


def rung_at(
    asking: float, found: Limits, *, chance: float = 1.0, stop_likely: bool = False, hard: bool = False
) -> Rung:
    """Where this price stands on the ladder; a dearer one never stands higher, as long as its chance is no higher.

    `chance` that it is worth the price; `stop_likely`: something may be there that stops the purchase; `hard`: a hard
    case is nothing to buy without a thought.
    """
    if found.ceiling <= 0.0 or asking > OUT_OF_REACH * found.ceiling:
        return "walk_away"
    if asking > found.ceiling:
        return "negotiate"
    if asking > found.offer or chance < PROBABLY or stop_likely or hard:
        return "buy_if_it_suits"
    return "buy"
