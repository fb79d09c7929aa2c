"""Which drawing shows a fault: the one that fits what was found, and none where it would show something else; and what
the dearest findings look like, each beside how it should be and the job that cures it.
"""

from collections.abc import Mapping, Sequence

from ...drawings.geometry.model import Drawing, Panel, band
from ...result.model.result import Result
from ...result.model.score import Check
from ...result.model.work import Line
from ...wording.phrases import capital, small
from ...wording.words import title
from ..blocks import Block, Heading, Paragraph, Pictured, PicturedRow, Sheet, Together
from .costs import numbers_of, times

MOST = 5  # a page of a handbook, not the handbook
FEWEST = 4  # up to here, a job may show a second finding
NOTE = "These drawings show the kind of fault, not yours, which may be smaller or in another place."
Pick = tuple[str, Line, Drawing]  # check, line of the plan, its drawing


def pictured(result: Result) -> Sequence[Block]:
    """A row for each of the dearest jobs whose finding has a drawing that shows it, in the order of the findings."""
    numbers = numbers_of(result)
    picked = sorted(_picked(result, numbers), key=lambda pick: numbers[pick[0]])
    if not picked:
        return []
    first, *rest = (_row(result, pick, numbers) for pick in picked)
    shapes = "" if result.instrument.family in {"violin", "bow"} else " The shapes are a violin's."
    return [
        Together((Heading("What it looks like", room=0), Paragraph(NOTE + shapes, "soft"), Pictured((first,)))),
        *(Pictured((row,)) for row in rest),
    ]


def _picked(result: Result, numbers: Mapping[str, int]) -> list[Pick]:
    """The weightiest finding of each job, the dearest jobs first; then further ones while there are few."""
    firsts: list[Pick] = []
    further: list[Pick] = []
    for line in sorted(result.plan.lines, key=lambda line: -float(line.mean)):
        found = _drawn(result, line, numbers, {drawing.name for _, _, drawing in (*firsts, *further)})
        firsts += found[:1]
        further += found[1:]
    return [*firsts[:MOST], *further[: max(0, FEWEST - len(firsts))]]


def _drawn(result: Result, line: Line, numbers: Mapping[str, int], shown: set[str]) -> list[Pick]:
    """The findings that a job cures and a drawing shows, the weightiest first; no drawing twice."""
    from ...drawings.registry import DRAWINGS  # late: two hundred sheets, and most papers show none

    checks = {check.check: check for check in result.checks}
    outcomes = {item.check: item.outcome for item in result.findings}
    found: dict[str, Pick] = {}
    for check in sorted(set(line.cures) & set(numbers), key=numbers.__getitem__):
        drawing = likeness(DRAWINGS, checks.get(check), outcomes[check])
        if drawing is not None and drawing.name not in shown:
            found.setdefault(drawing.name, (check, line, drawing))
    return list(found.values())


def _row(result: Result, pick: Pick, numbers: Mapping[str, int]) -> PicturedRow:
    check, line, drawing = pick
    panels = panels_of(drawing)
    drawn = [panel.shapes() for panel in panels]
    top, height = band(drawn)
    sheets = tuple(
        Sheet(shapes, top, height, capital(panel.judged or ""), panel.caption)
        for panel, shapes in zip(panels, drawn, strict=True)
    )
    named = next(title(item) for item in result.findings if item.check == check)
    also = sorted(numbers[other] for other in line.cures if other in numbers and other != check)
    return PicturedRow(numbers[check], named, _cure(line, also), sheets)


def _cure(line: Line, also: Sequence[int]) -> str:
    """'What cures it: fit a new bridge. That cures 4, 5 and 9 too.'"""
    told = f"What cures it: {small(times(line))}."
    if not also:
        return told
    *most, last = map(str, also)
    return f"{told} That cures {', '.join(most)} and {last} too." if most else f"{told} That cures {last} too."


def likeness(drawings: Mapping[str, Drawing], check: Check | None, outcome: str) -> Drawing | None:
    """The drawing that shows this outcome, as the rubric says; where it says nothing, the check's own one, if it has a
    wrong side.

    So a shop's own check is drawn as it asks for; a drawing that only says where to measure is for its card alone.
    """
    if check is None or not check.drawing:
        return None
    if check.likeness is not None:
        return drawings.get(check.likeness.drawing) if outcome in check.likeness.outcomes else None
    drawing = drawings.get(check.drawing)
    return drawing if drawing and any(panel.judged == "wrong" for panel in drawing.panels) else None


def panels_of(drawing: Drawing) -> tuple[Panel, ...]:
    """What to print: right (else what to look for) beside wrong; the first panel where nothing is wrong on any."""
    wrong = next((panel for panel in drawing.panels if panel.judged == "wrong"), None)
    if wrong is None:
        return drawing.panels[:1]
    beside = next((panel for judged in ("right", None) for panel in drawing.panels if panel.judged == judged), None)
    return (wrong,) if beside is None else (beside, wrong)
