"""From a quote or a work order to a paper's blocks. Arranges and words; every amount is one of the quote's."""

from collections.abc import Mapping, Sequence

from ..basis import show
from ..quoting.answers import Answers, Totals, deposit, standing, three_totals, totals
from ..quoting.consent import Consent, first_wrong
from ..quoting.quote import AGREED, LeftOut, Quote, QuoteLine
from ..quoting.supplement import Joint
from ..quoting.work_order import Task, WorkOrder
from ..result.model.result import Result
from ..wording.names import HOW
from ..wording.privacy import without_reach
from ..wording.quotes import (
    GROUP_WORDS,
    STATE_SENTENCES,
    cents,
    deposit_terms,
    different,
    group_title,
    level_sentence,
    once_for,
    own_hours,
    prices_sentence,
    shortly,
    shown,
    shown_more,
    sums,
    taxes_inside,
    together_rows,
    together_sentence,
    total_title,
    until,
)
from ..wording.shops import borrowed_line
from ..wording.words import instrument_line
from .bill_story import headed
from .blocks import (
    Block,
    CautionBlock,
    Column,
    Heading,
    Lead,
    Listing,
    Paper,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)

LINES = (Column("Work", 0.62), Column("Answer", 0.13), Column("Price", 0.25, True))
EXTRAS = (Column("What, and when it will be known", 0.6), Column("Chance", 0.2), Column("About", 0.2, True))
TASKS = (Column("Job", 0.62), Column("Hours", 0.13), Column("Parts used", 0.25))


def quote_paper(
    quote: Quote, result: Result, chain: Sequence[Consent], joint: Joint | None = None, logo: bytes | None = None
) -> Paper:
    """The quote as offered, with what was answered, ready to be signed; `joint`: with what belongs to it."""
    last = chain[-1] if chain else None
    blocks = [
        *headed(logo),
        *_opening(quote, result, last),
        *_lines(quote, last),
        *([] if last and quote.state in AGREED else _totals(quote)),
        *_agreed(quote, chain),
        *_together(joint),
        *_extras(quote),
        *_terms(quote),
        *_closing(quote),
    ]
    return Paper(f"Quote {quote.number}", _letterhead(quote, result), f"Quote {quote.number}", tuple(blocks))


def work_paper(
    order: WorkOrder,
    quote: Quote,
    result: Result,
    agreed: Consent,
    joint: Joint | None = None,
    held_back: Mapping[str, str] | None = None,
) -> Paper:
    """The bench's paper: jobs in order with parts, standards and cautions, and room for hours.

    `held_back`: job -> number of the open second quote that may take its place.
    """
    held = held_back or {}
    most = joint.ceiling if joint else agreed.ceiling
    in_all = f"{cents(joint.agreed)} with what was found later" if joint and joint.more else cents(agreed.total)
    title = result.title or "The instrument"
    count = f"{len(order.tasks)} {'job' if len(order.tasks) == 1 else 'jobs'}"
    blocks: list[Block] = [
        Lead(f"{title}: {count}, to be done in this order."),
        Paragraph(instrument_line(result)),
        Paragraph(
            f"Quote {quote.number}, agreed by {agreed.by} on {show.day(agreed.at.isoformat())}. "
            f"Agreed {in_all}; stop and ask before {cents(most)} is passed.",
            "strong",
        ),
        *_together(joint),
    ]
    if order.shared:
        blocks.append(Paragraph(f"Once for all: {', '.join(shortly(say) for say in order.shared)}."))
    blocks.append(TableBlock(TASKS, tuple(_task(place, task, held) for place, task in enumerate(order.tasks, 1))))
    if order.fallen:
        blocks += [Heading("Agreed, and no longer needed", 2), Listing(order.fallen)]
    if order.not_agreed:
        blocks += [Heading("Not agreed: leave it", 2), Listing(order.not_agreed)]
    here = {task.job for task in order.tasks}
    shows = tuple(f"{one.say}. {one.when}" for one in quote.extras if one.job not in here)
    blocks += [Heading("Stop and ask if it shows", 2), Listing(shows)] if shows else []
    cautions = tuple(dict.fromkeys(text for task in order.tasks for text in task.cautions))
    told: tuple[Block, ...] = (CautionBlock(cautions),) if cautions else ()
    blocks.append(Together((*told, Signature(("Done by", "Looked over by", "Date")))))
    return Paper(f"Work order {quote.number}", _letterhead(quote, result), f"Work order {quote.number}", tuple(blocks))


