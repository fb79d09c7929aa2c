"""Two to six candidates side by side: how often each comes first, and which look could change that.

A view is a weighting of the domains (drawn around the rubric's) and of price against quality (its share drawn evenly
from `PRICE_SHARE`). Each view is taken together with one world of every candidate: a score after the work and a price
to own it, both with what nobody has looked at, and whether something disqualifying is there; in such a world it is
worth nothing. The share of draws in which a candidate is first is what is told (SMAA-2, Lahdelma and Salminen 2001).
Candidates that are equal in a draw share it.

A look settles the outcomes of a group of checks. What they would then say of the candidate's value is its regression on
them (Strong, Oakley and Brennan 2014, of the value of partial information from the draws alone); the chance of a look
is the share of worlds in which that carries the candidate past the other. It takes the look to tell truly, so it is a
chance at most.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from ..assessment.looking.telling import told_by
from ..assessment.scoring.opinions import draw_shares
from ..basis.chance import generator
from ..basis.problem import Message, Messages, Problem, problem
from ..rubric.written.kinds import DOMAINS

FEWEST, MOST = 2, 6
PRICE_SHARE = (0.2, 0.6)  # what price may weigh against quality in one view; judged, no source
SET_UP_AT_MOST = 0.2  # of the asking price: beyond it, work is no set-up any more and counts once
PRICE_STREAM = 31_337
LEAST_CHANCE = 0.02  # below it a look is no reason to go back
LEAST_MINUTES = 0.5
_EQUAL = 1e-9

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

MESSAGES: Messages = {
    "compare.count": Message("{count} candidates were given.", "Compare two to six."),
    "compare.asking": Message("it has no asking price.", "Write one, so that the costs can be compared."),
    "compare.currency": Message("its prices are in {found}, the first one's in {wanted}.", "Give all in one currency."),
    "compare.family": Message("it is a {found}, the first one a {wanted}.", "Compare instruments of one family."),
}


@dataclass(frozen=True, slots=True)
class OpenGroup:
    """Checks of one part that nobody has looked at: what they show in each world, as columns of 0 and 1."""

    part: str
    checks: tuple[str, ...]
    minutes: float
    shown: Floats


@dataclass(frozen=True, slots=True)
class Candidate:
    """One candidate in figures. `domains`: scores after the work by domain; `shares`: what each counts for its tier.

    By world: `work`, its price with what nobody has looked at; `off`, by how much its score after the work is off the
    expected one; `barred`, whether something disqualifying is there. `set_up`: money of its plan that is set-up.
    `to_be_left`: at its price the advice is to walk away, so that no look at it is worth while.
    """

    name: str
    family: str
    currency: str
    asking: float | None
    asking_currency: str | None
    cost_to_own: float
    set_up: float
    domains: Mapping[str, float]
    shares: Mapping[str, float]
    work: Floats
    off: Floats
    barred: Bools
    open_groups: tuple[OpenGroup, ...] = ()
    to_be_left: bool = False

    @property
    def count(self) -> int:
        return len(self.work)

    @property
    def mixed(self) -> NDArray[np.intp]:
        """An order of its worlds of its own, so that two candidates do not err together; equal ones keep one order."""
        mark = crc32(self.off.tobytes()) ^ crc32(self.work.tobytes()) ^ crc32(self.barred.tobytes())
        return generator(mark).permutation(self.count)


@dataclass(frozen=True, slots=True)
class Look:
    """A look at one part of a candidate, and the chance that it turns who of the first two is ahead."""

    candidate: int
    part: str
    checks: tuple[str, ...]
    minutes: float
    chance: float

    @property
    def by_the_minute(self) -> float:
        return self.chance / max(self.minutes, LEAST_MINUTES)


@dataclass(frozen=True, slots=True)
class Comparison:
    """By the order in which the candidates were given: share of draws in which each is first, and its counted cost.

    `looks`: at the first two, those worth most by the minute first. `set_up_counts`: how often set-up money counted.
    """

    first_shares: tuple[float, ...]
    counted_costs: tuple[float, ...]
    looks: tuple[Look, ...]
    set_up_counts: float = 1.0

    @property
    def order(self) -> tuple[int, ...]:
        """The candidates, the most often first at the top."""
        places = range(len(self.first_shares))
        return tuple(sorted(places, key=lambda i: (-self.first_shares[i], self.counted_costs[i])))


def compare(candidates: Sequence[Candidate], set_up_counts: float = 1.0, seed: int = 1) -> Comparison:
    """The candidates side by side; `wrong_candidates` tells beforehand whether they can be.

    `set_up_counts`: how often money spent on set-up counts, where the shop counts it more than once.
    """
    counted = [one.cost_to_own - (set_up_counts - 1.0) * counted_set_up(one) for one in candidates]
    less = [(set_up_counts - 1.0) * counted_set_up(one) for one in candidates]
    shares = first_shares(candidates, less, seed)
    found = Comparison(tuple(shares), tuple(counted), ())
    return replace(found, looks=_looks(candidates, less, found.order), set_up_counts=set_up_counts)


def wrong_candidates(candidates: Sequence[Candidate]) -> tuple[Problem, ...]:
    """All that keeps them from being compared."""
    if not FEWEST <= len(candidates) <= MOST:
        return (problem(MESSAGES, "compare.count", "comparison", count=len(candidates)),)
    first, found = candidates[0], []
    for one in candidates:
        if one.asking is None:
            found.append(problem(MESSAGES, "compare.asking", one.name))
        for currency in dict.fromkeys((one.currency, one.asking_currency)):
            if currency is not None and currency != first.currency:
                found.append(problem(MESSAGES, "compare.currency", one.name, found=currency, wanted=first.currency))
        if one.family != first.family:
            found.append(problem(MESSAGES, "compare.family", one.name, found=one.family, wanted=first.family))
    return tuple(found)


def counted_set_up(one: Candidate) -> float:
    """The set-up work of the plan, up to what can be called set-up at this price."""
    return min(one.set_up, SET_UP_AT_MOST * (one.asking or 0.0))


def first_shares(candidates: Sequence[Candidate], less: Sequence[float], seed: int) -> list[float]:
    """Share of draws in which each candidate is first; they sum to 1. `less` is taken off each one's cost."""
    count = min(one.count for one in candidates)
    domains, quality, centre = _quality(candidates)
    places = [one.mixed[:count] for one in candidates]
    costs = np.array(
        [(one.asking or 0.0) + one.work[at] - off for one, at, off in zip(candidates, places, less, strict=True)]
    )
    price_share = generator(seed + PRICE_STREAM).uniform(*PRICE_SHARE, count)
    good = np.array([one.off[at] for one, at in zip(candidates, places, strict=True)])
    if domains:
        good = good + quality @ draw_shares(centre, count, seed).T
    value = price_share * _cheap(costs, costs.min(axis=0)) + (1.0 - price_share) * good
    value[np.array([one.barred[at] for one, at in zip(candidates, places, strict=True)])] = 0.0
    return _shared_first(value.T)


