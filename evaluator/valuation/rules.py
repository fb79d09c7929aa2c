"""The seven tests of an honest shop, in their order, as a pure function of five prices.

V is the ready value, K the mean cost of bringing it there (possible extras counted by their chance), K80 the cost
that is not passed in four of five cases, A the asking price. W = V - K is the price at which one may as well walk
away, T = V - K80 the price at which it is a good buy. Common practice, no source; the factors stand here with their
reasons.
"""

from .model import Ruling

TOO_MUCH_WORK = 0.5  # repairs above half of what it will be worth: one surprise more and there is nothing left
OUT_OF_REACH = 1.5  # a seller who asks half as much again as it is worth to you seldom comes down to it


def rule(ready: float, mean: float, p80: float, asking: float, *, stopped: bool = False) -> Ruling:
    """The first test that applies decides; `stopped`: something disqualifying was found."""
    walk_away = ready - mean
    target = ready - max(mean, p80)  # rare dear extras can lift the mean above the 80 % level
    if stopped:
        return Ruling("walk_away", 1, walk_away, target)
    if max(mean, p80) > TOO_MUCH_WORK * ready:
        return Ruling("walk_away", 2, walk_away, target)
    if walk_away <= 0:
        return Ruling("walk_away", 3, walk_away, target)
    if asking <= target:
        return Ruling("buy", 4, walk_away, target)
    if asking <= walk_away:
        return Ruling("buy_if_it_suits", 5, walk_away, target)
    if asking <= OUT_OF_REACH * walk_away:
        return Ruling("negotiate", 6, walk_away, target)
    return Ruling("walk_away", 7, walk_away, target)
