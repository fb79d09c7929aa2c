"""The first screen of a result: the reasons with their small drawing or the photo of what was seen."""

from dataclasses import dataclass

from ...drawings.registry import DRAWINGS
from ...papers.sections.likeness import likeness
from ...result.model.result import Result
from ...wording.answer.first_screen import Seen, first_reasons


@dataclass(frozen=True, slots=True)
class Shown:
    """A reason with the address of its picture and what is on it; both empty where nothing shows it."""

    text: str
    picture: str
    alt: str


def shown_reasons(result: Result) -> tuple[Shown, ...]:
    return tuple(_shown(result, one) for one in first_reasons(result))


def _shown(result: Result, one: Seen) -> Shown:
    if one.photos:
        return Shown(one.text, f"/photos/{one.photos[0]}.jpg", "The photo that was taken of it.")
    check = next((check for check in result.checks if check.check == one.check), None)
    own = check.drawing if check and check.drawing else ""
    drawing = likeness(DRAWINGS, check, one.outcome or "") if not one.good else DRAWINGS.get(own)
    wanted = "right" if one.good else "wrong"
    for number, panel in enumerate(drawing.panels if drawing else ()):
        if drawing and panel.judged == wanted:
            return Shown(one.text, f"/drawings/{drawing.name}-{number}.svg", panel.caption)
    return Shown(one.text, "", "")
