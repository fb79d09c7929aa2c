"""From a plan to a quote: the draft that a result keeps, the quote that is made of it without any figure anew, and
what the plan comes to as an invoice, just as that quote would charge it.

A draft holds all that a quote holds but its number, its days and whom it is for. So what was evaluated once can be
quoted as it was, whatever became of the rubric or of the shop's prices since.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from ..basis.frozen import dataclass
from ..basis.money import Money, money_of
from ..basis.problem import Message, Messages, Problem, problem
from ..estimate.lines import MINIMUM
from ..estimate.model import Estimate, Known, PlanLine, Trigger
from ..estimate.planning.plan import Planner
from ..estimate.price import price_list
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .answers import Totals, shown_price, totals_of
from .quote import Group, Quote, QuoteExtra, QuoteLine, Terms, ceiling_of
from .quote_parts import parts_of

MESSAGES: Messages = {
    "quote.nothing_to_offer": Message("it has no line.", "Add work, or write a report instead."),
}
ANY_DAY = date(2000, 1, 1)  # no sum hangs on the day


@dataclass(frozen=True, slots=True)
class DraftExtra:
    """What may come on top, as `QuoteExtra`, with what brings it and when that will be known as facts."""

    job: str
    say: str
    chance: float
    price: Money
    when: tuple[Trigger, ...]
    known: Known | None
    own_orders: int = 0


Wording = Callable[[DraftExtra], QuoteExtra]  # a quote is kept as it was offered: in words


def as_the_rubric_says(extra: DraftExtra) -> QuoteExtra:
    """An extra in the phrases of the rubric alone."""
    when = " ".join(one.say for one in extra.when)
    return QuoteExtra(extra.job, extra.say, extra.chance, extra.price, when, None, extra.own_orders)


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan priced as a quote would be. `terms` are those without haste; `rush_share` is what haste adds to labour,
    `validity_days` how long a quote of it holds.
    """

    lines: tuple[QuoteLine, ...]
    extras: tuple[DraftExtra, ...]
    terms: Terms
    rush_share: float
    validity_days: int


def draft_of(
    rubric: Rubric, shop: Shop, work: Estimate, seed: int = 1, own_jobs: Mapping[str, int] | None = None
) -> Draft | None:
    """Required lines, what is recommended, the rest; None where there is no line.

    `own_jobs`: for each job whose hours in the rubric were learnt from the shop's own work, from how many.
    """
    planner = Planner(price_list(rubric, shop))
    lines = [quote_line(planner, line, "required", own_jobs) for line in work.lines if line.job != MINIMUM]
    lines += [quote_line(planner, line, _group(line), own_jobs) for line in work.optional]
    extras = tuple(
        DraftExtra(one.job, one.say, one.chance, money_of(one.cost.mean, shop.currency), one.when, one.known)
        for one in work.possible_extras
    )
    if not lines:
        return None
    return Draft(tuple(lines), extras, _terms(shop, seed), shop.rush_share, shop.validity_days)


def quote_of(
    draft: Draft,
    number: str,
    on: date,
    about: str = "",
    *,
    in_haste: bool = False,
    worded: Wording = as_the_rubric_says,
) -> Quote:
    """The draft as a quote; `in_haste` adds the share that haste costs to its labour, `worded` tells its extras."""
    extras = tuple(map(worded, draft.extras))
    terms = replace(draft.terms, rush=draft.rush_share if in_haste else 0.0)
    until = on + timedelta(days=draft.validity_days)
    made = Quote(number, on, until, about, draft.lines, extras, terms, terms.minimum)
    return replace(made, ceiling=ceiling_of(made))


def make_quote(
    rubric: Rubric,
    shop: Shop,
    work: Estimate,
    number: str,
    on: date,
    about: str = "",
    seed: int = 1,
    *,
    in_haste: bool = False,
    own_jobs: Mapping[str, int] | None = None,
) -> Quote | Problem:
    """The estimate as a quote that nobody has been asked yet."""
    draft = draft_of(rubric, shop, work, seed, own_jobs)
    if draft is None:
        return problem(MESSAGES, "quote.nothing_to_offer", f"quote {number}")
    return quote_of(draft, number, on, about, in_haste=in_haste)


def _group(line: PlanLine) -> Group:
    return "rest" if line.urgency in ("cosmetic", "can_wait") else "recommended"


def quote_line(planner: Planner, line: PlanLine, group: Group, own_jobs: Mapping[str, int] | None = None) -> QuoteLine:
    """A plan's line with its price in money, what it asks for, and its parts."""
    currency = planner.prices.shop.currency
    whole = money_of(line.cost.mean, currency)
    labour = money_of(line.labour.mean, currency) if line.labour else whole
    job = planner.jobs.get(line.job)
    used = parts_of(planner.prices, planner, line)
    return QuoteLine(
        job=line.job,
        say=line.say,
        plain=line.plain,
        shared=line.shared,
        group=group,
        urgency=line.urgency,
        because=line.because,
        forced_by=line.forced_by,
        labour=labour,
        parts=whole - labour,
        cost=line.cost,
        asks=tuple(tuple(sorted(options)) for options in planner.brings(line.job)) if job else (),
        labours=tuple(tuple(sorted(options)) for options in planner.labour(line.job)) if job else (),
        parts_named=tuple(part.named for part in used),
        if_left=line.if_left,
        warranty=job.warranty if job else None,
        contact_first=line.contact_first,
        cautions=line.cautions,
        used=used,
        hours_likely=round(line.hours_likely, 4),
        units=line.units,
        own_jobs=(own_jobs or {}).get(line.job, 0),
    )


def _terms(shop: Shop, seed: int) -> Terms:
    return Terms(
        shop=shop.shop,
        currency=shop.currency,
        labour_tax=shop.tax.labour,
        parts_tax=shop.tax.parts,
        rounding=shop.rounding,
        minimum=Money(shop.minimum_charge.quantize(Decimal("0.01")), shop.currency),
        rush=0.0,
        correlation=shop.labour_correlation,
        seed=seed,
        exclusions=shop.exclusions,
        deposits=tuple((Money(one.from_total, shop.currency), one.share) for one in shop.deposits),
        prices=shop.prices_shown,
        borrowed=tuple(name for name in shop.borrowed if name.startswith("rates.")),
        contact=tuple(line for line in (*shop.address, shop.telephone, shop.email) if line),
        tax_number=shop.tax_number,
        conditions=shop.conditions,
    )


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
