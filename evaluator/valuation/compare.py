"""Two to six candidates side by side: what each costs to own at its standard, its scores, and how often it comes first.

A view is a weighting of the domains (drawn around the rubric's) and of price against quality (its share drawn evenly
from `PRICE_SHARE`); the share of views in which a candidate is first is what is told (SMAA-2, Lahdelma and Salminen
2001). Candidates that are equal in a view share it. The shop may count money spent on set-up more than once: then
that is named.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..assessment.model import Assessment, Case, Range
from ..assessment.opinions import VIEWS, draw_shares
from ..basis.chance import generator
from ..basis.message import Message, Messages, problem
from ..basis.problem import Problem
from ..estimate.model import Estimate
from ..rubric.model import DOMAINS
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .model import Verdict

FEWEST, MOST = 2, 6
PRICE_SHARE = (0.2, 0.6)  # what price may weigh against quality in one view; judged, no source
SET_UP_AT_MOST = 0.2  # of the asking price: beyond it, work is no set-up any more and counts once
PRICE_STREAM = 31_337
_EQUAL = 1e-9

MESSAGES: Messages = {
    "compare.count": Message("{count} candidates were given.", "Compare two to six."),
    "compare.asking": Message("it has no asking price.", "Write one, so that the costs can be compared."),
    "compare.currency": Message("its prices are in {found}, the first one's in {wanted}.", "Give all in one currency."),
    "compare.family": Message("it is a {found}, the first one a {wanted}.", "Compare instruments of one family."),
}


@dataclass(frozen=True, slots=True)
class Candidate:
    """One evaluated instrument under the name that it is compared by."""

    name: str
    rubric: Rubric
    case: Case
    assessment: Assessment
    work: Estimate
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Row:
    """`cost_to_own`: asking price and the work to its standard, possible extras counted by their chance.

    `counted_cost` differs from it only where set-up money is counted more than once. `not_seen`: the checks that nobody
    looked at.
    """

    name: str
    asking: float
    cost_to_own: float
    cost_to_own_p80: float
    counted_cost: float
    score: Range
    score_after: Range
    advice: str | None
    sentence: str
    first_share: float
    coverage: float
    not_seen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Rows, the most often first at the top; `note` names the set-up rule where it was used."""

    rows: tuple[Row, ...]
    currency: str
    note: str | None


def compare(
    candidates: Sequence[Candidate], shop: Shop, seed: int = 1, views: int = VIEWS, *, count_set_up_more: bool = False
) -> Comparison | tuple[Problem, ...]:
    """The candidates side by side, or everything that keeps them from being compared."""
    problems = wrong_candidates(candidates)
    if problems:
        return problems
    factor = shop.money_with_luthier_counts if count_set_up_more else 1.0
    costs = [_cost(one) for one in candidates]
    counted = [cost - (factor - 1.0) * _set_up(one) for one, cost in zip(candidates, costs, strict=True)]
    shares = first_shares(candidates, counted, seed, views)
    rows = [_row(*figures) for figures in zip(candidates, costs, counted, shares, strict=True)]
    note = None
    if factor != 1.0:
        note = f"Money spent on set-up counts {factor:g} times here: common practice, no source, a setting of the shop."
    ordered = sorted(rows, key=lambda row: (-row.first_share, row.counted_cost))
    return Comparison(tuple(ordered), candidates[0].work.currency, note)


def wrong_candidates(candidates: Sequence[Candidate]) -> tuple[Problem, ...]:
    """All that keeps them from being compared."""
    if not FEWEST <= len(candidates) <= MOST:
        return (problem(MESSAGES, "compare.count", "comparison", count=len(candidates)),)
    first, found = candidates[0], []
    for one in candidates:
        asking = one.case.asking
        if asking is None:
            found.append(problem(MESSAGES, "compare.asking", one.name))
        elif asking.currency != first.work.currency:
            found.append(
                problem(MESSAGES, "compare.currency", one.name, found=asking.currency, wanted=first.work.currency)
            )
        if one.rubric.family != first.rubric.family:
            wanted = first.rubric.family
            found.append(problem(MESSAGES, "compare.family", one.name, found=one.rubric.family, wanted=wanted))
    return tuple(found)


def first_shares(candidates: Sequence[Candidate], costs: Sequence[float], seed: int, views: int) -> list[float]:
    """Share of views in which each candidate is first; they sum to 1."""
    first = candidates[0]
    domains = [name for name in DOMAINS if all(name in one.assessment.domains_after for one in candidates)]
    quality = np.array([[one.assessment.domains_after[name].expected for name in domains] for one in candidates])
    own = first.rubric.domain_shares.get(first.case.instrument.tier, {})
    centre = np.array([own.get(name, 0.0) if own else 1.0 for name in domains])
    centre = centre / centre.sum() if centre.sum() > 0 else np.full(len(domains), 1.0 / max(1, len(domains)))
    price_share = generator(seed + PRICE_STREAM).uniform(*PRICE_SHARE, views)
    cheap = 100.0 * min(costs) / np.array(costs) if min(costs) > 0 else np.array([100.0 * (c <= 0) for c in costs])
    value = np.outer(price_share, cheap)
    if domains:
        value += (1.0 - price_share)[:, None] * (draw_shares(centre, views, seed) @ quality.T)
    return _shared_first(value)


def _shared_first(value: NDArray[np.float64]) -> list[float]:
    """Share of rows in which each column is the largest; equal columns share the row."""
    best = value >= value.max(axis=1, keepdims=True) - _EQUAL
    found: list[float] = (best / best.sum(axis=1, keepdims=True)).mean(axis=0).tolist()
    return found


def _asking(one: Candidate) -> float:
    return float(one.case.asking.amount) if one.case.asking else 0.0


def _cost(one: Candidate) -> float:
    return _asking(one) + one.work.with_extras_mean


def _set_up(one: Candidate) -> float:
    """The set-up work of the plan, up to what can be called set-up at this price."""
    jobs = one.rubric.jobs
    lines = (line for line in one.work.lines if line.job in jobs and jobs[line.job].skill == "set_up")
    return min(sum(line.cost.mean for line in lines), SET_UP_AT_MOST * _asking(one))


def _row(one: Candidate, cost: float, counted: float, first: float) -> Row:
    found = one.assessment
    unseen = tuple(name for name in found.relevant if name in found.beliefs and not found.beliefs[name].seen)
    return Row(
        name=one.name,
        asking=_asking(one),
        cost_to_own=cost,
        cost_to_own_p80=_asking(one) + max(one.work.with_extras_p80, one.work.with_extras_mean),
        counted_cost=counted,
        score=found.score,
        score_after=found.score_after,
        advice=one.verdict.advice,
        sentence=one.verdict.sentence,
        first_share=first,
        coverage=found.coverage,
        not_seen=unseen,
    )
