"""Words that the pages and papers of a quote share."""

from collections.abc import Mapping, Sequence

from ..basis import show
from ..basis.money import Money
from ..quoting.answers import Answers, Totals, shown_extra, shown_price, standing
from ..quoting.changes import Change
from ..quoting.quote import Group, Quote, QuoteExtra, QuoteLine, State, up_to_with_extras
from ..quoting.supplement import Joint
from .phrases import small

NAMED = 3  # jobs named in a sentence before the rest is counted
GROUP_WORDS: Mapping[Group, str] = {
    "required": "Needed to bring it to standard",
    "recommended": "Recommended besides",
    "rest": "Can wait",
}
TOTAL_WORDS = {
    "required": "What is needed",
    "with_recommended": "With what is recommended",
    "everything": "All of it",
}
STATE_SENTENCES: Mapping[State, str] = {
    "draft": "This is a draft. Nobody has been asked yet.",
    "offered": "Offered. The customer has not decided yet.",
    "agreed": "Agreed. The work can begin.",
    "declined": "Declined. No work is done.",
    "work_begun": "The work has begun.",
    "done": "The work is done.",
    "superseded": "A newer quote took its place.",
    "withdrawn": "Withdrawn. Nobody is asked any more.",
}
LEAST = "Up to the least charge of the workshop"
MORE_WORK = "More work, found at the bench"


def group_title(quote: Quote, group: Group) -> str:
    """What stands above the lines of a group; a second quote has one group alone."""
    return MORE_WORK if quote.belongs_to else GROUP_WORDS[group]


def total_title(quote: Quote, name: str) -> str:
    return "All of it" if quote.belongs_to else TOTAL_WORDS[name]


def state_sentence(quote: Quote) -> str:
    """Where it stands; work of a second quote is begun and done with that of the first."""
    if quote.belongs_to and quote.state == "agreed":
        return "Agreed. It is done along with the other work."
    return STATE_SENTENCES[quote.state]


def own_orders(extra: QuoteExtra) -> str:
    """'Told by 3 such orders done here.'; nothing for a chance of the catalogue."""
    if not extra.own_orders:
        return ""
    return f"Told by {extra.own_orders} such {'order' if extra.own_orders == 1 else 'orders'} done here."


def own_hours(line: QuoteLine) -> str:
    """'Priced by the hours of 3 such jobs done here.'; nothing for hours of the catalogue."""
    if not line.own_jobs:
        return ""
    return f"Priced by the hours of {line.own_jobs} such {'job' if line.own_jobs == 1 else 'jobs'} done here."


def shown(quote: Quote, line: QuoteLine) -> Money:
    """The price of a line as the customer sees it everywhere."""
    return shown_price(quote.terms, line)


def shown_more(quote: Quote, price: Money) -> Money:
    """The price of what could come on top, as the customer sees it."""
    return shown_extra(quote.terms, price)


def change_words(change: Change, base: Quote) -> str:
    """One change of a draft in a line."""
    line = base.line(change.job)
    name = change.lines[0].say if change.lines else change.say or (line.say if line else change.job)
    who = f" ({change.by})" if change.by else ""
    if change.kind == "leave":
        return f"Left out: {small(name)}{', alone' if change.alone else ''}. “{change.reason}”{who}"
    if change.kind == "add":
        return f"{'Number changed' if change.alone else 'Put in'}: {small(name)}{who}"
    if change.kind == "grades":
        return f"Grades of parts{who}"
    said = [show.hours(change.hours)] if change.hours is not None else []
    said += [f"work {cents(change.labour)}"] if change.labour is not None else []
    said += [f"parts {cents(change.parts)}"] if change.parts is not None else []
    said += ["words"] if change.say is not None else []
    said += [f"stands under “{GROUP_WORDS[change.group]}”"] if change.group else []
    said += [f"“{change.reason}”"] if change.reason else []
    return f"{name}: {', '.join(said)}{who}"


def tax_since(quote: Quote, labour: float, parts: float) -> str:
    """What is told on a draft where the shop (`labour`, `parts`: shares) charges another tax by now; else empty."""
    terms = quote.terms
    if max(abs(labour - terms.labour_tax), abs(parts - terms.parts_tax)) < 1e-6:
        return ""
    return (
        f"It keeps the tax of when the evaluation was finished: {_rates(terms.labour_tax, terms.parts_tax)}. "
        f"Your shop charges {_rates(labour, parts)} now. To charge that, look again, and make a quote of the new look."
    )


def _rates(labour: float, parts: float) -> str:
    """'19 % on work and parts', '8.25 % on work and none on parts', 'no tax'."""
    said = [f"{show.number(100 * rate, 3)} %" if rate else "none" for rate in (labour, parts)]
    if labour == parts:
        return f"{said[0]} on work and parts" if labour else "no tax"
    return f"{said[0]} on work and {said[1]} on parts"


def cents(amount: Money) -> str:
    """'$1,250.00'."""
    return show.money(amount.amount, amount.currency, cents=True)


