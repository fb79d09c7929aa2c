"""The lines of a draft done otherwise: a job of the catalogue with what it cannot do without, the same job on more or
fewer units, and the same work with a plainer or a better part, its price reckoned anew.

Where only the parts of a line change, its labour stays as it is. Nothing that was offered is touched.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..basis.money import Money, money_of
from ..basis.problem import Message, Messages, Problem, problem
from ..estimate.extras import addition
from ..estimate.lines import job_line
from ..estimate.pert import cost
from ..estimate.planning.plan import Planner
from .draft import quote_line
from .quote import STATE_WORDS, Group, Listed, Quote, QuoteLine, ceiling_of
from .quote_parts import GradePrice, QuotePart
from .supplement import new_lines, paid_of

Wanted = Mapping[tuple[str, str], str]  # (job, part) -> grade
MESSAGES: Messages = {
    "quote.grade_late": Message(
        "it is {state}, and its parts stay as they are.", "Make a changed quote, which takes its place when offered."
    ),
    "quote.grade_unknown": Message("“{part}” is not listed as {grade}.", "Choose one of the grades shown."),
}


def with_grades(quote: Quote, wanted: Wanted) -> Quote | tuple[Problem, ...]:
    """The draft with these grades, priced anew with its ceiling; or all that speaks against it."""
    where = f"quote {quote.number}"
    if quote.state != "draft":
        return (problem(MESSAGES, "quote.grade_late", where, state=STATE_WORDS[quote.state]),)
    known = {(line.job, part.part): part for line in quote.lines for part in line.used if part.choices}
    wrong = tuple(
        problem(MESSAGES, "quote.grade_unknown", where, part=known[key].say if key in known else key[1], grade=grade)
        for key, grade in wanted.items()
        if key not in known or known[key].price(grade) is None
    )
    if wrong:
        return wrong
    lines = tuple(_line(line, wanted, quote.terms.currency) for line in quote.lines)
    priced = replace(quote, lines=lines)
    return replace(priced, ceiling=ceiling_of(priced))


def _line(line: QuoteLine, wanted: Wanted, currency: str) -> QuoteLine:
    for place, part in enumerate(line.used):
        new = part.price(wanted.get((line.job, part.part), part.grade))
        if new is not None and new.grade != part.grade:
            line = _fitted(line, place, part, new, currency)
    return line


def _fitted(line: QuoteLine, place: int, old: QuotePart, new: GradePrice, currency: str) -> QuoteLine:
    """The line with the part at `place` in the new grade: its range moves by the difference of the two."""
    before = old.price(old.grade)
    assert before is not None, "a part with choices is listed in its own grade"
    points = (getattr(line.cost, key) - getattr(before, key) + getattr(new, key) for key in ("low", "likely", "high"))
    priced = cost(*points)
    used = (*line.used[:place], replace(old, grade=new.grade), *line.used[place + 1 :])
    whole = money_of(priced.mean, currency)
    names = tuple(part.named for part in used)
    return replace(line, used=used, parts_named=names, cost=priced, parts=whole - line.labour)


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
