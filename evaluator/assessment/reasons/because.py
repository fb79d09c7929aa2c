"""Why a belief is what it is: the facts, from what was seen, or not, to the probabilities."""

from collections.abc import Mapping

from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Looker
from ..believing.beliefs import Held
from ..believing.causes import CauseState
from ..model import CANNOT_TELL, Case, Observation
from ..observing.relevance import best_observation, reliability, shows
from ..scoring.findings import FAULTS
from .facts import Answered, BeliefFact, Expected, InTheWay, Link, Observed, Plain, Reckoned, SeenSign, TakenAsRight

MOST_SIGNS_NAMED = 2
WORTH_SAYING = 0.98  # taken as right to less than this, it is told


def because(rubric: Rubric, case: Case, held: Held, causes: Mapping[str, CauseState]) -> tuple[BeliefFact, ...]:
    """The facts for one check, in the order in which they are told."""
    check = rubric.checks[held.term.check]
    found: list[BeliefFact] = [_observed(check, one, case.looker) for one in case.observations.get(check.check, ())]
    if held.evidence.value is not None and check.formula is not None:
        value, unit = held.evidence.value, held.term.limits.unit if held.term.limits else ""
        found.append(Reckoned(formula=str(check.formula), value=value.value, u=value.u, unit=unit or "ratio"))
    if held.evidence.clash:
        found.append(Plain(code="clash"))
    if held.seen:
        right = _right(held)
        return (*found, TakenAsRight(share=right)) if right < WORTH_SAYING else tuple(found)
    return (*(found or [Plain(code="not_looked_at")]), _expected(rubric, case, held, causes))


def in_the_way(rubric: Rubric, reference: str, *, answered: bool) -> InTheWay:
    """What a check waits for, from "check.outcome"."""
    name, _, outcome = reference.partition(".")
    check = rubric.checks[name]
    subject = check.term or name.replace("_", " ")
    return InTheWay(check=name, subject=subject, say=check.outcomes[outcome].say, answered=answered)


def sign_of(rubric: Rubric, case: Case, sign: str) -> SeenSign:
    """A seen check as a sign: its term, and the most reliable answer to it."""
    check = rubric.checks[sign]
    seen = best_observation(check, case.observations.get(sign, ()))
    return SeenSign(
        check=sign, subject=check.term or sign.replace("_", " "), answered=_answered(check, seen) if seen else None
    )


def _right(held: Held) -> float:
    """How far what was seen is taken as right (0..1)."""
    if all(sign.even for sign in held.evidence.signs):
        return 1.0 - held.rest
    return max(zip(held.shown, held.probability, strict=True))[1]


def _observed(check: Check, seen: Observation, looker: Looker) -> BeliefFact:
    if seen.outcome == CANNOT_TELL:
        return Plain(code="could_not_tell")
    return Observed(
        seen_by=seen.seen_by,
        measured=bool(check.measure and seen.reading),
        answered=_answered(check, seen),
        share=_trust(check, seen, looker),
    )


def _trust(check: Check, seen: Observation, looker: Looker) -> float:
    """How often this way of seeing shows what was answered where it is so."""
    if seen.outcome in check.outcomes:
        return shows(check, seen.seen_by, looker)[list(check.outcomes).index(seen.outcome)]
    return reliability(check, seen.seen_by, looker)


def _answered(check: Check, seen: Observation) -> Answered:
    """What was answered: the readings as they were written, or the outcome."""
    if seen.reading is not None and seen.outcome is None:
        return Answered(readings=seen.reading.texts, unit=seen.reading.unit)
    outcome = check.outcomes.get(seen.outcome or "")
    return Answered(say=outcome.say if outcome else "")


def _expected(rubric: Rubric, case: Case, held: Held, causes: Mapping[str, CauseState]) -> BeliefFact:
    """What is expected of a check that was not seen, and why."""
    if not held.probability:
        return Plain(code="recorded")
    wrong = [class_ in FAULTS for class_ in held.term.classes]
    share = sum(p for p, fault in zip(held.probability, wrong, strict=True) if fault)
    at_fault = share >= 0.5
    likeliest = max((i for i, fault in enumerate(wrong) if fault == at_fault), key=held.probability.__getitem__)
    link, cause_say, cause_share, signs = _reason(rubric, held, causes, at_fault)
    return Expected(
        at_fault=at_fault,
        share=share if at_fault else 1.0 - share,
        say=rubric.checks[held.term.check].outcomes[held.term.outcomes[likeliest]].say,
        link=link,
        cause_say=cause_say,
        cause_share=cause_share,
        signs=tuple(sign_of(rubric, case, sign) for sign in signs[:MOST_SIGNS_NAMED]),
        more=max(0, len(signs) - MOST_SIGNS_NAMED),
    )


def _reason(
    rubric: Rubric, held: Held, causes: Mapping[str, CauseState], at_fault: bool
) -> tuple[Link, str | None, float | None, list[str]]:
    """(what it goes by, the cause as the rubric says it, its share, the signs that move it this way)."""
    state = causes.get(held.term.cause) if held.term.cause else None
    if held.term.cause is None or state is None:
        return "usual", None, None, []
    bad = state.bad >= 0.5
    signs = [sign for sign in state.signs() if sign != held.term.check and (state.pull[sign] > 0) == bad]
    if not signs:
        return ("open" if state.signs() else "no_sign"), None, None, []
    cause = rubric.causes[held.term.cause]
    link: Link = "because" if bad == at_fault else "although"
    return link, cause.say if bad else cause.if_not, state.bad if bad else 1.0 - state.bad, signs
