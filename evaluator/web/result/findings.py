"""A result's findings, readings and first reasons (with their small drawing, or the photo of what was seen) in the
order in which a page shows them; no figure is computed here.
"""

from dataclasses import dataclass

from ...basis import show
from ...drawings.registry import DRAWINGS
from ...papers.sections.pictured import likeness
from ...result.model.result import Result
from ...result.model.score import Check, Finding, Measured
from ...rubric.rubric import Rubric
from ...wording.answer.first_screen import Seen, first_reasons
from ...wording.phrases import small
from ...wording.words import believed, recorded, subject

REAL_CHANCE = 0.2


@dataclass(frozen=True, slots=True)
class Found:
    """A finding with its number on the outline and what was recorded for its check."""

    number: int
    item: Finding
    check: Check | None


@dataclass(frozen=True, slots=True)
class Group:
    """Findings under one heading; `later` ones are folded away until somebody asks."""

    title: str
    text: str
    found: tuple[Found, ...]
    later: bool = False


def found_groups(result: Result) -> tuple[Group, ...]:
    """What was found, by what can be done about it: not to be mended, needed, can wait. Empty groups are left out."""
    checks = {check.check: check for check in result.checks}
    rows = [Found(number, item, checks.get(item.check)) for number, item in enumerate(believed(result), start=1)]
    fixed = tuple(row for row in rows if row.item.inherent or not row.item.cures)
    needed = tuple(row for row in rows if row not in fixed and row.item.required)
    later = tuple(row for row in rows if row not in fixed and not row.item.required)
    groups = (
        Group("Needs work", "Below the standard it is held to. The price below counts it.", needed),
        Group("Cannot be mended", "It came so, or stays so. It is part of what the instrument is.", fixed),
        Group("Can wait", "Worth mending, but it plays without.", later, later=True),
    )
    return tuple(group for group in groups if group.found)


@dataclass(frozen=True, slots=True)
class Good:
    """Something seen that is as it should be: 'Soundpost: it stands'."""

    check: str
    text: str


def good_seen(result: Result, rubric: Rubric) -> tuple[Good, ...]:
    """What was seen and is as it should be, what weighs most first. Papers are no part of how good an instrument is."""
    found = [check for check in result.checks if check.observations and check.part != "papers"]
    told = ((check, _good_words(result, check, rubric)) for check in sorted(found, key=lambda one: -one.why.share))
    return tuple(Good(check.check, f"{subject(check)}: {text}") for check, text in told if text)


def _good_words(result: Result, check: Check, rubric: Rubric) -> str:
    """How it is, in words; empty where it is not surely as it should be."""
    measured = result.conformity.get(check.check)
    if measured is not None:
        text = show.doubtful(measured.value, measured.standard_uncertainty, measured.unit)
        return f"{text}, as the standard wants" if measured.statement == "meets" else ""
    own = rubric.checks.get(check.check)
    answer = check.observations[-1]
    outcome = own.outcomes.get(answer.outcome or "") if own else None
    if outcome is None or outcome.class_ != "sound" or check.clash or check.postponed:
        return ""
    return small(recorded(answer))


def stops(result: Result) -> tuple[Finding, ...]:
    """The disqualifying findings that were seen, or that have a real chance; the rest any instrument may have."""
    return tuple(one for one in result.disqualifying if one.seen or one.probability >= REAL_CHANCE)


def readings_in_two(result: Result) -> tuple[tuple[Measured, ...], tuple[Measured, ...]]:
    """Readings that may not meet their standard, the surest first; and those that meet it."""
    items = sorted(result.conformity.values(), key=lambda item: float(item.probability))
    good = tuple(item for item in result.conformity.values() if item.statement == "meets")
    return tuple(item for item in items if item.statement != "meets"), good


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
