"""The looks of a visit on paper, to print and take along: what to ask, a drawing, boxes to tick, and room to write."""

from collections.abc import Callable, Sequence
from itertools import takewhile

from ..basis import show
from ..drawings.geometry.model import band
from ..rubric.glossary import Glossary
from ..rubric.rubric import Rubric
from ..rubric.written.checks import Check
from ..wording.phrases import capital
from .blocks import Block, CautionBlock, Heading, Paper, Paragraph, Sheet, Signature, TakenLook, Together
from .sections.pictured import panels_of

MOST_HOW = 2  # lines on how to look; the rest is on the page
TITLE = "Looks to take along"
REST = (Heading("Then the rest", 2, room=60),)


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
        *_told(rubric, checks, lambda number, check: _look(number, check, glossary, standard(check))),
        Together((Heading("What else you saw", 2, room=0), *([Signature(("",))] * 3))),
        Signature(("Looked at by", "Place and date", "Price asked")),
    ]
    return Paper(TITLE, "", f"{name or rubric.title}", tuple(blocks))


def _told(rubric: Rubric, checks: Sequence[Check], look: Callable[[int, Check], Block]) -> Sequence[Block]:
    """The looks with their numbers, each caution before the first that it is for; what must be seen to be safe stands
    under its own heading, with the words why."""
    safety = rubric.safety
    numbered = tuple(enumerate(checks, 1))
    first = tuple(takewhile(lambda one: one[1].check in rubric.safety_checks, numbered))
    rest = numbered[len(first) :]
    said: set[str] = set()
    blocks: list[Block] = []
    for part, opening in ((first, _opening(safety.say, safety.intro) if safety else []), (rest, REST if first else ())):
        if part:
            blocks += [*opening, *_cautions(rubric, [check for _, check in part], said)]
            blocks += [look(number, check) for number, check in part]
    return blocks


def _opening(say: str, intro: str | None) -> Sequence[Block]:
    return [Heading(say, 2, room=60), *([Paragraph(intro)] if intro else [])]


def _cautions(rubric: Rubric, checks: Sequence[Check], said: set[str]) -> Sequence[Block]:
    """Every caution of these looks that was not said before."""
    texts = [text for check in checks for text in rubric.caution_texts(check)]
    fresh = tuple(text for text in dict.fromkeys(texts) if text not in said)
    said.update(fresh)
    return [CautionBlock(fresh)] if fresh else []


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
    from ..drawings.registry import DRAWINGS

    panels = panels_of(DRAWINGS[check.drawing])
    drawn = [panel.shapes() for panel in panels]
    top, height = band(drawn)
    return tuple(
        Sheet(shapes, top, height, capital(panel.judged or ""), panel.caption)
        for panel, shapes in zip(panels, drawn, strict=True)
    )
