"""`assess`: from a case to its score, beliefs, making and findings."""

from operator import mul

import numpy as np

from ...rubric.rubric import Rubric
from ..believing.conformity import conformity
from ..believing.making import making_of
from ..model import Assessment, Belief, Case, CauseBelief, Conformity
from ..reasons.because import because, sign_of
from .findings import findings
from .known import Known, know
from .score import FULL, ranges
from .worlds import draw_worlds


def assess(rubric: Rubric, case: Case, seed: int = 1, draws: int = 4000, known: Known | None = None) -> Assessment:
    """The whole assessment of a case; the same arguments give the same numbers. `draws` is at least 100.

    `known`: what is held of the case with what a plan of work leaves of it; without it the best cures on the list
    count.
    """
    known = known or know(rubric, case)
    worlds, domains, domains_after = draw_worlds(known, seed, max(100, draws))
    beliefs = _beliefs(rubric, case, known)
    worth = np.array([one.worth for one in beliefs.values()])
    after = np.array([one.worth_after for one in beliefs.values()])
    weights = known.weights
    expected = [float(weights.total @ worth) * FULL, float(weights.total @ after) * FULL]
    if not weights.domains:
        expected = [FULL / 2, FULL / 2]
    for mean in (worth, after):
        expected += (weights.by_domain @ mean * FULL).tolist()
    every = ranges(expected, np.vstack((worlds.score, worlds.score_after, domains, domains_after)))
    count = len(weights.domains)
    faults, stops = findings(rubric, known.held)
    seen = np.array([one.seen for one in known.held], dtype=bool)
    return Assessment(
        score=every[0],
        score_after=every[1],
        domains=dict(zip(weights.domains, every[2 : 2 + count], strict=True)),
        domains_after=dict(zip(weights.domains, every[2 + count :], strict=True)),
        coverage=min(1.0, float(weights.total[seen].sum())),
        beliefs=beliefs,
        causes=_causes(rubric, case, known),
        conformity=_conformities(rubric, known),
        findings=faults,
        disqualifying=stops,
        relevant=known.relevance.counts,
        set_aside=known.relevance.set_aside,
        worlds=worlds,
        usual=_usual(known),
        making=making_of(tuple(rubric.classes), known.hand, known.told),
    )


def _usual(known: Known) -> float:
    """The score of the same checks before any look, 0..100."""
    if not known.weights.domains:
        return FULL / 2
    worth = [sum(map(mul, one.term.mixed(one.term.prior), one.term.worth)) for one in known.held]
    return min(FULL, max(0.0, float(known.weights.total @ np.array(worth)) * FULL))


def _beliefs(rubric: Rubric, case: Case, known: Known) -> dict[str, Belief]:
    found = {}
    for one, left in zip(known.held, known.left, strict=True):
        name = one.term.check
        put_off = known.postponed.get(name)
        facts = because(rubric, case, one, known.causes)
        found[name] = Belief(
            check=name,
            probability=dict(zip(one.term.outcomes, one.probability, strict=True)),
            worth=one.worth,
            worth_sd=one.worth_sd,
            worth_after=one.worth_after(left),
            seen=one.seen,
            clash=one.evidence.clash,
            postponed=put_off,
            because=(*facts, put_off) if put_off else facts,
        )
    return found


def _causes(rubric: Rubric, case: Case, known: Known) -> dict[str, CauseBelief]:
    found = {}
    for name, state in known.causes.items():
        signs = tuple(sign_of(rubric, case, sign) for sign in state.signs())
        found[name] = CauseBelief(name, state.prior, state.bad, signs)
    return found


def _conformities(rubric: Rubric, known: Known) -> dict[str, Conformity]:
    found = {}
    for one in known.held:
        name, limits, value = one.term.check, one.term.limits, known.values.get(one.term.check)
        if value is not None and limits is not None and (limits.low is not None or limits.high is not None):
            found[name] = conformity(rubric, name, limits, value.value, value.u, value.tool)
    return found
