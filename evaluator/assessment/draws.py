"""`assess`: from a case to its score, beliefs and findings, and the seeded worlds that every later probability comes
from.

A world draws the state of each cause once, so that checks of one cause go wrong together. A seen check draws what was
shown with the mass its observations carry, else an outcome of its cause's state. The state for a seen check is drawn
from the same number, but against P(bad) without that check's own word, so that the frequency in the worlds is the
belief.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..basis.chance import generator
from ..rubric.rubric import Rubric
from .beliefs import Held, held
from .causes import CauseState, cause_states
from .conformity import conformity
from .evidence import NOTHING, Evidence, Value, evidence_of, values_of
from .findings import cured_outcomes, findings
from .model import Assessment, Belief, Case, CauseBelief, Conformity, Worlds
from .postponed import postponed
from .relevance import Relevance, relevance
from .score import FULL, Weights, ranges, weights_of
from .terms import term_of
from .words import because, sign_words

Floats = NDArray[np.float64]
Single = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Known:
    """Everything that is held before any draw; `held` and `cured` follow `relevance.counts`."""

    relevance: Relevance
    held: tuple[Held, ...]
    cured: tuple[tuple[bool, ...], ...]
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
    cured = tuple(cured_outcomes(rubric, one) for one in beliefs)
    weights = weights_of(terms, rubric.domain_shares.get(case.instrument.tier, {}))
    return Known(found, beliefs, cured, causes, values, weights, put_off)


def assess(rubric: Rubric, case: Case, seed: int = 1, draws: int = 4000) -> Assessment:
    """The whole assessment of a case; the same arguments give the same numbers. `draws` is at least 100."""
    known = know(rubric, case)
    worlds = draw_worlds(known, seed, max(100, draws))
    worth = np.array([one.worth for one in known.held])
    after = np.array([one.worth_after(cured) for one, cured in zip(known.held, known.cured, strict=True)])
    weights = known.weights
    rows = [worlds.score, worlds.score_after]
    expected = [float(weights.total @ worth) * FULL, float(weights.total @ after) * FULL]
    if not weights.domains:
        expected = [FULL / 2, FULL / 2]
    for mean, drawn in ((worth, worlds.worth), (after, worlds.worth_after)):
        expected += (weights.by_domain @ mean * FULL).tolist()
        rows += list(weights.by_domain @ drawn.T * FULL)
    every = ranges(expected, np.array(rows))
    count = len(weights.domains)
    faults, stops = findings(rubric, known.held)
    seen = np.array([one.seen for one in known.held], dtype=bool)
    return Assessment(
        score=every[0],
        score_after=every[1],
        domains=dict(zip(weights.domains, every[2 : 2 + count], strict=True)),
        domains_after=dict(zip(weights.domains, every[2 + count :], strict=True)),
        coverage=min(1.0, float(weights.total[seen].sum())),
        beliefs=_beliefs(rubric, case, known),
        causes=_causes(rubric, case, known),
        conformity=_conformities(rubric, known),
        findings=faults,
        disqualifying=stops,
        relevant=known.relevance.counts,
        set_aside=known.relevance.set_aside,
        worlds=worlds,
    )


def _beliefs(rubric: Rubric, case: Case, known: Known) -> dict[str, Belief]:
    found = {}
    for one, cured in zip(known.held, known.cured, strict=True):
        name = one.term.check
        put_off = known.postponed.get(name)
        sentences = because(rubric, case, one, known.causes)
        found[name] = Belief(
            check=name,
            probability=dict(zip(one.term.outcomes, one.probability, strict=True)),
            worth=one.worth,
            worth_sd=one.worth_sd,
            worth_after=one.worth_after(cured),
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


def draw_worlds(known: Known, seed: int, draws: int) -> Worlds:
    """The seeded worlds; time and memory grow with checks times draws."""
    count = len(known.held)
    random = generator(seed)
    state_of = {name: random.random(draws, dtype=np.float32) for name in known.causes}
    chances = random.random((count, draws), dtype=np.float32)
    outcome = np.zeros((count, draws), dtype=np.int16)
    worth = np.empty((count, draws))
    after = np.empty((count, draws))
    for i, (one, cured) in enumerate(zip(known.held, known.cured, strict=True)):
        state = state_of.get(one.term.cause) if one.term.cause else None
        if not one.term.outcomes:
            worth[i] = after[i] = 0.0
        elif one.evidence.moments is not None and one.term.points and len(one.evidence.signs) == 1:
            _draw_reading(one, cured, (state, chances[i], random), (outcome[i], worth[i], after[i]))
        else:
            _draw_outcome(one, cured, (state, chances[i]), (outcome[i], worth[i], after[i]))
    total = known.weights.total
    has_weight = bool(known.weights.domains)
    score = total @ worth * FULL if has_weight else random.random(draws) * FULL
    score_after = total @ after * FULL if has_weight else score
    checks = known.relevance.counts
    return Worlds(seed, checks, outcome.T, worth.T, after.T, score, score_after)


def _draw_outcome(
    one: Held,
    cured: tuple[bool, ...],
    source: tuple[Single | None, Single],
    out: tuple[NDArray[np.int16], Floats, Floats],
) -> None:
    """Draw a check's outcome and worth; the shown part and the mixture are drawn as separate entries of one table."""
    shown = [i for i, mass in enumerate(one.shown) if mass > 0]
    entries = [*shown, *range(len(one.term.outcomes))]
    entry = _draw_entry([one.shown[i] for i in shown], one, source)
    after, shown_after = one.worths_after(cured)
    worths = [*(one.shown_worth[i] for i in shown), *one.term.worth]
    afters = [*(shown_after[i] for i in shown), *after]
    np.take(np.array(entries, dtype=np.int16), entry, out=out[0], mode="clip")
    np.take(np.array(worths), entry, out=out[1], mode="clip")
    if any(cured):
        np.take(np.array(afters), entry, out=out[2], mode="clip")
    else:
        out[2][:] = out[1]


