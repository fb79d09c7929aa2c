"""Known sales brought to the instrument in hand, as a table that a customer can follow, and as a paper.

Drawn from `known_sales` and `lasting` of a result's verdict; nothing is worked out here.
"""

from collections.abc import Sequence
from itertools import pairwise

from ...basis import show
from ...figures.money import scale_of
from ...figures.rules import Mark, rule
from ...figures.shapes import Figure
from ...result.model.decision import KnownSale, KnownSales, Lasting
from ...result.model.result import Result
from ...valuation.sales.comparables import KIND_WORDS
from ...wording.answer.source import source_words
from ...wording.names import OPINION
from ...wording.phrases import capital, small
from ..blocks import Block, CautionBlock, Column, Drawing, Heading, Lead, Paper, Paragraph, TableBlock
from .value_statement import statement

MINUS = "\u2212"
STEPS = ("Price", "Less extras", "As a shop", "To today", "Grade", "Condition", "Ready", "Weight")
_FIGURES = ("price", "start", "after_level", "after_date", "after_grade", "after_condition", "value")


def money(amount: float, currency: str) -> str:
    return show.money(round(amount), currency)


def steps(row: KnownSale) -> tuple[tuple[str, str], ...]:
    """The figures of one sale in the order of adjustment, each with what was done to reach it ("× 1.25", "− 150", or
    empty where nothing was), and its share of the weight.
    """
    values = [getattr(row, name) for name in _FIGURES]
    shown, by_money = [(f"{row.price:,.0f}", "")], {1, len(values) - 1}
    for place, (before, after) in enumerate(pairwise(values), 1):
        change = _added(after - before) if place in by_money else _times(before, after)
        shown.append((f"{after:,.0f}", change))
    return (*shown, (f"{row.weight_share:.0%}", ""))


def changes(row: KnownSale) -> str:
    """What was done to the price, step by step, in a line: "As a shop × 1.25, to today × 1.013"."""
    done = [f"{name} {change}" for name, (_, change) in zip(STEPS, steps(row), strict=True) if change]
    return capital(", ".join(small(one) for one in done))


def _added(change: float) -> str:
    return "" if round(change) == 0 else f"{'+' if change > 0 else MINUS} {abs(change):,.0f}"


def _times(before: float, after: float) -> str:
    factor = after / before if before > 0 else 1.0
    return "" if abs(factor - 1.0) < 0.0005 else f"× {factor:.3f}".rstrip("0")


def heaviest_first(found: KnownSales) -> tuple[KnownSale, ...]:
    return tuple(sorted(found.rows, key=lambda row: -row.weight_share))


def sale_words(row: KnownSale) -> str:
    """When and how it was sold, and why it hardly counts or does not, where that is so."""
    text = f"{KIND_WORDS[row.kind].capitalize()}, {show.day(row.sold_on)}."
    if row.note:
        text += f" {capital(row.note.rstrip('.'))}."
    if row.standing == "far":
        return f"{text} Far from all the others: shown, and not counted. Look at its figures."
    if row.much:
        text += f" Adjusted by {row.gross:.0%}: a check, hardly evidence."
    return text


def value_sentence(found: KnownSales, currency: str) -> str:
    low, high = money(found.low, currency), money(found.high, currency)
    if found.value is None:
        return f"Between {low} and {high} when ready to play: too far apart for one figure."
    return f"About {money(found.value, currency)} when ready to play, between {low} and {high}."


def how_sentence(found: KnownSales, currency: str) -> str:
    """The mean beside the median, how many sales, and what was left out."""
    count = sum(1 for row in found.rows if row.standing != "far")
    text = (
        f"Weighted mean {money(found.mean, currency)}, median {money(found.median, currency)}, from {count} "
        f"sale{'' if count == 1 else 's'}."
    )
    if found.left_out:
        text += f" {found.left_out} left out, adjusted by more than half."
    far = len(found.rows) - count
    if far:
        text += f" {far} too far from the others to count."
    if found.again:
        text += f" {found.again} stood there twice and counted once."
    return f"{text} In four of five cases the next such price lies between the two limits."


