"""Answers that bear on another check: a fault counts once, at its home, and a check waits for what is in its way.

Strings that run off the middle because the neck is crooked are a crooked neck. Such an answer is one more look at the
neck, as sure as this way of seeing it is, and takes nothing from the check that it was given to.

Tone is not judged through a fallen soundpost or a raw bridge. Where the outcome that stands in the way was seen and is
at least as likely as not, the check waits for it. An answer that was given all the same counts as it was given, and is
asked again once that is mended: to set it aside would make a bad violin better by its bad strings.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ...rubric.rubric import Rubric
from ..model import Case
from .evidence import Evidence, Sign, sign_of
from .terms import Term

STANDS_IN_THE_WAY = 0.5  # the probability from which it does


def signs_elsewhere(rubric: Rubric, case: Case, terms: Mapping[str, Term]) -> dict[str, list[Sign]]:
    """What answers to other checks say, by the check at home; only where that one counts here."""
    found: dict[str, list[Sign]] = {}
    for name, observations in case.observations.items():
        for one in observations:
            home, outcome = home_of(rubric, name, one.outcome)
            if name not in terms or home not in terms or outcome not in terms[home].outcomes:
                continue
            here = sign_of(rubric.checks[name], terms[name], one.outcome or "", one.seen_by, case.looker)
            if here is not None:
                hit = terms[home].outcomes.index(outcome)
                count = len(terms[home].outcomes)
                at_home = tuple(float(i == hit) for i in range(count))
                found.setdefault(home, []).append(Sign((here.reliability,) * count, at_home, elsewhere=True))
    return found


def home_of(rubric: Rubric, check: str, outcome: str | None) -> tuple[str, str]:
    """Check and outcome where this answer counts; two empty texts where it counts as itself."""
    known = rubric.checks[check].outcomes.get(outcome or "") if check in rubric.checks else None
    home, _, there = (known.counts_as or "").partition(".") if known else ("", "", "")
    return home, there


def without_pointers(rubric: Rubric, case: Case, terms: Sequence[Term]) -> tuple[Term, ...]:
    """The terms, an answer that counts elsewhere being no fault here, nor a sign of what makes such faults."""
    known = {term.check for term in terms}
    return tuple(_neutral(term, [i for i, _ in _pointing(rubric, case, term, known)]) for term in terms)


def _pointing(rubric: Rubric, case: Case, term: Term, known: set[str]) -> Iterator[tuple[int, str]]:
    """Place of an answered outcome, and the check where it counts."""
    for one in case.observations.get(term.check, ()):
        home, _ = home_of(rubric, term.check, one.outcome)
        if home in known and one.outcome in term.outcomes:
            yield term.outcomes.index(one.outcome), home


def _neutral(term: Term, places: Sequence[int]) -> Term:
    if not places:
        return term
    best = max(term.worth)
    return replace(
        term,
        if_bad=_telling_nothing(term, places),
        worth=tuple(best if i in places else one for i, one in enumerate(term.worth)),
        classes=tuple("acceptable" if i in places else one for i, one in enumerate(term.classes)),
        leaves=tuple(None if i in places else one for i, one in enumerate(term.leaves)),
    )


def _telling_nothing(term: Term, places: Sequence[int]) -> tuple[float, ...]:
    """Chances in the bad state such that these outcomes are found as often as in the good one."""
    same = math.fsum(term.if_good[i] for i in places)
    others = math.fsum(share for i, share in enumerate(term.if_bad) if i not in places)
    scale = (1.0 - same) / others if others > 0 else 0.0
    return tuple(term.if_good[i] if i in places else share * scale for i, share in enumerate(term.if_bad))


def postponed(rubric: Rubric, terms: Sequence[Term], evidence: Mapping[str, Evidence]) -> dict[str, tuple[str, ...]]:
    """For each check that must wait the outcomes that stand in its way, each as "check.outcome"."""
    by_check = {term.check: term for term in terms}
    told: dict[str, bool] = {}
    found = {}
    for term in terms:
        waits = []
        for reference in rubric.checks[term.check].postponed_by:
            if reference not in told:
                name, _, outcome = reference.partition(".")
                told[reference] = _is_seen(by_check.get(name), evidence.get(name), outcome)
            if told[reference]:
                waits.append(reference)
        if waits:
            found[term.check] = tuple(waits)
    return found


def _is_seen(term: Term | None, evidence: Evidence | None, outcome: str) -> bool:
    """Whether the outcome was seen and is at least as likely as not, by the observations alone."""
    if term is None or evidence is None or not evidence.signs or outcome not in term.outcomes:
        return False
    index = term.outcomes.index(outcome)
    q = term.mixed(term.prior)
    likelihood = [1.0] * len(q)
    for sign in evidence.signs:
        likelihood = [so_far * one for so_far, one in zip(likelihood, sign.likelihoods(q), strict=True)]
    joint = [one * chance for one, chance in zip(likelihood, q, strict=True)]
    return joint[index] >= STANDS_IN_THE_WAY * sum(joint) > 0
