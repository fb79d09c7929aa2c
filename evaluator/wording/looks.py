"""What is said of a look beside its answer: why it waits (what must be seen to be safe, or mended, first), and what
several people said of the same thing.
"""

from collections.abc import Iterable

from ..assessment.model import CANNOT_TELL, Case
from ..result.model.result import Result
from ..result.model.score import Answer
from ..result.model.score import Check as Told
from ..rubric.rubric import Rubric
from ..rubric.written.checks import Check
from .phrases import capital, small
from .words import recorded, subject

NAMELESS = "somebody who gave no name"


def waiting_sentence(rubric: Rubric, case: Case, check: Check) -> str:
    """One or two sentences for the card of a check; empty where nothing stands in the way."""
    if held := held_sentence(rubric, case, check):
        return held
    unseen = [name for name in rubric.safety_checks if name not in case.observations]
    if not check.under_tension or not unseen:
        return ""
    strain = "tighten it" if rubric.family == "bow" else "tune or play"
    return f"Look first at: {_subjects(rubric, unseen)}. Until these are seen to be safe, do not {strain}."


def held_sentence(rubric: Rubric, case: Case, check: Check) -> str:
    """What must be put right before this can be judged, and what becomes of an answer; empty where nothing must."""
    standing = _standing_in_the_way(rubric, case, check)
    kept = "What you answer is kept and counts for now; it is asked again after that."
    return f"Wait with this. First put right: {standing}. {kept}" if standing else ""


def _standing_in_the_way(rubric: Rubric, case: Case, check: Check) -> str:
    """What was answered that this check waits for: 'soundpost (it has fallen)'."""
    for reference in check.postponed_by:
        name, _, outcome = reference.partition(".")
        if any(one.outcome == outcome for one in case.observations.get(name, ())):
            say = rubric.checks[name].outcomes[outcome].say.rstrip(".")
            return f"{_subjects(rubric, (name,))} ({say[:1].lower()}{say[1:]})"
    return ""


def _subjects(rubric: Rubric, names: Iterable[str]) -> str:
    return ", ".join(rubric.checks[name].term or name.replace("_", " ") for name in names)


def together_lines(result: Result) -> tuple[str, ...]:
    """'Purfling: Ada and Clara say the same, inlaid.' The ones that differ come first."""
    told = [(check, _givers(check)) for check in result.checks]
    lines = [(check.clash, _line(check, givers)) for check, givers in told if len(givers) > 1]
    return tuple(line for _, line in sorted(lines, key=lambda one: not one[0]))


def differing(result: Result) -> int:
    """How many looks were answered by several people who do not agree."""
    return sum(1 for check in result.checks if check.clash and len(_givers(check)) > 1)


def _givers(check: Told) -> list[Answer]:
    """The answers that tell, where they are not all one person's."""
    answers = [one for one in check.observations if one.outcome != CANNOT_TELL]
    return answers if len({one.by for one in answers}) > 1 else []


def _line(check: Told, answers: list[Answer]) -> str:
    what = capital(subject(check))
    if check.clash:
        said = "; ".join(f"{one.by or NAMELESS} says {small(recorded(one))}" for one in answers)
        return (
            f"{what}: {said}. They differ: both count, the surer way of looking for more. A third look would settle it."
        )
    if len({recorded(one) for one in answers}) == 1:
        who = _joined(dict.fromkeys(one.by or NAMELESS for one in answers))
        return f"{what}: {who} say the same, {small(recorded(answers[0]))}. That is surer than one look alone."
    said = "; ".join(f"{one.by or NAMELESS} says {small(recorded(one))}" for one in answers)
    return f"{what}: {said}. The two go together, and both count."


def _joined(names: dict[str, None]) -> str:
    first, *rest = list(names)
    return " and ".join((", ".join((first, *rest[:-1])), rest[-1])) if rest else first
