"""An instrument that is the shop's own: what it cost so far, what it is marked at, what it was sold for."""

from dataclasses import dataclass, replace
from datetime import date

from ..basis.money import Money, total_of
from ..basis.problem import Message, Messages, Problem, problem
from ..valuation.sales.comparables import Comparable

MESSAGES: Messages = {
    "stock.sold": Message("it was sold on {day}.", "What was sold is not changed any more."),
    "stock.future": Message("{day} lies ahead.", "Enter the day on which it was sold."),
    "stock.before": Message("{day} is before it came in.", "Enter the day on which it was sold."),
}


@dataclass(frozen=True, slots=True)
class Cost:
    """Money that went into it: what for, on which day."""

    on: date
    say: str
    amount: Money


@dataclass(frozen=True, slots=True)
class Item:
    """One of the stock. `price`: on its tag, None before it is marked; `sold_on`, `sold_for`: None while it is here."""

    number: str
    evaluation: str
    offer: str
    title: str
    family: str
    size: str
    tier: str
    came_on: date
    costs: tuple[Cost, ...]
    price: Money | None = None
    sold_on: date | None = None
    sold_for: Money | None = None
    retention: float = 1.0

    @property
    def cost(self) -> Money:
        """All that went into it so far."""
        return total_of((one.amount for one in self.costs), self.costs[0].amount.currency)

    @property
    def margin(self) -> Money | None:
        """What was left of the sale; None while it is here."""
        return None if self.sold_for is None else self.sold_for - self.cost


def with_cost(item: Item, on: date, say: str, amount: Money) -> Item | Problem:
    return _gone(item) or replace(item, costs=(*item.costs, Cost(on, say, amount)))


def marked(item: Item, price: Money) -> Item | Problem:
    return _gone(item) or replace(item, price=price)


def sold(item: Item, on: date, price: Money, today: date) -> Item | Problem:
    """The item as sold; its sale can then go into the known sales."""
    if on > today:
        return problem(MESSAGES, "stock.future", item.number, day=f"{on:%d %B %Y}")
    if on < item.came_on:
        return problem(MESSAGES, "stock.before", item.number, day=f"{on:%d %B %Y}")
    return _gone(item) or replace(item, sold_on=on, sold_for=price)


def sale_of(item: Item) -> Comparable:
    """The sale as the book of known sales holds it."""
    assert item.sold_on is not None
    assert item.sold_for is not None
    return Comparable(
        name=item.title or f"{item.family} {item.number}",
        sold_on=item.sold_on,
        kind="dealer_sale",
        price=float(item.sold_for.amount),
        currency=item.sold_for.currency,
        retention=item.retention,
        note=f"Our own, {item.number}",
        family=item.family,
        size=item.size,
        tier=item.tier,
    )


def _gone(item: Item) -> Problem | None:
    if item.sold_on is None:
        return None
    return problem(MESSAGES, "stock.sold", item.number, day=f"{item.sold_on:%d %B %Y}")
