"""How far apart prices of the like lie, and between which two the next one falls in four of five cases.

Prices spread by factors, so all of it is in the logarithm: the interval of a normal prediction with Student's t, its
variance held near what is usual where there are few. Weights count by their effective number (Kish): one over the sum
of the squared shares.
"""

import math
from collections.abc import Sequence

from ...basis.chance import normal_quantile
from ...basis.frozen import dataclass

USUAL = 0.2  # of the logarithm: how far apart sales of one kind usually lie; judged, no source
USUAL_COUNTS = 1.0  # as one more sale would
FEWEST_FREEDOM = 2.0


@dataclass(frozen=True, slots=True)
class Spread:
    """`middle`: weighted mean of the logarithms; `sd` of one price about it; `count`: effective number of sales;
    `freedom`: degrees of freedom that the deviation rests on.
    """

    middle: float
    sd: float
    count: float
    freedom: float

    def ahead(self, share: float) -> float:
        """Half the width, in the logarithm, of what holds the next price with this probability."""
        return student_quantile(0.5 + share / 2.0, self.freedom) * self.sd * math.sqrt(1.0 + 1.0 / self.count)


def spread_of(
    prices: Sequence[float], weights: Sequence[float], usual: float = USUAL, usual_counts: float = USUAL_COUNTS
) -> Spread:
    """The spread of prices above 0; weights are taken in proportion, one at least above 0."""
    total = sum(weights)
    shares = [weight / total for weight in weights]
    logs = [math.log(price) for price in prices]
    middle = sum(share * value for share, value in zip(shares, logs, strict=True))
    count = 1.0 / sum(share * share for share in shares)
    scatter = count * sum(share * (value - middle) ** 2 for share, value in zip(shares, logs, strict=True))
    freedom = usual_counts + count - 1.0
    variance = (usual_counts * usual**2 + scatter) / freedom
    return Spread(middle, math.sqrt(variance), count, max(FEWEST_FREEDOM, freedom))


def student_quantile(share: float, freedom: float) -> float:
    """Quantile of Student's t, 0 < share < 1, for 2 degrees of freedom and more, to half a hundredth of itself.

    Abramowitz and Stegun, Handbook of mathematical functions, 26.7.5 (from memory; held against scipy).
    """
    z = normal_quantile(share)
    terms = (
        (z**3 + z) / 4.0,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96.0,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384.0,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160.0,
    )
    return z + sum(term / freedom ** (power + 1) for power, term in enumerate(terms))
