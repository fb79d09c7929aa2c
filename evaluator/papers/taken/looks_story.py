"""The looks of a visit on paper, to print and take along: what to ask, a drawing, boxes to tick, and room to write."""

from collections.abc import Callable, Sequence

from ...basis import show
from ...drawings.svg import band
from ...rubric.glossary.model import Glossary
from ...rubric.model import Check
from ...rubric.rubric import Rubric
from ...wording.phrases import capital
from ..blocks import Block, CautionBlock, Heading, Paper, Paragraph, Sheet, Signature, TakenLook, Together
from ..sections.likeness import panels_of

MOST_HOW = 2  # lines on how to look; the rest is on the page
TITLE = "Looks to take along"


def looks_paper(
    rubric: Rubric,
    checks: Sequence[Check],
    *,
    name: str,
    glossary: Glossary,
    standard: Callable[[Check], str | None],
) -> Paper:
    """The checks in their order, each with what its word of the trade means and what a reading is held to."""
    minutes = show.minutes(sum(check.minutes for check in checks))
    asked = "1 look" if len(checks) == 1 else f"{len(checks)} looks"
    blocks: list[Block] = [
        Heading(name or f"{rubric.title} without a name"),
        Paragraph(
            f"{asked}, {minutes}. Tick one box a line; what you cannot tell, tick so. Type it in afterwards.", "soft"
        ),
        *_before(rubric, checks),
        *(_look(number, check, glossary, standard(check)) for number, check in enumerate(checks, 1)),
        Together((Heading("What else you saw", 2, room=0), *([Signature(("",))] * 3))),
        Signature(("Looked at by", "Place and date", "Price asked")),
    ]
    return Paper(TITLE, "", f"{name or rubric.title}", tuple(blocks))


def _before(rubric: Rubric, checks: Sequence[Check]) -> Sequence[Block]:
    """Every caution of the looks, once, before the first of them."""
    texts = dict.fromkeys(text for check in checks for text in rubric.caution_texts(check))
    return [CautionBlock(tuple(texts))] if texts else []


def _look(number: int, check: Check, glossary: Glossary, standard: str | None) -> TakenLook:
    word = glossary.called(check.term) if check.term else None
    choices = (*(outcome.say for outcome in check.outcomes.values()), "Cannot tell")
    return TakenLook(
        number=number,
        ask=check.ask,
        term=check.term or "",
        means=word.means if word else "",
        how=tuple(check.how[:MOST_HOW]),
        choices=choices if check.kind == "choice" else ("Cannot tell",),
        reading=_reading(check, standard),
        sheets=_sheets(check),
    )


def _reading(check: Check, standard: str | None) -> str:
    """What stands behind the line for a reading; empty where nothing is measured, counted or marked."""
    if check.measure:
        return f"{check.measure.unit}{f' (usual: {standard})' if standard else ''}"
    if check.kind == "count":
        return "how many"
    if check.rate:
        return f"a mark, {check.rate.lowest} ({check.rate.low_means}) to {check.rate.highest} ({check.rate.high_means})"
    return ""


def _sheets(check: Check) -> tuple[Sheet, ...]:
    if not check.drawing:
        return ()
    from ...drawings.registry import DRAWINGS  # late: two hundred sheets, and most papers show none

    panels = panels_of(DRAWINGS[check.drawing])
    drawn = [panel.shapes() for panel in panels]
    top, height = band(drawn)
    return tuple(
        Sheet(shapes, top, height, capital(panel.judged or ""), panel.caption)
        for panel, shapes in zip(panels, drawn, strict=True)
    )
