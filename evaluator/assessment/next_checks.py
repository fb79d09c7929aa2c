"""What to look at next, what to do with ten minutes, what to ask the seller, and which photos to ask for."""

from collections.abc import Sequence
from dataclasses import dataclass

from ..rubric.model import Channel, Check, Looker
from ..rubric.rubric import Rubric
from .information import MONEY, POINTS, Gain, Stakes, can_look, gains, open_checks, ranked
from .model import Assessment, Case, NextCheck

__all__ = [
    "NextCheck",
    "PhotoWish",
    "Question",
    "Stakes",
    "next_checks",
    "photos_to_ask_for",
    "questions_for_seller",
    "visit",
]

MOST_QUESTIONS = 8
MOST_PHOTOS = 8
# Measuring asks for a still instrument and a fresh eye; cracks are looked for with the light low and the hand steady;
# sound comes last, because whoever has heard it looks less hard. Common practice, no source.
LOOKED_AT_LATE = ("cracks", "inside")
HEARD = ("sound", "bow_play")


@dataclass(frozen=True, slots=True)
class Question:
    """One question for the seller, ready to be sent, and the check that it answers."""

    check: str
    text: str


@dataclass(frozen=True, slots=True)
class PhotoWish:
    """One photo to ask for and the checks that it would show."""

    text: str
    checks: tuple[str, ...]


def next_checks(
    rubric: Rubric,
    case: Case,
    assessment: Assessment,
    stakes: Stakes | None,
    looker: Looker,
    channel: Channel,
    count: int = 3,
) -> tuple[NextCheck, ...]:
    """The looks worth most by the minute for this person and way of seeing; fewer than `count` when fewer are open."""
    names = [name for name in open_checks(rubric, assessment) if can_look(rubric.checks[name], looker, channel)]
    best = ranked(gains(rubric, case, assessment, stakes, channel, names))
    return tuple(shown_as(gain, stakes) for gain in best[:count])


def shown_as(gain: Gain, stakes: Stakes | None) -> NextCheck:
    """The record of a look, its gain in money where it can turn the decision."""
    if gain.disqualifying >= 0.01:
        why = f"It may show a reason to walk away (about {gain.disqualifying:.0%})."
    elif gain.money > 0:
        why = "What it shows may turn the decision."
    else:
        why = "It narrows the range of the score much for its time."
    by_money = stakes is not None and gain.money > 0
    return NextCheck(
        gain.check, gain.minutes, gain.money if by_money else gain.points, MONEY if by_money else POINTS, why
    )


def visit(
    rubric: Rubric,
    case: Case,
    assessment: Assessment,
    stakes: Stakes | None = None,
    minutes: float = 10.0,
    looker: Looker | None = None,
) -> tuple[NextCheck, ...]:
    """The looks that are worth most in this many minutes in person, in the order to take them.

    Chosen by gain per minute while they fit; ordered geometry before cracks, looks before sound, by part within these.
    """
    who = looker or case.looker
    names = [name for name in open_checks(rubric, assessment) if can_look(rubric.checks[name], who, "in_person")]
    chosen: list[Gain] = []
    left = minutes
    for gain in ranked(gains(rubric, case, assessment, stakes, "in_person", names)):
        if gain.minutes <= left:
            chosen.append(gain)
            left -= gain.minutes
    parts = {part: place for place, part in enumerate(rubric.parts)}
    order = {name: place for place, name in enumerate(rubric.checks)}

    def place(gain: Gain) -> tuple[int, int, int]:
        check = rubric.checks[gain.check]
        return phase(check), parts.get(check.part, len(parts)), order[gain.check]

    return tuple(shown_as(gain, stakes) for gain in sorted(chosen, key=place))


def phase(check: Check) -> int:
    """0 geometry (measured or counted), 1 looks, 2 cracks and the inside, 3 sound."""
    if check.part in HEARD:
        return 3
    if check.part in LOOKED_AT_LATE:
        return 2
    return 0 if check.kind in {"measure", "count"} else 1


def questions_for_seller(
    rubric: Rubric, case: Case, assessment: Assessment, stakes: Stakes | None = None, count: int = MOST_QUESTIONS
) -> tuple[Question, ...]:
    """What the person cannot see, as questions for the seller, those worth most first.

    A check with a question of its own is asked wherever it is open; another only where this person cannot do it here.
    """
    names = [name for name in open_checks(rubric, assessment) if _is_for_seller(rubric.checks[name], case)]
    found = ranked(gains(rubric, case, assessment, stakes, "seller_statement", names))
    texts = list(dict.fromkeys((question_of(rubric.checks[gain.check]), gain.check) for gain in found))
    seen: dict[str, str] = {}
    for text, check in texts:
        seen.setdefault(text, check)
    return tuple(Question(check, text) for text, check in list(seen.items())[:count])


def _is_for_seller(check: Check, case: Case) -> bool:
    if check.seller_question is not None:
        return True
    asked = not check.seen_by or check.seen_by.get("seller_statement", 0.0) > 0.0
    return asked and not can_look(check, case.looker, case.seen_by)


def question_of(check: Check) -> str:
    """The check's own question, else its text turned to the seller."""
    return check.seller_question or f"Could you or your luthier look at this for me: {check.ask}"


def questions_as_message(questions: Sequence[Question]) -> str:
    """The questions numbered, one a line, ready to copy."""
    return "\n".join(f"{place}. {question.text}" for place, question in enumerate(questions, 1))


def photos_to_ask_for(
    rubric: Rubric, case: Case, assessment: Assessment, stakes: Stakes | None = None, count: int = MOST_PHOTOS
) -> tuple[PhotoWish, ...]:
    """The photos that would tell most: those described in the rubric, for checks that are open, each once."""
    names = [name for name in open_checks(rubric, assessment) if rubric.checks[name].photo is not None]
    channel: Channel = "photos"
    wishes: dict[str, list[str]] = {}
    for gain in ranked(gains(rubric, case, assessment, stakes, channel, names)):
        photo = rubric.checks[gain.check].photo
        if photo is not None:
            wishes.setdefault(photo, []).append(gain.check)
    return tuple(PhotoWish(text, tuple(checks)) for text, checks in list(wishes.items())[:count])