def too_few_sentence(found: KnownSales, fewest: int) -> str:
    """Why the sales are not relied on; empty where there are enough of them."""
    near = found.little_moved
    if near >= fewest:
        return "They lie too far apart to rely on a figure from them." if found.value is None else ""
    said = {
        0: "Every one of them had to be adjusted by more than half",
        1: "Only one had to be adjusted by less than half",
    }
    count = said.get(near, f"Only {near} had to be adjusted by less than half")
    return f"{count}; it takes {fewest} such sales to rely on them."


def lasting_sentence(lasting: Lasting | None) -> str:
    """What lasting faults leave of the value, each with its share; empty without any."""
    if not lasting or not lasting.faults:
        return ""
    each = "; ".join(f"{small(one.say)} ({100 * one.left:.0f})" for one in lasting.faults)
    text = f"Faults that stay leave {100 * lasting.left:.0f} of 100 of what a clean one is worth: {each}."
    causes = [one.cause for one in lasting.faults if one.cause]
    if len(causes) != len(set(causes)):
        text += " Faults of one origin count once: the worst whole, the others by a third."
    return text


def sales_rule(found: KnownSales, width: float = 160.0) -> Figure:
    """The value with its band, and the median."""
    low, high = scale_of([row.value for row in found.rows if row.standing != "far"] + [found.low, found.high])
    middle = found.median if found.value is None else found.value
    about = "no one figure" if found.value is None else f"about {found.value:,.0f}"
    marks = [Mark(middle, about, "accent", found.low, found.high)]
    if found.value is not None and round(found.median) != round(found.value):
        marks.append(Mark(found.median, f"median {found.median:,.0f}", "ink"))
    alt = f"{capital(about)}, between {found.low:,.0f} and {found.high:,.0f}."
    return rule(low, high, marks, alt, width=width)


def sales_paper(result: Result, on: str, currency: str, fewest: int) -> Paper:
    """The table on paper, dated `on` (an ISO date), with the order of the adjustments said in words."""
    verdict = result.verdict
    found, title = verdict.known_sales, result.title
    assert found is not None, "the paper is of the sales"
    widths = {"Condition": 0.11, "Weight": 0.08}
    columns = (Column("Sale", 0.27), *(Column(name, widths.get(name, 0.09), figures=True) for name in STEPS))
    rows = tuple(
        (f"{row.name}\n{sale_words(row)}", *(f"{figure}\n{change}".strip() for figure, change in steps(row)))
        for row in heaviest_first(found)
    )
    few = too_few_sentence(found, fewest)
    used = f" The evaluation goes by this instead: {source_words(result)}."
    lasting = lasting_sentence(verdict.lasting)
    blocks: Sequence[Block] = [
        Paragraph(title, "strong"),
        Paragraph(f"Valued on {show.day(on)}, in {currency}.", "soft"),
        Lead(value_sentence(found, currency)),
        Drawing(sales_rule(found)),
        Paragraph(how_sentence(found, currency), "soft"),
        *([Paragraph(few + used)] if few else []),
        Heading("How each sale was brought to it"),
        TableBlock(columns, rows),
        Paragraph(ORDER_WORDS, "soft"),
        *([Paragraph(lasting)] if lasting else []),
        *statement(result, on, currency),
        CautionBlock((OPINION,)),
    ]
    letterhead = "" if result.shop.is_default else str(result.shop.name)
    return Paper("What others were sold for", letterhead, title or "Comparable sales", blocks)


ORDER_WORDS = (
    "From left to right: the price; less the case and bow that were in it; brought to what a shop would ask; to the "
    "day of valuation; to the grade of making and wood in hand; to its lasting condition; and last, set-up in money. "
    "The less a sale had to be moved, and the surer its kind, the more it weighs. Those moved by over half weigh a "
    "quarter of the whole at most, all together; one far from the others, nothing; one that stands there twice, once. "
    "The order is that of the market approach by comparable transactions in valuation standards: what belongs to the "
    "sale first, each step on the one before, then what belongs to the thing. The factors are opinions, from memory "
    "where the shop has none of its own."
)
