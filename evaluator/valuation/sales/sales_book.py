"""The shop's own book of known sales, and what it says of one instrument: the first source of its ready value.

Only sales of the same family, class of size and standard count, in the same money, and not too old. How well each was
made is brought to the one in hand by the shop's price guide: its prices rise with the score, and the ratio of two of
them is what the difference in making is worth.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from ...assessment.model import Instrument
from ...rubric.rubric import Rubric
from ...rubric.shop import PricePoint, Shop
from ..guide_curve import at_score
from .comparables import Comparable, Reconciled, market_of, reconcile

OWN_BOOK = "your own book"
DAYS_A_YEAR = 365.25
FULL_SIZE = "full size"


@dataclass(frozen=True, slots=True)
class SalesBook:
    """Known sales on the day of valuation, and what was decided for the one in hand.

    `leave_out_much` drops what had to be adjusted by more than half; `set_aside` holds the keys of sales that do not
    count for this one; `grades` a factor by key in place of the one from the guide; `retention` the share of value that
    lasting faults leave the one in hand, where it was typed.
    """

    sales: tuple[Comparable, ...]
    on: date
    name: str = OWN_BOOK
    leave_out_much: bool = False
    set_aside: frozenset[str] = frozenset()
    grades: Mapping[str, float] = field(default_factory=dict)
    retention: float | None = None


def size_class(family: str, size: str) -> str:
    """Sizes that sell as one kind: the full-sized violas, which are told apart by their length; else each by itself."""
    return FULL_SIZE if family == "viola" and size.endswith("mm") else size


def alike(book: SalesBook, rubric: Rubric, instrument: Instrument, shop: Shop) -> tuple[Comparable, ...]:
    """The sales of such instruments, in the shop's money and not too old, whether they were set aside or not."""
    family = rubric.family

    def same(one: Comparable) -> bool:
        age = (book.on - one.sold_on).days / DAYS_A_YEAR
        return (
            one.family in {"", family}
            and one.tier in {"", instrument.tier}
            and (not one.size or size_class(family, one.size) == size_class(family, instrument.size))
            and one.currency == shop.currency
            and 0 <= age <= shop.sales.oldest_years
        )

    return tuple(one for one in book.sales if same(one))


def brought_near(one: Comparable, made: float | None, points: tuple[PricePoint, ...]) -> Comparable:
    """The sale with its grade brought to an instrument that was made as well as `made` (0..100)."""
    if one.made is None or made is None:
        return one
    here, there = at_score(points, made), at_score(points, one.made)
    if here is None or there is None or there.likely <= 0 or here.likely <= 0:
        return one
    return replace(one, grade=one.grade * here.likely / there.likely)


def reconciled(
    book: SalesBook, rubric: Rubric, instrument: Instrument, shop: Shop, made: float | None, retention: float
) -> Reconciled | None:
    """The sales of the like brought to the one in hand; None without any that counts.

    `made`: how well it was made, 0..100; `retention`: share of value that its lasting faults leave it.
    """
    points = shop.price_guide.get(rubric.family, {}).get(instrument.tier, ())
    counted = []
    for one in alike(book, rubric, instrument, shop):
        if one.key and one.key in book.set_aside:
            continue
        grade = book.grades.get(one.key) if one.key else None
        counted.append(replace(one, grade=grade) if grade is not None else brought_near(one, made, points))
    left = book.retention if book.retention is not None else retention
    return reconcile(counted, left, book.on, market_of(shop), leave_out_much=book.leave_out_much)


def enough(found: Reconciled | None, shop: Shop) -> bool:
    """Whether the sales are to be gone by: so many at least that were moved by no more than half."""
    return found is not None and found.little_moved >= shop.sales.fewest
