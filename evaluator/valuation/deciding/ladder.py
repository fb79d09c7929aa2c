"""The ladder of advice, as pure functions of prices: what to offer, what to pay at most, and where advice turns.

    worth     what it will be worth to this buyer, ready to play
    ceiling   worth - mean cost of the work - usual cost of what nobody looked at
    offer     the same where its worth turns out on the low side and the work on the dear side

A hard case has its ceiling lowered: where the work is dear against the worth, one surprise more leaves nothing; and
what a repair cannot make good is hard to sell on, so it is bought at the price of such an instrument or not at all.
"""

from typing import Literal

from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric

Advice = Literal["look_first", "buy", "buy_if_it_suits", "negotiate", "walk_away"]
Rung = Literal["buy", "buy_if_it_suits", "negotiate", "walk_away"]
RUNGS: tuple[Rung, ...] = ("walk_away", "negotiate", "buy_if_it_suits", "buy")  # from the lowest


@dataclass(frozen=True, slots=True)
class Turns:
    """Where the ladder turns: figures of judgement of the same names in rubrics/judging.yaml."""

    too_much_work: float
    much_work_leaves: float
    unsellable_leaves: float
    opening: float
    out_of_reach: float
    probably: float


def turns_of(rubric: Rubric) -> Turns:
    return Turns(
        rubric.figure("too_much_work"),
        rubric.figure("much_work_leaves"),
        rubric.figure("unsellable_leaves"),
        rubric.figure("opening"),
        rubric.figure("out_of_reach"),
        rubric.figure("probably"),
    )


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
    at: Turns

    @property
    def much_work(self) -> bool:
        return max(self.work, self.work_dear) > self.at.too_much_work * self.worth

    def factor(self, *, stopped: bool) -> float:
        """What a hard case leaves of the ceiling, 1 where it is none."""
        return self.at.unsellable_leaves if stopped else self.at.much_work_leaves if self.much_work else 1.0


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
    return Limits(ceiling, min(ceiling, max(dear, sums.at.opening * ceiling)))


def rung_at(
    asking: float, found: Limits, at: Turns, *, chance: float = 1.0, stop_likely: bool = False, hard: bool = False
) -> Rung:
    """Where this price stands on the ladder; a dearer one never stands higher, as long as its chance is no higher.

    `chance` that it is worth the price; `stop_likely`: something may be there that stops the purchase; `hard`: a hard
    case is nothing to buy without a thought.
    """
    if found.ceiling <= 0.0 or asking > at.out_of_reach * found.ceiling:
        return "walk_away"
    if asking > found.ceiling:
        return "negotiate"
    if asking > found.offer or chance < at.probably or stop_likely or hard:
        return "buy_if_it_suits"
    return "buy"
