"""Weights are one luthier's view: in what share of other views the verdict, or the order of candidates, stands.

Stochastic multicriteria acceptability analysis (SMAA-2; Lahdelma and Salminen, Operations Research 49, 2001,
444-454): weights are drawn from a law over all that may be held, here a Dirichlet law around the rubric's weights, or
even over the whole simplex; what is reported is the share of draws in which an outcome holds. A concentration of c
gives a share s the standard deviation sqrt(s (1 - s) / (c + 1)).
"""

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ...basis.chance import generator
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.kinds import Domain
from ..model import Assessment, Case
from .weights import FULL, shares_of

VIEWS = 1000
LEAST = 1e-9
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


# From scores as they stand and after the work (one entry a view) to what is held of them, as words or numbers.
Judge = Callable[[Floats, Floats], Sequence[object] | NDArray[np.generic]]


def band(_score: Floats, score_after: Floats) -> NDArray[np.intp]:
    """The band of the after-work score, counted from the lowest."""
    return np.searchsorted(np.array(BANDS), score_after, side="right")


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
    domains = tuple(assessment.domains)
    if not domains:
        middle = np.full(views, FULL / 2)
        return Views((), np.zeros((views, 0)), middle, middle)
    concentration = None if whole_simplex else DOMAIN_CONCENTRATION
    shares = draw_shares(_shares(rubric, case, domains), views, seed, concentration)
    parts = tuple(_parts(assessment, after=after) for after in (False, True))
    # One stretch a check, the same in every domain: who holds a check for weighty does so throughout.
    named = dict.fromkeys(check for one in parts for _, check, _ in one.taken if check is not None)
    stretch = generator(seed + 1).standard_gamma(CHECK_SHAPE, (len(named), views)) / CHECK_SHAPE
    stretches = dict(zip(named, stretch, strict=True))
    score, score_after = (FULL * np.exp(np.einsum("vd,dv->v", shares, _logs(one, stretches, views))) for one in parts)
    return Views(domains, shares, score, score_after)


def _logs(parts: "Parts", stretches: Mapping[str, Floats], views: int) -> Floats:
    """Logarithm of what is left of each domain in every view (domains x views): each check's part by its stretch."""
    found = np.zeros((parts.domains, views))
    for d, check, part in parts.taken:
        found[d] -= part if check is None else stretches[check] * part
    return found


def share_of_views(views: Views, assessment: Assessment, judge: Judge = band) -> float:
    """Share of these views in which `judge` says what it says by the rubric's own weights, 0..1."""
    held = judge(np.array([assessment.score.expected]), np.array([assessment.score_after.expected]))[0]
    return sum(1 for one in judge(views.score, views.score_after) if one == held) / len(views.score)


@dataclass(frozen=True, slots=True)
class Parts:
    """(place of the domain, check or None for the unseen, part of the domain's logarithm), over so many domains."""

    domains: int
    taken: tuple[tuple[int, str | None, float], ...]


def _parts(assessment: Assessment, *, after: bool = False) -> Parts:
    row = {domain: d for d, domain in enumerate(assessment.domains)}
    left = _left(assessment, after=after)
    found = []
    for one in assessment.deductions_after if after else assessment.deductions:
        d = row[one.domain]
        missing = 1.0 - float(left[d])
        found.append((d, one.check, -math.log(left[d]) * one.of_domain / (FULL * missing) if missing > 0 else 0.0))
    return Parts(len(row), tuple(found))


def _left(assessment: Assessment, *, after: bool) -> Floats:
    """Share that is left of each domain."""
    found = assessment.domains_after if after else assessment.domains
    return np.array([max(one.expected / FULL, LEAST) for one in found.values()])


def _shares(rubric: Rubric, case: Case, domains: Sequence[Domain]) -> Floats:
    """The rubric's shares of these domains, adding up to 1."""
    return shares_of(domains, rubric.domain_shares.get(case.instrument.tier, {}))
