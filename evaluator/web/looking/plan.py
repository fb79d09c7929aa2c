"""Which looks a visit holds: chosen once from the minutes and tools that there are, then kept, so that whoever comes
back finds the same list; and the place in it where to go on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ...assessment.looking.next_checks import HEARD
from ...assessment.model import CANNOT_TELL
from ...assessment.observing.relevance import relevance
from ...assessment.observing.typed import Answer, Answers, Typed
from ...result.evaluation import planned_looks, turning_looks
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Channel
from ...store.evaluations import Kept, save_plan, save_start
from ..service import service
from .cards import SAID
from .forms import THINGS

MINUTES: Mapping[str, float | None] = {"3": 3.0, "10": 10.0, "30": 30.0, "all": None}  # None: the whole usual look
USUAL_MINUTES, PHOTO_MINUTES = "10", "3"
MORE_MINUTES = 30.0  # further looks behind the whole usual look
LEAST_LEFT = 0.5
PHOTO_LOOK_MINUTES = 0.4  # a photo is opened and looked at in half the time; judged by trying, no source
# Ten minutes of playing tell all that is heard: feel, evenness, wolf and whether it stays in tune come of the same
# scales and pieces, so each further look takes only its reading and its tap. Judged by trying, no source.
PLAYED_MINUTES, TOLD_MINUTES = 10.0, 0.5


@dataclass(frozen=True, slots=True)
class Plan:
    """The looks of a visit by id, in their order, and the way of seeing that their answers are filed under."""

    looks: tuple[str, ...]
    channel: Channel

    @classmethod
    def read(cls, typed: Typed) -> "Plan | None":
        plan = typed.get("plan")
        return None if not plan else cls(tuple(plan["looks"]), plan["channel"])


@dataclass(frozen=True, slots=True)
class Place:
    """How far a visit has come: `next` is the check to look at (None when all is done), `number` its place from 1."""

    next: str | None
    number: int
    count: int
    minutes_left: float


def channel_of(typed: Typed) -> Channel:
    said = typed["start"].get("seen_by")
    return "photos" if said == "photos" else "seller_statement" if said == "seller_statement" else "in_person"


def tools_at_hand(typed: Typed) -> frozenset[str]:
    """Tools by id, from what was ticked at the start; nothing ticked is nothing at hand."""
    ticked = typed["start"].get("tools", "").split()
    return frozenset[str]().union(*(THINGS[name][1] for name in ticked if name in THINGS))


def minutes_of(typed: Typed) -> float | None:
    usual = USUAL_MINUTES if channel_of(typed) == "in_person" else PHOTO_MINUTES
    return MINUTES.get(typed["start"].get("minutes", ""), MINUTES[usual])


def plan_of(kept: Kept) -> Plan:
    """The plan that is kept, else a new one, kept from now on."""
    found = Plan.read(kept.typed)
    return found or _made(kept, ())


def more(kept: Kept) -> Plan:
    """The plan with further looks behind its own: what could turn the advice, else what the same minutes allow."""
    found = Plan.read(kept.typed)
    return _made(kept, found.looks if found else ())


def in_hand(kept: Kept) -> Plan:
    """A new plan for the instrument in the hand, after its photos: what these told stays filed as seen in photos."""
    start = {name: value for name, value in kept.typed["start"].items() if name != "minutes"} | {"seen_by": "in_person"}
    saved = save_start(service().engine, kept.id, kept.version, start, service().now())
    return _made(saved if isinstance(saved, Kept) else kept, ())


def _made(kept: Kept, before: Sequence[str]) -> Plan:
    channel = channel_of(kept.typed)
    evaluation = service().evaluation(kept)
    minutes, at_hand = minutes_of(kept.typed), tools_at_hand(kept.typed)
    if minutes is None and before:
        minutes = MORE_MINUTES
    fresh = turning_looks(evaluation, at_hand) if before else ()
    fresh = fresh or planned_looks(evaluation, minutes, channel, at_hand)
    looks = (*before, *(name for name in fresh if name not in before))
    save_plan(service().engine, kept.id, {"looks": list(looks), "channel": channel})
    return Plan(looks, channel)


def applying(rubric: Rubric, kept: Kept, plan: Plan) -> tuple[Check, ...]:
    """The looks of the plan that count as answered so far, in order; those that were answered stay in any case."""
    case = service().read(kept).case
    counts = set(relevance(rubric, case).counts) | set(kept.typed["answers"])
    return tuple(rubric.checks[name] for name in plan.looks if name in rubric.checks and name in counts)


def is_answered(answer: Answer) -> bool:
    """Whether something was said, if only that it cannot be told."""
    return bool(SAID & set(answer))


def is_told(answer: Answer) -> bool:
    """Whether something was said that tells."""
    return is_answered(answer) and answer.get("outcome") != CANNOT_TELL


def minutes_of_looks(checks: Sequence[Check], channel: Channel) -> dict[str, float]:
    """How long each of these looks takes, this way of seeing; what is heard in one long playing is played once."""
    if channel != "in_person":
        return {check.check: min(check.minutes, PHOTO_LOOK_MINUTES) for check in checks}
    heard = [check for check in checks if check.part in HEARD and check.minutes <= PLAYED_MINUTES]
    playing = next((check for check in heard if check.minutes == PLAYED_MINUTES), None)
    told = {check.check for check in heard if check is not playing} if playing else set()
    return {check.check: min(check.minutes, TOLD_MINUTES) if check.check in told else check.minutes for check in checks}


def is_played(checks: Sequence[Check]) -> bool:
    """Whether one of these looks asks for the ten minutes of playing in which the others are heard too."""
    return any(check.part in HEARD and check.minutes == PLAYED_MINUTES for check in checks)


def question_of(check: Check, channel: Channel) -> str:
    """What this look asks: whoever sells is asked in words of its own, where it has them."""
    return (channel == "seller_statement" and check.seller_question) or check.ask


def place_in(checks: Sequence[Check], answers: Answers, channel: Channel) -> Place:
    """Where to go on: the first look without an answer."""
    open_ = [check for check in checks if not is_answered(answers.get(check.check, {}))]
    first = open_[0] if open_ else None
    number = checks.index(first) + 1 if first else len(checks)
    minutes = minutes_of_looks(checks, channel)
    left = sum(minutes[check.check] for check in open_)
    return Place(first.check if first else None, number, len(checks), max(LEAST_LEFT, left) if open_ else 0.0)
