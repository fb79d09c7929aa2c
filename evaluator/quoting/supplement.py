"""A second quote for work that showed up at the bench: it adds to a quote that is agreed, and is answered alone.

It is priced as what it adds to the agreed work: shared labour that is paid there is not paid again, and agreed work
that it takes the place of comes off in full, unless somebody has worked at it. The first quote is never edited.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import ROUND_FLOOR, Decimal

from ..basis.money import Money, money_of, total_of
from ..basis.problem import Message, Messages, Problem, problem
from ..estimate.extras import Addition, Paid, addition, paid_by, with_addition
from ..estimate.lines import MINIMUM, in_bench_order, job_line, shared_line
from ..estimate.model import Cost
from ..estimate.planning.plan import Planner
from ..estimate.price import price_list
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .answers import Answers, standing, totals
from .consent import Consent, whole_ceiling
from .draft import quote_line
from .quote import OFF, STATE_WORDS, Quote, QuoteLine, Terms, ceiling_of

CENT = Decimal("0.01")
MESSAGES: Messages = {
    "more.state": Message("it is {state}.", "More work is added to a quote that is agreed or in work."),
    "more.nothing": Message("no work is chosen.", "Choose what is to be done besides."),
    "more.found": Message("nothing says what was found.", "Write it for the customer in one sentence."),
    "more.unknown": Message("“{job}” is no work that has a price here.", "Choose from the list."),
    "more.agreed": Message("“{say}” is agreed already.", "Choose what is not."),
    "more.clash": Message("“{say}” and “{other}” cannot both be done.", "Choose one of them."),
    "more.currency": Message("it is in {then}, and prices are in {now} now.", "Make a new quote for all of it."),
}


@dataclass(frozen=True, slots=True)
class Joint:
    """A quote and its second quotes together. `agreed` adds up every yes, `ceiling` is what the customer set last;
    `waiting` is what an open second quote comes to if all of it is agreed, None where none is open.
    """

    first: Money
    more: tuple[tuple[str, Money], ...]
    agreed: Money
    ceiling: Money
    waiting: Money | None

    @property
    def is_beyond(self) -> bool:
        """Whether what waits would pass the ceiling agreed so far."""
        return self.waiting is not None and self.ceiling < self.agreed + self.waiting


@dataclass(frozen=True, slots=True)
class Addable:
    """A job that could be added: what it adds to the agreed work before tax, and what it takes the place of, in words.

    `adds` is below zero where it replaces dearer work.
    """

    job: str
    adds: Money
    instead_of: tuple[str, ...]


def held_lines(parts: Iterable[tuple[Quote, Answers]]) -> tuple[QuoteLine, ...]:
    """The lines that stand in a quote and in its second quotes, without those that a credit took off."""
    found: dict[str, QuoteLine] = {}
    for quote, answers in parts:
        for line in standing(quote, answers):
            if line.takes_off is not None:
                found.pop(line.takes_off, None)
            else:
                found.setdefault(line.job, line)
    return tuple(found.values())


def joint(first: Consent, more: Sequence[Consent], waiting: Quote | None = None) -> Joint:
    """What was agreed together, and what waits for an answer."""
    currency = first.total.currency
    agreed = total_of((one.total for one in (first, *more)), currency)
    ceiling = whole_ceiling(first, more)
    open_ = totals(waiting, waiting.lines).total if waiting else None
    return Joint(first.total, tuple((one.quote, one.total) for one in more), agreed, ceiling, open_)


def offered_units(first: Quote) -> dict[str, int]:
    """How many units of each job the first quote offered: three tuners stay three, agreed at once or later."""
    return {line.job: line.units for line in first.lines if not line.shared}


def addable(
    rubric: Rubric,
    shop: Shop,
    held: Collection[QuoteLine],
    begun: Collection[str] = (),
    units: Mapping[str, int] | None = None,
) -> tuple[Addable, ...]:
    """Every job that is not held, in catalogue order, with what it would add to the agreed work before tax.

    `units`: how many of a job, where it is more than one.
    """
    planner = Planner(price_list(rubric, shop))
    paid = paid_of(planner, held)
    known = _replaceable(held, begun)
    found = []
    for job in planner.jobs:
        if job in paid.jobs:
            continue
        more = addition(planner, paid, job, (units or {}).get(job, 1))
        new = planner.price_of(job, more.units).whole.mean
        new += sum(planner.price_of(name).whole.mean for name in (*more.jobs[1:], *more.shared))
        off = [known[name] for name in (*more.dropped, *more.needless) if name in known]
        adds = money_of(new, shop.currency) - total_of((line.price for line in off), shop.currency)
        found.append(Addable(job, adds, tuple(line.say for line in off if not line.shared)))
    return tuple(found)


def make_supplement(
    rubric: Rubric,
    shop: Shop,
    first: Quote,
    held: Collection[QuoteLine],
    wanted: Sequence[str],
    on: date,
    found: str,
    *,
    begun: Collection[str] = (),
    topped_up: Money | None = None,
    own_jobs: Mapping[str, int] | None = None,
) -> Quote | tuple[Problem, ...]:
    """A draft for the wanted jobs and what they bring along, or all that speaks against it.

    `held`: the lines agreed so far; `begun`: jobs already worked at, for which nothing comes off; `found`: what showed
    up, in the shop's words; `topped_up`: what was charged up to the least of an order, which then comes off.
    """
    planner = Planner(price_list(rubric, shop))
    paid = paid_of(planner, held)
    wrong = _wrong(planner, first, paid, wanted, found)
    if wrong:
        return wrong
    additions = _additions(planner, paid, wanted, offered_units(first))
    terms = replace(first.terms, minimum=Money(Decimal("0.00"), first.terms.currency), deposits=())
    lines = _with_credits(new_lines(planner, additions, own_jobs), _credits(additions, held, begun))
    lines = _with_top_up(lines, topped_up, terms)
    until = on + timedelta(days=shop.validity_days)
    number, said = f"{first.number}/1", found.strip()
    draft = Quote(number, on, until, said, lines, (), terms, terms.minimum, belongs_to=first.number)
    return replace(draft, ceiling=ceiling_of(draft))


def new_lines(
    planner: Planner, additions: Sequence[Addition], own_jobs: Mapping[str, int] | None
) -> tuple[QuoteLine, ...]:
    """The jobs in bench order, each with the wanted job that brought it, then the shared labour."""
    brought = {name: one.jobs[0] for one in additions for name in one.jobs[1:]}
    names = in_bench_order(planner, (name for one in additions for name in one.jobs))
    units = {one.jobs[0]: one.units for one in additions}
    jobs = [job_line(planner, name, (), brought.get(name), planner.times(name, units.get(name, 1))) for name in names]
    shared = [shared_line(planner, name, jobs) for one in additions for name in one.shared]
    return tuple(quote_line(planner, line, "required", own_jobs) for line in [*jobs, *shared])


def paid_of(planner: Planner, held: Iterable[QuoteLine]) -> Paid:
    """The jobs of the catalogue and the shared labour among these lines."""
    lines = tuple(held)
    jobs = [line.job for line in lines if not line.shared and line.job in planner.jobs]
    return paid_by(jobs, [line.job for line in lines if line.shared])


def _wrong(planner: Planner, first: Quote, paid: Paid, wanted: Sequence[str], found: str) -> tuple[Problem, ...]:
    where, jobs = f"quote {first.number}", planner.jobs
    currency = planner.prices.shop.currency
    wrong = []
    if first.state not in ("agreed", "work_begun") or first.belongs_to is not None:
        wrong.append(problem(MESSAGES, "more.state", where, state=STATE_WORDS[first.state]))
    if currency != first.terms.currency:
        wrong.append(problem(MESSAGES, "more.currency", where, then=first.terms.currency, now=currency))
    if not wanted:
        wrong.append(problem(MESSAGES, "more.nothing", where))
    if not found.strip():
        wrong.append(problem(MESSAGES, "more.found", where))
    wrong += [problem(MESSAGES, "more.unknown", where, job=job) for job in wanted if job not in jobs]
    known = [job for job in dict.fromkeys(wanted) if job in jobs]
    wrong += [problem(MESSAGES, "more.agreed", where, say=jobs[job].say) for job in known if job in paid.jobs]
    wrong += [
        problem(MESSAGES, "more.clash", where, say=jobs[one].say, other=jobs[other].say)
        for place, one in enumerate(known)
        for other in known[place + 1 :]
        if other in planner.excluded_by(one)
    ]
    return tuple(wrong)


def _additions(planner: Planner, paid: Paid, wanted: Sequence[str], units: Mapping[str, int]) -> list[Addition]:
    """What each wanted job adds after those before it; a job that another brought is not added twice."""
    found: list[Addition] = []
    for job in dict.fromkeys(wanted):
        if job not in paid.jobs:
            found.append(addition(planner, paid, job, units.get(job, 1)))
            paid = with_addition(paid, found[-1])
    return found


def _credits(
    additions: Iterable[Addition], held: Iterable[QuoteLine], begun: Collection[str]
) -> list[tuple[str, QuoteLine]]:
    """(the new job, each agreed line that it takes the place of, taken off in full)."""
    known = _replaceable(held, begun)
    return [
        (one.jobs[0], _credit(known[name]))
        for one in additions
        for name in (*one.dropped, *one.needless)
        if name in known
    ]


def _replaceable(held: Iterable[QuoteLine], begun: Collection[str]) -> dict[str, QuoteLine]:
    """The agreed jobs that nobody has worked at yet; the shared labour too, where nobody has worked at any."""
    return {line.job: line for line in held if (not begun if line.shared else line.job not in begun)}


def _credit(line: QuoteLine) -> QuoteLine:
    nothing = Money(Decimal("0.00"), line.labour.currency)
    plain = "It was agreed, and comes off now that it is not done."
    return _taking_off(line.job, line.say, plain, nothing - line.labour, nothing - line.parts)


def _with_top_up(lines: tuple[QuoteLine, ...], charged: Money | None, terms: Terms) -> tuple[QuoteLine, ...]:
    """The lines with the charge up to the least of an order taken off again, now that the order is larger."""
    asked = [_taxed(line, terms) for line in lines if not line.shared]
    if charged is None or charged.amount <= 0:
        return lines
    rush = 1 + Decimal(repr(terms.rush))
    most = min(charged.amount / rush, min(asked) / (rush * (1 + Decimal(repr(terms.labour_tax)))))
    off = Money(-most.quantize(CENT, ROUND_FLOOR), terms.currency)
    say = "The charge up to the least of an order"
    plain = "It falls away now that there is more work."
    top = _taking_off(MINIMUM, say, plain, off, Money(Decimal("0.00"), off.currency))
    jobs = (line if line.shared else replace(line, labours=(*line.labours, (top.job,))) for line in lines)
    return (*jobs, top)


def _taking_off(job: str, say: str, plain: str, labour: Money, parts: Money) -> QuoteLine:
    amount = float((labour + parts).amount)
    fixed = Cost(amount, amount, amount, amount, 0.0)
    title = f"No longer charged: {say[:1].lower()}{say[1:]}"
    return QuoteLine(f"{OFF}{job}", title, plain, True, "required", "to_standard", (), None, labour, parts, fixed)


def _taxed(line: QuoteLine, terms: Terms) -> Decimal:
    rush, labour, parts = (1 + Decimal(repr(rate)) for rate in (terms.rush, terms.labour_tax, terms.parts_tax))
    return line.labour.amount * rush * labour + line.parts.amount * parts


def _with_credits(lines: Iterable[QuoteLine], credits: Sequence[tuple[str, QuoteLine]]) -> tuple[QuoteLine, ...]:
    """The lines and the credits, each of which stands as long as its new job does."""
    found = []
    for line in lines:
        mine = tuple((credit.job,) for job, credit in credits if job == line.job)
        found.append(replace(line, labours=(*line.labours, *mine)))
    return (*found, *(credit for _, credit in credits))
