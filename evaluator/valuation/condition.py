"""How lasting faults lower value: what each leaves is multiplied, and faults of one accident count once.

Wear parts (strings, bridge, pegs, board, hair) are cost to cure and never a share of value. Common practice, from
memory.
"""

from collections.abc import Iterable
from math import prod

REST_OF_AN_ACCIDENT = 1 / 3  # of one accident the worst fault counts whole and the others by a third


def retained(losses: Iterable[float]) -> float:
    """Share of value left after independent losses (shares 0..1): they multiply, they do not add."""
    return prod(1.0 - loss for loss in losses)


def accident(losses: Iterable[float]) -> float:
    """The loss (share 0..1) that the faults of one accident make together: the worst and a third of the rest."""
    ordered = sorted(losses, reverse=True)
    if not ordered:
        return 0.0
    return min(1.0, ordered[0] + REST_OF_AN_ACCIDENT * sum(ordered[1:]))


def retention(accidents: Iterable[Iterable[float]]) -> float:
    """Share of value left, each group of losses being one accident or a fault by itself."""
    return retained(accident(group) for group in accidents)
