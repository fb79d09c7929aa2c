"""The condition report: what was seen, part by part, good or not, in the words of whoever looked; no advice, no price.

Head, circumstances, then findings by part, structure and measures, what was not seen, signature: the order of
Spectrum 5.0, Condition checking (Collections Trust, 2017), read in an excerpt; the parts are the rubric's, from memory.
"""

from collections.abc import Iterator, Sequence

from ....result.model.result import Result
from ....result.model.score import Check, Finding
from ....wording.answer.purchase import GROUPS
from ....wording.names import SEEN_BY, STATEMENTS
from ....wording.phrases import small
from ....wording.words import believed, recorded, subject, unseen_shortly
from ...blocks import Block, CautionBlock, Column, Heading, Paragraph, Signature, TableBlock, Together
from ..voice import said_of

COLUMNS = (Column("Looked at", 0.26), Column("As found", 0.54), Column("State", 0.2))
ORDER = (
    "Order of this report after Spectrum 5.0, Condition checking (Collections Trust, 2017), read in an excerpt; "
    "the parts from memory."
)


def circumstances(result: Result) -> Sequence[Block]:
    """How it was looked at, and how much."""
    seen = sum(1 for check in result.checks if check.seen)
    text = f"Looked at {SEEN_BY[result.seen_by]} unless a line says otherwise; {seen} of {len(result.checks)} checks."
    return [Paragraph(f"{text} What was found stands beside what is good, so that both can be compared another day.")]


def by_part(result: Result) -> Sequence[Block]:
    """A table for each part of which anything was seen."""
    found = {item.check: item for item in believed(result)}
    blocks: list[Block] = []
    for part in result.parts:
        rows = tuple(_rows(result, part.part, found))
        if rows:
            blocks += [Heading(part.say, 2, room=30), TableBlock(COLUMNS, rows)]
    return [Heading("Part by part"), *blocks] if blocks else [Paragraph("Nothing has been looked at yet.")]


def _rows(result: Result, part: str, found: dict[str, Finding]) -> Iterator[tuple[str, str, str]]:
    for check in result.checks:
        if check.part == part and check.observations:
            told = "; ".join(dict.fromkeys(recorded(answer) for answer in check.observations))
            said = said_of(result, check.check)
            yield subject(check), f"{told}\n{said}" if said else told, _state(result, check, found.get(check.check))


def _state(result: Result, check: Check, finding: Finding | None) -> str:
    """A few words, the same for every row of a kind; of a reading what the table of measures says of it."""
    risk = next((one for one in result.purchase if one.check == check.check), None)
    if risk is not None and risk.level != "open":
        return small(GROUPS[risk.level])
    if check.clash:
        return "answers differ"
    if check.postponed:
        return "to be judged again"
    if not check.seen:
        return "could not be told"
    if check.check in result.conformity:
        return STATEMENTS[result.conformity[check.check].statement].line
    if finding is None:
        return "no fault seen"
    return "part of its making" if finding.inherent else "not as it should be"


def not_seen(result: Result) -> Sequence[Block]:
    """What nobody has looked at, part by part."""
    lines = unseen_shortly(result)
    return [Heading("Not seen", room=25), Paragraph(" ".join(f"{line}." for line in lines))] if lines else []


def filed(result: Result) -> Sequence[Block]:
    """Order, what the report is no proof of, and the signature, on one page."""
    cautions: list[Block] = [CautionBlock(tuple(result.cautions[-1:]))] if result.cautions else []
    made = f"{ORDER} Rubric {result.rubric.title} {result.rubric.version} ({result.rubric.hash[:12]})."
    return [Together((*cautions, Paragraph(made, "soft"), Signature(("Looked at by", "Place and date"))))]
