"""The paper that goes home with the instrument: what was done, before and after side by side, and the next service."""

from datetime import date

from ..basis import show
from ..basis.units import METRIC, ShownUnits
from ..quoting.consent import Consent
from ..quoting.quote import Quote
from ..quoting.readings import told
from ..quoting.supplement import Joint
from ..quoting.work_order import WorkOrder
from ..result.model.result import Result
from ..wording.quotes import cents, together_rows
from ..wording.words import instrument_line
from .before_after import Became, BeforeAfter, score_figure
from .blocks import Block, Column, Drawing, Heading, Lead, Listing, Paper, Paragraph, Signature, TableBlock, Together
from .sections.frame import WIDE

BECAME_WORDS: dict[Became, str] = {"gone": "Gone", "left": "Still there", "new": "New", "open": "Not looked at again"}
PAIRS = (Column("Before", 0.62), Column("After", 0.38))
READINGS = (Column("Reading, and its standard", 0.4), Column("Before", 0.3), Column("After", 0.3))
READ = (Column("Measure, and where", 0.5), Column("As found", 0.25), Column("After", 0.25))
DONE = (Column("What was done", 0.55), Column("Parts used", 0.45))


def after_paper(
    order: WorkOrder,
    quote: Quote,
    result: Result,
    agreed: Consent,
    joint: Joint | None,
    found: BeforeAfter | None,
    done_on: str,
    service_on: date,
    units: ShownUnits = METRIC,
) -> Paper:
    """For the owner: jobs and parts, what changed, and when to come again. Without `found` nobody has looked again."""
    title = result.title or "Your instrument"
    blocks: list[Block] = [
        Lead(lead_sentence(title, found)),
        Paragraph(instrument_line(result)),
        Paragraph(f"Quote {quote.number}, agreed by {agreed.by}; the work was done on {show.day(done_on)}.", "strong"),
        TableBlock(DONE, tuple((task.say, task.parts_used or ", ".join(task.parts)) for task in order.tasks)),
        *(_changed(found) if found else ()),
        *_read_at_the_bench(order, units),
        *_money(agreed, joint),
        Heading("Next service", 2),
        Paragraph(f"About {show.day(service_on.isoformat())}, or sooner if it is played much."),
        Together((Signature(("For the workshop", "Received by", "Date")),)),
    ]
    letterhead = "" if result.shop.is_default else quote.terms.shop
    return Paper(f"What was done, quote {quote.number}", letterhead, f"Quote {quote.number}", tuple(blocks))


def lead_sentence(title: str, found: BeforeAfter | None) -> str:
    """The score before and after, where somebody has looked again."""
    if found is None:
        return f"{title}: the work is done."
    before, after = (f"{expected:.0f}" for expected, _, _ in found.scores)
    return f"{title}: score {before} before the work, {after} after it."


def _changed(found: BeforeAfter) -> list[Block]:
    """What went, what is new and what waits as pairs; what is still there as a list."""
    pairs = [pair for pair in found.findings if pair.became != "left"]
    left = tuple(pair.after for pair in found.findings if pair.became == "left" and pair.after)
    rows = tuple((pair.before or "Not found", _became(pair.became, pair.after)) for pair in pairs)
    blocks: list[Block] = [Together((Heading("Before and after"), Drawing(score_figure(found, WIDE))))]
    blocks += [TableBlock(PAIRS, rows)] if rows else []
    blocks += [Heading("Still there, or part of how it was made", 2), Listing(left)] if left else []
    readings = tuple(
        ("\n".join((one.subject, one.standard)), one.before or "not taken", one.after or "not taken")
        for one in found.readings
    )
    blocks += [Heading("Readings", 2), TableBlock(READINGS, readings)] if readings else []
    return blocks


def _read_at_the_bench(order: WorkOrder, units: ShownUnits) -> list[Block]:
    """What was measured before and after the work, beside the looks."""
    rows = tuple(
        (
            "\n".join((one.say, one.place)),
            told(one.found, one.unit, units) or "not taken",
            told(one.after, one.unit, units) or "not taken",
        )
        for one in order.readings
    )
    return [Heading("Measured at the bench", 2), TableBlock(READ, rows)] if rows else []


def _became(became: Became, after: str | None) -> str:
    return f"{BECAME_WORDS[became]}\n{after}" if after else BECAME_WORDS[became]


def _money(agreed: Consent, joint: Joint | None) -> list[Block]:
    """What was agreed; the invoice says what is due."""
    rows = together_rows(joint) if joint and joint.more else (("Agreed", cents(agreed.total)),)
    return [TableBlock((Column("What was agreed", 0.75), Column("", 0.25, True)), rows, totals=1)]
