"""What a plan comes to as an invoice: the price of each line and the sums, just as a quote of it would charge them."""

from collections.abc import Mapping
from datetime import date

from ..basis.frozen import dataclass
from ..basis.money import Money
from .answers import Totals, shown_price, totals_of
from .draft import Draft, quote_of
from .quote import Terms

ANY_DAY = date(2000, 1, 1)  # no sum hangs on the day


@dataclass(frozen=True, slots=True)
class Invoice:
    """The price of every line as the customer sees it, also of those that are only recommended, and the sums of the
    required ones.
    """

    prices: Mapping[str, Money]
    sums: Totals
    terms: Terms

    def price_of(self, job: str) -> Money:
        """The price of a line; of one that stands for the shop's least charge, what the order lacks to it."""
        least = self.sums.minimum if self.sums.gross is None else self.sums.gross[3]
        return self.prices.get(job, least)


def invoice(draft: Draft | None) -> Invoice | None:
    """The invoice of the planned work; None where there is no work at all."""
    if draft is None:
        return None
    made = quote_of(draft, "", ANY_DAY)
    return Invoice(
        {line.job: shown_price(made.terms, line) for line in made.lines}, totals_of(made, ("required",)), made.terms
    )
