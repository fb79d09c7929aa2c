"""What was found and what the person who looked said of it, what lies behind it, and what is still unknown."""

from collections.abc import Callable, Iterator, Sequence

from ...basis import show
from ...figures.mapping.map import Spot, mapped
from ...result.model.result import Result
from ...result.model.score import Answer, Cause, Finding
from ...wording.answer import purchase as risks
from ...wording.answer.first_screen import is_over
from ...wording.names import LEVELS, SEEN_BY
from ...wording.phrases import capital, ended, quoted, small
from ...wording.words import believed, expected_unseen, no_findings, signs_shortly, subject, title, unseen_shortly
from ..blocks import Beside, Block, Column, Drawing, Heading, Listing, Paragraph, TableBlock, Together

BESIDE_OUTLINE = 8  # rows that fit beside the drawing without leaving half a page empty
WIDE = 80.0  # millimetres; a wider map stands above its table
MAP = 0.8  # of the drawing's size: room for seventeen numbers in a column
NO_CURE = "No work cures it"
MOST_CAUSES = 3  # told on a paper: those that moved most
PURCHASE = (Column("As told", 0.76), Column("How it weighs", 0.24))
COLUMNS = (Column("", 0.07), Column("Finding", 0.56), Column("What cures it", 0.37))


def what_cures(item: Finding) -> str:
    """All that would cure a finding, or that nothing does."""
    cure = ", or ".join([*item.cures[:1], *map(small, item.cures[1:])])
    return NO_CURE if item.inherent or not cure else cure


def findings(
    result: Result, columns: tuple[Column, ...] = COLUMNS, answer: Callable[[Finding], str] = what_cures
) -> Sequence[Block]:
    """Every finding with what it means and what cures it, numbered on the outline and in the list alike."""
    found = believed(result)
    if not found:
        return [Heading("What was found"), Paragraph(no_findings(result))]
    spots = [Spot(number, item.check, item.part) for number, item in enumerate(found, 1)]
    drawn = mapped(spots, result.instrument.family, MAP)
    rows = tuple(_row(number, item, said_of(result, item.check), answer(item)) for number, item in enumerate(found, 1))
    if drawn is not None and drawn.width > WIDE:
        return [Together((Heading("What was found", room=0), Drawing(drawn))), TableBlock(columns, rows, numbered=True)]
    first, rest = rows[:BESIDE_OUTLINE], rows[BESIDE_OUTLINE:]
    table = TableBlock(columns, first, numbered=True)
    blocks: list[Block] = [Heading("What was found", room=0)]
    blocks.append(table if drawn is None else Beside(drawn, (table,)))
    told: list[Block] = [Together(tuple(blocks))]
    if rest:
        told.append(TableBlock(columns, rest, numbered=True))
    return told


def _row(number: int, item: Finding, said: str, answer: str) -> tuple[str, str, str]:
    meaning = f"\n{item.means}" if item.means else ""
    return (
        str(number),
        f"{title(item)} ({LEVELS[item.level]}){meaning}" + (f"\n{said}" if said else ""),
        answer,
    )


def said_of(result: Result, check: str) -> str:
    """The notes on a check, each with tool, how it was seen, by whom and when; empty where nothing was noted."""
    found = next((one for one in result.checks if one.check == check), None)
    return " ".join(_said(result, answer) for answer in found.observations).strip() if found else ""


def _said(result: Result, answer: Answer) -> str:
    told = [quoted(answer.note)] if answer.note.strip() else []
    seen = ", ".join(_how(result, answer))
    return " ".join([*told, *([ended(capital(seen))] if seen else [])])


def _how(result: Result, answer: Answer) -> Iterator[str]:
    """Tool, way of seeing where it is not that of the whole evaluation, who, and when."""
    if answer.tool:
        yield answer.tool.replace("_", " ")
    if answer.seen_by != result.seen_by:
        yield SEEN_BY[answer.seen_by]
    if answer.by:
        yield f"looked at by {answer.by}"
    if answer.at:
        yield show.day(answer.at)


def noted(result: Result) -> Sequence[Block]:
    """The notes that stand under no finding, so that none is lost."""
    told = {item.check for item in believed(result)}
    items = tuple(
        f"{subject(check)}: {said_of(result, check.check)}"
        for check in result.checks
        if check.check not in told and any(answer.note.strip() for answer in check.observations)
    )
    return [Heading("Noted besides", 2, room=26), Listing(items)] if items else []


def purchase(result: Result) -> Sequence[Block]:
    """What you risk by buying it there: no points and no finding of the instrument."""
    told = tuple(
        (f"{risks.title(one)}\n{one.means}" if one.means else risks.title(one), group.title)
        for group in risks.groups(result)
        if group.level != "open"
        for one in group.risks
    )
    if not told:
        return []
    open_ = [small(risks.subject(one)) for one in result.purchase if one.level == "open"]
    more = [Paragraph(f"Not asked yet: {', '.join(open_)}.", "soft")] if open_ and result.purpose != "quote" else []
    return [
        Heading(risks.TITLE, room=30),
        Paragraph(risks.INTRO, "soft"),
        TableBlock(PURCHASE, told),
        *more,
    ]


def causes(result: Result) -> Sequence[Block]:
    """What lies behind the signs, where the signs say something, and what they make likely elsewhere.

    What shows in the purchase alone (seller, terms) stands in its own section.
    """
    apart = {one.check for one in result.purchase}
    moved = [
        item
        for item in result.causes.values()
        if len(item.signs) > 1
        and abs(item.probability - item.prior) > 0.1  # one sign speaks for itself
        and not all(getattr(sign, "check", None) in apart for sign in item.signs)
    ]
    moved.sort(key=lambda item: -abs(item.probability - item.prior))
    told = tuple(_cause(item) for item in moved[:MOST_CAUSES])
    blocks: list[Block] = [Heading("What lies behind it", 2, room=26), Listing(told)] if told else []
    expected = expected_unseen(result)
    if expected:
        blocks += [
            Heading("Not looked at, but likely from these signs", 2, room=26),
            Paragraph(f"{capital('; '.join(map(small, expected)))}."),
        ]
    return blocks


def _cause(item: Cause) -> str:
    more = item.probability > item.prior
    share = item.probability if more else 1 - item.probability
    text = item.say if more else item.if_not
    return f"{capital(text)}: {show.chance(share)}. Signs: {signs_shortly(item.signs)}."


def not_looked_at(result: Result) -> Sequence[Block]:
    """What is still unknown, part by part."""
    unseen = unseen_shortly(result)
    if not unseen:
        return []
    return [Heading("Not looked at", room=30), Paragraph(" ".join(f"{line}." for line in unseen))]


def looks(result: Result) -> Sequence[Block]:
    """The looks worth taking next."""
    asked = tuple(f"{look.ask} ({show.minutes(look.minutes)})" for look in result.next_checks)
    if not asked or is_over(result):
        return []
    return [Together((Heading("Look at these next", 2, room=0), Listing(asked, numbered=True)))]


def questions(result: Result) -> Sequence[Block]:
    """What the seller can answer, numbered."""
    if not result.questions or is_over(result):
        return []
    return [Heading("Ask the seller", 2, room=26), Listing(tuple(result.questions), numbered=True)]
