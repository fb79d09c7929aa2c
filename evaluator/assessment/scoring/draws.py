"""`assess`: from a case to its score, beliefs and findings, and the seeded worlds that every later probability comes
from.

A world draws the state of each cause once, so that checks of one cause go wrong together. A seen check draws what was
shown with the mass its observations carry, else an outcome of its cause's state. The state for a seen check is drawn
from the same number, but against P(bad) without that check's own word, so that the frequency in the worlds is the
belief.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import mul

import numpy as np
from numpy.typing import NDArray

from ...basis.chance import generator
from ...rubric.rubric import Rubric
from ..believing.beliefs import Held, Left, held
from ..believing.causes import CauseState, cause_states
from ..believing.conformity import conformity
from ..believing.evidence import NOTHING, Evidence, Value, evidence_of, values_of
from ..believing.postponed import postponed
from ..believing.terms import term_of
from ..model import Assessment, Belief, Case, CauseBelief, Conformity, Worlds
from ..observing.relevance import Relevance, relevance
from ..reasons.words import because, sign_words
from .findings import findings, usually_left
from .score import FULL, Weights, ranges, weights_of

Floats = NDArray[np.float64]
Single = NDArray[np.float32]
Outcomes = NDArray[np.int16]


@dataclass(frozen=True, slots=True)
class Known:
    """Everything that is held before any draw; `held` and `left` follow `relevance.counts`.

    `left`: what the work leaves of each check's outcomes.
    """

    relevance: Relevance
    held: tuple[Held, ...]
    left: tuple[Left, ...]
    causes: Mapping[str, CauseState]
    values: Mapping[str, Value]
    weights: Weights
    postponed: Mapping[str, str]


def know(rubric: Rubric, case: Case) -> Known:
    """Beliefs and weights of a case, in closed form."""
    found = relevance(rubric, case)
    terms = [term_of(rubric, rubric.checks[name], case.instrument) for name in found.counts]
    values = values_of(rubric, case, found.counts)
    evidence = {
        term.check: evidence_of(
            rubric.checks[term.check], term, case.observations.get(term.check, ()), values.get(term.check)
        )
        for term in terms
        if term.check in case.observations or term.check in values
    }
    put_off = postponed(rubric, terms, evidence)
    counted: dict[str, Evidence] = {name: one for name, one in evidence.items() if name not in put_off}
    causes = cause_states(terms, counted)
    beliefs = tuple(held(term, counted.get(term.check, NOTHING), causes) for term in terms)
    left = tuple(usually_left(rubric, one) for one in beliefs)
    checks = [rubric.checks[name] for name in found.counts]
    weights = weights_of(checks, case.instrument, rubric.domain_shares.get(case.instrument.tier, {}))
    return Known(found, beliefs, left, causes, values, weights, put_off)


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
        sentences = because(rubric, case, one, known.causes)
        found[name] = Belief(
            check=name,
            probability=dict(zip(one.term.outcomes, one.probability, strict=True)),
            worth=one.worth,
            worth_sd=one.worth_sd,
            worth_after=one.worth_after(left),
            seen=one.seen,
            clash=one.evidence.clash,
            postponed=put_off,
            because=(*sentences, put_off) if put_off else sentences,
        )
    return found


def _causes(rubric: Rubric, case: Case, known: Known) -> dict[str, CauseBelief]:
    found = {}
    for name, state in known.causes.items():
        signs = tuple(sign_words(rubric, case, sign) for sign in state.signs())
        found[name] = CauseBelief(name, state.prior, state.bad, signs)
    return found


def _conformities(rubric: Rubric, known: Known) -> dict[str, Conformity]:
    found = {}
    for one in known.held:
        name, limits, value = one.term.check, one.term.limits, known.values.get(one.term.check)
        if value is not None and limits is not None and (limits.low is not None or limits.high is not None):
            found[name] = conformity(rubric, name, limits, value.value, value.u, value.tool)
    return found


def draw_worlds(known: Known, seed: int, draws: int) -> tuple[Worlds, Floats, Floats]:
    """The seeded worlds, and each domain's score in them as it stands and after the work (a row a domain).

    Time and memory grow with checks times draws.
    """
    weights = known.weights
    outcome = np.zeros((len(known.held), draws), dtype=np.int16)
    domains, domains_after = np.zeros((2, len(weights.domains), draws))
    random = generator(seed)
    # Summed check by check: a row fits the processor's cache, and a matrix library's threads would go on turning long
    # after so small a product.
    for i, (own, worth, after) in enumerate(drawn(known, random, draws)):
        outcome[i] = own
        for d in np.flatnonzero(weights.by_domain[:, i]).tolist():
            share = weights.by_domain[d, i] * FULL
            points = worth * share
            domains[d] += points
            domains_after[d] += points if after is worth else after * share
    score, score_after = (np.einsum("d,dj->j", weights.shares, one) for one in (domains, domains_after))
    if not weights.domains:
        score = score_after = random.random(draws) * FULL
    return Worlds(seed, known.relevance.counts, outcome.T, score, score_after), domains, domains_after


def drawn(known: Known, random: np.random.Generator, draws: int) -> Iterator[tuple[Outcomes, Floats, Floats]]:
    """Of each check in turn the index of its outcome, its worth and its worth after the work, in every world."""
    state_of = {name: random.random(draws, dtype=np.float32) for name in known.causes}
    chances = random.random((len(known.held), draws), dtype=np.float32)
    for one, left, chance in zip(known.held, known.left, chances, strict=True):
        outcome, worth = np.zeros(draws, dtype=np.int16), np.zeros(draws)
        if one.term.outcomes:
            _draw_shown(one, chance, random, outcome, worth)
            if one.rest > 0:
                _draw_unshown(one, state_of.get(one.term.cause or ""), chance, outcome, worth)
        yield outcome, worth, _mended(one, left, chance, outcome, worth) if any(left) else worth


def _draw_shown(one: Held, chance: Single, random: np.random.Generator, outcome: Outcomes, worth: Floats) -> None:
    """What the observations show, in every world; `_draw_unshown` then overwrites those where they do not hold."""
    value, limits = one.evidence.value, one.term.limits
    if value is not None and limits is not None and one.term.points and len(one.evidence.signs) == 1:
        # The worth changes along the reading, so its true value is drawn, and with it the side of the standard.
        true = value.value + value.u * random.standard_normal(chance.shape)
        low, meets, high = one.term.sides
        outcome[:] = meets
        if limits.low is not None:
            outcome[true < limits.low] = low
        if limits.high is not None:
            outcome[true > limits.high] = high
        xs, ys = zip(*one.term.points, strict=True)
        worth[:] = np.interp(true, xs, ys)
        return
    shown = [i for i, mass in enumerate(one.shown) if mass > 0]
    if len(shown) == 1:
        outcome[:] = shown[0]
        worth[:] = one.shown_worth[shown[0]]
    elif shown:
        entry = _steps(chance, 0.0, [one.shown[i] for i in shown])
        np.take(np.array(shown, dtype=np.int16), entry, out=outcome, mode="clip")
        np.take(np.array([one.shown_worth[i] for i in shown]), entry, out=worth, mode="clip")


def _draw_unshown(one: Held, state: Single | None, chance: Single, outcome: Outcomes, worth: Floats) -> None:
    """Where the observations do not hold (everywhere, without any): an outcome of the state that the cause is in."""
    start = sum(one.shown)
    here = np.flatnonzero(chance >= np.float32(start)) if start > 0 else slice(None)
    chance = chance[here]
    if state is None:
        own = _steps(chance, start, [one.rest * share for share in one.mixture])
    else:
        bad = state[here] < np.float32(one.bad)
        own = np.zeros(chance.shape, dtype=np.intp)
        good_level = bad_level = start
        for if_good, if_bad in zip(one.term.if_good[:-1], one.term.if_bad[:-1], strict=True):
            good_level += one.rest * if_good
            bad_level += one.rest * if_bad
            own += chance >= np.where(bad, np.float32(bad_level), np.float32(good_level))
    outcome[here] = own
    worth[here] = np.array(one.term.worth)[own]


def _steps(chance: Single, start: float, masses: Sequence[float]) -> NDArray[np.intp]:
    """Index of the mass that each number falls in, the masses laid end to end from `start`."""
    entry = np.zeros(chance.shape, dtype=np.intp)
    level = start
    for mass in masses[:-1]:
        level += mass
        entry += chance >= np.float32(level)
    return entry


def _mended(one: Held, left: Left, chance: Single, outcome: Outcomes, worth: Floats) -> Floats:
    """Worth after the work: another in the worlds where the outcome is one that the work touches."""
    own_after, shown_after = one.worths_after(left)
    shown = chance < np.float32(sum(one.shown))
    fixed = np.where(shown, np.array(shown_after)[outcome], np.array(own_after)[outcome])
    return np.where(np.array([mended is not None for mended in left])[outcome], fixed, worth)
