"""From a quote to a paper's blocks. Arranges and words; every amount is one of the quote's."""

from collections.abc import Sequence

from ..basis import show
from ..figures.asking import boxes, cut_here
from ..quoting.answers import Answers, Totals, deposit, standing, three_totals, totals
from ..quoting.consent import Consent, first_wrong
from ..quoting.quote import AGREED, LeftOut, Quote, QuoteLine
from ..quoting.supplement import Joint
from ..result.model.result import Result
from ..wording.answer.source import borrowed_line
from ..wording.names import HOW
from ..wording.phrases import without_reach
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
    own_orders,
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
from ..wording.words import instrument_line
from .blocks import (
    Block,
    CautionBlock,
    Cell,
    Column,
    Drawing,
    Heading,
    Lead,
    Listing,
    Paper,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)
from .sections.front import covered

LINES = (Column("Work", 0.6), Column("Answer", 0.22), Column("Price", 0.18, True))
OPEN = boxes(("yes", "no", "later"))
EXTRAS = (Column("What, and when it will be known", 0.6), Column("Chance", 0.2), Column("About", 0.2, True))
FINGERPRINT = 16  # of its 64 letters: enough to tell two quotes apart by eye
PAGE = 174.0  # millimetres between the margins of A4


def quote_paper(
    quote: Quote,
    result: Result,
    chain: Sequence[Consent],
    joint: Joint | None = None,
    ready_by: str | None = None,
    covering: str = "",
    whose: str = "",
) -> Paper:
    """The quote as offered, with what was answered, ready to be signed; `joint`: with what belongs to it; `ready_by`:
    the day (ISO) on which the work is to be ready, None where none was named; `covering`: the luthier's own words;
    `whose`: the customer and what the instrument bears, as they stand on their cards.
    """
    last = chain[-1] if chain else None
    blocks = [
        *covered(_opening(quote, result, last, whose), covering),
        *_lines(quote, last),
        *([] if last and quote.state in AGREED else _totals(quote)),
        *_agreed(quote, chain, joint),
        *together(joint),
        *_extras(quote),
        *_terms(quote),
        *_closing(quote, ready_by, last),
        *([] if last else _slip(quote, result, joint)),
    ]
    name, day = f"Quote {quote.number}", quote.made_on.isoformat()
    return Paper(name, letterhead(quote, result), name, tuple(blocks), day=day)


def letterhead(quote: Quote, result: Result) -> str:
    return "" if result.shop.is_default else quote.terms.shop


def who(quote: Quote, result: Result) -> list[Block]:
    """The workshop's address and tax number under its name; nothing where the figures are the default's."""
    terms = quote.terms
    lines = [*terms.contact, *([f"Tax number {terms.tax_number}"] if terms.tax_number else [])]
    return [Paragraph(" · ".join(lines), "soft")] if lines and not result.shop.is_default else []


def _opening(quote: Quote, result: Result, last: Consent | None, whose: str) -> list[Block]:
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
    blocks += [Paragraph(whose)] if whose else []
    blocks.append(Paragraph(made, "strong"))
    if quote.about:
        blocks.append(Paragraph(without_reach(quote.about)))
    if quote.state in ("draft", "superseded", "withdrawn"):
        blocks.append(Paragraph(STATE_SENTENCES[quote.state], "strong"))
    return blocks


def _lines(quote: Quote, last: Consent | None) -> list[Block]:
    answers = dict(last.answers) if last else {}
    blocks: list[Block] = []
    for group in GROUP_WORDS:
        lines = [line for line in quote.lines if line.group == group]
        rows = tuple(_row(quote, line, last, answers) for line in lines)
        blocks += [Heading(group_title(quote, group), 2), TableBlock(LINES, rows)] if rows else []
    return blocks


def _row(quote: Quote, line: QuoteLine, last: Consent | None, answers: Answers) -> tuple[Cell, Cell, Cell]:
    """A line with boxes before it is answered; after that with its answer, and a price only where it is agreed."""
    said = _said(quote, line, answers)
    if last is None:
        return said, "" if line.shared else OPEN, cents(shown(quote, line))
    stands = line.job in {one.job for one in standing(quote, answers)}
    word = ("with it" if stands else "not needed") if line.shared else answers.get(line.job, "")
    if word == "yes" and not stands:
        word = "not without what it goes with"
    return said, word, cents(shown(quote, line)) if stands else "–"


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
    notes = [
        "" if quote.belongs_to else note,
        level_sentence(quote, needed, quote.ceiling),
        deposit_terms(quote),
        prices_sentence(quote),
    ]
    title = f"{('One', 'Two', 'Three')[len(ways) - 1]} ways to agree" if len(ways) > 1 else "What it comes to"
    table = TableBlock(columns, tuple(rows), totals=1 + len(taxes))
    return [Together((Heading(title), table)), Paragraph(" ".join(one for one in notes if one))]


