"""`assess`: from a case to its score, beliefs, making and findings."""

import numpy as np

from ...rubric.rubric import Rubric
from ..believing.conformity import conformity
from ..believing.making import making_of
from ..model import Assessment, Belief, Case, CauseBelief, Conformity
from ..reasons.because import because, in_the_way, sign_of
from .findings import findings
from .known import Known, know
from .meaning import better_in_class, deductions_of
from .score import score_of
from .weights import FULL, ranges
from .worlds import draw_worlds

# Below this share of the weight a score is a guess at what is usual, and is shown as a range alone. Judged: a dozen
# looks at the right places come to it, a photo or two do not.
ENOUGH = 0.12
PROBABLY = 0.5  # as of a finding


def assess(rubric: Rubric, case: Case, seed: int = 1, draws: int = 4000, known: Known | None = None) -> Assessment:
    """The whole assessment of a case; the same arguments give the same numbers. `draws` is at least 100.

    `known`: what is held of the case with what a plan of work leaves of it; without it the best cures on the list
    count.
    """
    known = known or know(rubric, case)
    scores = now, after = score_of(known.setting), score_of(known.setting, known.left_of_all)
    worlds, domains, domains_after = draw_worlds(known, scores, seed, max(100, draws))
    weights = known.weights
    expected = [now.expected, after.expected, *now.domains, *after.domains]
    every = ranges(expected, np.vstack((worlds.score, worlds.score_after, domains, domains_after)))
    count = len(weights.domains)
    faults, stops = findings(rubric, known.held, known.waits_for)
    seen = np.array([one.seen for one in known.setting.held], dtype=bool)
    coverage = min(1.0, float(weights.total[: len(seen)][seen].sum()))
    return Assessment(
        score=every[0],
        score_after=every[1],
        domains=dict(zip(weights.domains, every[2 : 2 + count], strict=True)),
        domains_after=dict(zip(weights.domains, every[2 + count :], strict=True)),
        coverage=coverage,
        beliefs=_beliefs(rubric, case, known),
        causes=_causes(rubric, case, known),
        conformity=_conformities(rubric, known),
        findings=faults,
        disqualifying=stops,
        relevant=known.relevance.counts,
        set_aside=known.relevance.set_aside,
        worlds=worlds,
        usual=_usual(known),
        making=making_of(tuple(rubric.classes), known.hand, known.told),
        enough=coverage >= ENOUGH,
        band=rubric.band_of(now.expected, safe=not _unsafe(rubric, known)),
        deductions=deductions_of(known, now),
        deductions_after=deductions_of(known, after),
        better_in_class=better_in_class(rubric, case, known, seed),
    )


def _unsafe(rubric: Rubric, known: Known) -> bool:
    """Whether something was probably seen that nobody may play with."""
    for one in known.held:
        outcomes = rubric.checks[one.term.check].outcomes.values()
        pairs = zip(outcomes, one.probability, strict=True)
        if one.seen and sum(share for outcome, share in pairs if outcome.unsafe) >= PROBABLY:
            return True
    return False


def _usual(known: Known) -> float:
    """The score of the same checks before any look, 0..100."""
    weights, setting = known.weights, known.setting
    if not weights.domains:
        return FULL / 2
    before = np.array(known.hand.prior or (1.0,))
    return float(FULL * before @ np.exp(np.log(setting.usual) @ weights.shares))


def _beliefs(rubric: Rubric, case: Case, known: Known) -> dict[str, Belief]:
    found = {}
    for one, left in zip(known.held, known.left, strict=True):
        name = one.term.check
        waits = known.waits_for.get(name, ())
        put_off = in_the_way(rubric, waits[0], answered=one.seen) if waits else None
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
            waits_for=waits,
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
