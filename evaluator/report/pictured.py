"""What the dearest findings look like: a drawing of the fault beside how it should be, and the job that cures it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..drawings.model import Drawing
from ..drawings.svg import band
from .blocks import Block, Heading, Paragraph, Pictured, PicturedRow, Sheet, Together
from .costs import numbers_of
from .opening import Snapshot
from .words import capital, small

MOST = 5  # a page of a handbook, not the handbook


def pictured(snapshot: Snapshot) -> Sequence[Block]:
    """A row for each of the dearest jobs whose finding has a drawing of right and wrong; no drawing twice."""
    rows = tuple(_rows(snapshot))[:MOST]
    if not rows:
        return []
    first, *rest = rows
    note = Paragraph("Each drawing shows one fault of its kind; what was found stands beside it in words.", "soft")
    return [
        Together((Heading("What it looks like", room=0), note, Pictured((first,)))),
        *(Pictured((row,)) for row in rest),
    ]


def _rows(snapshot: Snapshot) -> Iterator[PicturedRow]:
    from ..drawings.registry import DRAWINGS  # late: two hundred sheets, and most papers show none

    checks = {check["check"]: check for check in snapshot["checks"]}
    titles = {item["check"]: item["title"] for item in snapshot["findings"]}
    numbers = numbers_of(snapshot)
    shown: set[str] = set()
    for line in sorted(snapshot["plan"]["lines"], key=lambda line: -float(line["mean"])):
        for check in line["cures"]:
            name = checks.get(check, {}).get("drawing")
            drawing = DRAWINGS.get(name or "")
            if check not in numbers or drawing is None or name in shown or not _teaches(drawing):
                continue
            shown.add(drawing.name)
            yield _row(numbers[check], titles[check], line, drawing)
            break


def _teaches(drawing: Drawing) -> bool:
    return {"right", "wrong"} <= {panel.judged for panel in drawing.panels}


def _row(number: int, title: str, line: Mapping[str, Any], drawing: Drawing) -> PicturedRow:
    panels = [next(panel for panel in drawing.panels if panel.judged == judged) for judged in ("right", "wrong")]
    drawn = [panel.shapes() for panel in panels]
    top, height = band(drawn)
    sheets = tuple(
        Sheet(shapes, top, height, capital(panel.judged or ""), panel.caption)
        for panel, shapes in zip(panels, drawn, strict=True)
    )
    cure = f"{capital(small(line['say']))}."
    return PicturedRow(number, title, cure, sheets)
