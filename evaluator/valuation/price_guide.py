"""Ready value, from what is trusted most: enough known sales of the like, the user's own figure, the shop's guide.

The built-in guide is a default from memory that a workshop replaces with its own sales; whoever shows the figure says
so. Lasting faults lower what the guide says, and enter the sales by their own step; a figure that somebody typed for
this very instrument holds them already.
"""

from dataclasses import dataclass
from typing import Literal

from ..assessment.model import Assessment, Case
from ..basis.money import Money, money_of
from ..basis.show import money
from ..rubric.model import ThreePoint
from ..rubric.rubric import Rubric
from ..rubric.shop import PricePoint, Shop
from .condition import NO_FAULTS, Lasting, lasting, scores_without
from .guide_curve import at_score, rounded_guide
from .sales.comparables import Reconciled
from .sales.sales_book import SalesBook, enough, reconciled

Source = Literal["comparables", "own_figure", "price_guide"]
OWN_FIGURE = "your own figure"
NEAR_LIMIT = 3.0  # standard deviations of the sales to a near-limit, as a beta-PERT line takes it


@dataclass(frozen=True, slots=True)
class ReadyValue:
    """What the instrument would be worth ready to play: likely value with its near-limits, and where it comes from.

    `source` says it in words with the width that people read; `kind` names it. `sales` is what the known sales come to
    even where they are too few to be gone by; `lasting` the faults that lower the value for good, which an own figure
    holds already.
    """

    value: Money
    low: float
    high: float
    source: str
    kind: Source = "own_figure"
    lasting: Lasting = NO_FAULTS
    sales: Reconciled | None = None


@dataclass(frozen=True, slots=True)
class GuideReading:
    """How the guide is read for one instrument: the score to read it at, and what lasting faults then leave.

    `score` is without the lasting faults, `score_with` with them. They count once: by their share, or by the score
    where that takes more, so that no fault ever raises a price. `capped`: the score after the work is higher, but work
    cannot lift an instrument out of the class of its making.
    """

    points: tuple[PricePoint, ...]
    score: float
    score_with: float
    made: float | None
    capped: bool
    lasting: Lasting

    def price(self, higher: float = 0.0) -> ThreePoint | None:
        """The guide at the score, or so many points higher, lasting faults counted; None for an empty guide."""
        clean, with_faults = at_score(self.points, self.score + higher), at_score(self.points, self.score_with + higher)
        if clean is None or with_faults is None:
            return None
        likely = clean.likely * self.lasting.left
        if with_faults.likely < likely:
            return with_faults
        low, high = clean.low * self.lasting.least, clean.high * self.lasting.most
        return ThreePoint(low=min(low, likely), likely=likely, high=max(likely, high))

    @property
    def by_share(self) -> bool:
        """Whether there are lasting faults, and their share takes more than the score does."""
        clean, with_faults = at_score(self.points, self.score), at_score(self.points, self.score_with)
        if not self.lasting.faults or clean is None or with_faults is None:
            return False
        return clean.likely * self.lasting.left <= with_faults.likely


def guide_reading(rubric: Rubric, case: Case, assessment: Assessment, shop: Shop) -> GuideReading:
    """The reading at the score after the work, but no higher than how well it was made.

    Faults that are taken off as a share of value are not in the score that the guide is read at: they count once.
    """
    faults = lasting(rubric, assessment)
    scores = scores_without(rubric, case, assessment, faults)
    after, made = scores["after"], scores.get("workmanship")
    with_faults = scores_without(rubric, case, assessment, NO_FAULTS)
    points = shop.price_guide.get(rubric.family, {}).get(case.instrument.tier, ())
    score = after if made is None else min(after, made)
    return GuideReading(points, score, min(with_faults.values()), made, score < after, faults)


def ready_value(
    rubric: Rubric, case: Case, assessment: Assessment, shop: Shop, book: SalesBook | None = None
) -> ReadyValue | None:
    """Enough known sales first, then the user's own figure, then the guide; None where there is none of them."""
    guide = guide_reading(rubric, case, assessment, shop)
    found = None
    if book is not None:
        found = reconciled(book, rubric, case.instrument, shop, guide.made, guide.lasting.left)
    if book is not None and found is not None and enough(found, shop):
        return _by_sales(book, found, case, shop, guide)
    if case.ready_value is not None:
        amount = float(case.ready_value.amount)
        return ReadyValue(case.ready_value, amount, amount, OWN_FIGURE, "own_figure", guide.lasting, found)
    return _by_guide(rubric, case, shop, guide, found)


def _by_sales(book: SalesBook, found: Reconciled, case: Case, shop: Shop, guide: GuideReading) -> ReadyValue:
    spread = max(found.spread, (found.high - found.low) / 2.0)
    count = len(found.rows)
    span = f"between {money(found.low, shop.currency)} and {money(found.high, shop.currency)}"
    source = f"from {count} sale{'' if count == 1 else 's'} of {book.name}; {span}"
    if case.ready_value is not None:
        own = money(float(case.ready_value.amount), case.ready_value.currency)
        source += f"; they go before your own figure of {own}"
    value = money_of(found.value, shop.currency)
    low, high = max(0.0, found.value - NEAR_LIMIT * spread), found.value + NEAR_LIMIT * spread
    return ReadyValue(value, low, high, source, "comparables", guide.lasting, found)


def _by_guide(
    rubric: Rubric, case: Case, shop: Shop, guide: GuideReading, sales: Reconciled | None
) -> ReadyValue | None:
    price = guide.price()
    if price is None:
        return None
    whose = "a default guide from memory, not your own sales" if shop.is_default else f"the price guide of {shop.shop}"
    by = _score_words(guide)
    low, likely, high = (rounded_guide(amount) for amount in (price.low, price.likely, price.high))
    span = f"between {money(low, shop.currency)} and {money(high, shop.currency)}"
    source = f"{span}, by {whose}: {case.instrument.tier} {rubric.family}, {by}"
    if guide.by_share:
        source += f"; its lasting faults leave {100 * guide.lasting.left:.0f} of 100 of that"
    value = money_of(likely, shop.currency)
    return ReadyValue(value, low, high, source, "price_guide", guide.lasting, sales)


def _score_words(guide: GuideReading) -> str:
    score = guide.score if guide.by_share or not guide.lasting.faults else guide.score_with
    if guide.capped:
        return f"held down to {score:.0f} of 100 by how it was made"
    return f"score {score:.0f} after the work{', lasting faults left out' if guide.by_share else ''}"
