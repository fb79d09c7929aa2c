"""Ready value when nobody has typed one: what the shop's own price guide says for this family, tier and score.

The built-in guide is a default from memory that a workshop replaces with its own sales; whoever shows the figure says
so.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from ..assessment.model import Assessment, Case
from ..basis.money import Money
from ..rubric.model import ThreePoint
from ..rubric.rubric import Rubric
from ..rubric.shop import PricePoint, Shop

OWN_FIGURE = "your own figure"


@dataclass(frozen=True, slots=True)
class ReadyValue:
    """What the instrument would be worth ready to play: likely value with its span, and where it comes from in
    words.
    """

    value: Money
    low: float
    high: float
    source: str


def ready_value(rubric: Rubric, case: Case, assessment: Assessment, shop: Shop) -> ReadyValue | None:
    """The user's own figure first, else the shop's guide at the after-work score; None where there is neither."""
    if case.ready_value is not None:
        amount = float(case.ready_value.amount)
        return ReadyValue(case.ready_value, amount, amount, OWN_FIGURE)
    points = shop.price_guide.get(rubric.family, {}).get(case.instrument.tier, ())
    found = at_score(points, assessment.score_after.expected)
    if found is None:
        return None
    whose = "a default guide from memory, not your own sales" if shop.is_default else f"the price guide of {shop.shop}"
    score = assessment.score_after.expected
    source = f"{whose}: {case.instrument.tier} {rubric.family}, score {score:.0f} after the work"
    value = Money(Decimal(str(round(found.likely))), shop.currency)
    return ReadyValue(value, found.low, found.high, source)


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


def _between(first: ThreePoint, second: ThreePoint, share: float) -> ThreePoint:
    low, likely, high = (
        getattr(first, key) + share * (getattr(second, key) - getattr(first, key)) for key in ("low", "likely", "high")
    )
    return ThreePoint(low=low, likely=max(low, likely), high=max(low, likely, high))
