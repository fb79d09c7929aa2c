"""Weights are one luthier's view: in what share of other views the verdict, or the order of candidates, stands.

Stochastic multicriteria acceptability analysis (SMAA-2; Lahdelma and Salminen, Operations Research 49, 2001,
444-454): weights are drawn from a law over all that may be held, here a Dirichlet law around the rubric's weights, or
even over the whole simplex; what is reported is the share of draws in which an outcome holds. A concentration of c
gives a share s the standard deviation sqrt(s (1 - s) / (c + 1)).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...basis.chance import generator
from ...rubric.model import Domain
from ...rubric.rubric import Rubric
from ..model import Assessment, Case
from .score import FULL, Weights, weights_of

VIEWS = 1000
# A domain that the rubric gives a quarter then lies between about 15 and 36 % in nine views of ten. Judged, no source.
DOMAIN_CONCENTRATION = 40.0
# Each check's weight within its domain is multiplied by a gamma variable of this shape (standard deviation 35 %).
CHECK_SHAPE = 8.0
# Without a verdict to ask for, what is held is the word for the after-work score.
BANDS = (50.0, 70.0, 85.0)

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Views:
    """Scores of one instrument in every view, 0..100; `shares[v, d]` is the share of domain d in view v."""

    domains: tuple[Domain, ...]
    shares: Floats
    score: Floats
    score_after: Floats


@dataclass(frozen=True, slots=True)
class Turn:
    """The nearest share of a domain at which the verdict turns, the other domains keeping their proportions."""

    domain: Domain
    share_now: float
    share_then: float
    from_: str
    to: str


# From scores as they stand and after the work (one entry a view) to what is held of them, as words or numbers.
Judge = Callable[[Floats, Floats], Sequence[object] | NDArray[np.generic]]


def band(_score: Floats, score_after: Floats) -> NDArray[np.intp]:
    """The band of the after-work score, counted from the lowest."""
    return np.searchsorted(np.array(BANDS), score_after, side="right")


def judge_of(advice: Callable[[float], object]) -> Judge:
    """A judge from a rule that turns one after-work score into a word, asked once for every tenth of a point."""

    def judge(_score: Floats, score_after: Floats) -> list[object]:
        tenths = np.round(score_after, 1)
        says = {score: advice(score) for score in set(tenths.tolist())}
        return [says[score] for score in tenths.tolist()]

    return judge


def draw_shares(
    shares: Sequence[float] | Floats, views: int, seed: int, concentration: float | None = DOMAIN_CONCENTRATION
) -> Floats:
    """Weightings around `shares` (rows sum to 1); with concentration None, evenly over the whole simplex."""
    centre = np.asarray(shares, dtype=float)
    random = generator(seed)
    if concentration is None:
        return random.dirichlet(np.ones(len(centre)), views)
    found = np.zeros((views, len(centre)))
    used = centre > 0
    # A domain without a share stays without one: a Dirichlet law needs every entry above nothing.
    found[:, used] = random.dirichlet(centre[used] / centre.sum() * concentration, views)
    return found


def views_of(
    rubric: Rubric,
    case: Case,
    assessment: Assessment,
    seed: int = 1,
    views: int = VIEWS,
    *,
    whole_simplex: bool = False,
) -> Views:
    """The expected scores of the instrument under other weights for domains and for the checks in them."""
    weights = _weights(rubric, case, assessment)
    concentration = None if whole_simplex else DOMAIN_CONCENTRATION
    if not weights.domains:
        middle = np.full(views, FULL / 2)
        return Views((), np.zeros((views, 0)), middle, middle)
    shares = draw_shares(weights.shares, views, seed, concentration)
    # One stretch a check, the same in every domain: who holds a check for weighty does so throughout.
    stretch = generator(seed + 1).standard_gamma(CHECK_SHAPE, (views, len(assessment.relevant))) / CHECK_SHAPE
    worth, after = _worths(assessment)
    score, score_after = np.zeros(views), np.zeros(views)
    for d in range(len(weights.domains)):
        row = weights.by_domain[d]
        # Summed by numpy's own loops, for the same reason as the worlds' scores.
        total, now, later = (np.einsum("vi,i->v", stretch, one) for one in (row, row * worth, row * after))
        score += shares[:, d] * now / total
        score_after += shares[:, d] * later / total
    return Views(weights.domains, shares, score * FULL, score_after * FULL)


def share_of_views(views: Views, assessment: Assessment, judge: Judge = band) -> float:
    """Share of these views in which `judge` says what it says by the rubric's own weights, 0..1."""
    held = judge(np.array([assessment.score.expected]), np.array([assessment.score_after.expected]))[0]
    return sum(1 for one in judge(views.score, views.score_after) if one == held) / len(views.score)