def _draw_entry(shown: Sequence[float], one: Held, source: tuple[Single | None, Single]) -> NDArray[np.intp]:
    """Index into the shown masses followed by the outcomes of the state."""
    state, chance = source
    if state is None:
        return _steps(chance, [*shown, *(one.rest * share for share in one.term.mixed(one.bad))])
    bad = state < one.bad
    good_table = np.cumsum([*shown, *(one.rest * share for share in one.term.if_good)])[:-1]
    bad_table = np.cumsum([*shown, *(one.rest * share for share in one.term.if_bad)])[:-1]
    entry = np.zeros(chance.shape, dtype=np.intp)
    for for_good, for_bad in zip(good_table.tolist(), bad_table.tolist(), strict=True):
        entry += chance >= (
            for_good if for_good == for_bad else np.where(bad, np.float32(for_bad), np.float32(for_good))
        )
    return entry


def _steps(chance: Single, masses: Sequence[float]) -> NDArray[np.intp]:
    entry = np.zeros(chance.shape, dtype=np.intp)
    level = 0.0
    for mass in masses[:-1]:
        level += mass
        entry += chance >= np.float32(level)
    return entry


def _draw_reading(
    one: Held,
    cured: tuple[bool, ...],
    source: tuple[Single | None, Single, np.random.Generator],
    out: tuple[NDArray[np.int16], Floats, Floats],
) -> None:
    """A reading whose worth changes along it: draw the true value, then its side of the standard and its worth."""
    state, chance, random = source
    value, limits = one.evidence.value, one.term.limits
    assert value is not None and limits is not None
    true = value.value + value.u * random.standard_normal(chance.shape)
    low, meets, high = one.term.sides
    side = np.full(chance.shape, meets, dtype=np.int16)
    if limits.low is not None:
        side[true < limits.low] = low
    if limits.high is not None:
        side[true > limits.high] = high
    xs, ys = zip(*one.term.points, strict=True)
    worth = np.interp(true, xs, ys)
    after, shown_after = one.worths_after(cured)
    own = _draw_entry([value.reliability], one, (state, chance)) - 1
    trusted = own < 0
    np.copyto(out[0], np.where(trusted, side, own))
    np.copyto(out[1], np.where(trusted, worth, np.array(one.term.worth)[own]))
    if any(cured):
        is_cured = np.array(cured)[out[0]]
        fixed = np.where(trusted, np.array(shown_after)[side], np.array(after)[own])
        np.copyto(out[2], np.where(is_cured, fixed, out[1]))
    else:
        np.copyto(out[2], out[1])
