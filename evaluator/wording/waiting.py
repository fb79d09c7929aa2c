"""Why an answer waits, said on its card before anybody looks: what must be seen to be safe, or mended, first."""

from collections.abc import Iterable

from ..assessment.model import Case
from ..rubric.rubric import Rubric
from ..rubric.written.checks import Check


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
