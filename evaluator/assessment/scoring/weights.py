"""How much each check counts in each domain, and each domain in the score, and the ranges of scores.

A check's weight in a domain is its importance (tier times style) times how strongly it is evidence of the domain. The
share of a check that nobody looked at is the share of the domain that is still unseen.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ...basis.frozen import dataclass
from ...rubric.written.checks import Check
from ...rubric.written.kinds import DOMAINS, Domain
from ..model import Instrument, Range

FULL = 100.0
LOW_PERCENT, HIGH_PERCENT = 5.0, 95.0


@dataclass(frozen=True, slots=True)
class Weights:
    """`by_domain[d, i]`: share of check i in domain d, rows sum to 1. `shares`: of the domains, sum to 1.

    `total[i]` is the share of check i in the score. Without any weight at all, all three are empty of mass.
    """

    domains: tuple[Domain, ...]
    by_domain: NDArray[np.float64]
    shares: NDArray[np.float64]
    total: NDArray[np.float64]


def weights_of(checks: Sequence[Check], instrument: Instrument, domain_shares: Mapping[Domain, float]) -> Weights:
    """The weights of these checks; domains without a check drop out and the other shares are stretched to sum to 1."""
    raw = np.zeros((len(DOMAINS), len(checks)))
    row = {domain: i for i, domain in enumerate(DOMAINS)}
    for i, check in enumerate(checks):
        weight = check.weight_in_score(instrument.tier, instrument.style)
        for domain, strength in check.evidence_of.items():
            raw[row[domain], i] = weight * strength
    sums = raw.sum(axis=1)
    here = [domain for domain in DOMAINS if sums[row[domain]] > 0]
    rows = [row[domain] for domain in here]
    by_domain = raw[rows] / sums[rows, None]
    shares = shares_of(here, domain_shares)
    return Weights(tuple(here), by_domain, shares, shares @ by_domain if here else np.zeros(len(checks)))


def shares_of(domains: Sequence[Domain], domain_shares: Mapping[Domain, float]) -> NDArray[np.float64]:
    """The shares of these domains, adding up to 1; alike where none of them matters by the rubric."""
    shares = np.array([domain_shares.get(domain, 0.0) if domain_shares else 1.0 for domain in domains])
    if shares.sum() <= 0:
        shares = np.ones(len(domains))
    found: NDArray[np.float64] = shares / shares.sum() if len(domains) else shares
    return found


def ranges(expected: Sequence[float], draws: NDArray[np.float64]) -> tuple[Range, ...]:
    """Range of each row of draws (5th and 95th percentile) around its expected value, all 0..100."""
    if not len(expected):
        return ()
    count = draws.shape[1]
    low_at, high_at = round(LOW_PERCENT / 100 * (count - 1)), round(HIGH_PERCENT / 100 * (count - 1))
    placed = np.partition(draws, (low_at, high_at), axis=1)
    found = []
    for mean, low, high in zip(expected, placed[:, low_at].tolist(), placed[:, high_at].tolist(), strict=True):
        middle = _bounded(mean)
        # The mean of a lopsided belief can lie beyond a percentile; a range that misses its own middle would be read
        # wrong.
        found.append(Range(middle, min(_bounded(low), middle), max(_bounded(high), middle)))
    return tuple(found)


def _bounded(score: float) -> float:
    return min(FULL, max(0.0, float(score)))
