"""Ready value, from what is trusted most: enough known sales of the like, the user's own figure, the shop's guide.

The guide is judged from memory until a workshop puts its own sales in its place; whoever shows the figure says so.
Lasting faults lower what the guide says and enter the sales by their own step; a figure that somebody typed for this
very instrument holds them already. There is no figure where nobody has looked, nor where it could be one thing or
ten times that: nobody can act on it.
"""

import math
from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from ...assessment.model import Assessment, Case
from ...assessment.reasons.facts import AsWritten
from ...basis.chance import normal_quantile
from ...basis.frozen import dataclass
from ...basis.money import Money, money_of
from ...basis.record import Price, Record
from ...rubric.rubric import Rubric
from ...rubric.shop import Shop
from ..sales.comparables import BAND, Reconciled
from ..sales.sales_book import SalesBook, enough, reconciled
from .answers import Answer
from .guide import GuideReading, guide_reading
from .mixture import Law, Mixture

Source = Literal["comparables", "own_figure", "price_guide"]
NoValue = Literal["nothing_seen", "too_wide", "no_guide"]
FEWEST_LOOKS = 2  # one answer tells a sign, and no instrument


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigure(Record):
    """Somebody typed it for this very instrument."""

    code: Literal["own_figure"] = "own_figure"


@dataclass(frozen=True, slots=True, kw_only=True)
class BySales(Record):
    """So many known sales of a book (None: one's own), from `low` to `high`; `before`: a figure that they go before."""

    code: Literal["by_sales"] = "by_sales"
    book: str | None
    count: int
    low: Price
    high: Price
    before: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ByGuide(Record):
    """The guide of a shop, or one from memory (`shop` None), for the class that it most likely is. `left`: share of the
    value that lasting faults leave, None without any; `outfit`: with bow and case.
    """

    code: Literal["by_guide"] = "by_guide"
    shop: str | None
    making: str
    low: Price
    high: Price
    outfit: bool
    left: float | None


ValueFrom: TypeAlias = Annotated[OwnFigure | BySales | ByGuide | AsWritten, Field(discriminator="code")]


@dataclass(frozen=True, slots=True)
class ReadyValue:
    """What the instrument would be worth ready to play, in a shop; `value` is None where `missing` says why.

    `low` and `high` hold it in four of five cases. `mixture` is the whole law of it, also where it is too wide to act
    on. `source` is where it comes from with its amounts, `kind` names it. `sales` is what the known sales come to even
    where they are too few to be gone by; `reading` the guide as it was read, None where the shop has none for it.
    `with_bow_and_case`: the figure is that of an outfit.
    """

    value: Money | None
    low: float | None
    high: float | None
    kind: Source | None
    source: OwnFigure | BySales | ByGuide | None
    missing: NoValue | None = None
    mixture: Mixture | None = None
    reading: GuideReading | None = None
    sales: Reconciled | None = None
    with_bow_and_case: bool = False


def ready_value(
    rubric: Rubric,
    case: Case,
    assessment: Assessment,
    shop: Shop,
    answers: dict[str, Answer],
    book: SalesBook | None = None,
) -> ReadyValue:
    """Enough known sales first, then the user's own figure, then the guide."""
    reading = guide_reading(shop.guide, rubric, case.instrument, assessment.making.shares, answers)
    known = len(answers) >= FEWEST_LOOKS and reading is not None and not _too_wide(reading, shop, rubric)
    found = None
    if book is not None:
        found = reconciled(book, rubric, case.instrument, shop, reading if known else None)
    if book is not None and found is not None and known and enough(found, shop):
        return _by_sales(book, found, case, shop, reading)
    if case.ready_value is not None:
        amount = float(case.ready_value.amount)
        exact = Mixture((Law(1.0, math.log(max(amount, 0.01)), 0.0),))
        return ReadyValue(
            case.ready_value, amount, amount, "own_figure", OwnFigure(), mixture=exact, reading=reading, sales=found
        )
    return _by_guide(rubric, case, shop, reading, found, looks=len(answers))


def _too_wide(reading: GuideReading, shop: Shop, rubric: Rubric) -> bool:
    """Whether nobody can act on it: the ends lie far apart, and not by a few hours of a repairer, for then a mistake
    costs less than finding out. Known losses do not count: a crack that was seen makes an instrument no less known.
    """
    low, high = reading.unhurt.band()
    apart = rubric.figure("bench_hours_apart") * shop.rates["repair"].likely
    return high > rubric.figure("widest_value") * low and high - low > apart


def _by_sales(book: SalesBook, found: Reconciled, case: Case, shop: Shop, reading: GuideReading | None) -> ReadyValue:
    assert found.value is not None, "sales too far apart are not gone by"
    count = sum(1 for row in found.rows if not row.far)
    low, high = round(found.low, 2), round(found.high, 2)
    source = BySales(book=book.name, count=count, low=low, high=high, before=case.ready_value)
    width = math.log(found.high / found.low) / (2.0 * normal_quantile(0.5 + BAND / 2.0))
    law = Mixture((Law(1.0, math.log(found.value), width),))
    value = money_of(found.value, shop.currency)
    return ReadyValue(value, found.low, found.high, "comparables", source, mixture=law, reading=reading, sales=found)


def _by_guide(
    rubric: Rubric, case: Case, shop: Shop, reading: GuideReading | None, sales: Reconciled | None, looks: int
) -> ReadyValue:
    if reading is None:
        return ReadyValue(None, None, None, None, None, "no_guide", sales=sales)
    if looks < FEWEST_LOOKS:
        return ReadyValue(None, None, None, None, None, "nothing_seen", reading.mixture, reading, sales)
    low, high = (rounded_guide(amount) for amount in reading.mixture.band())
    if _too_wide(reading, shop, rubric):
        return ReadyValue(None, low, high, None, None, "too_wide", reading.mixture, reading, sales)
    value = money_of(rounded_guide(reading.mixture.middle), shop.currency)
    with_case = rubric.family != "bow" and reading.likeliest.class_ in shop.guide.with_bow_and_case
    source = _source(rubric, shop, reading, (low, high), outfit=with_case)
    return ReadyValue(
        value, low, high, "price_guide", source, None, reading.mixture, reading, sales, with_bow_and_case=with_case
    )


def _source(rubric: Rubric, shop: Shop, reading: GuideReading, band: tuple[float, float], *, outfit: bool) -> ByGuide:
    likeliest = reading.likeliest
    memory = shop.guide.from_memory or f"guide.prices.{rubric.family}.{likeliest.class_}" in shop.borrowed
    return ByGuide(
        shop=None if memory else shop.shop,
        making=likeliest.class_,
        low=band[0],
        high=band[1],
        outfit=outfit,
        left=round(likeliest.left, 4) if reading.lasting.faults else None,
    )


def rounded_guide(price: float) -> float:
    """To half a unit of the second figure: a guide read to the dollar would claim more than it knows."""
    if price <= 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(price)) - 1) / 2.0
    return round(price / step) * step
