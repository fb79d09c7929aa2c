"""Where a ready value comes from, in words: told to who asks, or by a shop to an owner."""

from typing import Literal

from ...assessment.reasons.facts import AsWritten
from ...basis.show import money
from ...result.model.result import Result
from ...valuation.worth.ready import ByGuide, BySales, OwnFigure, ValueFrom

Listener = Literal["asker", "owner"]
# To an owner "your own" would mean the owner's, where a shop speaks of its figure and its book.
OWN_FIGURE: dict[Listener, str] = {"asker": "your own figure", "owner": "the shop's own figure"}
OWN_BOOK: dict[Listener, str] = {"asker": "your own book", "owner": "the shop's own book"}
GUIDES: dict[str, str] = {"memory": "a guide from memory, not from sales", "shop": "the price guide of {shop}"}
PARTS: dict[str, str] = {
    "one_sale": "from {count} sale of {book}; between {low} and {high}",
    "sales": "from {count} sales of {book}; between {low} and {high}",
    "before": "; they go before your own figure of {own}",
    "guide": "between {low} and {high}, by {guide}: {family} {size}, most likely {making}",
    "outfit": ", with bow and case",
    "left": "; its lasting faults leave {left:.0f} of 100 of that",
}


def source_words(result: Result, to: Listener = "asker") -> str | None:
    """'from 4 sales of your own book; between $1,300 and $1,500'; None without a ready value."""
    source = result.verdict.ready_value_from
    return None if source is None else _words(result, source, to)


def _words(result: Result, source: ValueFrom, to: Listener) -> str:
    if isinstance(source, AsWritten):
        return source.say
    if isinstance(source, OwnFigure):
        return OWN_FIGURE[to]
    return _sales(result, source, to) if isinstance(source, BySales) else _guide(result, source)


def _sales(result: Result, source: BySales, to: Listener) -> str:
    currency = result.plan.currency
    text = PARTS["one_sale" if source.count == 1 else "sales"].format(
        count=source.count,
        book=OWN_BOOK[to] if source.book is None else source.book,
        low=money(source.low, currency),
        high=money(source.high, currency),
    )
    if source.before is None or to == "owner":
        return text
    return text + PARTS["before"].format(own=money(source.before.amount, source.before.currency))


def _guide(result: Result, source: ByGuide) -> str:
    currency, here = result.plan.currency, result.instrument
    says = {one.making: one.say for one in result.making.classes}
    text = PARTS["guide"].format(
        low=money(source.low, currency),
        high=money(source.high, currency),
        guide=GUIDES["memory" if source.shop is None else "shop"].format(shop=source.shop),
        family=here.family,
        size=here.size,
        making=says.get(source.making, source.making),
    )
    outfit = PARTS["outfit"] if source.outfit else ""
    left = "" if source.left is None else PARTS["left"].format(left=100 * source.left)
    return f"{text}{outfit}{left}"
