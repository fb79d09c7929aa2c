"""What the instrument is worth to its buyer, less the work and what nobody looked at, in every world of the assessment.

Each world holds a class of making and an outcome of every check. Its worth is drawn from the law of that class, less
what lasting faults take that are there and that nobody looked at; its work is the price of the plan there; what nobody
looked at costs the class's usual amount, more in the worlds where more is wrong. So a chance, and what a look would
tell, come from the very sums that make the ceiling.
"""

from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ...assessment.model import Assessment, Case
from ...basis.chance import generator
from ...basis.frozen import dataclass
from ...estimate.price import PriceList, price_list
from ...rubric.rubric import Rubric
from ...rubric.shop import Shop
from ...rubric.written.checks import Outcome, jobs_of
from ..worth.answers import Answer
from ..worth.guide import left_by_class
from ..worth.lasting import LEAST_LEFT
from .stops import stopped_worlds

Floats = NDArray[np.float64]
VALUE_STREAM = 104_729  # keeps the draws of the value apart from those of the prices


@dataclass(frozen=True, slots=True)
class ClassLaw:
    """Of one class: mean and standard deviation of the log of its worth to the buyer, and its usual unseen cost."""

    log_mean: float
    log_sd: float
    unseen: float


@dataclass(frozen=True, slots=True)
class Worlds:
    """By world: what it is worth to the buyer, what the work costs, and what nobody looked at costs."""

    worth: Floats
    work: Floats
    unseen: Floats

    def net(self, factor: float = 1.0) -> Floats:
        """The price at which one may as well leave it, in each world; `factor` that of a hard case."""
        return (self.worth - self.work - self.unseen) * factor

    def sound(self, factor: float = 1.0) -> Floats:
        """The same if all that nobody looked at is sound."""
        return (self.worth - self.work) * factor


def drawn_worlds(
    rubric: Rubric,
    case: Case,
    assessment: Assessment,
    shop: Shop,
    laws: Mapping[str, ClassLaw],
    work: Floats,
    answers: Mapping[str, Answer],
) -> Worlds:
    """The worlds; `laws` by class in the order of the assessment's classes, `work` the price of the plan in each."""
    worlds = assessment.worlds
    names = tuple(laws)
    making = worlds.making if len(names) > 1 else np.zeros(worlds.count, dtype=np.int16)
    mean, spread, usual = (
        np.array([getattr(law, key) for law in laws.values()])[making] for key in ("log_mean", "log_sd", "unseen")
    )
    z = generator(worlds.seed + VALUE_STREAM).standard_normal(worlds.count)
    left, cost = _not_looked_at(rubric, assessment, shop, names, making, answers)
    worth = np.exp(mean + spread * z) * left
    worth = np.where(stopped_worlds(rubric, case, assessment), rubric.figure("sold_on") * worth, worth)
    share = float(cost.mean())
    unseen = usual * (cost / share) if share > 0.0 else usual
    return Worlds(worth, work, unseen)


def _not_looked_at(
    rubric: Rubric,
    assessment: Assessment,
    shop: Shop,
    names: tuple[str, ...],
    making: NDArray[np.int16],
    answers: Mapping[str, Answer],
) -> tuple[Floats, Floats]:
    """(share of value left, price of the cures) in each world, of the checks that nobody answered."""
    worlds = assessment.worlds
    left, cost = np.ones(worlds.count), np.zeros(worlds.count)
    cures, losses = cure_prices(rubric, shop), lasting_shares(rubric, shop, names)
    for place, name in enumerate(worlds.checks):
        if name in answers:
            continue
        outcome = worlds.outcome[:, place]
        if name in losses:
            left *= losses[name][making, outcome]
        if name in cures:
            cost += cures[name].take(outcome)
    return left, cost


@lru_cache(maxsize=64)
def lasting_shares(rubric: Rubric, shop: Shop, names: tuple[str, ...]) -> Mapping[str, Floats]:
    """Share of value left, a row a class and a column an outcome, for the checks of which anything lasts."""
    found = {}
    for check in rubric.checks.values():
        rows = [left_by_class(shop.guide, rubric, check, one, names) for one in check.outcomes.values()]
        if any(row is not None for row in rows):
            kept = [[1.0 if row is None else max(row[name], LEAST_LEFT) for row in rows] for name in names]
            found[check.check] = np.array(kept)
    return found


@lru_cache(maxsize=64)
def cure_prices(rubric: Rubric, shop: Shop) -> Mapping[str, Floats]:
    """What the cheapest cure of each outcome costs by itself, 0 without any, for the checks that anything cures."""
    prices = price_list(rubric, shop)
    found = {
        name: np.array([_cheapest(prices, one) for one in check.outcomes.values()])
        for name, check in rubric.checks.items()
        if any(one.cured_by for one in check.outcomes.values())
    }
    return {name: row for name, row in found.items() if row.any()}


def _cheapest(prices: PriceList, outcome: Outcome) -> float:
    priced = (
        [prices.job(job) if job in prices.rubric.jobs else None for job in jobs_of(cure)] for cure in outcome.cured_by
    )
    known = [sum(price.whole.mean for price in way if price) for way in priced if None not in way]
    return min(known, default=0.0)
