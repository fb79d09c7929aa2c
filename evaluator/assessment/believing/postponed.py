"""What cannot be judged yet: tone is not marked through a fallen soundpost or a raw bridge.

Where the outcome that stands in the way was seen and is at least as likely as not, the check counts as not looked at;
its answer is kept, with what to mend first.
"""

from collections.abc import Mapping, Sequence

from ...rubric.rubric import Rubric
from ..reasons.facts import InTheWay
from .evidence import Evidence
from .terms import Term

STANDS_IN_THE_WAY = 0.5


def postponed(rubric: Rubric, terms: Sequence[Term], evidence: Mapping[str, Evidence]) -> dict[str, InTheWay]:
    """What stands in the way of each check that must wait, by its id."""
    by_check = {term.check: term for term in terms}
    found = {}
    for term in terms:
        check = rubric.checks[term.check]
        for reference in check.postponed_by:
            name, _, outcome = reference.partition(".")
            if _is_seen(by_check.get(name), evidence.get(name), outcome):
                in_the_way = rubric.checks[name]
                subject, say = in_the_way.term or name.replace("_", " "), in_the_way.outcomes[outcome].say
                found[term.check] = InTheWay(check=name, subject=subject, say=say)
                break
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
