"""What a score means: which findings took what is missing from it, and its place among its own class.

Shares that are left multiply, so their logarithms add: each part of what is missing from 100 is a finding's part of the
logarithm. What is unseen has its part too, by what is usual for the class.

The place is how many of a hundred of the likeliest class, looked at in the same places, are better. Instruments of the
class are drawn with a fixed seed: the grade of each group of signs and the state of each cause, then what each check
that was seen here would show. What was not seen is the same for all and cancels.
"""

import math

import numpy as np
from numpy.typing import NDArray

from ...basis.chance import generator
from ...rubric.rubric import Rubric
from ..believing.making import kernel_of
from ..believing.terms import prior_of
from ..model import Case, Deduction
from .known import Known
from .score import Scored
from .weights import FULL
from .worlds import laid_round

Floats = NDArray[np.float64]
# What rounds to nothing is left out, and its points go to the unseen, so that the sum stays.
LEAST = 0.005
PEOPLE = 400  # instruments of the class that are drawn
TIED = 1e-9  # sums of the same costs in another order differ by rounding


def deductions_of(known: Known, scored: Scored) -> tuple[Deduction, ...]:
    """Every deduction, the largest first, the unseen last; their points add up to 100 less the score."""
    found = []
    spare = [0.0] * len(scored.domains)
    for i, row in enumerate(scored.points[:-1].tolist()):
        for d, points in enumerate(row):
            if points < LEAST:
                spare[d] += points
            else:
                found.append(_deduction(known, scored, i, d, points))
    found.sort(key=lambda one: -one.points)
    for d, domain in enumerate(known.weights.domains):
        points = float(scored.points[-1, d]) + spare[d]
        if points > 0:
            found.append(Deduction(None, None, domain, points, _of_domain(scored, d, float(scored.unseen[d]))))
    return tuple(found)


def _deduction(known: Known, scored: Scored, i: int, d: int, points: float) -> Deduction:
    held = known.setting.held[i]
    shown = max(range(len(held.shown)), key=held.shown.__getitem__)
    return Deduction(
        check=held.term.check,
        outcome=held.term.outcomes[shown],
        domain=known.weights.domains[d],
        points=points,
        of_domain=_of_domain(scored, d, float(scored.seen[i, d])),
        waits=held.term.check in known.waits_for,
        set_aside=i >= len(known.held),
    )


def _of_domain(scored: Scored, d: int, part: float) -> float:
    """A part of a domain's logarithm as points of what is missing from the domain."""
    whole = -math.log(max(scored.domains[d] / FULL, 1e-12))
    return (FULL - scored.domains[d]) * part / whole if whole > 0 else 0.0


def better_in_class(rubric: Rubric, case: Case, known: Known, seed: int) -> float | None:
    """Of a hundred; None without classes or without anything seen."""
    if not known.hand.shares or not known.weights.domains:
        return None
    best = max(range(len(known.hand.shares)), key=known.hand.shares.__getitem__)
    seen = [i for i, one in enumerate(known.held) if one.seen and one.term.in_score > 0]
    if not seen:
        return None
    setting, bites = known.setting, known.setting.bites
    costs, shown = (bites.taken(worth) @ known.weights.shares for worth in (bites.worth, setting.shown_worth))
    own = float(sum((setting.mass[i] * shown[i]).sum() / setting.mass[i].sum() for i in seen))
    others = _others(rubric, case, known, best, generator(seed + 2), seen, costs)
    # Laid round what is usual for the class where it was looked at, as the score is.
    looked = known.weights.by_domain[:, seen].sum(axis=1)
    usual = float(np.exp((known.weights.shares * looked) @ np.log(setting.usual[best])))
    them, it = laid_round(-others, FULL * usual), FULL * np.exp(-own)
    return FULL * float((them > it + TIED).mean() + (np.abs(them - it) <= TIED).mean() / 2)


def _others(
    rubric: Rubric,
    case: Case,
    known: Known,
    making: int,
    random: np.random.Generator,
    seen: list[int],
    costs: Floats,
) -> Floats:
    """What all that was looked at takes in each drawn instrument of the class, as -log of what is left."""
    groups, states = _drawn(rubric, case, known, making, random)
    found = np.zeros(PEOPLE)
    chances = random.random((len(seen), PEOPLE))
    for i, chance in zip(seen, chances, strict=True):
        term = known.held[i].term
        table = known.signs.get(term.check)
        if table is not None:
            levels = np.cumsum(np.array(table.shares), axis=0)[:, groups[table.group]]
        elif term.cause in states:
            levels = np.cumsum(np.array([term.if_good, term.if_bad]), axis=1).T[:, states[term.cause]]
        else:
            levels = np.cumsum(np.array(term.mixed(term.prior)))[:, None]
        found += costs[i].take((chance >= levels[:-1]).sum(axis=0))
    return found


def _drawn(
    rubric: Rubric, case: Case, known: Known, making: int, random: np.random.Generator
) -> tuple[dict[str, NDArray[np.intp]], dict[str, NDArray[np.intp]]]:
    """The grade of every group in instruments of the class, and the state (1 is bad) of every cause."""
    levels = np.cumsum(np.array(kernel_of(len(known.hand.shares))[making]))[:-1]
    here = {list(rubric.classes)[making]: 1.0}
    groups = {group: (random.random(PEOPLE)[:, None] >= levels).sum(axis=1) for group in known.hand.grades}
    states = {
        name: (random.random(PEOPLE) < prior_of(rubric.causes[name], case.instrument, here)).astype(np.intp)
        for name in known.causes
    }
    return groups, states