def _agreed(quote: Quote, chain: Sequence[Consent], joint: Joint | None) -> list[Block]:
    """What was answered; the ceiling of several quotes stands where they are together."""
    if not chain:
        return []
    last = chain[-1]
    found = totals(quote, standing(quote, dict(last.answers)))
    noted = f", noted by {last.noted_by}" if last.noted_by else ""
    said = f"{last.by}, {show.day(last.at.isoformat())}, {HOW[last.how]}{noted}."
    said += "" if joint else f" Ceiling: {cents(last.ceiling)}."
    blocks: list[Block] = [Heading("What was answered"), Paragraph(said, "strong")]
    if first_wrong(quote, chain) is not None:
        blocks.append(Paragraph("This record was changed after it was given. Do no work on it.", "strong"))
    if found.total.amount:
        blocks.append(_invoice(quote, found))
        due = deposit(quote, found.total)
        left = found.total - due
        blocks += (
            [Paragraph(f"Due before the work begins: {cents(due)}. Left when it is ready: {cents(left)}.")]
            if due.amount
            else []
        )
    return blocks


def together(joint: Joint | None) -> list[Block]:
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
            "\n".join([one.say, " ".join(text for text in (one.when, one.known, own_orders(one)) if text)]),
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
    blocks += _exclusions(quote)
    blocks += [Heading("Terms", 2), Listing(quote.terms.conditions)] if quote.terms.conditions else []
    return blocks


def _left(one: LeftOut) -> str:
    went = f" With it went: {', '.join(shortly(say) for say in one.with_it)}." if one.with_it else ""
    return f"{one.say}: “{one.reason}”{went}"


def _exclusions(quote: Quote) -> list[Block]:
    return [Heading("Not part of this offer", 2), Listing(quote.terms.exclusions)] if quote.terms.exclusions else []


def _closing(quote: Quote, ready_by: str | None, last: Consent | None) -> list[Block]:
    """Cautions, the day, the fingerprint, and room for signatures; of an agreed one instead who agreed and how."""
    cautions = tuple(dict.fromkeys(text for line in quote.lines for text in line.cautions))
    told: tuple[Block, ...] = (CautionBlock(cautions),) if cautions else ()
    made = Paragraph(f"Fingerprint of this quote: {quote.fingerprint()[:FINGERPRINT]}.", "soft")
    ready = [Paragraph(f"Ready by {show.day(ready_by)}.", "strong")] if ready_by else []
    signed: Block = Signature(("For the workshop", "Agreed by", "Place and date"))
    if last and quote.state in AGREED:
        given = f"{last.by}, {show.day(last.at.isoformat())}, {HOW[last.how]}"
        signed = Paragraph(f"Agreed by {given}: no signature is missing.")
    return [*told, Together((*ready, made, signed))]


def _slip(quote: Quote, result: Result, joint: Joint | None) -> list[Block]:
    """The part to cut off and send back, that says yes to what and up to how much: of a second quote, for all together,
    which is left open where what was set before no longer reaches.
    """
    title = result.title or "The instrument"
    most = cents(quote.ceiling)
    if joint:
        most = "________ for all together" if joint.is_beyond else f"{cents(joint.ceiling)} for all together"
    asked = f"Do the work that I ticked above. Ask me before {most} is passed."
    said = f"Quote {quote.number}, {title}. {asked}"
    slip = (
        Drawing(cut_here(PAGE)),
        Paragraph("To send back", "strong"),
        Paragraph(said),
        Listing(tuple(_short(quote, line) for line in quote.lines if not line.shared), fine=True),
        Signature(("Name", "Signature", "Date, and how to reach me")),
    )
    return [Together(slip)]


def _short(quote: Quote, line: QuoteLine) -> str:
    return f"{line.say}, {cents(shown(quote, line))}:  yes ____  no ____  later ____"
