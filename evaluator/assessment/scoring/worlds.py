"""The seeded worlds that every later probability comes from.

A world draws the class of making and each group's grade once, and the state of each cause, so that what goes wrong
together goes wrong together. A seen check draws what was shown with the mass its observations carry, else an outcome of
its cause's state or its group's grade. The state for a seen check is drawn from the same number, but against P(bad)
without that check's own word, so that the frequency in the worlds is the belief.
"""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ...basis.chance import generator
from ...basis.frozen import dataclass
from ...rubric.making import SignTable
from ..believing.beliefs import Held, Left
from ..believing.making import Hand
from ..model import Worlds
from .biting import Biting, Drawn, chances_of, is_read, states
from .known import Known
from .score import Scored
from .weights import FULL

# The power that lays draws round a mean: Newton's steps, and bounds that no rubric comes near.
STEPS, LEAST_MEAN, MOST_POWER = 5, 1e-9, 50.0

Floats = NDArray[np.float64]
Single = NDArray[np.float32]
Outcomes = NDArray[np.int16]


def draw_worlds(known: Known, scores: tuple[Scored, Scored], seed: int, draws: int) -> tuple[Worlds, Floats, Floats]:
    """The seeded worlds, and each domain's score in them as it stands and after the work (a row a domain).

    `scores` are those of the closed form, as it stands and after the work: the draws are laid round them, since faults
    that come together leave a little more on the mean than the closed form, which takes the checks one by one.
    """
    setting, count = known.setting, len(known.setting.weights.domains)
    outcome = np.zeros((len(known.held), draws), dtype=np.int16)
    random = generator(seed)
    made = drawn_making(known.hand, random, draws)
    drawn_of = len(known.held)
    chances = chances_of(known.held, setting, known.hand, known.signs)
    now, then = (
        Biting(setting, one.losses, drawn_of, chances, after=after)
        for one, after in zip(scores, (False, True), strict=True)
    )
    classes = (made.making.astype(np.intp) + 1) * setting.bites.most
    # Summed check by check: a row fits the processor's cache, and a matrix library's threads would go on turning long
    # after so small a product.
    logs, logs_after = (one.apart()[:, made.making] for one in (now, then))
    for i, one in enumerate(drawn(known, made, random, draws)):
        outcome[i] = one.outcome
        domains_here = setting.bites.domains_of[i]
        state = states(known.held[i], one, setting.bites.most, classes) if domains_here else classes
        for d in domains_here:
            left = now.logs(i, d, one, state)
            logs[d] += left
            logs_after[d] += then.logs(i, d, one, state) if one.mended else left
    found = []
    for these, closed in zip((logs, logs_after), scores, strict=True):
        domains = np.array([laid_round(row, mean) for row, mean in zip(these, closed.domains, strict=True)])
        found.append((laid_round(np.einsum("d,dj->j", setting.weights.shares, these), closed.expected), domains))
    (score, domains), (score_after, domains_after) = found
    if not count:
        score = score_after = random.random(draws) * FULL
        domains = domains_after = np.zeros((0, draws))
    worlds = Worlds(seed, known.relevance.counts, outcome.T, score, score_after, made.making)
    return worlds, domains, domains_after


def laid_round(logs: Floats, mean: float) -> Floats:
    """Scores 0..100 of which these are the logarithms (of shares, at most 0), raised to the power that gives the mean.

    A power keeps the order of the worlds and both ends.
    """
    target, power = max(mean / FULL, LEAST_MEAN), 1.0
    if not logs.size or float(logs.min()) > -LEAST_MEAN:
        return np.full(logs.shape, mean)
    for _ in range(STEPS):
        shares = np.exp(power * logs)
        power = min(max(power + (target - shares.mean()) / min((shares * logs).mean(), -LEAST_MEAN), 0.0), MOST_POWER)
    return FULL * np.exp(power * logs)


@dataclass(frozen=True, slots=True)
class Made:
    """In every world the index of the class of making, and of each group's grade."""

    making: Outcomes
    grades: Mapping[str, Outcomes]


def drawn_making(hand: Hand, random: np.random.Generator, draws: int) -> Made:
    """Classes by their shares, and grades by their chances in each world's class."""
    if not hand.shares:
        return Made(np.zeros(draws, dtype=np.int16), {})
    making = _steps(random.random(draws, dtype=np.float32), 0.0, hand.shares).astype(np.int16)
    grades = {}
    for group, rows in hand.grades.items():
        chance = random.random(draws, dtype=np.float32)
        levels = np.cumsum(np.array(rows), axis=1).astype(np.float32)[making]
        grades[group] = (chance[:, None] >= levels[:, :-1]).sum(axis=1).astype(np.int16)
    return Made(making, grades)


