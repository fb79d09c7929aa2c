"""Why a belief is what it is, in sentences that a person can read: from what was seen, or not, to the probabilities."""

from collections.abc import Mapping

from ...basis.show import chance, doubtful, number, with_unit
from ...rubric.model import Check, Looker
from ...rubric.rubric import Rubric
from ..believing.beliefs import Held
from ..believing.causes import CauseState
from ..model import CANNOT_TELL, Case, Observation
from ..observing.relevance import best_observation, reliability, shows
from ..scoring.findings import FAULTS

SEEN_BY_WORDS = {
    "in_person": "Seen in person",
    "photos": "Seen in a photo",
    "seller_statement": "The seller says",
    "recording": "Heard in a recording",
}
READ_BY_WORDS = {
    "in_person": "Measured",
    "photos": "Read from a photo",
    "seller_statement": "The seller says",
    "recording": "Read from a recording",
}
MOST_SIGNS_NAMED = 2


def because(rubric: Rubric, case: Case, held: Held, causes: Mapping[str, CauseState]) -> tuple[str, ...]:
    """The sentences for one check."""
    check = rubric.checks[held.term.check]
    observations = case.observations.get(check.check, ())
    found = [_observed(check, one, case.looker) for one in observations]
    if held.evidence.value is not None and check.formula is not None:
        value = held.evidence.value
        unit = held.term.limits.unit if held.term.limits else "ratio"
        found.append(f"Reckoned as {check.formula}: {doubtful(value.value, value.u, unit or 'ratio')}.")
    if held.evidence.clash:
        found.append("Two of these do not agree; the more reliable counts for more.")
    if held.seen:
        if all(sign.even for sign in held.evidence.signs):
            right = 1 - held.rest
        else:
            right = max(zip(held.shown, held.probability, strict=True))[1]
        if right < 0.98:
            found.append(f"Taken as right to {number(100 * right, 0)} %; the rest goes by what is usual.")
        return tuple(found)
    if not found:
        found.append("Not looked at.")
    return (*found, _expected(rubric, case, held, causes))


def _observed(check: Check, seen: Observation, looker: Looker) -> str:
    if seen.outcome == CANNOT_TELL:
        return "Looked at, but it could not be told."
    trust = _trust(check, seen, looker)
    way = READ_BY_WORDS[seen.seen_by] if check.measure and seen.reading else SEEN_BY_WORDS[seen.seen_by]
    return f"{way}: {_answer(check, seen)} (reliable to {number(100 * trust, 0)} %)."


def _trust(check: Check, seen: Observation, looker: Looker) -> float:
    """How often this way of seeing shows what was answered where it is so."""
    if seen.outcome in check.outcomes:
        return shows(check, seen.seen_by, looker)[list(check.outcomes).index(seen.outcome)]
    return reliability(check, seen.seen_by, looker)


def _answer(check: Check, seen: Observation) -> str:
    """What was answered: the readings as they were written, or the outcome in words."""
    if seen.reading is not None and seen.outcome is None:
        unit = seen.reading.unit
        return ", ".join(with_unit(text, unit) if text[-1].isdigit() else text for text in seen.reading.texts)
    outcome = check.outcomes.get(seen.outcome or "")
    return outcome.say.rstrip(".") if outcome else ""


def _expected(rubric: Rubric, case: Case, held: Held, causes: Mapping[str, CauseState]) -> str:
    """What is expected of a check that was not seen, and why."""
    if not held.probability:
        return "It is recorded, not judged."
    wrong = [class_ in FAULTS for class_ in held.term.classes]
    share = sum(p for p, fault in zip(held.probability, wrong, strict=True) if fault)
    at_fault = share >= 0.5
    likeliest = max((i for i, fault in enumerate(wrong) if fault == at_fault), key=held.probability.__getitem__)
    say = rubric.checks[held.term.check].outcomes[held.term.outcomes[likeliest]].say.rstrip(".")
    likely = f"Likely {'a fault' if at_fault else 'in order'} ({chance(share if at_fault else 1.0 - share)}): {say}"
    return f"{likely}{_reason(rubric, case, held, causes, at_fault)}."


def _reason(rubric: Rubric, case: Case, held: Held, causes: Mapping[str, CauseState], at_fault: bool) -> str:
    """The end of the sentence: the cause and its signs, or that nothing speaks to it."""
    state = causes.get(held.term.cause) if held.term.cause else None
    if held.term.cause is None or state is None:
        return ", going by what is usual at this standard"
    bad = state.bad >= 0.5
    signs = [sign for sign in state.signs() if sign != held.term.check and (state.pull[sign] > 0) == bad]
    if not signs:
        return "; what was seen so far leaves it open" if state.signs() else "; nothing was seen yet that speaks to it"
    cause = rubric.causes[held.term.cause]
    named = "; ".join(sign_words(rubric, case, sign) for sign in signs[:MOST_SIGNS_NAMED])
    more = f"; and {len(signs) - MOST_SIGNS_NAMED} more" if len(signs) > MOST_SIGNS_NAMED else ""
    sure = chance(state.bad if bad else 1.0 - state.bad)
    link = "because" if bad == at_fault else "although"
    return f", {link} {_small(cause.say if bad else cause.if_not)} ({sure}). Signs of it: {named}{more}"


def sign_words(rubric: Rubric, case: Case, sign: str) -> str:
    """A seen check in a few words: "purfling: painted on"."""
    check = rubric.checks[sign]
    name = check.term or sign.replace("_", " ")
    seen = best_observation(check, case.observations.get(sign, ()))
    return f"{name}: {_small(_answer(check, seen))}" if seen else name


def _small(text: str) -> str:
    """The phrase as part of a sentence: first letter small unless it is a name in capitals, no full stop."""
    text = text.rstrip(".")
    return text[0].lower() + text[1:] if len(text) > 1 and text[1].islower() else text


def title_of(check: Check, say: str) -> str:
    """'Nut height: high': the trade's term and what was found, so that a finding can be read by itself."""
    found = say.strip().rstrip(".")
    subject = check.term or check.check.removeprefix("bow_").replace("_", " ")
    first = found[:1] if found[1:2].isupper() else found[:1].lower()
    return f"{subject[:1].upper()}{subject[1:]}: {first}{found[1:]}"
