"""Learning hours from a shop's own records: catalogue, own record and the blend of both.

What was noted for several units, or for a cello, is first brought back to one unit on a violin, as the catalogue's
hours are. The catalogue counts as so many jobs already done (`PRIOR_JOBS`). With a normal law of unknown mean and
spread, the conjugate update (normal-inverse-gamma; DeGroot, Optimal Statistical Decisions, 1970, from memory) gives
the blend's mean as the weighted mean of both, and a spread that also holds how far they lie apart. The blend keeps
the catalogue's lean to the high side. A quote that was offered is never touched.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from ..estimate.extras import addition, paid_by
from ..estimate.model import Cost, Estimate, PlanLine
from ..estimate.pert import cost
from ..estimate.plan import Planner
from ..estimate.price import PriceList
from ..rubric.model import Family, Job, ThreePoint
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop

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


def per_unit(job: Job, family: Family, units: int, hours: float) -> float:
    """Hours that were noted for so many units on an instrument of this family, as hours for one on a violin."""
    more = 1.0 + (max(1, units) - 1) * (1.0 if job.further_unit is None else job.further_unit)
    return hours / (job.family.get(family, 1.0) * more)


def with_own_hours(rubric: Rubric, shop: Shop, own: Mapping[str, Sequence[float]]) -> tuple[Rubric, Mapping[str, int]]:
    """The rubric with the blend in the place of the catalogue's hours; for each such job, from how many of one's own.

    A job whose price the shop has set as a whole keeps it: hours do not enter there.
    """
    counts = {
        name: len(hours)
        for name, hours in own.items()
        if hours and name in rubric.jobs and name not in shop.job_prices and rubric.family in rubric.jobs[name].families
    }
    jobs = {
        name: job.model_copy(update={"hours": learnt(job.hours, own[name]).blend}) if name in counts else job
        for name, job in rubric.jobs.items()
    }
    return replace(rubric, jobs=jobs), counts


def repriced(work: Estimate, learnt_rubric: Rubric, shop: Shop, own_jobs: Collection[str]) -> Estimate:
    """The same work with the lines and extras of these jobs at the learnt hours; no job is put in another's place.

    Totals and draws stay the catalogue's: a quote adds up its lines itself.
    """
    planner = Planner(PriceList(learnt_rubric, shop))
    paid = paid_by([one.job for one in work.lines if one.job in planner.jobs], [o.job for o in work.lines if o.shared])

    def line(one: PlanLine) -> PlanLine:
        if one.shared or one.job not in own_jobs:
            return one
        price = planner.price_of(one.job, one.units)
        return replace(one, cost=price.whole, labour=price.labour, parts=price.used, hours_likely=price.hours_likely)

    return replace(
        work,
        lines=tuple(line(one) for one in work.lines),
        optional=tuple(line(one) for one in work.optional),
        possible_extras=tuple(
            replace(one, cost=addition(planner, paid, one.job).cost) if one.job in own_jobs else one
            for one in work.possible_extras
        ),
    )


def _reshaped(line: Cost, mean: float, sd: float) -> ThreePoint:
    """The line moved to this mean and stretched to this spread; never below a tenth of the mean."""
    stretch = sd / line.sd if line.sd > 0 else 0.0
    if line.sd <= 0 < sd:
        return ThreePoint(low=max(0.1 * mean, mean - 3.0 * sd), likely=mean, high=mean + 3.0 * sd)
    low, likely, high = (mean + stretch * (point - line.mean) for point in (line.low, line.likely, line.high))
    least = 0.1 * mean
    return ThreePoint(low=max(least, low), likely=max(least, likely), high=max(least, high))
