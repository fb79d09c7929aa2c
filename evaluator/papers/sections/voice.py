"""What the person who looked said and how they saw it, in their own words: under its finding, or else in a list."""

from collections.abc import Iterator, Sequence

from ...basis import show
from ...result.model.result import Result
from ...result.model.score import Answer
from ...wording.names import SEEN_BY
from ...wording.phrases import capital, ended, quoted
from ...wording.words import believed, subject
from ..blocks import Block, Heading, Listing


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
