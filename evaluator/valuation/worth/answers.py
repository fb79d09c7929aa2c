"""What somebody answered of each check, and how surely: the only thing that a value may rest on besides the making.

Beliefs about checks that nobody looked at hang on the standard that a buyer holds an instrument to; answers do not. So
what is worth money is read from answers, and the same instrument is worth the same to whoever asks.
"""

from collections.abc import Mapping
from math import prod

from ...assessment.model import MEETS, Assessment, Case, Observation
from ...assessment.observing.relevance import best_observation, reliability
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check, Outcome
from ...rubric.written.kinds import WORTH_BY_CLASS


@dataclass(frozen=True, slots=True)
class Answer:
    """The outcome that the most reliable observation shows, and how sure that is, 0..1; others that differ lower it."""

    check: Check
    name: str
    sure: float

    @property
    def outcome(self) -> Outcome:
        return self.check.outcomes[self.name]

    @property
    def borne_out(self) -> float:
        """How sure a fault is that somebody named, 0..1: who says that there is a crack has seen one.

        A look that finds nothing may have missed it; one that finds something seldom errs, and a seller who owns to a
        fault does not invent it. Two thirds of the doubt fall away; judged, no source.
        """
        return 1.0 - (1.0 - self.sure) / 3.0


def answers_of(rubric: Rubric, case: Case, assessment: Assessment) -> dict[str, Answer]:
    """Every answer that tells something and applies to the instrument, in the rubric's order.

    One that is set aside only for the standard held to still counts: it says what is there.
    """
    relevant = set(assessment.relevant)
    found = {}
    for name, check in rubric.checks.items():
        observations = case.observations.get(name, ())
        if observations and (name in relevant or _by_tier(rubric, name)):
            answer = _answer(check, observations, assessment)
            if answer is not None:
                found[name] = answer
    return found


def general_worth(outcome: Outcome) -> float:
    """Worth of an outcome, 0..1, free of tier and style."""
    return WORTH_BY_CLASS[outcome.class_] if outcome.worth is None else outcome.worth


def _by_tier(rubric: Rubric, name: str) -> bool:
    condition = rubric.relevant.get(name)
    return condition is not None and "tier" in condition.names


def _answer(check: Check, observations: tuple[Observation, ...], assessment: Assessment) -> Answer | None:
    best = best_observation(check, observations)
    if best is None:
        return None
    shown = _shown(check, best, assessment)
    if shown is None:
        return None
    name, share = shown
    against = [
        reliability(check, one.seen_by)
        for one in observations
        if one is not best and one.outcome in check.outcomes and one.outcome != name
    ]
    return Answer(check, name, share * reliability(check, best.seen_by) * prod(1.0 - trust for trust in against))


def _shown(check: Check, seen: Observation, assessment: Assessment) -> tuple[str, float] | None:
    """(outcome, how far the observation bears it): an answer in words wholly, a reading by the side it lies on."""
    if seen.outcome is not None:
        return (seen.outcome, 1.0) if seen.outcome in check.outcomes else None
    held = assessment.conformity.get(check.check)
    if held is None or not check.outcomes:
        return None
    if held.probability >= 0.5:
        return (MEETS, held.probability) if MEETS in check.outcomes else None
    side = _side(held.low, held.value)
    return (side, 1.0 - held.probability) if side in check.outcomes else None


def _side(low: float | None, value: float) -> str:
    return "too_low" if low is not None and value < low else "too_high"


def seen_share(rubric: Rubric, case: Case, domains: Mapping[str, float], full: float) -> float:
    """Share 0..1 of what these domains show that was looked at, each look by how reliable it is.

    `domains`: how much each counts; `full`: the share of all weight at which nothing is left but what has to be opened
    or measured for its own sake. The weight of a check is its mean over the tiers, so that no buyer's choice moves it.
    """
    total = seen = 0.0
    for name, check in rubric.checks.items():
        strength = sum(domains.get(domain, 0.0) * share for domain, share in check.evidence_of.items())
        if strength <= 0.0 or not check.outcomes or (check.styles and case.instrument.style not in check.styles):
            continue
        weight = strength * check.usual_weight
        total += weight
        best = best_observation(check, case.observations.get(name, ()))
        if best is not None:
            seen += weight * reliability(check, best.seen_by)
    return min(1.0, seen / (full * total)) if total > 0 else 0.0
