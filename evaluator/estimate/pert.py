"""Three-point figures: beta-PERT moments, quantiles and seeded draws that lean the same way.

A line is given by near-limits a, b and the likely value m. Beta-PERT: alpha = 1 + 4 (m - a) / (b - a), beta = 6 -
alpha, mean (a + 4 m + b) / 6, exact variance (mean - a)(b - mean) / 7. The classic rule sd = (b - a) / 6 is what is
printed (Project Management Body of Knowledge, 6th ed., cited from memory); the draws use the exact shape. Lines of
one order share an instrument, a bench and a state of neglect, so their draws are joined by a Gaussian copula of equal
correlation.

Quantiles come from an integrated density on a fixed grid: importing a statistics library costs more than all the sums.
"""

import math
import zlib
from collections.abc import Iterable, Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from ..basis.chance import generator, normal_below, normal_quantile
from .model import Cost

Floats = NDArray[np.float64]

_STEPS = 1024  # steps of the integration; the quantiles are then right to 1e-5 of the span
_REACH = 6.0  # normal values beyond are as good as the limit


def cost(low: float, likely: float, high: float) -> Cost:
    """The line's mean by the PERT weights and its standard deviation by the (high - low) / 6 rule."""
    return Cost(low, likely, high, (low + 4.0 * likely + high) / 6.0, (high - low) / 6.0)


def total(costs: Iterable[Cost]) -> Cost:
    """The sum of each figure, as the one line that these make together (not the range of an order: see `order_sd`)."""
    found = tuple(costs)
    return cost(sum(c.low for c in found), sum(c.likely for c in found), sum(c.high for c in found))


def shape(line: Cost) -> tuple[float, float]:
    """alpha and beta of the beta law on low..high; (1, 5) to (5, 1). A line without span has the symmetric shape."""
    span = line.high - line.low
    if span <= 0:
        return 3.0, 3.0
    alpha = 1.0 + 4.0 * (line.likely - line.low) / span
    return alpha, 6.0 - alpha


def exact_variance(line: Cost) -> float:
    """Variance of the beta-PERT law itself, (mean - low)(high - mean) / 7."""
    return max(0.0, (line.mean - line.low) * (line.high - line.mean)) / 7.0  # the mean of a point may round past it


def order_mean(lines: Iterable[Cost]) -> float:
    """Mean of the order: the sum of the means, whatever the correlation."""
    return sum(line.mean for line in lines)


def order_sd(deviations: Iterable[float], correlation: float) -> float:
    """Standard deviation of a sum with equal correlation: (1 - rho) sum of squares + rho square of sum, the root."""
    found = tuple(deviations)
    squares = sum(sd * sd for sd in found)
    return math.sqrt(max(0.0, (1.0 - correlation) * squares + correlation * sum(found) ** 2))


def level(mean: float, sd: float, share: float) -> float:
    """The value not passed in this share of cases, by the normal approximation."""
    return mean + normal_quantile(share) * sd


@cache
def _grid() -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """t on 0..1 with its logs and the weight dt (denser at the ends), then z and Phi(z) of the table."""
    s = np.linspace(0.0, math.pi, _STEPS + 1)
    t = np.clip((1.0 - np.cos(s)) / 2.0, 1e-300, 1.0)
    rest = np.clip((1.0 + np.cos(s)) / 2.0, 1e-300, 1.0)
    z = np.linspace(-_REACH, _REACH, 241)
    return t, np.log(t), np.log(rest), np.sin(s), np.stack((z, np.array([normal_below(x) for x in z.tolist()])))


def _below(alphas: Floats) -> Floats:
    """Beta(alpha, 6 - alpha) integrated up to each t of the grid, one row an alpha."""
    _, log_t, log_rest, weight, _ = _grid()
    density = np.exp(np.outer(alphas - 1.0, log_t) + np.outer(5.0 - alphas, log_rest)) * weight
    below = np.zeros_like(density)
    np.cumsum(density[:, 1:] + density[:, :-1], axis=1, out=below[:, 1:])
    below /= below[:, -1:]
    return below


def _unit_tables(alphas: Floats) -> Floats:
    """Quantiles of beta(alpha, 6 - alpha) at Phi of the grid's z, one row an alpha."""
    t, table = _grid()[0], _grid()[4]
    rows = [np.interp(table[1], row, t) for row in _below(alphas)]
    return np.stack(rows) if rows else np.zeros((0, table.shape[1]))


def quantile(line: Cost, share: float) -> float:
    """The value that the line does not pass in this share of cases, 0 < share < 1."""
    unit = float(np.interp(share, _below(np.array([shape(line)[0]]))[0], _grid()[0]))
    return line.low + (line.high - line.low) * unit


def own_generator(seed: int, name: str) -> np.random.Generator:
    """A generator of the line's own, so that leaving another line out never changes this one's draws."""
    return generator((seed << 32) | zlib.crc32(name.encode()))


def _between(z: Floats, table: Floats) -> Floats:
    """The table of the even z grid at each z, straight lines between: half the time of the library's search."""
    place = (z + _REACH) * ((len(table) - 1) / (2.0 * _REACH))
    np.clip(place, 0.0, len(table) - 1.000001, out=place)
    below = place.astype(np.intp)
    place -= below
    found: Floats = table[below] + place * np.diff(table)[below]
    return found


class Draws:
    """Seeded prices of named lines in `count` worlds, joined by a Gaussian copula of equal correlation 0..1.

    The draws of a line depend on its name, its figures, the seed and the count alone: the other lines never matter.
    """

    def __init__(self, correlation: float, seed: int, count: int) -> None:
        self.seed, self.count = seed, count
        self.own = math.sqrt(1.0 - correlation)
        self.common: Floats = own_generator(seed, "").standard_normal(count) * math.sqrt(correlation)
        self.known: dict[tuple[str, Cost], Floats] = {}

    def total(self, lines: Sequence[tuple[str, Cost]]) -> Floats:
        """The price of all lines together in each world; a line that was drawn before is not drawn again."""
        new = [one for one in dict.fromkeys(lines) if one not in self.known]
        for (name, line), table in zip(new, self._tables([line for _, line in new]), strict=True):
            self.known[name, line] = self._line(name, line, table, slice(None))
        together = np.zeros(self.count)
        for one in lines:
            together += self.known[one]
        return together

    def total_where(self, lines: Sequence[tuple[str, Cost, NDArray[np.bool_]]]) -> Floats:
        """The price of all lines together, each only in the worlds of its mask."""
        together = np.zeros(self.count)
        tables = self._tables([line for _, line, _ in lines])
        for table, (name, line, mask) in zip(tables, lines, strict=True):
            where = np.flatnonzero(mask)
            together[where] += self._line(name, line, table, where)
        return together

    def _tables(self, lines: Sequence[Cost]) -> Floats:
        return _unit_tables(np.array([shape(line)[0] for line in lines]))

    def _line(self, name: str, line: Cost, table: Floats, where: slice | NDArray[np.intp]) -> Floats:
        z = self.own * own_generator(self.seed, name).standard_normal(self.count)[where] + self.common[where]
        return _between(z, line.low + (line.high - line.low) * table)
