"""The customer's yes, no or later for each line of a quote: what then stands, what it comes to, and what each no
changes.

A line stands when it is agreed and everything that it cannot do without stands too. What only followed from a line that
falls, falls with it. Of shared labour the cheapest stands that leaves no standing line without, so none beside another
that includes it. So a no never raises the total.
"""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from itertools import combinations
from typing import Literal

from ..basis.frozen import dataclass
from ..basis.money import Money, total_of
from ..basis.problem import Problem, problem
from .quote import MESSAGES, Group, Quote, QuoteLine, Terms, up_to

Answer = Literal["yes", "no", "later"]
Answers = Mapping[str, Answer]
GROUPS: tuple[tuple[str, tuple[Group, ...]], ...] = (
    ("required", ("required",)),
    ("with_recommended", ("required", "recommended")),
    ("everything", ("required", "recommended", "rest")),
)


@dataclass(frozen=True, slots=True)
class Totals:
    """One invoice: `labour` + `parts` + `rush` + `minimum` + `tax` + `rounding` = `total`, to the cent.

    `rush` is the charge for haste, taxed as labour. `minimum` is what a small order lacks to the shop's least charge;
    it is taxed as labour. `up_to`: four of five orders like it stay under this. `gross`: labour, parts, rush and
    minimum with their tax in them, where the customer's prices have it: then these add up with the rounding.
    """

    labour: Money
    parts: Money
    rush: Money
    minimum: Money
    labour_tax: Money
    parts_tax: Money
    rounding: Money
    total: Money
    up_to: Money
    gross: tuple[Money, Money, Money, Money] | None = None

    @property
    def tax(self) -> Money:
        return self.labour_tax + self.parts_tax


Charged = tuple[Money, Money, Money, Money, Money, Money, Money, Money]
Gross = tuple[Money, Money, Money, Money]


@dataclass(frozen=True, slots=True)
class Effect:
    """What a no to one line changes: what falls with it, which shared labour stays and for whom, and what is saved."""

    job: str
    falls: tuple[str, ...]
    stays: tuple[tuple[str, tuple[str, ...]], ...]
    saves: Money
    say: str


def all_yes(quote: Quote) -> dict[str, Answer]:
    """Yes to every line that is asked about (shared labour follows by itself)."""
    return {line.job: "yes" for line in quote.lines if not line.shared}


def wrong_answers(quote: Quote, answers: Answers) -> tuple[Problem, ...]:
    """An answer to a line that is not on the quote, or to shared labour, which nobody is asked about."""
    asked = {line.job for line in quote.lines if not line.shared}
    return tuple(
        problem(MESSAGES, "quote.unknown_line", f"quote {quote.number}", job=job) for job in answers if job not in asked
    )


def standing(quote: Quote, answers: Answers) -> tuple[QuoteLine, ...]:
    """The lines that will be done under these answers; a line without an answer does not stand."""
    jobs = {line.job: line for line in quote.lines if not line.shared}
    here = {job for job in jobs if answers.get(job) == "yes"}
    while True:
        falling = {job for job in here if not _holds(jobs[job], here, jobs)}
        if not falling:
            break
        here -= falling
    labour = _labour(quote, here)
    return tuple(line for line in quote.lines if line.job in (labour if line.shared else here))


def totals(quote: Quote, lines: Iterable[QuoteLine]) -> Totals:
    """The invoice of these lines."""
    found = tuple(lines)
    charged, gross = _charged(quote, found)
    return Totals(*charged, _level(quote, found, charged[-1]), gross)


def shown_price(terms: Terms, line: QuoteLine) -> Money:
    """The price of a line as the customer sees it on every page and paper: with its tax, or without."""
    if terms.prices == "net":
        return line.price
    return with_tax(line.labour, terms.labour_tax) + with_tax(line.parts, terms.parts_tax)


def shown_extra(terms: Terms, price: Money) -> Money:
    """The price of what could come on top, as the customer sees it; the dearer tax where work and parts differ."""
    return price if terms.prices == "net" else with_tax(price, max(terms.labour_tax, terms.parts_tax))


def with_tax(amount: Money, rate: float) -> Money:
    return (amount + amount.times(rate)).rounded()


def _charged(quote: Quote, found: tuple[QuoteLine, ...]) -> tuple[Charged, Gross | None]:
    """The sums of an invoice in the order of `Totals`, without the level that takes thousands of draws."""
    terms, currency = quote.terms, quote.terms.currency
    labour = total_of((line.labour for line in found), currency)
    parts = total_of((line.parts for line in found), currency)
    rush = labour.times(terms.rush).rounded()
    short = terms.minimum - (labour + parts + rush)
    raised = found and terms.minimum.amount > 0 and short.amount > 0
    minimum = short if raised else Money(Decimal("0.00"), currency)
    if terms.prices == "gross":
        return _with_tax_inside(terms, found, rush, minimum)
    labour_tax = (labour + rush + minimum).times(terms.labour_tax).rounded()
    parts_tax = parts.times(terms.parts_tax).rounded()
    exact = labour + parts + rush + minimum + labour_tax + parts_tax
    total = exact.rounded(terms.rounding)
    return (labour, parts, rush, minimum, labour_tax, parts_tax, total - exact, total), None


