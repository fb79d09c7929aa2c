"""What changed since an earlier look at the same instrument, answer by answer: for who files one report a year."""

from collections.abc import Iterator, Sequence

from ....basis import show
from ....result.model.result import Result
from ....result.model.score import Check
from ....wording.words import subject
from ...blocks import Block, Column, Heading, Paragraph, TableBlock
from ...readers import Issued
from .by_part import OF_THE_SALE, recorded_of

NOT_LOOKED_AT = "not looked at"


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
