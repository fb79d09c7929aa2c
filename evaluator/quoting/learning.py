"""Learning from a shop's own records how long work takes and how often a possible extra truly comes: what the lists
say, the own record, and the blend of both. A quote that was offered is never touched.

Hours that were noted for several units, or for a cello, are first brought back to one unit on a violin, as the
catalogue's are. The catalogue counts as so many jobs already done (`PRIOR_JOBS`). With a normal law of unknown mean
and spread, the conjugate update (normal-inverse-gamma; DeGroot, Optimal Statistical Decisions, 1970, from memory)
gives the blend's mean as the weighted mean of both, and a spread that also holds how far they lie apart. The blend
keeps the catalogue's lean to the high side.

Each chance that a quote told is a prior that counts as so many orders (`PRIOR_ORDERS`): a Beta law. An extra came or
did not in each done order, which is binomial, so the posterior is a Beta law again and its mean is the blend (Gelman
et al., Bayesian Data Analysis, chapter 2; from memory). An extra came where a second quote of the order asked for it,
whatever was answered: it was found.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from ..basis.money import money_of
from ..estimate.model import Cost
from ..estimate.pert import cost
from ..estimate.price import Price, PriceList
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.kinds import Family, ThreePoint
from ..rubric.written.work import Job
from .draft import Draft, DraftExtra
from .quote import Quote, QuoteLine

PRIOR_JOBS = 5.0  # a catalogue from memory is worth about five jobs of one's own; judged, no source
PRIOR_ORDERS = 10.0  # chances from memory are worth about ten orders of one's own; judged, no source
Order = tuple[Quote, tuple[Quote, ...]]  # a done quote, and the second quotes of its order that were offered


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


def mean_of(three: ThreePoint) -> float:
    """The mean that a low, likely and high figure stand for, which is what own records are blended with."""
    return cost(three.low, three.likely, three.high).mean


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


def at_own_hours(
    draft: Draft, catalogue: Rubric, learnt_rubric: Rubric, shop: Shop, own_jobs: Mapping[str, int]
) -> Draft:
    """The same work with the lines and extras of these jobs moved by what the learnt hours make of the catalogue's, at
    the shop's rates of today; no job is put in another's place. A draft in other money stays as it is.
    """
    if draft.terms.currency != shop.currency:
        return draft
    was, now = PriceList(catalogue, shop), PriceList(learnt_rubric, shop)

    def line(one: QuoteLine) -> QuoteLine:
        before, after = (_price(prices, one.job, one.units) for prices in (was, now))
        if one.shared or one.job not in own_jobs or before is None or after is None:
            return one
        priced = _moved(one.cost, before.whole, after.whole)
        hours = round(one.hours_likely + after.hours_likely - before.hours_likely, 4)
        labour = money_of(priced.mean, draft.terms.currency) - one.parts
        return replace(one, cost=priced, labour=labour, hours_likely=hours, own_jobs=own_jobs[one.job])

    def extra(one: DraftExtra) -> DraftExtra:
        before, after = _price(was, one.job), _price(now, one.job)
        if one.job not in own_jobs or before is None or after is None:
            return one
        more = money_of(after.whole.mean - before.whole.mean, draft.terms.currency)
        return replace(one, price=one.price + more)

    return replace(draft, lines=tuple(map(line, draft.lines)), extras=tuple(map(extra, draft.extras)))


def _price(prices: PriceList, job: str, units: int = 1) -> Price | None:
    return prices.job(job, units) if job in prices.rubric.jobs else None


def _moved(line: Cost, before: Cost, after: Cost) -> Cost:
    """The line's range by the difference of the two, and never below nothing."""
    points = (
        max(0.0, getattr(line, key) + getattr(after, key) - getattr(before, key)) for key in ("low", "likely", "high")
    )
    return cost(*points)


def _reshaped(line: Cost, mean: float, sd: float) -> ThreePoint:
    """The line moved to this mean and stretched to this spread; never below a tenth of the mean."""
    stretch = sd / line.sd if line.sd > 0 else 0.0
    if line.sd <= 0 < sd:
        return ThreePoint(low=max(0.1 * mean, mean - 3.0 * sd), likely=mean, high=mean + 3.0 * sd)
    low, likely, high = (mean + stretch * (point - line.mean) for point in (line.low, line.likely, line.high))
    least = 0.1 * mean
    return ThreePoint(low=max(least, low), likely=max(least, likely), high=max(least, high))


@dataclass(frozen=True, slots=True)
class OwnChance:
    """One possible extra: `told` is the mean chance (0..1) of the quotes that named it, `orders` how many of those are
    done, `came` in how many of them it was found.
    """

    job: str
    say: str
    told: float
    orders: int
    came: int

    @property
    def weight(self) -> float:
        """The share of the own record in the blend."""
        return self.orders / (PRIOR_ORDERS + self.orders)

    @property
    def blend(self) -> float:
        return self.blended(self.told)

    def blended(self, told: float) -> float:
        """What becomes of a chance that a new quote would tell; between it and the own share."""
        return (PRIOR_ORDERS * told + self.came) / (PRIOR_ORDERS + self.orders)


def own_chances(orders: Iterable[Order]) -> Mapping[str, OwnChance]:
    """Each extra that a done quote named, by its job, with what truly came."""
    found: dict[str, list[tuple[str, float, bool]]] = {}
    for quote, more in orders:
        asked = {line.job for one in more for line in one.lines if line.takes_off is None}
        for extra in quote.extras:
            found.setdefault(extra.job, []).append((extra.say, extra.chance, extra.job in asked))
    return {job: _own_chance_of(job, told) for job, told in found.items()}


def _own_chance_of(job: str, told: list[tuple[str, float, bool]]) -> OwnChance:
    mean = sum(chance for _, chance, _ in told) / len(told)
    return OwnChance(job, told[-1][0], mean, len(told), sum(came for _, _, came in told))


def at_own_chances(draft: Draft, own: Mapping[str, OwnChance]) -> Draft:
    """The same draft with the chance of each extra moved by what came in one's own orders."""
    extras = tuple(_extra_moved(one, own[one.job]) if one.job in own else one for one in draft.extras)
    return replace(draft, extras=extras)


def _extra_moved(extra: DraftExtra, own: OwnChance) -> DraftExtra:
    return replace(extra, chance=own.blended(extra.chance), own_orders=own.orders)
