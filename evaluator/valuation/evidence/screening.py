"""Which of the sales bear a figure: one record of a sale counts once, a far one not at all, weak ones never much.

Figures only, no names: the same rules serve one instrument and a whole guide. A far one is found by the modified
z-score of Iglewicz and Hoaglin (How to detect and handle outliers, 1993; from memory): 0.6745 times its distance from
the median over the median distance, in the logarithm, 3.5 being far. The farthest goes first and the rest is asked
again, so that what is left is what it would be without it.
"""

import math
from collections.abc import Callable, Hashable, Sequence
from typing import TypeVar

FAR = 3.5
NEVER_FAR = math.log(2.0)  # half or double the middle price is nothing strange, however close the others lie; judged
FEWEST = 3  # of two nobody can say which is the strange one
WEAK_TOGETHER = 1.0 / 3.0  # of what the strong weigh: a quarter of the whole; judged, no source

One = TypeVar("One")


def once(items: Sequence[One], mark: Callable[[One], Hashable]) -> tuple[One, ...]:
    """Each but once, by its mark; the first stays."""
    seen: dict[Hashable, One] = {}
    for one in items:
        seen.setdefault(mark(one), one)
    return tuple(seen.values())


def near_ones(prices: Sequence[float], trusted: Sequence[bool]) -> tuple[bool, ...]:
    """Whether each price is no far one. Where enough are trusted these alone say where the middle lies; a price of
    nothing or less is always far.
    """
    left = {place: math.log(price) for place, price in enumerate(prices) if price > 0.0}
    while len(left) >= FEWEST:
        votes = [value for place, value in left.items() if trusted[place]]
        middle, limit = _middle(votes if len(votes) >= FEWEST else list(left.values()))
        farthest = max(left, key=lambda place: abs(left[place] - middle))
        if abs(left[farthest] - middle) <= limit:
            break
        del left[farthest]
    return tuple(place in left for place in range(len(prices)))


def _middle(values: Sequence[float]) -> tuple[float, float]:
    """The median, and how far from it a value is far."""
    from statistics import median  # late: 1.6 ms of a command, most of which have no sales

    middle = median(values)
    spread = median(abs(value - middle) for value in values)
    return middle, max(NEVER_FAR, FAR * spread / 0.6745)


def held_down(weights: Sequence[float], strong: Sequence[bool]) -> tuple[float, ...]:
    """The weights with the weak ones together held to a share of what the strong ones weigh; as they are without
    strong ones.
    """
    most = WEAK_TOGETHER * sum(weight for weight, is_strong in zip(weights, strong, strict=True) if is_strong)
    weak = sum(weight for weight, is_strong in zip(weights, strong, strict=True) if not is_strong)
    by = most / weak if 0.0 < most < weak else 1.0
    return tuple(weight if is_strong else by * weight for weight, is_strong in zip(weights, strong, strict=True))
