"""The condition report: what was seen, part by part, good or not, in the words of whoever looked, and what changed
since an earlier look; no advice, no price.

Head, circumstances, then findings by part, structure and measures, what was not seen, signature: the order of Spectrum
5.0, Condition checking (Collections Trust, 2017), read in an excerpt; the parts are the rubric's, from memory.
"""

from collections.abc import Iterator, Sequence

from ...basis import show
from ...figures.mapping.map import Spot, mapped
from ...result.model.result import Result
from ...result.model.score import Check, Finding
from ...wording.answer.purchase import GROUPS
from ...wording.names import SEEN_BY, STATEMENTS
from ...wording.phrases import small
from ...wording.words import believed, recorded, subject, unseen_shortly
from ..blocks import Block, CautionBlock, Column, Drawing, Heading, Paragraph, Signature, TableBlock, Together
from ..readers import Issued
from .condition import said_of

COLUMNS = (Column("", 0.06), Column("Looked at", 0.24), Column("As found", 0.5), Column("State", 0.2))
ORDER = (
    "Order of this report after Spectrum 5.0, Condition checking (Collections Trust, 2017), read in an excerpt; "
    "the parts from memory. Numbers are those of the map."
)
MAP = 0.8  # of the drawing's size
SOUND = 0.95  # an answer that counts so much or more has nothing to report
# What belongs to a sale and not to an instrument's condition, and what tells of an earlier hand: by check.
OF_THE_SALE = frozenset({
    "seller_type", "return_terms", "trial_period", "stated_specifications", "photo_evidence_set", "size_fit", "bow_fit",
})  # fmt: skip
OF_A_REPAIR = frozenset({
    "neck_break_repair", "peg_wear_bushings", "scroll_graft", "earlier_repair_quality", "cleats_and_patches",
    "opened_before", "varnish_overcoat", "bow_frog_original", "bow_mountings",
})  # fmt: skip
NOT_LOOKED_AT = "not looked at"


def circumstances(result: Result) -> Sequence[Block]:
    """How it was looked at, and how much."""
    seen = sum(1 for check in result.checks if check.seen)
    text = f"Looked at {SEEN_BY[result.seen_by]} unless a line says otherwise; {seen} of {len(result.checks)} checks."
    return [Paragraph(f"{text} What was found stands beside what is good, so that both can be compared another day.")]


def numbers(result: Result) -> dict[str, int]:
    """The number of each finding, in the order of the report: by part, earlier repairs last."""
    found = {item.check for item in believed(result)}
    told = [check.check for checks in _groups(result).values() for check in checks if check.check in found]
    return {check: number for number, check in enumerate(told, 1)}


def by_part(result: Result) -> Sequence[Block]:
    """The map of the findings, and a table for each part of which anything was seen; earlier repairs stand apart."""
    groups = _groups(result)
    if not groups:
        return [Paragraph("Nothing has been looked at yet.")]
    found = {item.check: item for item in believed(result)}
    told = numbers(result)
    drawn, heading = _map(result, told), Heading("Part by part", room=60)
    blocks: list[Block] = [Together((heading, *drawn))] if drawn else [heading]
    for say, checks in groups.items():
        rows = tuple(_row(result, check, told, found.get(check.check)) for check in checks)
        blocks += [Heading(say, 2, room=30), TableBlock(COLUMNS, rows, numbered=True)]
    return blocks


def _map(result: Result, told: dict[str, int]) -> Sequence[Block]:
    parts = {check.check: check.part for check in result.checks}
    spots = [Spot(number, check, parts[check]) for check, number in told.items()]
    drawn = mapped(spots, result.instrument.family, MAP)
    return [Drawing(drawn)] if drawn is not None else []


def _groups(result: Result) -> dict[str, tuple[Check, ...]]:
    """What was looked at, by part in words; what an earlier hand did apart from what is so now."""
    seen = [one for one in result.checks if one.observations and one.check not in OF_THE_SALE]
    groups = {
        part.say: tuple(one for one in seen if one.part == part.part and one.check not in OF_A_REPAIR)
        for part in result.parts
    }
    groups["Earlier repairs, and parts that were changed"] = tuple(one for one in seen if one.check in OF_A_REPAIR)
    return {say: checks for say, checks in groups.items() if checks}


def _row(result: Result, check: Check, told: dict[str, int], finding: Finding | None) -> tuple[str, str, str, str]:
    recorded_ = recorded_of(check)
    said = said_of(result, check.check)
    number = told.get(check.check)
    found = f"{recorded_}\n{said}" if said else recorded_
    return str(number or ""), subject(check), found, _state(result, check, finding)


def recorded_of(check: Check) -> str:
    """All that was recorded for a check, as it was recorded."""
    return "; ".join(dict.fromkeys(recorded(answer) for answer in check.observations))


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
        return "good" if _counts(check) >= SOUND else "worn or slight, serves"
    return "part of its making" if finding.inherent else "not as it should be"


def _counts(check: Check) -> float:
    """What the answer counts, 0 to 1: the lowest, where several were given; the belief's where none says."""
    answered = {answer.outcome for answer in check.observations}
    told = [one.counts for one in check.belief if one.outcome in answered and one.counts is not None]
    return min(told, default=check.worth)


def not_seen(result: Result) -> Sequence[Block]:
    """What nobody has looked at, part by part."""
    lines = unseen_shortly(result)
    return [Heading("Not seen", room=30), Paragraph(" ".join(f"{line}." for line in lines))] if lines else []


def filed(result: Result) -> Sequence[Block]:
    """Order, what the report is no proof of, and the signature, on one page."""
    cautions: list[Block] = [CautionBlock(tuple(result.cautions[-1:]))] if result.cautions else []
    made = f"{ORDER} Rubric {result.rubric.title} {result.rubric.version} ({result.rubric.hash[:12]})."
    return [Together((*cautions, Paragraph(made, "soft"), Signature(("Looked at by", "Place and date"))))]


def since(result: Result, issued: Issued | None) -> Sequence[Block]:
    """A row for each answer that is another one now; a sentence where none is. Nothing without an earlier look."""
    if issued is None or issued.before is None:
        return []
    day, before = issued.before
    said = f"Since {show.day(day)}"
    rows = tuple(_rows(before, result))
    if not rows:
        return [Heading(said, 2, room=30), Paragraph("Every answer is the same as then.")]
    columns = (Column("Looked at", 0.26), Column(f"On {show.day(day)}", 0.37), Column("Now", 0.37))
    return [Heading(said, 2, room=30), TableBlock(columns, rows)]


def _rows(before: Result, now: Result) -> Iterator[tuple[str, str, str]]:
    then = {check.check: check for check in before.checks if check.observations}
    for check in now.checks:
        if check.check in OF_THE_SALE:
            continue
        was, is_ = _told(then.get(check.check)), _told(check if check.observations else None)
        if was != is_:
            yield subject(check), was, is_


def _told(check: Check | None) -> str:
    return recorded_of(check) if check is not None else NOT_LOOKED_AT
