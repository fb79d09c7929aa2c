"""What looks tell, from the worlds alone: one look by the groups it sorts them into, several together by regression.

Of a way of seeing that shows outcome k with probability r_k and else one drawn at random, outcome o comes up with
P(o) (r_o + c), and then the mean is (r_o m_o + the sum over k of (1 - r_k) P(k) m_k) / (r_o + c), c the sum of
(1 - r_k) P(k): with one r for all, r m_o + (1 - r) m.

The value of several looks together is the value of deciding by the fitted values (Strong, Oakley and Brennan, Medical
Decision Making 34, 2014). The fit is drawn in for the number of its columns, else chance would look like knowledge.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ...basis.frozen import dataclass

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Groups:
    """Worlds sorted by the outcome of a check: share and mean of each group that has any, and of the whole."""

    share: tuple[float, ...]
    means: tuple[float, ...]
    whole: float
    within: float
    count: int


@dataclass(frozen=True, slots=True)
class Grouping:
    """Which group each world is in, how many are in each (0 too), and the share of each that has any."""

    group: NDArray[np.intp]
    counts: tuple[int, ...]
    share: tuple[float, ...]

    @classmethod
    def of(cls, group: NDArray[np.integer]) -> "Grouping":
        own = group.astype(np.intp)
        counts = tuple(np.bincount(own).tolist())
        return cls(own, counts, tuple(count / len(own) for count in counts if count))


def groups_of(by: Grouping, values: Floats, whole: float, variance: float) -> Groups:
    """The groups of `values`, one entry a world; `whole` and `variance` are the values' own."""
    sums = np.bincount(by.group, weights=values).tolist()
    means = tuple(total / count for total, count in zip(sums, by.counts, strict=True) if count)
    return Groups(by.share, means, whole, max(0.0, variance - _between(by.share, means, whole)), len(values))


def explained_variance(groups: Groups) -> float:
    """Variance of the group means: the part of the variance of the values that the grouping explains.

    Less what it would be by chance alone, (groups - 1) / (worlds - groups) of the variance within, not below 0.
    """
    kinds = len(groups.share)
    if kinds < 2:
        return 0.0
    by_chance = groups.within * (kinds - 1) / max(1, groups.count - kinds)
    return max(0.0, _between(groups.share, groups.means, groups.whole) - by_chance)


def _between(share: Sequence[float], means: Sequence[float], whole: float) -> float:
    """Variance of the group means."""
    found = 0.0
    for part, mean in zip(share, means, strict=True):
        away = mean - whole
        found += part * away * away
    return found


def steadied(groups: Groups) -> tuple[float, ...]:
    """The group means, each pulled back to the whole where it stands out by no more than its own standard error.

    The positive part of Stein's rule: else chance would make every look seem to be worth something.
    """
    found = []
    for share, mean in zip(groups.share, groups.means, strict=True):
        away, noise = mean - groups.whole, groups.within / (share * groups.count)
        kept = max(0.0, 1.0 - noise / max(away * away, 1e-300))
        found.append(groups.whole + kept * away)
    return tuple(found)


def as_seen(
    share: Sequence[float], means: Sequence[float], shown: Sequence[float]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Share and mean of what a look shows, by the outcome that it shows; `shown[k]` where k is the true one."""
    missed = mixed = 0.0
    for r, part, mean in zip(shown, share, means, strict=True):  # a loop: this is done some thousand times a result
        away = (1.0 - r) * part
        missed += away
        mixed += away * mean
    seen = tuple(part * (r + missed) for part, r in zip(share, shown, strict=True))
    known = tuple(
        (r * mean + mixed) / (r + missed) if r + missed > 0 else mean for r, mean in zip(shown, means, strict=True)
    )
    return seen, known


def share_shown(share: Sequence[float], means: Sequence[float], shown: Sequence[float]) -> float:
    """Share of the variance between the outcomes that a look still shows, 0..1: r squared with one r for all."""
    return share_left(share, means, as_seen(share, means, shown), shown)


def share_left(
    share: Sequence[float],
    means: Sequence[float],
    seen: tuple[Sequence[float], Sequence[float]],
    shown: Sequence[float],
) -> float:
    whole = sum(part * mean for part, mean in zip(share, means, strict=True))
    between = _between(share, means, whole)
    return min(1.0, _between(*seen, whole) / between) if between > 0 else min(shown) ** 2


def value_of_look(share: Sequence[float], means: Sequence[float], reliability: float) -> float:
    """Expected value of a look for the choice between buying and leaving, never below 0.

    The look shows group k with probability `share[k]`, and buying then gains `means[k]`; leaving gains 0.
    """
    whole = sum(part * mean for part, mean in zip(share, means, strict=True))
    missed = (1.0 - reliability) * whole
    better = sum(part * max(reliability * mean + missed, 0.0) for part, mean in zip(share, means, strict=True))
    gain = better - max(whole, 0.0)
    return gain if gain > 1e-9 * max(1.0, abs(whole)) else 0.0  # less is the rounding of the sums


def chance_to_turn(share: Sequence[float], means: Sequence[float]) -> float:
    """Probability that a look that shows these means with these shares turns the choice between buying and leaving."""
    whole = sum(part * mean for part, mean in zip(share, means, strict=True))
    return sum(part for part, mean in zip(share, means, strict=True) if (mean >= 0.0) != (whole >= 0.0))


def told_by(shown: Floats, value: Floats) -> Floats:
    """What the value is expected to be once these columns are known: least squares, drawn in for their number."""
    mean = float(value.mean())
    away = shown - shown.mean(axis=0)
    away = away[:, np.abs(away).max(axis=0, initial=0.0) > 0]
    spread = float(((value - mean) ** 2).sum())
    if not away.shape[1] or spread <= 0:
        return np.full(len(value), mean)
    # By the normal equations: a few dozen columns of 0 and 1, so squaring their condition does no harm.
    fitted: Floats = away @ np.linalg.lstsq(away.T @ away, away.T @ (value - mean), rcond=None)[0]
    told = float((fitted**2).sum()) / spread
    free = len(value) - 1 - away.shape[1]
    honest = max(0.0, 1.0 - (1.0 - told) * (len(value) - 1) / max(1, free))
    return mean + fitted * np.sqrt(honest / told) if told > 0 else np.full(len(value), mean)


def columns_of(outcome: NDArray[np.int16], count: int) -> Floats:
    """What a check shows in each world, a column of 0 and 1 for every outcome but the first."""
    return np.column_stack([outcome == index for index in range(1, count)]).astype(float)
