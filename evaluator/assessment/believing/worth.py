"""The worth of a reading: points along the scale, and expectation and spread under the normal law in closed form.

Worth is given at points, straight lines between and flat outside. Where the rubric writes none, it is a slope beyond
each limit, never a cliff: a limit is a habit of makers and no wall. Just outside it a reading is worth nearly as much
as just inside; only at some distance does it count as little as the outcome says.

With t standard normal on [a, b]: the integrals of 1, t and t^2 against its density are M0 = Phi(b) - Phi(a),
M1 = phi(a) - phi(b), M2 = M0 + a phi(a) - b phi(b).
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from ...basis.chance import normal_below, normal_density
from ...rubric.rubric import Limits

Points = Sequence[tuple[float, float]]
# How far beyond a limit a reading counts as little as its outcome says, as a share of the width of what is right.
# Judged at the bench: the thickest string a millimetre of action wide is a quarter of a millimetre out of the way
# before the hand minds.
BEYOND = 0.5
# The same where only one side has a limit, as a share of that limit.
BEYOND_ALONE = 0.15


class Moments(NamedTuple):
    """Probability of a region, and the integrals of worth and of its square over it."""

    share: float
    first: float
    second: float

    @property
    def mean(self) -> float:
        """Mean worth within the region; 0 where the region has no probability."""
        return self.first / self.share if self.share > 0 else 0.0

    @property
    def variance(self) -> float:
        """Variance of worth within the region."""
        return max(0.0, self.second / self.share - self.mean**2) if self.share > 0 else 0.0


def worth_at(points: Points, x: float) -> float:
    """Worth at an exact value. `points` rise in x and are not empty."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def worth_moments(points: Points, mean: float, sd: float, low: float = -math.inf, high: float = math.inf) -> Moments:
    """Moments of the worth of N(mean, sd^2) over low < value < high. With sd 0 the whole mass sits at the mean."""
    if sd <= 0:
        inside = low <= mean <= high
        worth = worth_at(points, mean)
        return Moments(1.0, worth, worth * worth) if inside else Moments(0.0, 0.0, 0.0)
    share = first = second = 0.0
    for start, end, worth, slope in _pieces(points, low, high):
        a, b = (start - mean) / sd, (end - mean) / sd
        density_a, density_b = normal_density(a), normal_density(b)
        m0 = _between(a, b)
        m1 = density_a - density_b
        m2 = m0 + _times(a, density_a) - _times(b, density_b)
        # Along the piece worth = at_mean + rise * t, t in standard deviations from the mean.
        at_mean = worth + slope * ((mean - start) if slope else 0.0)
        rise = slope * sd
        share += m0
        first += at_mean * m0 + rise * m1
        second += at_mean * at_mean * m0 + 2.0 * at_mean * rise * m1 + rise * rise * m2
    return Moments(share, first, second)


def _pieces(points: Points, low: float, high: float) -> Iterator[tuple[float, float, float, float]]:
    """(start, end, worth at the start, slope) of the straight pieces between low and high."""
    edges = [(-math.inf, points[0][1]), *points, (math.inf, points[-1][1])]
    for (x0, y0), (x1, y1) in pairwise(edges):
        start, end = max(x0, low), min(x1, high)
        if start < end:
            slope = (y1 - y0) / (x1 - x0) if math.isfinite(x0) and math.isfinite(x1) else 0.0
            yield start, end, y0 + (slope * (start - x0) if slope else 0.0), slope


def _between(a: float, b: float) -> float:
    """Phi(b) - Phi(a), taken on the side where the digits are."""
    return normal_below(-a) - normal_below(-b) if a > 0 else normal_below(b) - normal_below(a)


def _times(a: float, density: float) -> float:
    return a * density if math.isfinite(a) else 0.0


def slope(limits: Limits, below: float, within: float, above: float) -> tuple[tuple[float, float], ...]:
    """Points of worth (0..1) by reading: `within` between the limits, falling to `below` and `above` outside them."""
    low, high = limits.low, limits.high
    if low is not None and high is not None:
        far = BEYOND * (high - low)
    else:
        far = BEYOND_ALONE * abs(low if low is not None else high or 0.0)
    if far <= 0:
        return ()
    points = []
    if low is not None:
        points += [(low - far, below), (low, within)]
    if high is not None:
        points += [(high, within), (high + far, above)]
    return tuple(points)