def _letterhead(quote: Quote, result: Result) -> str:
    return "" if result.shop.is_default else quote.terms.shop


def who(quote: Quote, result: Result) -> list[Block]:
    """The workshop's address and tax number under its name; nothing where the figures are the default's."""
    terms = quote.terms
    lines = [*terms.contact, *([f"Tax number {terms.tax_number}"] if terms.tax_number else [])]
    return [Paragraph(" · ".join(lines), "soft")] if lines and not result.shop.is_default else []


def _opening(quote: Quote, result: Result, last: Consent | None) -> list[Block]:
    first, found = next(iter(three_totals(quote).items()))
    title = result.title or "Your instrument"
    priced = found.total.amount > 0
    what = "what more was found" if quote.belongs_to else shortly(total_title(quote, first))
    lead = f"{title}: {cents(found.total)} for {what}." if priced else f"{title}: work offered."
    if last and quote.state in AGREED:
        lead = f"{title}: {cents(last.total)} agreed."
    made = f"Quote {quote.number} of {show.day(quote.made_on.isoformat())}, valid until {until(quote)}."
    if quote.supersedes:
        made += f" It takes the place of quote {quote.supersedes}."
    if quote.belongs_to:
        made += f" It adds to quote {quote.belongs_to}, which stays as it was agreed."
    blocks: list[Block] = [*who(quote, result), Lead(lead), Paragraph(instrument_line(result))]
    blocks.append(Paragraph(made, "strong"))
    if quote.about:
        blocks.append(Paragraph(without_reach(quote.about)))
    if quote.state in ("draft", "superseded", "withdrawn"):
        blocks.append(Paragraph(STATE_SENTENCES[quote.state], "strong"))
    return blocks


def _lines(quote: Quote, last: Consent | None) -> list[Block]:
    answers = dict(last.answers) if last else {}
    blocks: list[Block] = []
    columns = (LINES[0], Column("Answer" if last else "Yes, no, later", LINES[1].share), LINES[2])
    for group in GROUP_WORDS:
        lines = [line for line in quote.lines if line.group == group]
        rows = tuple((_said(quote, line, answers), _answer(line, answers), cents(shown(quote, line))) for line in lines)
        blocks += [Heading(group_title(quote, group), 2), TableBlock(columns, rows)] if rows else []
    return blocks


def _answer(line: QuoteLine, answers: Answers) -> str:
    return "" if line.shared else answers.get(line.job, "")


def _said(quote: Quote, line: QuoteLine, answers: Answers) -> str:
    if line.shared:
        return f"{line.say}\n{once_for(quote, line, answers)}"
    forced = quote.line(line.forced_by) if line.forced_by else None
    notes = [line.plain] if line.plain and line.plain != line.say else []
    notes += [f"Goes with: {shortly(forced.say)}."] if forced else []
    notes += [f"Parts: {', '.join(line.parts_named)}."] if line.parts_named else []
    notes += [own_hours(line)] if line.own_jobs else []
    notes += [f"If it is left: {shortly(line.if_left)}."] if line.if_left else []
    notes += [line.contact_first] if line.contact_first else []
    return "\n".join([line.say, " ".join(notes)] if notes else [line.say])


def _totals(quote: Quote) -> list[Block]:
    """One column for each of the three totals; the figures of a column add up to its total."""
    found = three_totals(quote)
    ways = different(found)
    parts = {name: dict(sums(quote, found[name])) for name in ways}
    says = list(dict.fromkeys(say for name in ways for say in parts[name]))
    rows = [(say, *(parts[name].get(say, "") for name in ways)) for say in says]
    rows.append(("Total", *(cents(found[name].total) for name in ways)))
    inside = {name: dict(taxes_inside(quote, found[name])) for name in ways}
    taxes = list(dict.fromkeys(say for name in ways for say in inside[name]))
    rows += [(say, *(inside[name].get(say, "") for name in ways)) for say in taxes]
    share = 0.66 / max(1, len(ways))
    columns = (
        Column("What it comes to", 1.0 - share * len(ways)),
        *(Column(total_title(quote, n), share, True) for n in ways),
    )
    needed = [line for line in quote.lines if line.group == "required"] or list(quote.lines)
    note = f"Work beyond {cents(quote.ceiling)} is not begun without asking again, unless another ceiling is agreed."
    notes = [note, level_sentence(quote, needed, quote.ceiling), deposit_terms(quote), prices_sentence(quote)]
    title = f"{('One', 'Two', 'Three')[len(ways) - 1]} ways to agree" if len(ways) > 1 else "What it comes to"
    table = TableBlock(columns, tuple(rows), totals=1 + len(taxes))
    return [Together((Heading(title), table)), Paragraph(" ".join(one for one in notes if one))]


