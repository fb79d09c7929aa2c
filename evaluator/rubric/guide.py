"""The price guide of a shop: what each class of making sells for ready to play, and what goes with that.

By family, size and class, never by the standard that a buyer holds it to. Money is in the shop's currency, shares are
0..1. Every mapping by class is keyed by the ids of the rubric's classes of making; `sense_guide` says what is missing
or crosses.
"""

from typing import Annotated, Self

from pydantic import Field, StrictBool, model_validator

from .written.kinds import Family, Id, NotNegative, Positive, Share, Text, ThreePoint, Written

ShareByClass = dict[Id, Share]
SizeFactor = Annotated[float, Field(strict=True, gt=0, le=2, allow_inf_nan=False)]


class ShareRange(Written):
    """Low, likely and high of a share."""

    low: Share
    likely: Share
    high: Share

    @model_validator(mode="after")
    def in_order(self) -> Self:
        if not self.low <= self.likely <= self.high:
            raise ValueError("low, likely and high must not fall")
        return self


class UnseenCost(Written):
    """What faults that nobody has looked for usually cost: nothing looked at; all but the inside seen in the hand; the
    same, sold by a shop that stands in for it.
    """

    nothing_seen: NotNegative
    seen_in_hand: NotNegative
    answered_for: NotNegative

    @model_validator(mode="after")
    def less_with_every_look(self) -> Self:
        if not self.answered_for <= self.seen_in_hand <= self.nothing_seen:
            raise ValueError("nothing_seen, seen_in_hand and answered_for must not rise")
        return self


class Guide(Written):
    """All of it. `prices`: near-limits and likely price of a full size, at a shop, ready to play.

    `sizes`: what a size brings of that, 1 where it is not written and the size is the family's first. `small_sizes`: a
    further factor below the full size, by family and class. `with_bow_and_case`: classes that are sold as outfits, so
    that their prices hold bow and case. `private_share`: what one brings without a shop behind it. `lasting`: for each
    matter that a repair leaves in the value, the share that is left, by class. `from_memory` says that nobody's sales
    stand behind it.
    """

    from_memory: StrictBool = False
    prices: dict[Family, dict[Id, ThreePoint]] = Field(default_factory=dict)
    sizes: dict[Family, dict[str, SizeFactor]] = Field(default_factory=dict)
    small_sizes: dict[Family, dict[Id, SizeFactor]] = Field(default_factory=dict)
    with_bow_and_case: tuple[Id, ...] = ()
    private_share: dict[Id, ShareRange] = Field(default_factory=dict)
    months_to_sell: dict[Id, ThreePoint] = Field(default_factory=dict)
    unseen: dict[Id, UnseenCost] = Field(default_factory=dict)
    unseen_factor: dict[Family, Positive] = Field(default_factory=dict)
    lasting: dict[Id, ShareByClass] = Field(default_factory=dict)
    made_like: dict[Id, Annotated[float, Field(ge=0, le=100)]] = Field(default_factory=dict)
    sources: tuple[Text, ...] = ()

    def size_factor(self, family: Family, size: str, class_: str) -> float:
        """What a size brings of the full size's price, in this class."""
        factor = self.sizes.get(family, {}).get(size, 1.0)
        return factor * self.small_sizes.get(family, {}).get(class_, 1.0) if self.is_small(family, size) else factor

    def is_small(self, family: Family, size: str) -> bool:
        """Whether it is one of the sizes that grow too small: the marked ones below the full size."""
        return size in self.sizes.get(family, {}) and self.sizes[family][size] < FULL_FROM and "/" in size

    def price(self, family: Family, size: str, class_: str) -> ThreePoint | None:
        """Price of this class in this size; None where the guide has none."""
        full = self.prices.get(family, {}).get(class_)
        if full is None:
            return None
        by = self.size_factor(family, size, class_)
        # Still in order, so not checked again: to make the checker would cost a command more than the whole guide.
        return ThreePoint.model_construct(low=full.low * by, likely=full.likely * by, high=full.high * by)


FULL_FROM = 0.999
