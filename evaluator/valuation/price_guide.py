"""Ready value when nobody has typed one: what the shop's own price guide says for this family, tier and score.

The built-in guide is a default from memory that a workshop replaces with its own sales; whoever shows the figure says
so.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, log10

from ..assessment.model import Assessment, Case
from ..basis.money import Money, money_of
from ..basis.show import money
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
    score = class_score(assessment)
    found = at_score(points, score)
    if found is None:
        return None
    whose = "a default guide from memory, not your own sales" if shop.is_default else f"the price guide of {shop.shop}"
    capped = score < assessment.score_after.expected
    by = f"held down to {score:.0f} of 100 by how it was made" if capped else f"score {score:.0f} after the work"
    low, likely, high = (rounded_guide(price) for price in (found.low, found.likely, found.high))
    span = f"between {money(low, shop.currency)} and {money(high, shop.currency)}"
    source = f"{span}, by {whose}: {case.instrument.tier} {rubric.family}, {by}"
    return ReadyValue(money_of(likely, shop.currency), low, high, source)


def class_score(assessment: Assessment) -> float:
    """The score to read the guide at: after the work, but no higher than how well it was made.

    Work on the set-up cannot lift an instrument out of the class that its making put it in.
    """
    made = assessment.domains_after.get("workmanship")
    after = assessment.score_after.expected
    return after if made is None else min(after, made.expected)


def rounded_guide(price: float) -> float:
    """To half a unit of the second figure: a guide read to the dollar would claim more than it knows."""
    if price <= 0:
        return 0.0
    step = 10.0 ** (floor(log10(price)) - 1) / 2.0
    return round(price / step) * step


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