def _with_tax_inside(terms: Terms, found: tuple[QuoteLine, ...], rush: Money, minimum: Money) -> tuple[Charged, Gross]:
    """The sums where each line's price has its tax in it: the lines as shown add up, and the tax is taken out again."""
    rate, currency = terms.labour_tax, terms.currency
    work = total_of((with_tax(line.labour, rate) for line in found), currency)
    parts = total_of((with_tax(line.parts, terms.parts_tax) for line in found), currency)
    haste, least = with_tax(rush, rate), with_tax(minimum, rate)
    taxes = [tax_in(one, rate) for one in (work, haste, least)]
    labour_tax, parts_tax = total_of(taxes, currency), tax_in(parts, terms.parts_tax)
    exact = work + parts + haste + least
    total = exact.rounded(terms.rounding)
    nets = (work - taxes[0], parts - parts_tax, haste - taxes[1], least - taxes[2])
    return (*nets, labour_tax, parts_tax, total - exact, total), (work, parts, haste, least)


def tax_in(amount: Money, rate: float) -> Money:
    """The tax that is in an amount."""
    share = Decimal(repr(rate))
    return Money(amount.amount * share / (1 + share), amount.currency).rounded()


def three_totals(quote: Quote) -> dict[str, Totals]:
    """Required lines; with what is recommended; with everything on the quote."""
    return {name: totals_of(quote, groups) for name, groups in GROUPS}


def totals_of(quote: Quote, groups: tuple[Group, ...]) -> Totals:
    """The invoice of the lines in these groups, and of the labour that they share."""
    answers: dict[str, Answer] = {line.job: "yes" for line in quote.lines if not line.shared and line.group in groups}
    return totals(quote, standing(quote, answers))


def effect_of_no(quote: Quote, answers: Answers, job: str) -> Effect:
    """What changes when the answer to this line becomes no and all others stay."""
    before = standing(quote, answers)
    after = standing(quote, {**answers, job: "no"})
    kept = {line.job for line in after}
    gone = [line for line in before if line.job not in kept]
    stays = tuple(
        (line.say, tuple(other.say for other in after if not other.shared and _asks_for(other, line.job)))
        for line in after
        if line.shared and _asks_for(_line(quote, job), line.job)
    )
    saves = _charged(quote, before)[0][-1] - _charged(quote, after)[0][-1]
    falls = tuple(line.say for line in gone if line.job != job)
    return Effect(job, falls, stays, saves, _words(_line(quote, job), falls, stays))


def deposit(quote: Quote, total: Money) -> Money:
    """What is due before the work begins: the share of the highest step that the total reaches."""
    reached = [share for start, share in quote.terms.deposits if start <= total]
    return total.times(max(reached, default=0.0)).rounded()


def _holds(line: QuoteLine, here: set[str], jobs: Mapping[str, QuoteLine]) -> bool:
    """Whether all that it asks for stands, and what brought it, where something did."""
    if any(not here.intersection(options) for options in line.asks if any(job in jobs for job in options)):
        return False
    return line.forced_by is None or line.forced_by in here or line.forced_by not in jobs


def _labour(quote: Quote, here: set[str]) -> set[str]:
    """The shared labour on the quote that these lines need: of what will do, the cheapest."""
    price = {line.job: line.price.amount for line in quote.lines if line.shared}
    asked = {frozenset(ways).intersection(price) for line in quote.lines if line.job in here for ways in line.labours}
    needs = asked - {frozenset()}
    sure: frozenset[str] = frozenset().union(*(ways for ways in needs if len(ways) == 1))
    choices = sorted(frozenset().union(*(ways for ways in needs if not ways & sure)))
    found = (sure.union(more) for count in range(len(choices) + 1) for more in combinations(choices, count))
    enough = (labour for labour in found if all(ways & labour for ways in needs))
    return set(min(enough, key=lambda labour: (sum(price[job] for job in labour), sorted(labour))))


def _asks_for(line: QuoteLine, labour: str) -> bool:
    return any(labour in options for options in line.labours)


def _line(quote: Quote, job: str) -> QuoteLine:
    found = quote.line(job)
    assert found is not None, "answers are checked before their effects are asked for"
    return found


def _level(quote: Quote, lines: tuple[QuoteLine, ...], total: Money) -> Money:
    level = up_to(quote, lines) if lines else total
    return max(level, total, key=lambda money: money.amount)


def _words(line: QuoteLine, falls: tuple[str, ...], stays: tuple[tuple[str, tuple[str, ...]], ...]) -> str:
    found = [f"Without “{line.say}”"]
    found.append(f"this falls away too: {', '.join(falls)}" if falls else "nothing else falls away")
    text = ", ".join(found) + "."
    if line.if_left:
        text += f" {line.if_left.rstrip('.')}."
    for labour, who in stays:
        text += f" “{labour}” stays, for {', '.join(who)}."
    return text
