"""A shop's own guide by class, fitted from its sales, with a guide from memory as the first opinion.

Each sale is brought to a full size, clean and ready, in the shop, today. In the logarithm the sales of a class are a
bell about what the class brings; that middle is the guide's, moved by what all classes of the family share (the place,
the year) and by what is the class's own. All of it is normal, so the answer is a closed form (conjugate normal model;
Gelman and others, Bayesian data analysis, chapter 5; from memory). A class that nobody sold moves with the others, and
its range says how little is known.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import exp, log, sqrt

import numpy as np

from ...basis.chance import normal_quantile
from ...rubric.guide import Guide
from ...rubric.shop import Shop
from ...rubric.written.kinds import Family, ThreePoint
from ..sales.comparables import Adjusted, Comparable, adjusted, mark, market_of, told
from ..worth.mixture import law_of
from .screening import FAR, FEWEST, held_down, near_ones, once
from .spread import spread_of, student_quantile

SHARED = 0.25  # of the logarithm: how far a guide from memory is off for a place and a year; judged, no source
OWN = 0.2  # and for one class beside the others
USUAL_COUNTS = 4.0  # sales that the guide's own width counts as
SURE = 0.95  # that every figure of a family lies in its range


@dataclass(frozen=True, slots=True)
class Figure:
    """A price, and the range that holds it together with all others of the family in nineteen of twenty cases."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class FittedClass:
    """What a class brings by the sales: near-limits and likely price as a guide has them; `count` of sales behind it,
    `far` of those that were too far from the others.
    """

    making: str
    low: Figure
    likely: Figure
    high: Figure
    count: int
    far: int

    @property
    def price(self) -> ThreePoint:
        return ThreePoint(low=self.low.value, likely=self.likely.value, high=self.high.value)


@dataclass(frozen=True, slots=True)
class FittedGuide:
    """The classes of one family, the cheapest first. `unclear`: sales that do not say what they were made as."""

    family: Family
    classes: tuple[FittedClass, ...]
    unclear: int

    @property
    def count(self) -> int:
        return sum(one.count for one in self.classes)


@dataclass(frozen=True, slots=True)
class _Seen:
    """What the sales of one class say: the guide's law of it, mean of the logarithms and its variance (None without
    sales), width of one price and the freedom behind that.
    """

    prior: ThreePoint
    mean: float | None
    variance: float
    sd: float
    freedom: float
    count: int
    far: int

    @property
    def usual_sd(self) -> float:
        return _width(self.prior)


def fitted_guide(sales: Sequence[Comparable], family: Family, first: Guide, shop: Shop, on: date) -> FittedGuide | None:
    """The guide of a family by these sales; None where `first`, the guide before any sale, has no prices for it."""
    prices = first.prices.get(family, {})
    if not prices:
        return None
    ours = [one for one in once(sales, mark) if _counts(one, family, shop, on)]
    by_class: dict[str, list[Comparable]] = {name: [] for name in prices}
    for one in ours:
        name = class_of(one, first)
        if name in by_class:
            by_class[name].append(one)
    seen = {name: _seen(found, name, family, first, shop, on) for name, found in by_class.items()}
    unclear = len(ours) - sum(len(found) for found in by_class.values())
    return FittedGuide(family, _fitted(seen), unclear)


def adopted(
    fitted: Sequence[FittedGuide], fewest: int, chosen: frozenset[tuple[str, str]] | None = None
) -> dict[str, dict[str, dict[str, float]]]:
    """The prices as a shop file has them: of the chosen (family, class), else of all that have so many sales."""
    found: dict[str, dict[str, dict[str, float]]] = {}
    for guide in fitted:
        for one in guide.classes:
            wanted = one.count >= fewest if chosen is None else (guide.family, one.making) in chosen
            if wanted:
                price = one.price
                of_family = found.setdefault(guide.family, {})
                of_family[one.making] = {"low": price.low, "likely": price.likely, "high": price.high}
    return found


