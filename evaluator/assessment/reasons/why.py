"""Why this number? Every score, probability and statement as a tree, from the figure down to what was seen and the
rule.

A `Reason` says one thing in a sentence with its figure; its `parts` are the things that it follows from, the
weightiest first. The leaves are observations, rules of the rubric and sources. `as_json` is the same tree in plain
values, for `--json` and pages.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...basis.show import number, with_unit
from ...rubric.model import Check, Domain
from ...rubric.rubric import Rubric
from ..believing.terms import Term
from ..model import Assessment, Case, Conformity, Finding
from ..scoring.known import Known, know
from ..scoring.score import FULL

MOST_PARTS = 12
DOMAIN_WORDS: dict[Domain, str] = {
    "workmanship": "how well it is made",
    "soundness": "how sound it is",
    "playability": "how it plays",
    "tone": "how it sounds",
    "authenticity": "whether it is what it is said to be",
    "resale": "how it would sell",
}
_STATE_WORDS = {"meets": "meets", "probably": "probably meets", "cannot_tell": "may or may not meet"}
_STATE_WORDS |= {"probably_not": "probably does not meet", "does_not": "does not meet"}


@dataclass(frozen=True, slots=True)
class Reason:
    """One step. `about` is what it speaks of (a check, a cause, a domain, "score"); `value` its figure, if any."""

    about: str
    say: str
    value: float | None = None
    parts: tuple["Reason", ...] = ()

    def as_json(self) -> dict[str, object]:
        """Plain JSON values: about, say, value where there is one, because (the parts)."""
        found: dict[str, object] = {"about": self.about, "say": self.say}
        if self.value is not None:
            found["value"] = round(self.value, 4)
        if self.parts:
            found["because"] = [part.as_json() for part in self.parts]
        return found


class Trace:
    """Reasons for one assessment. Built once; each question is answered from the beliefs that the assessment holds."""

    def __init__(self, rubric: Rubric, case: Case, assessment: Assessment) -> None:
        self.rubric = rubric
        self.case = case
        self.assessment = assessment
        self.known: Known = know(rubric, case)
        self.terms: dict[str, Term] = {held.term.check: held.term for held in self.known.held}

    def score(self, *, after: bool = False) -> Reason:
        """The score, as it stands or after the work, down to every domain and check."""
        found = self.assessment.score_after if after else self.assessment.score
        weights = self.known.weights
        parts = tuple(
            self.domain(domain, share=float(share), after=after)
            for domain, share in sorted(zip(weights.domains, weights.shares, strict=True), key=lambda pair: -pair[1])
        )
        when = "after the work" if after else "as it stands"
        say = (
            f"Score {when}: {number(found.expected, 0)} of 100, between {number(found.low, 0)} and "
            f"{number(found.high, 0)} in nine of ten draws. It is the mean of its domains by their shares at the "
            f"{self.case.instrument.tier} standard."
        )
        return Reason("score", say, found.expected, parts)

    def domain(self, domain: Domain, share: float | None = None, *, after: bool = False) -> Reason:
        """A domain's score down to the checks that are evidence of it, those that take most from it first."""
        weights = self.known.weights
        row = weights.by_domain[weights.domains.index(domain)]
        found = (self.assessment.domains_after if after else self.assessment.domains)[domain]
        lost = []
        for name, weight in zip(self.assessment.relevant, row.tolist(), strict=True):
            if weight > 0:
                belief = self.assessment.beliefs[name]
                worth = belief.worth_after if after else belief.worth
                lost.append((weight * (1.0 - worth) * FULL, name, weight))
        lost.sort(key=lambda one: (-one[0], self.assessment.relevant.index(one[1])))
        parts = [self._in_domain(name, weight, points) for points, name, weight in lost[:MOST_PARTS]]
        if len(lost) > MOST_PARTS:
            rest = sum(points for points, _, _ in lost[MOST_PARTS:])
            parts.append(Reason(domain, f"{len(lost) - MOST_PARTS} more checks take {number(rest, 1)} points.", rest))
        counts = "" if share is None else f", counting {number(100 * share, 0)} % of the score"
        say = f"{DOMAIN_WORDS[domain].capitalize()}: {number(found.expected, 0)} of 100{counts}."
        return Reason(domain, say, found.expected, tuple(parts))

    def _in_domain(self, name: str, weight: float, points: float) -> Reason:
        say = f"{_name(self.rubric.checks[name])}: {number(100 * weight, 0)} % of it, takes {number(points, 1)} points."
        return Reason(name, say, points, (self.check(name),))

    def check(self, name: str) -> Reason:
        """What is held of a check, down to the observations, the rubric's rules and their sources."""
        belief, check = self.assessment.beliefs[name], self.rubric.checks[name]
        parts = [Reason(name, sentence) for sentence in belief.because]
        statement, rules = self.own_parts(name)
        parts.extend(statement)
        cause = check.cause
        if cause in self.assessment.causes and cause is not None:
            parts.append(self.cause(cause, without=name))
        parts.extend(rules)
        likely = sorted(belief.probability.items(), key=lambda pair: -pair[1])
        chances = ", ".join(
            f"{check.outcomes[key].say.rstrip('.')} {_percent(share)}" for key, share in likely if share >= 0.005
        )
        held = f"{chances}. Worth {number(belief.worth)} of 1." if chances else "recorded."
        return Reason(name, f"{_name(check)}: {held}", belief.worth, tuple(parts))

    def own_parts(self, name: str) -> tuple[Sequence[Reason], Sequence[Reason]]:
        """What a check shares with no other: the statement on its reading, if there is one, and the rubric's rules."""
        statement = (self.statement(name),) if name in self.assessment.conformity else ()
        return statement, self._rules(self.rubric.checks[name])

    def cause(self, cause: str, without: str | None = None) -> Reason:
        """What is held of a cause, down to the signs that moved it."""
        found, written = self.assessment.causes[cause], self.rubric.causes[cause]
        pull = self.known.causes[cause].pull
        parts = []
        for name in sorted(pull, key=lambda one: -abs(pull[one])):
            if name != without:
                way = "higher" if pull[name] > 0 else "lower"
                factor = number(math.exp(abs(pull[name])), 1)
                say = f"{_name(self.rubric.checks[name])} makes its odds {factor} times {way}."
                observed = tuple(Reason(name, sentence) for sentence in self.assessment.beliefs[name].because)
                parts.append(Reason(name, say, pull[name], observed))
        parts.append(Reason(cause, f"Before any look: {_percent(found.prior)} at this standard and age.", found.prior))
        say = f"{_sentence(written.say)}: {_percent(found.probability)}."
        return Reason(cause, say, found.probability, tuple(parts))

    def statement(self, name: str) -> Reason:
        """A statement on a reading, down to the value, its doubt, the limits and their sources."""
        found = self.assessment.conformity[name]
        value = (
            f"Value {_amount(found, found.value)}, standard uncertainty {_amount(found, found.u, _digits(found.u))}."
        )
        limits = f"Standard: {_limits(found)} (confidence: {found.confidence})."
        parts = [Reason(name, value), Reason(name, limits, None, self._sources(found))]
        if found.settle:
            parts.append(Reason(name, found.settle))
        held = f"{_STATE_WORDS[found.statement]} the standard: probability {_percent(found.probability)}."
        return Reason(name, f"{_name(self.rubric.checks[name])} {held}", found.probability, tuple(parts))

    def finding(self, finding: Finding) -> Reason:
        """Why a fault is named, down to the belief of its check."""
        say = f"{finding.say.rstrip('.')}: {finding.level}, {number(100 * finding.probability, 0)} %."
        return Reason(finding.check, say, finding.probability, (self.check(finding.check),))

    def everything(self) -> tuple[Reason, ...]:
        """Score as it stands and after the work, every cause, and every finding."""
        causes = tuple(self.cause(name) for name in self.assessment.causes)
        found = (*self.assessment.disqualifying, *self.assessment.findings)
        return (self.score(), self.score(after=True), *causes, *(self.finding(one) for one in found))

    def _rules(self, check: Check) -> Sequence[Reason]:
        """What the rubric counts for the outcomes, and where it has this from."""
        term = self.terms[check.check]
        worth = "; ".join(
            f"{check.outcomes[key].say.rstrip('.')}: {number(share)}"
            for key, share in zip(term.outcomes, term.worth, strict=True)
        )
        rules = [Reason(check.check, f"What each answer counts. {worth}.")] if worth else []
        sources = tuple(Reason(check.check, self.rubric.source_text(source)) for source in check.sources)
        if sources:
            rules.append(Reason(check.check, f"Sources of the check (confidence: {check.confidence}).", None, sources))
        return rules

    def _sources(self, found: Conformity) -> tuple[Reason, ...]:
        return tuple(Reason(found.check, self.rubric.source_text(source)) for source in found.sources)


def _name(check: Check) -> str:
    return _sentence(check.term or check.check.replace("_", " "))


def _percent(share: float) -> str:
    """A probability in percent; nothing is ever said to be certain."""
    if share > 0.995:
        return "more than 99 %"
    return "less than 1 %" if share < 0.005 else f"{number(100 * share, 0)} %"


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:].rstrip(".")


def _amount(found: Conformity, value: float, digits: int = 2) -> str:
    return with_unit(number(value, digits), found.unit)


def _digits(u: float) -> int:
    """Places after the point that show two figures of a standard uncertainty."""
    return max(0, 1 - math.floor(math.log10(u))) if u > 0 else 0


def _limits(found: Conformity) -> str:
    if found.low is not None and found.high is not None:
        return f"{number(found.low)} to {_amount(found, found.high)}"
    if found.low is not None:
        return f"at least {_amount(found, found.low)}"
    return "none" if found.high is None else f"at most {_amount(found, found.high)}"
