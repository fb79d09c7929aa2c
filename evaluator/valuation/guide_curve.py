"""A price guide as a curve: its points by score, and the price between them."""

from collections.abc import Sequence
from itertools import pairwise
from math import floor, log10

from ..rubric.model import ThreePoint
from ..rubric.shop import PricePoint


def at_score(points: Sequence[PricePoint], score: float) -> ThreePoint | None:
    """The guide between its points in straight lines, flat outside them; None for an empty guide."""
    if not points:
        return None
    ordered = sorted(points, key=lambda point: point.score)
    if score <= ordered[0].score:
        return ordered[0].price
    for below, above in pairwise(ordered):
        if score <= above.score:
            share = (score - below.score) / (above.score - below.score) if above.score > below.score else 1.0
            return _between(below.price, above.price, share)
    return ordered[-1].price


def rounded_guide(price: float) -> float:
    """To half a unit of the second figure: a guide read to the dollar would claim more than it knows."""
    if price <= 0:
        return 0.0
    step = 10.0 ** (floor(log10(price)) - 1) / 2.0
    return round(price / step) * step


def _between(first: ThreePoint, second: ThreePoint, share: float) -> ThreePoint:
    low, likely, high = (
        getattr(first, key) + share * (getattr(second, key) - getattr(first, key)) for key in ("low", "likely", "high")
    )
    return ThreePoint(low=low, likely=max(low, likely), high=max(low, likely, high))
