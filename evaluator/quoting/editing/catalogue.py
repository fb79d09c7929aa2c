"""Lines of the catalogue for a draft: a job with what it cannot do without, or the same job on more or fewer units."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ...basis.money import Money, money_of
from ...estimate.extras import addition
from ...estimate.lines import job_line
from ...estimate.planning.plan import Planner
from ..draft import quote_line
from ..quote import Group, Listed, Quote, QuoteLine
from ..supplement import new_lines, paid_of


@dataclass(frozen=True, slots=True)
class Added:
    """The new lines, the wanted job first, and the lines of the draft that cannot stay beside it."""

    lines: tuple[QuoteLine, ...]
    instead_of: tuple[QuoteLine, ...]


def from_catalogue(
    planner: Planner, quote: Quote, job: str, units: int, group: Group, own_jobs: Mapping[str, int] | None = None
) -> Added:
    """What the catalogue adds to the draft for this job, at the shop's prices of today."""
    one = addition(planner, paid_of(planner, quote.lines), job, units)
    found = [replace(line, group=group) for line in new_lines(planner, [one], own_jobs)]
    ordered = sorted(found, key=lambda line: line.job != job)
    gone = tuple(line for line in quote.lines if line.job in {*one.dropped, *one.needless})
    return Added(tuple(ordered), gone)


def with_units(planner: Planner, line: QuoteLine, units: int) -> QuoteLine:
    """The line on another number of units, at the catalogue's price; its words and reasons stay."""
    made = quote_line(planner, job_line(planner, line.job, (), None, units), line.group)
    listed = replace(made, say=line.say, because=line.because, forced_by=line.forced_by, urgency=line.urgency)
    return replace(listed, asks=line.asks, labours=line.labours)


def catalogue_of(planner: Planner, line: QuoteLine) -> Listed | None:
    """What the catalogue says of a line at the shop's prices of today; None for a line of the shop's own."""
    if line.job in planner.jobs:
        price = planner.price_of(line.job, line.units)
        say = planner.jobs[line.job].say
    elif line.job in planner.shared:
        price, say = planner.shared[line.job], planner.prices.rubric.shared_labour[line.job].say
    else:
        return None
    currency = planner.prices.shop.currency
    whole, labour = money_of(price.whole.mean, currency), money_of(price.labour.mean, currency)
    return Listed(say, price.hours_likely, labour, _less(whole, labour))


def _less(whole: Money, labour: Money) -> Money:
    return whole - labour