def class_of(one: Comparable, guide: Guide) -> str | None:
    """What a sale was made as: as it says, else the class that is usually made so well; None where it says neither."""
    if one.making:
        return one.making
    if one.made is None or not guide.made_like:
        return None
    made = one.made
    return min(guide.made_like, key=lambda name: abs(guide.made_like[name] - made))


def _counts(one: Comparable, family: Family, shop: Shop, on: date) -> bool:
    young = 0 <= one.years_before(on) <= shop.sales.oldest_years
    return young and one.family == family and one.currency == shop.currency


def _seen(sales: Sequence[Comparable], name: str, family: Family, first: Guide, shop: Shop, on: date) -> _Seen:
    prior = first.prices[family][name]
    rows = [_brought(one, name, first, shop, on) for one in sales]
    prices = [row.value / first.size_factor(family, row.comparable.size, name) for row in rows]
    near = near_ones(prices, [not row.much for row in rows]) if len(rows) >= FEWEST else _near(prices, prior)
    kept = [(price, row) for price, row, is_near in zip(prices, rows, near, strict=True) if is_near]
    far, width = len(rows) - len(kept), _width(prior)
    if not kept:
        return _Seen(prior, None, 0.0, width, USUAL_COUNTS, 0, far)
    weights = held_down([row.weight for _, row in kept], [not row.much for _, row in kept])
    spread = spread_of([price for price, _ in kept], weights, width, USUAL_COUNTS)
    return _Seen(prior, spread.middle, spread.sd**2 / spread.count, spread.sd, spread.freedom, len(kept), far)


def _brought(one: Comparable, name: str, guide: Guide, shop: Shop, on: date) -> Adjusted:
    """The sale as a clean one, ready, in the shop, on the day; bow and case stay where the guide's price holds them."""
    with_extras = name in guide.with_bow_and_case
    return adjusted(replace(one, extras=0.0) if with_extras else one, 1.0, on, market_of(shop))


def _near(prices: Sequence[float], prior: ThreePoint) -> tuple[bool, ...]:
    """Of one or two sales alone the guide can say which is strange: 3.5 times as far as it could be off itself."""
    limit = FAR * sqrt(SHARED**2 + OWN**2 + _width(prior) ** 2)
    return tuple(price > 0.0 and abs(log(price / prior.likely)) <= limit for price in prices)


def _width(price: ThreePoint) -> float:
    return law_of(1.0, price.low, price.likely, price.high).log_sd


def _fitted(seen: Mapping[str, _Seen]) -> tuple[FittedClass, ...]:
    classes = list(seen.values())
    first = np.array([log(one.prior.likely) for one in classes])
    before = SHARED**2 + OWN**2 * np.eye(len(classes))
    told_by = np.array([one.mean is not None for one in classes])
    observed = np.array([one.mean if one.mean is not None else 0.0 for one in classes])[told_by]
    noise = np.diag([one.variance for one in classes if one.mean is not None])
    gain = before[:, told_by] @ np.linalg.inv(before[np.ix_(told_by, told_by)] + noise)
    middle = first + gain @ (observed - first[told_by])
    variance = np.diag(before - gain @ before[told_by, :])
    share = 1.0 - (1.0 - SURE) / (3 * len(classes))
    return tuple(
        _class(name, one, float(mean), float(var), share)
        for (name, one), mean, var in zip(seen.items(), middle, variance, strict=True)
    )


def _class(name: str, one: _Seen, middle: float, variance: float, share: float) -> FittedClass:
    """The figures with their ranges; the near-limits keep their places about the likely price, so wide as was found."""
    wider = one.sd / one.usual_sd
    edge = 0.5 + share / 2.0
    reach = student_quantile(edge, one.freedom) if one.count else normal_quantile(edge)

    def figure(prior: float) -> Figure:
        away = log(prior / one.prior.likely) * wider
        sd = sqrt(variance + away**2 / (2.0 * one.freedom))
        return Figure(
            told(exp(middle + away)), told(exp(middle + away - reach * sd)), told(exp(middle + away + reach * sd))
        )

    low, likely, high = map(figure, (one.prior.low, one.prior.likely, one.prior.high))
    return FittedClass(name, low, likely, high, one.count, one.far)
