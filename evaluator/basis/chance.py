"""The normal law and the seeded generator: the only home of randomness and of the bell curve.

Closed forms where there are any: an average of draws is the test's oracle, not the answer.
"""

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

_ROOT_2 = math.sqrt(2.0)
_ROOT_2_PI = math.sqrt(2.0 * math.pi)


def generator(seed: int) -> np.random.Generator:
    """A random generator that gives the same numbers for the same seed (0 or more) on every machine."""
    return np.random.Generator(np.random.SFC64(seed))


def normal_density(z: float) -> float:
    """Density of the standard normal law at z."""
    return math.exp(-0.5 * z * z) / _ROOT_2_PI


def normal_below(z: float) -> float:
    """Probability that a standard normal value lies below z; keeps its relative precision far out on the left."""
    return 0.5 * math.erfc(-z / _ROOT_2)


@lru_cache(maxsize=1024)
def normal_quantile(p: float) -> float:
    """The z below which a standard normal value lies with probability p, 0 < p < 1 (ValueError outside).

    Halving, so that it is right without a table of constants; within 1e-12 of the inverse of `normal_below`.
    """
    if not 0.0 < p < 1.0:
        raise ValueError(f"a quantile needs a probability between 0 and 1, not {p}")
    if p > 0.5:
        return -normal_quantile(1.0 - p)  # on the left the digits last
    low, high = -39.0, 0.0
    while high - low > 1e-13 * max(1.0, abs(low)):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if normal_below(middle) < p:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def normal_within(low: float | None, high: float | None, mean: float, sd: float) -> float:
    """Probability that a value of N(mean, sd^2) lies between the limits; None leaves a side open.

    With sd 0 the value is exact, and a value on a limit lies within.
    """
    if sd <= 0:
        return float((low is None or low <= mean) and (high is None or mean <= high))
    below_low = 0.0 if low is None else normal_below((low - mean) / sd)
    above_high = 0.0 if high is None else normal_below((mean - high) / sd)
    return min(1.0, max(0.0, 1.0 - below_low - above_high))


def quantile(values: NDArray[np.float64], share: float) -> float:
    """The value that a share 0..1 of the values does not pass, straight lines between neighbours; not for no values.

    Definition 7 of Hyndman and Fan (The American Statistician 50, 1996, 361-365; from memory), as numpy's own, which
    costs an import of 6 ms at its first use.
    """
    place = share * (len(values) - 1)
    below = min(int(place), max(0, len(values) - 2))
    above = min(below + 1, len(values) - 1)
    part = place - below
    low, high = np.partition(values, (below, above))[[below, above]].tolist()
    rise = high - low
    # From the nearer end, so that both ends come out exactly.
    return float(low + rise * part if part < 0.5 else high - rise * (1.0 - part))