def named(says: Sequence[str]) -> str:
    """'lower the nut, fit a new bridge, and 3 more'."""
    if len(says) > NAMED + 1:
        return f"{', '.join(small(say) for say in says[:NAMED])}, and {len(says) - NAMED} more"
    return ", ".join(small(say) for say in says)


def once_for(quote: Quote, line: QuoteLine, answers: Answers) -> str:
    """Which jobs a shared line is charged for, or comes off with: those that are done, or any before that is known."""
    needing = [one for one in quote.lines if any(line.job in options for options in one.labours)]
    done = [one for one in standing(quote, answers) if one in needing]
    users = named([one.say for one in done or needing])
    return f"{'Comes off with' if line.is_credit else 'Charged once, for'}: {users}." if users else ""


def positive(amount: Money) -> Money:
    """Without its sign."""
    return amount if amount.amount >= 0 else Money(-amount.amount, amount.currency)


def shortly(text: str) -> str:
    """To go on behind a colon."""
    return small(text)


def sums(quote: Quote, found: Totals) -> tuple[tuple[str, str], ...]:
    """The figures of an invoice that add up to its total, in words and to the cent; what is zero is left out."""
    tax = quote.terms
    if found.gross is not None:
        work, parts, haste, least = found.gross
        shown_rows = (
            ("Work", work),
            ("Parts", parts),
            ("For haste", haste),
            (LEAST, least),
            ("Rounding", found.rounding),
        )
        return tuple((say, cents(amount)) for say, amount in shown_rows if amount.amount)
    rows = (
        ("Work", found.labour),
        ("Parts", found.parts),
        (f"For haste, {show.number(100 * tax.rush)} % of the work", found.rush),
        (LEAST, found.minimum),
        (f"Tax on work, {show.number(100 * tax.labour_tax, 3)} %", found.labour_tax),
        (f"Tax on parts, {show.number(100 * tax.parts_tax, 3)} %", found.parts_tax),
        ("Rounding", found.rounding),
    )
    return tuple((say, cents(amount)) for say, amount in rows if amount.amount)


def taxes_inside(quote: Quote, found: Totals) -> tuple[tuple[str, str], ...]:
    """The taxes that are in a total whose prices have them; nothing where tax is added below."""
    if found.gross is None:
        return ()
    terms = quote.terms
    rows = (("work", terms.labour_tax, found.labour_tax), ("parts", terms.parts_tax, found.parts_tax))
    return tuple(
        (f"In it: tax on {on}, {show.number(100 * rate, 3)} %", cents(tax)) for on, rate, tax in rows if tax.amount
    )


def level_sentence(quote: Quote, lines: Sequence[QuoteLine], level: Money) -> str:
    """What four of five such orders stay under, and the same with what could come on top, where that is more."""
    said = f"Four of five such orders stay under {cents(level)}"
    more = up_to_with_extras(quote, lines) if quote.extras and lines else level
    if more <= level:
        return f"{said}."
    return f"{said}; with what could come on top of it, under {cents(more)}."


def prices_sentence(quote: Quote) -> str:
    """Whether the prices of the lines have tax in them; empty where there is no tax at all."""
    terms = quote.terms
    if not terms.labour_tax and not terms.parts_tax:
        return ""
    return "All prices are with tax." if terms.prices == "gross" else "The prices of the lines are without tax."


def deposit_terms(quote: Quote) -> str:
    """What is due before the work begins, as a rule; empty where nothing is."""
    steps = sorted(quote.terms.deposits, key=lambda step: step[0].amount)
    said = [f"{show.number(100 * share)} % of an order from {cents(start)}" for start, share in steps if share]
    return f"Due before the work begins: {', '.join(said)}." if said else ""


def different(found: Mapping[str, Totals]) -> list[str]:
    """The names of the three totals, without one that adds nothing to the one before."""
    names: list[str] = []
    for name in found:
        if found[name].labour.amount + found[name].parts.amount and (not names or found[name] != found[names[-1]]):
            names.append(name)
    return names


def together_rows(joint: Joint) -> tuple[tuple[str, str], ...]:
    """First and second quotes that are agreed, in words and to the cent; the last row is their sum."""
    return (
        ("Agreed first", cents(joint.first)),
        *((f"Quote {number}", cents(amount)) for number, amount in joint.more),
        ("Agreed together", cents(joint.agreed)),
    )


def together_sentence(joint: Joint) -> str:
    """The ceiling for all that is agreed, and what is still asked against it."""
    said = f"Ceiling for what is agreed: {cents(joint.ceiling)}."
    if joint.waiting is None:
        return said
    room = "above the ceiling" if joint.is_beyond else "within the ceiling"
    whole = cents(joint.agreed + joint.waiting)
    return f"{said} Still asked: {cents(joint.waiting)}, which would make it {whole}, {room}."


def until(quote: Quote) -> str:
    return show.day(quote.valid_until.isoformat())
