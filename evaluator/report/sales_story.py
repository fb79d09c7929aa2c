"""Known sales brought to the instrument in hand, as a table that a customer can follow, and as a paper."""

from collections.abc import Sequence
from datetime import date

from ..basis import show
from ..valuation.comparables import KIND_WORDS, Adjusted, Reconciled
from ..valuation.trade_in import OPINION
from .blocks import Block, CautionBlock, Column, Drawing, Heading, Lead, Paper, Paragraph, TableBlock
from .decision_figures import scale_of
from .figures import Figure, Mark, rule
from .words import capital

STEPS = ("Price", "Less extras", "As a shop", "To today", "Grade", "Condition", "Ready", "Weight")


def money(amount: float, currency: str) -> str:
    return show.money(round(amount), currency)


def steps(row: Adjusted, found: Reconciled) -> tuple[str, ...]:
    """The figures of one sale in the order of adjustment, and its share of the weight."""
    sale, brought = row.comparable, (row.after_level, row.after_date, row.after_grade, row.after_condition)
    figures = (sale.price, row.start, *brought, row.value)
    return (*(f"{figure:,.0f}" for figure in figures), f"{found.weight_share(row):.0%}")


def sale_words(row: Adjusted) -> str:
    """When and how it was sold, and that it is a check only where it was adjusted by more than half."""
    one = row.comparable
    text = f"{KIND_WORDS[one.kind].capitalize()}, {show.day(one.sold_on.isoformat())}."
    if one.note:
        text += f" {capital(one.note.rstrip('.'))}."
    if row.much:
        text += f" Adjusted by {row.gross:.0%}: a check, hardly evidence."
    return text


def value_sentence(found: Reconciled, currency: str) -> str:
    low, high = money(found.low, currency), money(found.high, currency)
    return f"About {money(found.value, currency)} when ready to play, between {low} and {high}."


def how_sentence(found: Reconciled, currency: str) -> str:
    """The mean beside the median, how many sales, and what was left out."""
    count = len(found.rows)
    text = (
        f"Weighted mean {money(found.mean, currency)}, median {money(found.median, currency)}, from {count} "
        f"sale{'' if count == 1 else 's'}."
    )
    if found.left_out:
        text += f" {found.left_out} left out, adjusted by more than half."
    if count < 3:
        text += " So few can mislead: look for more."
    return text


def sales_rule(found: Reconciled, width: float = 160.0) -> Figure:
    """The value with its band, and the median."""
    low, high = scale_of([row.value for row in found.rows] + [found.low, found.high])
    marks = [Mark(found.value, f"about {found.value:,.0f}", "accent", found.low, found.high)]
    if round(found.median) != round(found.value):
        marks.append(Mark(found.median, f"median {found.median:,.0f}", "ink"))
    alt = f"About {found.value:,.0f}, between {found.low:,.0f} and {found.high:,.0f}."
    return rule(low, high, marks, alt, width=width)


def sales_paper(found: Reconciled, title: str, currency: str, on: date, letterhead: str) -> Paper:
    """The table on paper, with the order of the adjustments said in words."""
    columns = (Column("Sale", 0.28), *(Column(name, 0.09, figures=True) for name in STEPS))
    rows = tuple((f"{row.comparable.name}\n{sale_words(row)}", *steps(row, found)) for row in found.rows)
    blocks: Sequence[Block] = [
        Paragraph(title, "strong"),
        Paragraph(f"Valued on {show.day(on.isoformat())}, in {currency}.", "soft"),
        Lead(value_sentence(found, currency)),
        Drawing(sales_rule(found)),
        Paragraph(how_sentence(found, currency), "soft"),
        Heading("How each sale was brought to it"),
        TableBlock(columns, rows),
        Paragraph(ORDER_WORDS, "soft"),
        CautionBlock((OPINION,)),
    ]
    return Paper("What others were sold for", letterhead, title or "Comparable sales", blocks)


ORDER_WORDS = (
    "From left to right: the price; less the case and bow that were in it; brought to what a shop would ask; to the "
    "day of valuation; to the grade of making and wood in hand; to its lasting condition; and last, set-up in money. "
    "The less a sale had to be moved, and the surer its kind, the more it weighs. The factors are opinions, from "
    "memory where the shop has none of its own."
)
