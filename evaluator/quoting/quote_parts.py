"""The parts of a quote's line: what is fitted, how many, of which grade, and what the other grades would cost.

A grade can be chosen only where it makes a price: not where the shop has a price of its own for the part or the job.
"""

from ..basis.frozen import dataclass
from ..basis.record import Price
from ..estimate.model import Cost, PartUsed, PlanLine
from ..estimate.planning.plan import Planner
from ..estimate.price import Grade, PriceList

GRADES: tuple[Grade, ...] = ("plain", "good", "select")
NEAREST: tuple[Grade, ...] = ("good", "plain", "select")  # taken in turn where a part is not listed in a grade
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class GradePrice:
    """What all pieces of one part come to in a grade, as three points in the shop's currency, not fitted."""

    grade: Grade
    low: Price
    likely: Price
    high: Price


@dataclass(frozen=True, slots=True)
class QuotePart:
    """One part of a line. `choices` has every grade that is listed, and is empty where there is nothing to choose."""

    part: str
    say: str
    grade: Grade
    count: float
    choices: tuple[GradePrice, ...] = ()

    @property
    def named(self) -> str:
        """'1 x bridge blank (good)'."""
        return f"{self.count:g} x {self.say} ({self.grade})"

    def price(self, grade: str) -> GradePrice | None:
        return next((one for one in self.choices if one.grade == grade), None)


def parts_of(prices: PriceList, planner: Planner, line: PlanLine) -> tuple[QuotePart, ...]:
    """The parts of a plan's line, with their other grades where the line's price is the sum of labour and parts."""
    job = planner.jobs.get(line.job)
    fixed = job is None or prices.own_price(line.job) is not None or not _is_sum(line)
    return tuple(_part(prices, part, fixed) for part in line.parts)


def _part(prices: PriceList, part: PartUsed, fixed: bool) -> QuotePart:
    listed = prices.rubric.part_prices.get(part.part)
    grades = dict(listed.prices.get(prices.rubric.family, {})) if listed else {}
    own = part.part in prices.shop.part_prices
    found = tuple(
        GradePrice(grade, *(figure * part.count for figure in (price.low, price.likely, price.high)))
        for grade in GRADES
        if grade in grades and (price := prices.part(part.part, grade)) is not None
    )
    meant = [one for one in GRADES if one == part.grade and (own or one in grades)]
    grade: Grade = (*meant, *(one for one in NEAREST if one in grades), NEAREST[0])[0]
    return QuotePart(part.part, part.say, grade, part.count, () if fixed or own or len(found) < 2 else found)


def _is_sum(line: PlanLine) -> bool:
    """Whether the line's range is its labour and its parts, and nothing was raised to a least price."""
    labour = line.labour or Cost(0.0, 0.0, 0.0, 0.0, 0.0)
    return all(
        abs(getattr(labour, key) + sum(getattr(part, key) for part in line.parts) - getattr(line.cost, key)) < _SAME
        for key in ("low", "likely", "high")
    )
