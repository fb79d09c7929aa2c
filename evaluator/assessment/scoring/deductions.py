"""What each finding took from the score, in points that add up to what is missing.

Shares that are left multiply, so their logarithms add: each part of what is missing from 100 is a finding's part of the
logarithm. What is unseen has its part too, by what is usual for the class.
"""

import math

from ..model import Deduction
from .known import Known
from .score import Scored
from .weights import FULL

# What rounds to nothing is left out, and its points go to the unseen, so that the sum stays.
LEAST = 0.005


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
