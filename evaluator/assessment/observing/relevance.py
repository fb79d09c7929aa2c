"""Which checks count for this instrument, and which are put off until something else is mended.

A check that does not apply keeps its answer, but is not counted; the page says why. An operand that nobody answered
makes a comparison false, so a check that hangs on an unanswered one waits.
"""

from collections.abc import Mapping
from dataclasses import replace

from ...basis.formulas.formula import Formula
from ...basis.formulas.tree import Value
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check, Outcome, Sight
from ...rubric.written.kinds import Looker
from ..model import CANNOT_TELL, MEETS, TOO_HIGH, TOO_LOW, Case, Observation
from ..reasons.facts import NotAsked

# How often a channel shows what is there, where the rubric does not say for a check. Judged, no source.
DEFAULT_RELIABILITY = {"in_person": 0.9, "photos": 0.5, "seller_statement": 0.3, "recording": 0.2}


@dataclass(frozen=True, slots=True)
class Relevance:
    """`counts`: the checks that apply, in the rubric's order; `set_aside`: why an answered one does not.

    `kept`, `open`: checks that do not apply because of another answer alone, and would by the instrument itself:
    answered and not.
    """

    counts: tuple[str, ...]
    set_aside: Mapping[str, NotAsked]
    kept: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


def reliability(check: Check, seen_by: str, looker: Looker = "student") -> float:
    """Probability that this way of seeing shows the true outcome of the check; of what hides, that it is there."""
    sight = _sight(check, seen_by)
    return sight if isinstance(sight, float) else _there(sight, looker)


def shows(check: Check, seen_by: str, looker: Looker = "student") -> tuple[float, ...]:
    """For each outcome in turn the probability that this way of seeing shows it where it is the true one.

    One number for all of them, but for what hides: a crack is missed more often than one is seen where there is none.
    """
    sight = _sight(check, seen_by)
    if isinstance(sight, float):
        return (sight,) * len(check.outcomes)
    there = _there(sight, looker)
    return tuple(sight.not_there if one.class_ == "sound" else there for one in check.outcomes.values())


LOOKER_RANK: dict[Looker, int] = {"student": 0, "teacher": 1, "luthier": 2}


def can_tell(outcome: Outcome, looker: Looker) -> bool:
    """Whether this person can tell the outcome from the others."""
    return outcome.who is None or LOOKER_RANK[looker] >= LOOKER_RANK[outcome.who]


def looks_like(check: Check, outcome: str, looker: Looker) -> frozenset[str]:
    """The outcomes that may be the true one where this person answers so: itself, and what looks like it to them."""
    hidden = (name for name, one in check.outcomes.items() if one.seen_as == outcome and not can_tell(one, looker))
    return frozenset((outcome, *hidden))


def _sight(check: Check, seen_by: str) -> float | Sight:
    written: Mapping[str, float | Sight] = {str(channel): one for channel, one in check.seen_by.items()}
    return written.get(seen_by, DEFAULT_RELIABILITY[seen_by])


def _there(sight: Sight, looker: Looker) -> float:
    return sight.to_luthier if looker == "luthier" and sight.to_luthier is not None else sight.there


def best_observation(check: Check, observations: tuple[Observation, ...]) -> Observation | None:
    """The most reliable observation that tells something; of equals the last, which somebody made after the others."""
    telling = [one for one in observations if one.outcome != CANNOT_TELL]
    return max(reversed(telling), key=lambda one: reliability(check, one.seen_by), default=None)


def relevance(rubric: Rubric, case: Case) -> Relevance:
    """The checks that count for this case, and the reason for each answered one that does not."""
    walk, bare = _Walk(rubric, case), _Walk(rubric, replace(case, observations={}))
    counts: list[str] = []
    set_aside = {name: NotAsked(code="no_longer", of=why) for name, why in case.no_longer_asked.items()}
    kept: list[str] = []
    open_: list[str] = []
    for name in rubric.checks:
        reason = walk.reason(name)
        if reason is None:
            counts.append(name)
            continue
        answered = name in case.observations
        if answered:
            set_aside[name] = reason
        if bare.reason(name) is None:
            (kept if answered else open_).append(name)
    return Relevance(tuple(counts), set_aside, tuple(kept), tuple(open_))


class _Walk:
    """Follows the conditions from check to check; a circle (which the rubric's own tests refuse) counts as applying."""

    def __init__(self, rubric: Rubric, case: Case) -> None:
        self.rubric = rubric
        self.case = case
        self.known: dict[str, NotAsked | None] = {}
        instrument = case.instrument
        self.facts: dict[str, Value] = {
            "family": rubric.family,
            "size": instrument.size,
            "style": instrument.style,
            "tier": instrument.tier,
            "strings": instrument.strings,
            "age": instrument.age,
            "year": None if instrument.year is None else float(instrument.year),
            "purpose": case.purpose,
        }

    def reason(self, name: str) -> NotAsked | None:
        """Why the check does not apply; None when it does."""
        if name not in self.known:
            self.known[name] = None
            self.known[name] = self._reason(self.rubric.checks[name])
        return self.known[name]

    def _reason(self, check: Check) -> NotAsked | None:
        if check.families and self.rubric.family not in check.families:
            return NotAsked(code="family", of=self.rubric.family)
        style = self.case.instrument.style
        if check.styles and style not in check.styles:
            return NotAsked(code="style", of=style)
        condition = self.rubric.relevant.get(check.check)
        if condition is None or condition.holds(self._names(condition)):
            return None
        return NotAsked(code="condition", of=condition.text)

    def _names(self, condition: Formula) -> dict[str, Value]:
        texts = {name for name, _ in condition.texts_compared()}
        return {name: self._value(name, name in texts) for name in condition.names}

    def _value(self, name: str, as_text: bool) -> Value:
        """A fact, or the answer of a check that itself applies; the outcome where a text is asked for."""
        check = self.rubric.checks.get(name)
        if check is None:
            return self.facts.get(name)
        if self.reason(name) is not None:
            return None
        seen = best_observation(check, self.case.observations.get(name, ()))
        if seen is None:
            return None
        if seen.reading is None or (as_text and seen.outcome is not None):
            return seen.outcome
        return self._side(check, seen.reading.value) if as_text else seen.reading.value

    def _side(self, check: Check, value: float) -> Value:
        instrument = self.case.instrument
        limits = self.rubric.limits(check, instrument.size, instrument.style, instrument.strings)
        if limits is None:
            return None
        if limits.low is not None and value < limits.low:
            return TOO_LOW
        return TOO_HIGH if limits.high is not None and value > limits.high else MEETS
