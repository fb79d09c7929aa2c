"""The shop's own book of known sales, and what it says of one instrument: the first source of its ready value.

Only sales of the same family and class of size count, in the same money, and not too old. How well each was made is
brought to the one in hand by the shop's guide: the ratio of what two makings bring is what the difference is worth. A
sale of which only the standard is known, a learner's or a player's, is taken for the class that such players mostly
buy. No sale is graded against a body that nobody has looked at.
"""

from collections.abc import Mapping
from dataclasses import field, replace
from datetime import date
from itertools import pairwise

from ...assessment.model import Instrument
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.shop import Shop
from ...rubric.written.kinds import Family, Tier
from ..worth.guide import GuideReading
from .comparables import Comparable, Reconciled, market_of, reconcile

FULL_SIZE = "full size"
# What a sale is taken for where only the standard is known that it was sold for. Judged, no source.
MADE_FOR: Mapping[Tier, str] = {"student": "factory", "intermediate": "workshop", "professional": "fine_workshop"}


@dataclass(frozen=True, slots=True)
class SalesBook:
    """Known sales on the day of valuation, and what was decided for the one in hand.

    `leave_out_much` drops what had to be adjusted by more than half; `set_aside` holds the keys of sales that do not
    count for this one; `grades` a factor by key in place of the one from the guide; `retention` the share of value that
    lasting faults leave the one in hand, where it was typed. `name`: of a book that was given; None for one's own.
    """

    sales: tuple[Comparable, ...]
    on: date
    name: str | None = None
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
        return (
            one.family in {"", family}
            and (not one.size or size_class(family, one.size) == size_class(family, instrument.size))
            and one.currency == shop.currency
            and 0 <= one.years_before(book.on) <= shop.sales.oldest_years
        )

    return tuple(one for one in book.sales if same(one))


def usual_price(shop: Shop, family: Family, size: str, made: float) -> float | None:
    """What the guide says of one made so well (0..100): between its classes in the logarithm, flat beyond them."""
    guide = shop.guide
    points = sorted(
        (level, price.likely)
        for name, level in guide.made_like.items()
        if (price := guide.price(family, size, name)) is not None and price.likely > 0.0
    )
    if not points:
        return None
    if made <= points[0][0]:
        return points[0][1]
    for (below, low), (above, high) in pairwise(points):
        if made <= above:
            share = (made - below) / (above - below) if above > below else 1.0
            return float(low * (high / low) ** share)
    return points[-1][1]


def level_of(one: Comparable, shop: Shop) -> float | None:
    """How well the sold one was made, 0..100: as it was scored, as its class, else as its standard is mostly bought."""
    if one.made is not None:
        return one.made
    if one.making in shop.guide.made_like:
        return shop.guide.made_like[one.making]
    tier = next((name for name in MADE_FOR if name == one.tier), None)
    return shop.guide.made_like.get(MADE_FOR[tier]) if tier is not None else None


def brought_near(one: Comparable, reading: GuideReading | None, shop: Shop, instrument: Instrument) -> Comparable:
    """The sale with its grade brought to the instrument in hand; as it is where either making is not known."""
    made = level_of(one, shop)
    if reading is None or made is None:
        return one
    there = usual_price(shop, reading.family, instrument.size, made)
    if there is None:
        return one
    return replace(one, grade=one.grade * reading.unhurt.middle / there)


def reconciled(
    book: SalesBook, rubric: Rubric, instrument: Instrument, shop: Shop, reading: GuideReading | None
) -> Reconciled | None:
    """The sales of the like brought to the one in hand; None without any that counts.

    `reading`: the guide read for the one in hand, None where too little of it was seen for that.
    """
    counted = []
    for one in alike(book, rubric, instrument, shop):
        if one.key and one.key in book.set_aside:
            continue
        grade = book.grades.get(one.key) if one.key else None
        nearer = replace(one, grade=grade) if grade is not None else brought_near(one, reading, shop, instrument)
        counted.append(nearer)
    left = reading.left if reading is not None else 1.0
    if book.retention is not None:
        left = book.retention
    return reconcile(counted, left, book.on, market_of(shop), leave_out_much=book.leave_out_much)


def enough(found: Reconciled | None, shop: Shop) -> bool:
    """Whether the sales are to be gone by: so many at least that were moved by no more than half, near each other."""
    return found is not None and found.value is not None and found.little_moved >= shop.sales.fewest
