"""Learning hours from a shop's own records: catalogue, own record and the blend of both.

The catalogue's hours count as so many jobs already done (`PRIOR_JOBS`). With a normal law of unknown mean and spread,
the conjugate update (normal-inverse-gamma; DeGroot, Optimal Statistical Decisions, 1970, from memory) gives the
blend's mean as the weighted mean of both, and a spread that also holds how far they lie apart. The blend keeps the
catalogue's lean to the high side. A quote that was offered is never touched.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..rubric.model import ThreePoint
from .model import Cost
from .pert import cost

PRIOR_JOBS = 5.0  # a catalogue from memory is worth about five jobs of one's own; judged, no source


@dataclass(frozen=True, slots=True)
class Learnt:
    """`own_mean` is None without a record, `own_sd` with fewer than two; `weight` is the share of the own record."""

    catalogue: ThreePoint
    count: int
    own_mean: float | None
    own_sd: float | None
    weight: float
    blend: ThreePoint


def learnt(catalogue: ThreePoint, hours: Sequence[float], prior_jobs: float = PRIOR_JOBS) -> Learnt:
    """The blend of the catalogue's hours and the hours of jobs done (each above 0)."""
    prior = cost(catalogue.low, catalogue.likely, catalogue.high)
    count = len(hours)
    if not count:
        return Learnt(catalogue, 0, None, None, 0.0, catalogue)
    mean = sum(hours) / count
    scatter = sum((one - mean) ** 2 for one in hours)
    weight = count / (prior_jobs + count)
    blended = (1.0 - weight) * prior.mean + weight * mean
    apart = prior_jobs * weight * (mean - prior.mean) ** 2
    variance = (prior_jobs * prior.sd**2 + scatter + apart) / (prior_jobs + count)
    own_sd = math.sqrt(scatter / (count - 1)) if count > 1 else None
    return Learnt(catalogue, count, mean, own_sd, weight, _reshaped(prior, blended, math.sqrt(variance)))


def _reshaped(line: Cost, mean: float, sd: float) -> ThreePoint:
    """The line moved to this mean and stretched to this spread; never below a tenth of the mean."""
    stretch = sd / line.sd if line.sd > 0 else 0.0
    if line.sd <= 0 < sd:
        return ThreePoint(low=max(0.1 * mean, mean - 3.0 * sd), likely=mean, high=mean + 3.0 * sd)
    low, likely, high = (mean + stretch * (point - line.mean) for point in (line.low, line.likely, line.high))
    least = 0.1 * mean
    return ThreePoint(low=max(least, low), likely=max(least, likely), high=max(least, high))
