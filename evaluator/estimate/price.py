"""What one job, one shared labour and one part cost at this shop, as three-point figures in its currency.

Labour = hours x the instrument's factor x the shop's likely rate for the skill x the shop's own factor for the family.
The likely rate alone: a shop knows its rate, and what is uncertain is the hours; the rate's low and high are what
other shops may ask. A price of the shop's own for a job takes the place of its hours and parts; shared labour is
charged beside it, once. Strings for a child cost less than full ones, and a small blank is less wood: `for_size`
gives the rubric with the part prices of one size. The list's money is brought to the shop's by its exchange.
"""

from dataclasses import field, replace
from functools import lru_cache

from ..basis.frozen import dataclass
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.kinds import Family, PartGrade, Skill, ThreePoint
from ..rubric.written.work import JobPart, PartPrice, PartSize
from .model import Cost, PartUsed
from .pert import cost

_NO_RANGE = (0.0, 0.0, 0.0)
Grade = PartGrade
_GRADES: tuple[Grade, ...] = ("good", "plain", "select")  # taken in this order where the wanted one has no price
Three = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Price:
    """Price of a job or of shared labour: `whole` = `labour` + `parts`; `hours_likely` on the bench."""

    whole: Cost
    labour: Cost
    parts: Cost
    hours_likely: float
    used: tuple[PartUsed, ...] = ()


@dataclass(frozen=True, slots=True)
class PriceList:
    """The shop's prices for one family of a rubric; `grade` takes parts of that grade in place of each job's own."""

    rubric: Rubric
    shop: Shop
    grade: Grade | None = None
    _known: dict[tuple[str, int], Price | None] = field(default_factory=dict, compare=False, repr=False)

    def job(self, name: str, units: int = 1) -> Price | None:
        """Price of a job on so many units; None where it does not suit the family or a part has no price.

        Further units cost the job's `further_unit` share of the first one's labour; parts are needed for each.
        """
        if (name, units) not in self._known:
            self._known[name, units] = self._job(name, units)
        return self._known[name, units]

    def _job(self, name: str, units: int) -> Price | None:
        job = self.rubric.jobs[name]
        family = self.rubric.family
        if family not in job.families:
            return None
        used = tuple(self._part(part, units) for part in job.parts)
        if any(part is None for part in used):
            return None
        parts = _sum([(p.low, p.likely, p.high) for p in used if p])
        more = 1.0 + (units - 1) * (1.0 if job.further_unit is None else job.further_unit)
        hours = _times(_points(job.hours), job.family.get(family, 1.0) * more)
        labour = _times(hours, self._rate(job.skill, family))
        whole = _sum([labour, parts])
        own = self.own_price(name)
        if own is not None:
            whole = _times(_points(own), more)
        least = (job.minimum or 0.0) * self.shop.exchange
        whole = (max(whole[0], least), max(whole[1], least), max(whole[2], least))
        if whole != _sum([labour, parts]):
            labour, parts = _split(whole, parts[1])
        found = tuple(part for part in used if part)
        return Price(cost(*whole), cost(*labour), cost(*parts), hours[1], found)

    def own_price(self, name: str) -> ThreePoint | None:
        """The shop's own price of a job, by its id or one that it had before; None where it has none."""
        job = self.rubric.jobs.get(name)
        names = (name, *(job.was if job else ()))
        return next((self.shop.job_prices[one] for one in names if one in self.shop.job_prices), None)

    def shared(self, name: str) -> Price:
        """Price of a shared labour, once."""
        labour = self.rubric.shared_labour[name]
        family = self.rubric.family
        hours = _times(_points(labour.hours), labour.family.get(family, 1.0))
        charged = cost(*_times(hours, self._rate(labour.skill, family)))
        return Price(charged, charged, cost(*_NO_RANGE), hours[1])

    def part(self, name: str, grade: Grade = "good") -> ThreePoint | None:
        """Retail price of one part, not fitted: the shop's own, else the rubric's in this grade or the nearest one."""
        if name in self.shop.part_prices:
            return self.shop.part_prices[name]
        listed = self.rubric.part_prices.get(name)
        grades = listed.prices.get(self.rubric.family) if listed else None
        if not grades:
            return None
        found = next((price for key in (grade, *_GRADES) if (price := grades.get(key)) is not None), None)
        return found if found is None or self.shop.exchange == 1.0 else _scaled(found, self.shop.exchange)

    def _rate(self, skill: Skill, family: Family) -> float:
        return self.shop.rates[skill].likely * self.shop.family_factor.get(family, 1.0)

    def _part(self, wanted: JobPart, units: int) -> PartUsed | None:
        grade = self.grade or wanted.grade
        price = self.part(wanted.part, grade)
        if price is None:
            return None
        listed = self.rubric.part_prices.get(wanted.part)
        say = listed.say if listed else wanted.part.replace("_", " ")
        count = wanted.count * units
        return PartUsed(wanted.part, say, grade, count, *_times(_points(price), count))


def _points(value: ThreePoint) -> Three:
    return value.low, value.likely, value.high


def _times(value: Three, factor: float) -> Three:
    return value[0] * factor, value[1] * factor, value[2] * factor


def _sum(values: list[Three]) -> Three:
    low, likely, high = (sum(figures) for figures in zip(*values, strict=True)) if values else _NO_RANGE
    return low, likely, high


def _split(whole: Three, parts_likely: float) -> tuple[Three, Three]:
    """(labour, parts) of a price that was set as a whole: parts keep their likely share of it all along the range."""
    share = min(1.0, parts_likely / whole[1]) if whole[1] > 0 else 0.0
    parts = _times(whole, share)
    return (whole[0] - parts[0], whole[1] - parts[1], whole[2] - parts[2]), parts


@lru_cache(maxsize=64)
def price_list(rubric: Rubric, shop: Shop, grade: Grade | None = None) -> PriceList:
    """The price list of a rubric at a shop, kept for both: a thousand instruments are priced by the same one."""
    return PriceList(rubric, shop, grade)


@lru_cache(maxsize=64)
def for_size(rubric: Rubric, size: str) -> Rubric:
    """The rubric with the prices of this size as its only ones; asked for again it changes nothing more. It is kept, as
    what was worked out for it (terms, worths) is kept by it.
    """
    parts = {name: _of_size(rubric, price, size) for name, price in rubric.part_prices.items()}
    return replace(rubric, part_prices=parts)


def _of_size(rubric: Rubric, price: PartPrice, size: str) -> PartPrice:
    row = next((one for one in price.by_size if one.family == rubric.family and size in one.size), None)
    if row is None:
        return price if not price.by_size else price.model_copy(update={"by_size": ()})
    full = price.prices.get(rubric.family, {})
    prices = {**price.prices, rubric.family: _grades(row, full)}
    return price.model_copy(update={"prices": prices, "by_size": ()})


def _grades(row: PartSize, full: dict[PartGrade, ThreePoint]) -> dict[PartGrade, ThreePoint]:
    """The row's own prices; without any those of the full size, times its factor."""
    own = {grade: price for grade in _GRADES if (price := getattr(row, grade)) is not None}
    return own or {grade: _scaled(price, row.times or 1.0) for grade, price in full.items()}


def _scaled(price: ThreePoint, times: float) -> ThreePoint:
    low, likely, high = (round(figure * times, 2) for figure in (price.low, price.likely, price.high))
    return ThreePoint(low=low, likely=likely, high=high)
