"""Where a ready value comes from, coded with its amounts; words are made of it in `wording.answer.source`."""

from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from ...assessment.reasons.facts import AsWritten
from ...basis.amounts import Price
from ...basis.frozen import dataclass
from ...basis.money import Money
from ...basis.record import Record


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
