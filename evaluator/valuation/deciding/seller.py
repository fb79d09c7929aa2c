"""Who sells it: what an instrument is worth to a buyer without a shop that stands behind it."""

from collections.abc import Mapping

from ...rubric.guide import Guide
from ..worth.answers import Answer

SURELY = 0.5


def answered_for(answers: Mapping[str, Answer]) -> bool:
    """Whether whoever sells it stands in for what is hidden, as far as somebody said so."""
    return any(one.outcome.answers_for and one.sure >= SURELY for one in answers.values())


def share_to_buyer(guide: Guide, class_: str, *, with_shop: bool) -> float:
    """Share of a shop's price that it is worth to who buys it here; the whole where a shop stands behind it.

    A class that the guide does not know keeps the whole.
    """
    private = guide.private_share.get(class_)
    return 1.0 if with_shop or private is None else private.likely
