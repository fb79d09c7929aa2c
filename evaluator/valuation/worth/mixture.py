"""A price that is one of several laws, each with its share: what an instrument is worth when its class is not certain.

Prices spread by factors, not by amounts, so every law is a bell in the logarithm. The middle of the mixture is its
median: a plain mean would follow its dear tail, and one chance in twenty that a maker made it would double what a
factory violin is worth. Shares may not sum to exactly 1; they are taken in proportion.
"""

import math
from dataclasses import replace

from ...basis.chance import normal_below, normal_quantile
from ...basis.frozen import dataclass

NEAR_LIMITS = 0.90  # the low and the high of a guide are passed in one case of twenty each; judged, no source
BAND = 0.80  # of what is shown
_STEPS = 80  # halvings: the quantile is then right to the last digits


@dataclass(frozen=True, slots=True)
class Law:
    """One law: its share, and mean and standard deviation of the natural logarithm of the price."""

    share: float
    log_mean: float
    log_sd: float


def law_of(share: float, low: float, likely: float, high: float) -> Law:
    """The law with this likely price as its median, as wide as the near-limits; all three above 0."""
    width = math.log(high / low) / (2.0 * normal_quantile(0.5 + NEAR_LIMITS / 2.0))
    return Law(share, math.log(likely), width)


@dataclass(frozen=True, slots=True)
class Mixture:
    """Laws with shares, 0 or more; at least one above 0."""

    laws: tuple[Law, ...]

    @property
    def whole(self) -> float:
        return sum(law.share for law in self.laws)

    @property
    def middle(self) -> float:
        """The median: as likely as not that it is worth more."""
        return self.quantile(0.5)

    def below(self, price: float) -> float:
        """Probability that it is worth less than this price, 0 for a price of nothing or less."""
        if price <= 0.0:
            return 0.0
        at = math.log(price)
        found = sum(law.share * _below(law, at) for law in self.laws)
        return min(1.0, found / self.whole)

    def quantile(self, share: float) -> float:
        """The price that it is worth less than with this probability, 0 < share < 1; by halving."""
        edge = abs(normal_quantile(share))
        low = min(law.log_mean - edge * law.log_sd for law in self.laws)
        high = max(law.log_mean + edge * law.log_sd for law in self.laws)
        for _ in range(_STEPS):
            middle = 0.5 * (low + high)
            if sum(law.share * _below(law, middle) for law in self.laws) < share * self.whole:
                low = middle
            else:
                high = middle
        return math.exp(0.5 * (low + high))

    def band(self, share: float = BAND) -> tuple[float, float]:
        """The prices that leave equal chances below and above, `share` of them between."""
        rest = (1.0 - share) / 2.0
        return self.quantile(rest), self.quantile(1.0 - rest)

    def scaled(self, by: float) -> "Mixture":
        """The same with every price this many times as large (above 0)."""
        return Mixture(tuple(replace(law, log_mean=law.log_mean + math.log(by)) for law in self.laws))


def _below(law: Law, at: float) -> float:
    if law.log_sd <= 0.0:
        return float(at > law.log_mean)
    return normal_below((at - law.log_mean) / law.log_sd)