def _quality(candidates: Sequence[Candidate]) -> tuple[list[str], Floats, Floats]:
    """(domains that all have, their scores by candidate, the share of each by the first one's rubric)."""
    first = candidates[0]
    domains = [str(name) for name in DOMAINS if all(name in one.domains for one in candidates)]
    quality = np.array([[one.domains[name] for name in domains] for one in candidates])
    centre = np.array([first.shares.get(name, 0.0) if first.shares else 1.0 for name in domains])
    centre = centre / centre.sum() if centre.sum() > 0 else np.full(len(domains), 1.0 / max(1, len(domains)))
    return domains, quality, centre


def _cheap(costs: Floats, lowest: Floats | float) -> Floats:
    """100 for the cheapest, less in proportion for the others; nothing at all costs is the best there is."""
    found: Floats = np.where(costs > 0, 100.0 * np.maximum(lowest, 0.0) / np.maximum(costs, _EQUAL), 100.0)
    return found


def _shared_first(value: Floats) -> list[float]:
    """Share of rows in which each column is the largest; equal columns share the row."""
    best = value >= value.max(axis=1, keepdims=True) - _EQUAL
    found: list[float] = (best / best.sum(axis=1, keepdims=True)).mean(axis=0).tolist()
    return found


def _looks(candidates: Sequence[Candidate], less: Sequence[float], order: Sequence[int]) -> tuple[Look, ...]:
    """The looks at the first two that are worth buying at all, where one could turn their order by the middle view."""
    top = [place for place in order if not candidates[place].to_be_left][:2]
    if len(top) < 2:
        return ()
    _, quality, centre = _quality(candidates)
    share = sum(PRICE_SHARE) / 2.0
    costs = [(candidates[i].asking or 0.0) + candidates[i].work - less[i] for i in top]
    lowest = min(float(cost.mean()) for cost in costs)
    values = []
    for i, cost in zip(top, costs, strict=True):
        one = candidates[i]
        good = one.off + (float(quality[i] @ centre) if quality.size else 0.0)
        values.append(np.where(one.barred, 0.0, share * _cheap(cost, lowest) + (1.0 - share) * good))
    means = [float(value.mean()) for value in values]
    found = []
    for here, i in enumerate(top):
        ahead = means[here] >= means[1 - here]
        for group in candidates[i].open_groups:
            after = told_by(group.shown, values[here])
            turned = after < means[1 - here] - _EQUAL if ahead else after > means[1 - here] + _EQUAL
            chance = float(turned.mean())
            if chance >= LEAST_CHANCE:
                found.append(Look(i, group.part, group.checks, group.minutes, chance))
    return tuple(sorted(found, key=lambda look: -look.by_the_minute))
