"""What has to wait: tone is not judged through a fallen soundpost or a raw bridge.

Where the outcome that stands in the way was seen and is at least as likely as not, the check waits for it. An answer
that was given all the same counts as it was given, and is asked again once that is mended: to set it aside would make a
bad violin better by its bad strings.
"""

from collections.abc import Mapping, Sequence

from ...rubric.rubric import Rubric
from .evidence import Evidence
from .terms import Term

STANDS_IN_THE_WAY = 0.5


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
