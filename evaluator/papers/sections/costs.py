"""The work and what it costs: the plan, what is worth doing besides, and what may come on top."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from ...basis import show
from ...result.model.result import Result
from ...result.model.work import Extra, Line
from ...wording.answer.extras import known_words, when_words
from ...wording.answer.prices import is_gross, is_taxed, level_price, paid, shown_extra, shown_span, taxed, taxes
from ...wording.answer.source import work_line
from ...wording.names import URGENCY
from ...wording.phrases import ended, small
from ...wording.words import believed, cured_by, no_work
from ..blocks import Block, Column, Heading, Lead, Listing, Paragraph, TableBlock
from .frame import money

WORK = (Column("Work", 0.54), Column("Finding", 0.12), Column("From – to", 0.2, True), Column("About", 0.14, True))
OPTIONAL = (Column("Also worth doing", 0.54), *WORK[1:])
TOGETHER, MOST = "Together, about", "In four of five cases not above"
EXTRAS = (Column("Could come on top", 0.66), Column("Chance", 0.2), Column("About", 0.14, True))
ROOM = 60.0  # millimetres for the heading, its note and the first jobs
MOST_EXTRAS = 3  # on a buyer's paper; the dearest by chance come first


def work_in_short(result: Result) -> Sequence[Block]:
    """The plan with the findings that each job answers, the total with its levels, and the dearest possible extras."""
    return [*_plan(result), *optional_work(result), *extras(result, MOST_EXTRAS)]


def work(result: Result) -> Sequence[Block]:
    """The same with every possible extra."""
    return [*_plan(result), *optional_work(result), *extras(result)]


def work_explained(result: Result, *, in_full: bool = True, most: int | None = None) -> Sequence[Block]:
    """The same to the cent, with what each job does and what happens if it is left (`in_full`), for the person
    who is to agree to it; at most so many possible extras.
    """
    plan = _plan(result, in_full=in_full, to_the_cent=True)
    return [*plan, *optional_work(result, to_the_cent=True), *extras(result, most)]


def work_answer(result: Result) -> Sequence[Block]:
    """What the work comes to in a sentence, and what else somebody asks before agreeing to it."""
    plan = result.plan
    if not plan.lines:
        return [Lead(no_work(result))]
    total, most = (money(result, amount) for amount in paid(result))
    told = [f"In four of five cases it stays below {most}{with_tax(result)}."]
    safe = next((one for one in result.ambitions if one.name == "safe"), None)
    if safe and 0 < round(safe.mean) < round(plan.mean):
        only = money(result, level_price(result, safe)[1])
        told.append(f"Only what makes it safe to play comes to about {only}{with_tax(result)}.")
    if result.possible_extras:
        told.append("Some things are known only when the work has begun. We stop and ask before we do them.")
    return [Lead(f"About {total} of work brings it up to the standard."), Listing(tuple(told))]


def with_tax(result: Result) -> str:
    return ", with tax" if is_taxed(result) else ""


def before_tax(result: Result) -> str:
    """That what could come on top bears tax still, where the shop shows its prices so."""
    return ", before tax" if is_taxed(result) and not is_gross(result) else ""


def _plan(result: Result, *, in_full: bool = False, to_the_cent: bool = False) -> Sequence[Block]:
    plan = result.plan
    if not plan.lines:
        return [Heading("Work and cost"), Paragraph(no_work(result))]
    rows = [_line(result, line, numbers_of(result), in_full, to_the_cent) for line in plan.lines]
    sums = sums_of(result, to_the_cent)
    rows += [(say, "", "", amount) for say, amount in sums]
    note = f"{_how_cheap(result)} Work that several jobs share is charged once."
    note += f" {work_line(result.shop)}"
    table = TableBlock(WORK, tuple(rows), totals=len(sums))
    return [Heading("Work and cost", room=ROOM), Paragraph(note), table, Paragraph(half_of(result), "soft")]


def sums_of(result: Result, to_the_cent: bool) -> list[tuple[str, str]]:
    """What stands below the lines, with the tax that is added to them or in them: to the cent, or in whole units."""
    bill = result.plan.invoice
    if bill is None:
        return [(TOGETHER, money(result, result.plan.mean)), (MOST, money(result, result.plan.p80))]
    added = [("Rounding", bill.rounding)] if bill.rounding and to_the_cent else []
    here = [(f"{say}, {show.number(100 * share, 3)} %", amount) for say, share, amount in taxes(bill) if amount]
    inside = [(f"In it: {small(say)}", amount) for say, amount in here]
    sums = [*added, (TOGETHER, bill.total), *inside] if is_gross(result) else [*here, *added, (TOGETHER, bill.total)]
    sums.append((MOST, bill.up_to))
    return [(say, _amount(result, amount, to_the_cent)) for say, amount in sums]


def _amount(result: Result, amount: Decimal, to_the_cent: bool) -> str:
    return _cents(result, amount) if to_the_cent else money(result, float(amount))


def _cents(result: Result, amount: Decimal) -> str:
    return show.money(amount, result.plan.currency, cents=True)


def half_of(result: Result) -> str:
    """The level that half of all such orders stay below, in a sentence."""
    return f"One such order in two stays below {money(result, taxed(result, result.plan.p50))}{with_tax(result)}."


def price_of(result: Result, line: Line, to_the_cent: bool) -> str:
    """The price of a line as it is charged, so that the lines add up: to the cent, or in whole units."""
    return money(result, line.mean) if line.price is None else _amount(result, line.price, to_the_cent)


def span_of(result: Result, line: Line) -> str:
    """From the lowest to the highest price of a line, in whole units."""
    return " – ".join(money(result, amount) for amount in shown_span(result, line))


def extra_of(result: Result, item: Extra) -> str:
    """What a possible extra comes to, in whole units."""
    return money(result, shown_extra(result, item.mean))


def _how_cheap(result: Result) -> str:
    """That nothing cheaper reaches the standard, or how much cheaper it might be done."""
    plan = result.plan
    if plan.proven_optimal:
        return "The cheapest set of jobs that brings it to the standard."
    return (
        "A set of jobs that brings it to the standard; the search for a cheaper one was cut short, and there may be "
        f"one that saves up to {money(result, plan.may_save)}."
        if plan.may_save is not None
        else "A set of jobs that brings it to the standard; there may be a cheaper one."
    )


def numbers_of(result: Result) -> Mapping[str, int]:
    """The number of each check in the list of findings."""
    return {item.check: number for number, item in enumerate(believed(result), 1)}


def _line(
    result: Result, line: Line, numbers: Mapping[str, int], in_full: bool, to_the_cent: bool
) -> tuple[str, str, str, str]:
    """A job; what it cures stands by its number in the list of findings, else in words."""
    numbered = [numbers[check] for check in line.cures if check in numbers]
    notes = []
    if line.shared:
        notes.append("Charged once for all.")
    elif line.forced_by:
        notes.append(f"Goes with: {small(line.forced_by_say or line.forced_by)}.")
    elif len(numbered) < len(line.cures) or not numbered:
        notes += [f"{say.rstrip('.')}." for say in cured_by(result, line)]
    if in_full:
        notes += [ended(text) for text in (line.plain,) if text and small(text) != small(line.say)]
        notes += [f"If left: {ended(small(line.if_left))}"] if line.if_left else []
    if line.contact_first:
        notes.append(line.contact_first)
    say = times(line)
    text = "\n".join([say, " ".join(notes)] if notes else [say])
    return text, ", ".join(map(str, sorted(numbered))), span_of(result, line), price_of(result, line, to_the_cent)


def times(line: Line) -> str:
    """The job of a line, and how often it is done where that is more than once."""
    units = line.units
    return f"{line.say}, {units} times" if units > 1 else str(line.say)


def optional_work(result: Result, *, to_the_cent: bool = False) -> Sequence[Block]:
    """What is recommended but not needed for the standard."""
    numbers = numbers_of(result)
    rows = tuple(
        (
            f"{times(line)} ({_why_optional(line)})",
            ", ".join(str(number) for number in sorted(numbers[check] for check in line.cures if check in numbers)),
            span_of(result, line),
            price_of(result, line, to_the_cent),
        )
        for line in result.optional
    )
    return [Heading("Not needed, but worth it", 2, room=28), TableBlock(OPTIONAL, rows)] if rows else []


def _why_optional(line: Line) -> str:
    if line.shared:
        return "charged once for all"
    if line.forced_by:
        return f"goes with: {small(line.forced_by_say or line.forced_by)}"
    return URGENCY[line.urgency]


def extras(result: Result, most: int | None = None) -> Sequence[Block]:
    """Possible lines outside the total: chance, price, trigger, and when it will be known; none that costs nothing."""
    priced = [item for item in result.possible_extras if round(item.mean) > 0]
    rows = tuple(
        (
            f"{item.say}\n{when_words(item.when)}{_known(item)}",
            show.chance(item.chance),
            extra_of(result, item),
        )
        for item in priced[:most]
    )
    return [Heading(f"Not in the total{before_tax(result)}", 2, room=28), TableBlock(EXTRAS, rows)] if rows else []


def _known(item: Extra) -> str:
    """When it will be known, as the end of its line; empty where nothing says it."""
    said = known_words(item.known)
    return f" Known {ended(small(said))}" if said else ""