def drawn(known: Known, made: Made, random: np.random.Generator, draws: int) -> Iterator[Drawn]:
    """Each check in turn."""
    state_of = {name: random.random(draws, dtype=np.float32) for name in known.causes}
    chances = random.random((len(known.held), draws), dtype=np.float32)
    for one, left, chance in zip(known.held, known.left, chances, strict=True):
        outcome, worth = np.zeros(draws, dtype=np.int16), np.zeros(draws) if is_read(one) else None
        if one.term.outcomes:
            _draw_shown(one, chance, random, outcome, worth)
            if one.rest > 0:
                table = known.signs.get(one.term.check)
                if table is None:
                    _draw_unshown(one, state_of.get(one.term.cause or ""), chance, outcome, worth)
                else:
                    _draw_sign(one, table, made.grades[table.group], chance, outcome, worth)
        shown = chance < np.float32(sum(one.shown)) if 0 < one.rest < 1 else None
        mended = any(left)
        after = worth if worth is None or not mended else _mended(one, left, chance, outcome, worth)
        yield Drawn(outcome, shown, mended, worth, after)


def _draw_shown(
    one: Held, chance: Single, random: np.random.Generator, outcome: Outcomes, worth: Floats | None
) -> None:
    """What the observations show, in every world; `_draw_unshown` then overwrites those where they do not hold."""
    value, limits = one.evidence.value, one.term.limits
    if worth is not None and value is not None and limits is not None:
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
    elif shown:
        entry = _steps(chance, 0.0, [one.shown[i] for i in shown])
        np.take(np.array(shown, dtype=np.int16), entry, out=outcome, mode="clip")


def _draw_unshown(one: Held, state: Single | None, chance: Single, outcome: Outcomes, worth: Floats | None) -> None:
    """Where the observations do not hold (everywhere, without any): an outcome of the state that the cause is in."""
    start = sum(one.shown)
    here = np.flatnonzero(chance >= np.float32(start)) if start > 0 else slice(None)
    chance = chance[here]
    if state is None:
        own = _steps(chance, start, [one.rest * share for share in one.mixture])
    else:
        bad = state[here] < np.float32(one.bad)
        own = np.zeros(chance.shape, dtype=np.int8)
        good_level = bad_level = start
        for if_good, if_bad in zip(one.term.if_good[:-1], one.term.if_bad[:-1], strict=True):
            good_level += one.rest * if_good
            bad_level += one.rest * if_bad
            own += (chance >= np.where(bad, np.float32(bad_level), np.float32(good_level))).view(np.int8)
    outcome[here] = own
    if worth is not None:
        worth[here] = np.array(one.term.worth)[own]


def _draw_sign(
    one: Held, table: SignTable, grade: Outcomes, chance: Single, outcome: Outcomes, worth: Floats | None
) -> None:
    """The same for a sign of the making: an outcome by its shares at the world's grade."""
    start = sum(one.shown)
    here = np.flatnonzero(chance >= np.float32(start)) if start > 0 else slice(None)
    levels = (start + one.rest * np.cumsum(np.array(table.shares), axis=0)).astype(np.float32)
    grade_here, chance_here = grade[here], chance[here]
    own = np.zeros(chance_here.shape, dtype=np.int8)
    for level in levels[:-1]:
        own += (chance_here >= level.take(grade_here)).view(np.int8)
    outcome[here] = own
    if worth is not None:
        worth[here] = np.array(one.term.worth)[own]


def _steps(chance: Single, start: float, masses: Sequence[float]) -> NDArray[np.int8]:
    """Index of the mass that each number falls in, the masses laid end to end from `start`."""
    entry = np.zeros(chance.shape, dtype=np.int8)
    level = start
    for mass in masses[:-1]:
        level += mass
        entry += (chance >= np.float32(level)).view(np.int8)
    return entry


def _mended(one: Held, left: Left, chance: Single, outcome: Outcomes, worth: Floats) -> Floats:
    """Worth after the work: another in the worlds where the outcome is one that the work touches."""
    own_after, shown_after = one.worths_after(left)
    shown = chance < np.float32(sum(one.shown))
    fixed = np.where(shown, np.array(shown_after)[outcome], np.array(own_after)[outcome])
    return np.where(np.array([mended is not None for mended in left])[outcome], fixed, worth)
