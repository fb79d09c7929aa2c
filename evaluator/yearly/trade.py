"""Hours against what was reckoned, open work, stock, and how offers ended."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..basis import show
from ..basis.money import Money, total_of
from ..basis.show import money
from ..choosing.offer_letter import OfferLetter
from ..choosing.offer_letter import State as Ending
from ..choosing.stock import Item
from ..quoting.answers import Answers, standing, totals
from ..quoting.consent import Chain
from ..quoting.quote import STATE_WORDS, Quote, State
from ..quoting.work_order import WorkOrder
from .tables import Bar, Shape, YearTable

OPEN: tuple[State, ...] = ("offered", "agreed", "work_begun")
MOST_SHOWN = 15
ENDS: Mapping[Ending, str] = {
    "open": "Waiting",
    "accepted": "Accepted",
    "declined": "Declined",
    "withdrawn": "Withdrawn",
}


@dataclass(frozen=True, slots=True)
class Order:
    """A quote with its answers and what the bench noted."""

    quote: Quote
    chain: Chain
    work: WorkOrder | None


def hours(orders: Sequence[Order], bench_cost_per_hour: float, currency: str) -> YearTable:
    """By job that was done: hours that it took against those that were reckoned, and what the difference cost."""
    took: defaultdict[str, float] = defaultdict(float)
    reckoned: defaultdict[str, float] = defaultdict(float)
    times: Counter[str] = Counter()
    says: dict[str, str] = {}
    for order in orders:
        for task in order.work.tasks if order.work else ():
            if task.hours and task.hours_likely:
                took[task.job] += task.hours
                reckoned[task.job] += task.hours_likely
                times[task.job] += 1
                says[task.job] = task.say
    order_of = sorted(took, key=lambda job: (-abs(took[job] - reckoned[job]), job))
    rows = tuple(
        (
            says[job], str(times[job]), f"{reckoned[job] / times[job]:.2f}", f"{took[job] / times[job]:.2f}",
            f"{took[job] / reckoned[job]:.2f}",
            f"{(took[job] - reckoned[job]) * bench_cost_per_hour:.2f}",
        )
        for job in order_of
    )  # fmt: skip
    bars = tuple(
        Bar(says[job], took[job] / times[job], show.hours(took[job] / times[job]), reckoned[job] / times[job])
        for job in order_of[:MOST_SHOWN]
    )
    over = sum(took.values()) - sum(reckoned.values())
    say = f"{sum(times.values())} jobs took {show.hours(sum(took.values()))}, {show.hours(abs(over))} "
    say += "more" if over > 0 else "less"
    say += " than was reckoned."
    columns = ("Job", "Times", "Reckoned h", "Took h", "Ratio", f"Difference, {currency} at the bench")
    return YearTable(
        "hours", "Hours by job", say if rows else "No hours were noted.", columns, rows, "pairs", bars, "hours a job",
        ("took", "reckoned"),
    )  # fmt: skip


def open_work(orders: Sequence[Order], currency: str) -> YearTable:
    """Quotes that wait, are agreed, or in work, with what they come to."""
    rows, bars, whole = [], [], []
    for state in OPEN:
        here = [one for one in orders if one.quote.state == state and one.quote.terms.currency == currency]
        worth = total_of((_worth(one) for one in here), currency)
        whole.append(worth)
        said = STATE_WORDS[state].capitalize()
        rows.append((said, str(len(here)), f"{worth.amount:.2f}"))
        bars.append(Bar(said, float(worth.amount), money(worth.amount, currency)))
    total = total_of(whole, currency)
    say = f"{sum(int(row[1]) for row in rows)} quotes are open, {money(total.amount, currency)} in all."
    columns = ("Quotes", "How many", f"Come to, {currency}")
    shape: Shape = "bars" if total.amount else "none"
    return YearTable("open_work", "Open work", say, columns, tuple(rows), shape, tuple(bars), currency)


def _worth(one: Order) -> Money:
    agreed: Answers = {line.job: "yes" for line in one.quote.lines}
    answers = dict(one.chain[-1].answers) if one.chain else agreed
    return totals(one.quote, standing(one.quote, answers)).total


def stock(items: Sequence[Item], currency: str) -> YearTable:
    """What is here, with cost and price."""
    here = [one for one in items if one.sold_on is None and one.cost.currency == currency]
    rows = tuple(
        (
            f"{one.number} {one.title}".strip(), one.came_on.isoformat(), f"{one.cost.amount:.2f}",
            f"{one.price.amount:.2f}" if one.price else "",
        )
        for one in here
    )  # fmt: skip
    cost = total_of((one.cost for one in here), currency)
    price = total_of((one.price for one in here if one.price), currency)
    bars = (
        Bar("Cost so far", float(cost.amount), money(cost.amount, currency)),
        Bar("On the tags", float(price.amount), money(price.amount, currency)),
    )
    say = f"{len(here)} here, {money(cost.amount, currency)} in them, {money(price.amount, currency)} on their tags."
    columns = ("Instrument", "Since", f"Cost, {currency}", f"Price, {currency}")
    return YearTable("stock", "Our stock", say, columns, rows, "bars" if here else "none", bars, currency)


def offers(letters: Sequence[OfferLetter], items: Sequence[Item], currency: str) -> YearTable:
    """How the year's offers ended, and what was sold of what came in by them."""
    ends = Counter(one.state for one in letters)
    rows = tuple((say, str(ends[state])) for state, say in ENDS.items())
    bars = tuple(Bar(say, float(ends[state]), str(ends[state])) for state, say in ENDS.items())
    sold = [one for one in items if one.margin is not None and one.cost.currency == currency]
    left = sum((one.margin.amount for one in sold if one.margin), Decimal(0))
    say = f"{len(letters)} {'offer' if len(letters) == 1 else 'offers'}, {ends['accepted']} accepted."
    if sold:
        say += f" {len(sold)} instruments of ours were sold, {money(left, currency)} more than they had cost."
    columns = ("How it ended", "Offers")
    return YearTable("offers", "How offers ended", say, columns, rows, "bars" if letters else "none", bars, "offers")
