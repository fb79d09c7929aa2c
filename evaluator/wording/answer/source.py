"""Where figures come from, in words: a ready value, told to who asks or by a shop to an owner; and whose the shop's
rates and prices are, its own or the default's, from memory.
"""

from collections.abc import Collection, Mapping
from typing import Literal

from ...assessment.reasons.facts import AsWritten
from ...basis.show import money
from ...result.model.instrument import ShopUsed
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
FIGURES: Mapping[str, str] = {
    "rates.set_up": "the hourly rate for set-up",
    "rates.repair": "the hourly rate for repair",
    "rates.restoration": "the hourly rate for restoration",
    "minimum_charge": "the least charge",
    "rush_share": "what haste adds",
    "rounding": "the rounding",
    "validity_days": "how long a quote holds",
    "exclusions": "what a quote leaves out",
    "tax.labour": "the tax on work",
    "tax.parts": "the tax on parts",
    "guide": "the guide to prices",
    "buying": "the terms for buying in",
    "sales": "how known sales are read",
    "keeping": "what keeping costs",
    "service_every_months": "the months between two services",
}
OF_WORK = ("rates.set_up", "rates.repair", "rates.restoration", "minimum_charge", "tax.labour", "tax.parts")
ALL_DEFAULT = "Rates and prices are defaults from memory; ask a workshop for its own."


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


def work_line(shop: ShopUsed) -> str:
    """Whose the rates and prices of planned work are, in a sentence or two."""
    if shop.is_default:
        return ALL_DEFAULT
    inherited = borrowed_line(shop.borrowed, OF_WORK)
    return inherited or f"The rates are those of {shop.name}; hours and parts it has set no price for are from memory."


def borrowed_line(borrowed: Collection[str], among: Collection[str] = FIGURES) -> str:
    """'Defaults from memory, not the workshop's own: ...'; empty where none of these is the default's."""
    found = [FIGURES[name] for name in among if name in FIGURES and is_borrowed(borrowed, name)]
    return f"Defaults from memory, not the workshop's own: {_listed(found)}." if found else ""


def is_borrowed(borrowed: Collection[str], name: str) -> bool:
    """Whether a figure, or anything of a group of figures, is the default's."""
    return any(one == name or one.startswith(f"{name}.") for one in borrowed)


def _listed(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]