def _agreed(quote: Quote, chain: Sequence[Consent]) -> list[Block]:
    if not chain:
        return []
    last = chain[-1]
    found = totals(quote, standing(quote, dict(last.answers)))
    noted = f", noted by {last.noted_by}" if last.noted_by else ""
    said = f"{last.by}, {show.day(last.at.isoformat())}, {HOW[last.how]}{noted}. Ceiling: {cents(last.ceiling)}."
    blocks: list[Block] = [Heading("What was answered"), Paragraph(said, "strong")]
    if first_wrong(quote, chain) is not None:
        blocks.append(Paragraph("This record was changed after it was given. Do no work on it.", "strong"))
    if found.total.amount:
        blocks.append(_invoice(quote, found))
        due = deposit(quote, found.total)
        blocks += [Paragraph(f"Due before the work begins: {cents(due)}.")] if due.amount else []
    return blocks


def _together(joint: Joint | None) -> list[Block]:
    if joint is None:
        return []
    columns = (Column("First and second quotes", 0.75), Column("", 0.25, True))
    table = TableBlock(columns, together_rows(joint), totals=1)
    shown: list[Block] = [Together((Heading("All that is agreed", 2), table))] if joint.more else []
    return [*shown, Paragraph(together_sentence(joint))]


def _invoice(quote: Quote, found: Totals) -> TableBlock:
    inside = taxes_inside(quote, found)
    rows = (*sums(quote, found), ("Total", cents(found.total)), *inside)
    return TableBlock((Column("Agreed", 0.75), Column("", 0.25, True)), rows, totals=1 + len(inside))


def _extras(quote: Quote) -> list[Block]:
    rows = tuple(
        (
            "\n".join([one.say, " ".join(text for text in (one.when, one.known) if text)]),
            show.chance(one.chance),
            cents(shown_more(quote, one.price)),
        )
        for one in quote.extras
    )
    note = Paragraph("None of this is in a total. We stop and ask before we do it.")
    return [Heading("What could come on top"), note, TableBlock(EXTRAS, rows)] if rows else []


def _terms(quote: Quote) -> list[Block]:
    left = tuple(_left(one) for one in quote.left_out)
    blocks: list[Block] = [Heading("Left out, and why", 2), Listing(left)] if left else []
    inherited = borrowed_line(quote.terms.borrowed)
    blocks += [Paragraph(inherited, "soft")] if inherited else []
    return [*blocks, *_exclusions(quote)]


def _left(one: LeftOut) -> str:
    went = f" With it went: {', '.join(shortly(say) for say in one.with_it)}." if one.with_it else ""
    return f"{one.say}: “{one.reason}”{went}"


def _exclusions(quote: Quote) -> list[Block]:
    return [Heading("Not part of this offer", 2), Listing(quote.terms.exclusions)] if quote.terms.exclusions else []


def _closing(quote: Quote) -> list[Block]:
    cautions = tuple(dict.fromkeys(text for line in quote.lines for text in line.cautions))
    told: tuple[Block, ...] = (CautionBlock(cautions),) if cautions else ()
    made = Paragraph(f"Fingerprint of this quote: {quote.fingerprint()}.", "soft")
    return [*told, Together((made, Signature(("For the workshop", "Agreed by", "Place and date"))))]


def _task(place: int, task: Task, held_back: Mapping[str, str]) -> tuple[str, str, str]:
    waits = task.hours is None and task.job in held_back
    notes = [f"Do not begin it: quote {held_back[task.job]} may take its place."] if waits else []
    notes += [f"Agreed in quote {task.quote}."] if task.quote else []
    notes += [f"Get: {', '.join(task.parts)}."] if task.parts else []
    notes += [f"{target.say[:1].upper()}{target.say[1:]}: {target.limits}." for target in task.targets]
    notes += [task.contact_first] if task.contact_first else []
    hours = show.number(task.hours) if task.hours is not None else ""
    return "\n".join([f"{place}. {task.say}", *notes]), hours, task.parts_used
