"""Why this number? Every score, probability and statement as a tree, from the figure down to what was seen and the
rule.

A `Reason` holds one coded fact with its figure; its `parts` are the things that it follows from, the weightiest first.
The leaves are observations, rules of the rubric and sources.
"""

import math
from collections.abc import Sequence

from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Domain
from ..believing.terms import Term
from ..model import Assessment, Case, Conformity, Deduction, Finding
from ..scoring.known import Known, know
from .steps import (
    AnswersCount,
    BeforeAnyLook,
    CauseIs,
    CheckIs,
    DomainIs,
    Fact,
    FindingIs,
    LimitsAre,
    MoreTake,
    Moves,
    ScoreIs,
    Source,
    SourcesAre,
    StatementIs,
    Takes,
    UnseenTakes,
    ValueIs,
    Weighed,
)

MOST_PARTS = 12
WORTH_NAMING = 0.005  # of a chance: what is less likely is not named


@dataclass(frozen=True, slots=True)
class Reason:
    """One step. `about` is what it speaks of (a check, a cause, a domain, "score"); `value` its figure, if any."""

    about: str
    fact: Fact
    value: float | None = None
    parts: tuple["Reason", ...] = ()


class Trace:
    """Reasons for one assessment. Built once; each question is answered from the beliefs that the assessment holds."""

    def __init__(self, rubric: Rubric, case: Case, assessment: Assessment, known: Known | None = None) -> None:
        """`known`: what is held of the case, where it was worked out before."""
        self.rubric = rubric
        self.case = case
        self.assessment = assessment
        self.known: Known = known or know(rubric, case)
        self.terms: dict[str, Term] = {held.term.check: held.term for held in self.known.held}

    def score(self, *, after: bool = False) -> Reason:
        """The score, as it stands or after the work, down to every domain and check."""
        found = self.assessment.score_after if after else self.assessment.score
        weights = self.known.weights
        parts = tuple(
            self.domain(domain, share=float(share), after=after)
            for domain, share in sorted(zip(weights.domains, weights.shares, strict=True), key=lambda pair: -pair[1])
        )
        tier = self.case.instrument.tier
        fact = ScoreIs(after_work=after, expected=found.expected, low=found.low, high=found.high, tier=tier)
        return Reason("score", fact, found.expected, parts)

    def domain(self, domain: Domain, share: float | None = None, *, after: bool = False) -> Reason:
        """A domain's score down to the checks that are evidence of it, those that take most from it first."""
        found = (self.assessment.domains_after if after else self.assessment.domains)[domain]
        taken = self.assessment.deductions_after if after else self.assessment.deductions
        lost = sorted((one for one in taken if one.domain == domain), key=lambda one: -one.of_domain)
        named = [one for one in lost if one.check in self.assessment.beliefs][:MOST_PARTS]
        parts = [self._taken(one) for one in named]
        others = [one.of_domain for one in lost if one.check is not None and one not in named]
        if others:
            parts.append(Reason(domain, MoreTake(count=len(others), points=math.fsum(others)), math.fsum(others)))
        unseen = math.fsum(one.of_domain for one in lost if one.check is None)
        if unseen > 0:
            parts.append(Reason(domain, UnseenTakes(points=unseen), unseen))
        fact = DomainIs(domain=domain, expected=found.expected, share=share)
        return Reason(domain, fact, found.expected, tuple(parts))

    def _taken(self, one: Deduction) -> Reason:
        name = str(one.check)
        fact = Takes(subject=_subject(self.rubric.checks[name]), points=one.of_domain)
        return Reason(name, fact, one.of_domain, (self.check(name),))

    def check(self, name: str) -> Reason:
        """What is held of a check, down to the observations, the rubric's rules and their sources."""
        belief, check = self.assessment.beliefs[name], self.rubric.checks[name]
        parts = [Reason(name, fact) for fact in belief.because]
        statement, rules = self.own_parts(name)
        parts.extend(statement)
        cause = check.cause
        if cause in self.assessment.causes and cause is not None:
            parts.append(self.cause(cause, without=name))
        parts.extend(rules)
        likely = sorted(belief.probability.items(), key=lambda pair: -pair[1])
        outcomes = tuple(
            Weighed(say=check.outcomes[key].say, share=share) for key, share in likely if share >= WORTH_NAMING
        )
        fact = CheckIs(subject=_subject(check), outcomes=outcomes, worth=belief.worth)
        return Reason(name, fact, belief.worth, tuple(parts))

    def own_parts(self, name: str) -> tuple[Sequence[Reason], Sequence[Reason]]:
        """What a check shares with no other: the statement on its reading, if there is one, and the rubric's rules."""
        statement = (self.statement(name),) if name in self.assessment.conformity else ()
        return statement, self._rules(self.rubric.checks[name])

    def counts(self, name: str) -> dict[str, float]:
        """What each outcome of a check counts where it is the answer (0..1)."""
        term = self.terms[name]
        return dict(zip(term.outcomes, term.worth, strict=True))

    def cause(self, cause: str, without: str | None = None) -> Reason:
        """What is held of a cause, down to the signs that moved it."""
        found, written = self.assessment.causes[cause], self.rubric.causes[cause]
        pull = self.known.causes[cause].pull
        parts = []
        for name in sorted(pull, key=lambda one: -abs(pull[one])):
            if name != without:
                subject, factor = _subject(self.rubric.checks[name]), math.exp(abs(pull[name]))
                belief = self.assessment.beliefs.get(name)  # an answer that another sets aside has none
                observed = tuple(Reason(name, fact) for fact in (belief.because if belief else ()))
                fact = Moves(subject=subject, higher=pull[name] > 0, factor=factor)
                parts.append(Reason(name, fact, pull[name], observed))
        parts.append(Reason(cause, BeforeAnyLook(share=found.prior), found.prior))
        return Reason(cause, CauseIs(say=written.say, share=found.probability), found.probability, tuple(parts))

    def statement(self, name: str) -> Reason:
        """A statement on a reading, down to the value, its doubt, the limits and their sources."""
        found = self.assessment.conformity[name]
        limits = LimitsAre(low=found.low, high=found.high, unit=found.unit, confidence=found.confidence)
        parts = [
            Reason(name, ValueIs(value=found.value, u=found.u, unit=found.unit)),
            Reason(name, limits, None, self._sources(found)),
        ]
        if found.settle:
            parts.append(Reason(name, found.settle))
        fact = StatementIs(
            subject=_subject(self.rubric.checks[name]), statement=found.statement, share=found.probability
        )
        return Reason(name, fact, found.probability, tuple(parts))

    def finding(self, finding: Finding) -> Reason:
        """Why a fault is named, down to the belief of its check."""
        fact = FindingIs(say=finding.say, level=finding.level, share=finding.probability)
        return Reason(finding.check, fact, finding.probability, (self.check(finding.check),))

    def everything(self) -> tuple[Reason, ...]:
        """Score as it stands and after the work, every cause, and every finding."""
        causes = tuple(self.cause(name) for name in self.assessment.causes)
        found = (*self.assessment.disqualifying, *self.assessment.findings)
        return (self.score(), self.score(after=True), *causes, *(self.finding(one) for one in found))

    def _rules(self, check: Check) -> Sequence[Reason]:
        """What the rubric counts for the outcomes, and where it has this from."""
        worths = tuple(
            Weighed(say=check.outcomes[key].say, share=share) for key, share in self.counts(check.check).items()
        )
        rules = [Reason(check.check, AnswersCount(worths=worths))] if worths else []
        sources = tuple(Reason(check.check, Source(say=self.rubric.source_text(source))) for source in check.sources)
        if sources:
            rules.append(Reason(check.check, SourcesAre(confidence=check.confidence), None, sources))
        return rules

    def _sources(self, found: Conformity) -> tuple[Reason, ...]:
        return tuple(Reason(found.check, Source(say=self.rubric.source_text(source))) for source in found.sources)


def _subject(check: Check) -> str:
    return check.term or check.check.replace("_", " ")