def turns(
    rubric: Rubric, case: Case, assessment: Assessment, judge: Judge = band, steps: int = 200
) -> tuple[Turn, ...]:
    """For each domain whose share alone can turn the verdict, where it does; the smallest move first."""
    weights = _weights(rubric, case, assessment)
    if not weights.domains:
        return ()
    worth, after = _worths(assessment)
    domain_score, domain_after = weights.by_domain @ worth * FULL, weights.by_domain @ after * FULL
    grid = np.linspace(0.0, 1.0, steps + 1)
    held = judge(np.array([weights.shares @ domain_score]), np.array([weights.shares @ domain_after]))[0]
    found = []
    for d, domain in enumerate(weights.domains):
        now = float(weights.shares[d])
        if now >= 1.0:
            continue
        rest = weights.shares / (1.0 - now)
        rest[d] = 0.0
        score = grid * domain_score[d] + (1.0 - grid) * (rest @ domain_score)
        later = grid * domain_after[d] + (1.0 - grid) * (rest @ domain_after)
        says = judge(score, later)
        other = [i for i in range(steps + 1) if says[i] != held]
        if other:
            nearest = min(other, key=lambda i: abs(float(grid[i]) - now))
            found.append(Turn(domain, now, float(grid[nearest]), str(held), str(says[nearest])))
    return tuple(sorted(found, key=lambda turn: abs(turn.share_then - turn.share_now)))


def rank_acceptability(values: Floats, weights: Floats) -> Floats:
    """Share of views in which each candidate takes each rank, best first (candidates x ranks).

    `values[c, k]` is the value of candidate c for criterion k, `weights[v, k]` the views. Of equal candidates the one
    that is named first goes first.
    """
    order = np.argsort(-(weights @ values.T), axis=1, kind="stable")
    count = values.shape[0]
    return np.array([[(order[:, rank] == c).mean() for rank in range(count)] for c in range(count)])


def central_weights(values: Floats, weights: Floats) -> Floats:
    """For each candidate the mean of the views in which it is first; a row of nan where it never is."""
    first = np.argmax(weights @ values.T, axis=1)
    rows = [
        weights[first == c].mean(axis=0) if (first == c).any() else np.full(weights.shape[1], np.nan)
        for c in range(values.shape[0])
    ]
    return np.array(rows)


def order_holds(values: Floats, weights: Floats, centre: Floats) -> float:
    """Share of views in which all candidates stand in the same order as by the weights `centre`."""
    order = np.argsort(-(weights @ values.T), axis=1, kind="stable")
    here = np.argsort(-(values @ centre), kind="stable")
    return float((order == here).all(axis=1).mean())


def _weights(rubric: Rubric, case: Case, assessment: Assessment) -> Weights:
    checks = [rubric.checks[name] for name in assessment.relevant]
    return weights_of(checks, case.instrument, rubric.domain_shares.get(case.instrument.tier, {}))


def _worths(assessment: Assessment) -> tuple[Floats, Floats]:
    beliefs = [assessment.beliefs[name] for name in assessment.relevant]
    return np.array([one.worth for one in beliefs]), np.array([one.worth_after for one in beliefs])
