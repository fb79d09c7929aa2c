"""What to look at next, what to do with ten minutes, what to ask the seller, and which photos to ask for."""

from collections.abc import Sequence
from math import inf

from ...basis.frozen import dataclass
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Channel, Looker
from ..model import Case, LookWhy, NextCheck
from ..observing.relevance import reliability
from .information import MONEY, POINTS, Gain, Looks, can_look, ranked

__all__ = [
    "Looks",
    "NextCheck",
    "PhotoWish",
    "Question",
    "next_checks",
    "photos_to_ask_for",
    "questions_for_seller",
    "visit",
]

MOST_QUESTIONS = 8
MOST_PHOTOS = 8
# What anybody can see comes first, then what asks for a tool; cracks are looked for with the light low and the hand
# steady; sound comes last, because whoever has heard it looks less hard. Common practice, no source.
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


def next_checks(looks: Looks, looker: Looker, channel: Channel, count: int = 3) -> tuple[NextCheck, ...]:
    """The looks worth most by the minute for this person and way of seeing; fewer than `count` when fewer are open."""
    checks = looks.rubric.checks
    names = [name for name in looks.open if can_look(checks[name], looker, channel)]
    if unsafe(looks, names):
        names = [name for name in names if not checks[name].under_tension]
    return tuple(shown_as(gain) for gain in ranked(looks.gains(channel, names))[:count])


def shown_as(gain: Gain) -> NextCheck:
    """The record of a look, its gain in money where it can turn the decision."""
    if gain.disqualifying >= 0.01:
        why: LookWhy = "may_stop"
    elif gain.money > 0:
        why = "may_turn"
    else:
        why = "narrows"
    worth, unit = (gain.money, MONEY) if gain.money > 0 else (gain.points, POINTS)
    return NextCheck(gain.check, gain.minutes, worth, unit, why, gain.disqualifying)


def unsafe(looks: Looks, names: Sequence[str]) -> tuple[str, ...]:
    """Those of these looks, in their order, that come before anything is tuned, played or tightened."""
    return tuple(name for name in looks.rubric.safety_checks if name in names)


def visit(
    looks: Looks,
    minutes: float | None = 10.0,
    looker: Looker | None = None,
    channel: Channel = "in_person",
    at_hand: frozenset[str] | None = None,
) -> tuple[NextCheck, ...]:
    """The looks that are worth most in this many minutes (None: the whole usual look), in the order to take them.

    `at_hand`: the tools that this person holds; a measurement that needs another is left out (None: any tool).
    First what must be seen to be safe, and nothing under tension unless all of that is in the list; in photos, or where
    it would take most of the minutes, nothing is tuned, so it is taken by what it tells. Then the usual
    look by gain per minute while it fits, then the rest; ordered looks before readings, then cracks, then sound, by
    part within these. The first needs no tool.
    """
    rubric, who = looks.rubric, looker or looks.case.looker
    names = [name for name in looks.open if can_look(rubric.checks[name], who, channel)]
    names = [name for name in names if measurable(rubric.checks[name], at_hand)]
    first = unsafe(looks, names)
    needed = sum(rubric.checks[name].minutes for name in first)
    if channel != "in_person" or (minutes is not None and needed > rubric.figure("share_for_safety") * minutes):
        first = ()  # nobody tunes what is not in the hand, nor in three minutes: what tells most is looked at
        names = [name for name in names if channel != "in_person" or not rubric.checks[name].under_tension]
    usual = _usual(looks, names, at_hand)
    of_usual = looks.gains(channel, usual)
    # Without a limit all of the usual look is taken, what brings nothing here too: it is what a luthier expects seen.
    path = ranked(of_usual) if minutes is not None else of_usual
    rest = [] if minutes is None else ranked(looks.gains(channel, [name for name in names if name not in usual]))
    chosen: list[Gain] = []
    left = inf if minutes is None else minutes
    for gain in (*looks.gains(channel, first), *path, *rest):
        taken = {one.check for one in chosen}
        waits = rubric.checks[gain.check].under_tension and not set(first) <= taken
        early = gain in rest and not {one.check for one in path} <= taken
        if gain.minutes <= left and gain.check not in taken and not waits and not early:
            chosen.append(gain)
            left -= gain.minutes
    parts = {part: place for place, part in enumerate(rubric.parts)}
    order = {name: place for place, name in enumerate(rubric.checks)}

    def place(gain: Gain) -> tuple[int, int, int]:
        check = rubric.checks[gain.check]
        if gain.check in first:
            return -1, first.index(gain.check), 0
        return phase(check), parts.get(check.part, len(parts)), order[gain.check]

    return tuple(shown_as(gain) for gain in sorted(chosen, key=place))


def _usual(looks: Looks, names: Sequence[str], at_hand: frozenset[str] | None) -> tuple[str, ...]:
    """Those of these looks that are usual, and what somebody brought a tool for; all where a rubric marks none."""
    checks = looks.rubric.checks
    if not any(check.usual for check in checks.values()):
        return tuple(names)
    brought = at_hand or frozenset()
    return tuple(
        name for name in names if checks[name].usual or ((one := checks[name].measure) and brought & set(one.tools))
    )


def measurable(check: Check, at_hand: frozenset[str] | None) -> bool:
    """Whether it needs no tool, or one that is at hand (None: any may be had)."""
    return check.measure is None or at_hand is None or bool(at_hand & set(check.measure.tools))


def phase(check: Check) -> int:
    """0 looks, 1 readings and counts, 2 cracks and the inside, 3 sound."""
    if check.part in HEARD:
        return 3
    if check.part in LOOKED_AT_LATE:
        return 2
    return 1 if check.kind in {"measure", "count"} else 0


def questions_for_seller(looks: Looks, count: int = MOST_QUESTIONS) -> tuple[Question, ...]:
    """What the person cannot see, as questions for the seller, those worth most first.

    A check with a question of its own is asked wherever it is open; another only where this person cannot do it here.
    """
    checks = looks.rubric.checks
    names = [name for name in looks.open if _is_for_seller(checks[name], looks.case)]
    seen: dict[str, str] = {}
    for gain in ranked(looks.gains("seller_statement", names)):
        seen.setdefault(question_of(checks[gain.check]), gain.check)
    return tuple(Question(check, text) for text, check in list(seen.items())[:count])


def _is_for_seller(check: Check, case: Case) -> bool:
    if check.seller_question is not None:
        return True
    seller: Channel = "seller_statement"
    asked = not check.seen_by or (seller in check.seen_by and reliability(check, seller) > 0.0)
    return asked and not can_look(check, case.looker, case.seen_by)


def question_of(check: Check) -> str:
    """The check's own question, else its text turned to the seller."""
    return check.seller_question or f"Could you or your luthier check this for me? {check.ask}"


def photos_to_ask_for(looks: Looks, count: int = MOST_PHOTOS) -> tuple[PhotoWish, ...]:
    """The photos that would tell most: those described in the rubric, for checks that are open, each once."""
    checks = looks.rubric.checks
    names = [name for name in looks.open if checks[name].photo is not None]
    wishes: dict[str, list[str]] = {}
    for gain in ranked(looks.gains("photos", names)):
        photo = checks[gain.check].photo
        if photo is not None:
            wishes.setdefault(photo, []).append(gain.check)
    return tuple(PhotoWish(text, tuple(checks)) for text, checks in list(wishes.items())[:count])
