"""Words that the pages and papers of a quote share."""

from collections.abc import Mapping, Sequence

from ..basis import show
from ..basis.money import Money
from ..estimate.answers import Totals
from ..estimate.quote import Group, Quote, State
from .words import small

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
}


def cents(amount: Money) -> str:
    """'$1,250.00'."""
    return show.money(amount.amount, amount.currency, cents=True)


def named(says: Sequence[str]) -> str:
    """'lower the nut, fit a new bridge, and 3 more'."""
    if len(says) > NAMED + 1:
        return f"{', '.join(small(say) for say in says[:NAMED])}, and {len(says) - NAMED} more"
    return ", ".join(small(say) for say in says)


def shortly(text: str) -> str:
    """To go on behind a colon."""
    return small(text)


def sums(quote: Quote, found: Totals) -> tuple[tuple[str, str], ...]:
    """The figures of an invoice that add up to its total, in words and to the cent; what is zero is left out."""
    tax = quote.terms
    rows = (
        ("Work", found.labour),
        ("Parts", found.parts),
        (f"For haste, {show.number(100 * tax.rush)} % of the work", found.rush),
        ("Up to the least charge of the workshop", found.minimum),
        (f"Tax on work, {show.number(100 * tax.labour_tax, 3)} %", found.labour_tax),
        (f"Tax on parts, {show.number(100 * tax.parts_tax, 3)} %", found.parts_tax),
        ("Rounding", found.rounding),
    )
    return tuple((say, cents(amount)) for say, amount in rows if amount.amount)


def until(quote: Quote) -> str:
    return show.day(quote.valid_until.isoformat())
