"""The probabilities of each check's outcomes, seen or not.

Unseen, they are q(k) = P(bad) P(k | bad) + P(good) P(k | good), with P(bad) of the check's cause after all that was
seen elsewhere, or its own prior. Seen as o through a channel of reliability r, they are r [k = o] + (1 - r) q(k):
exact Bayes for a channel that shows the truth with probability r and else one drawn from q. Several observations of
one check are joined by the same rule: p(k) is proportional to q(k) times the product of r_j P_j(k) / q(k) + 1 - r_j.
What hides shows more seldom than nothing does where there is nothing: there r_j is r_jk, the share for a true k.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

from ...basis.frozen import dataclass
from .causes import CauseState
from .evidence import MOST_SURE, Evidence
from .terms import Term

# Worth of each outcome of a check once the planned work is done, None where the work does not touch it.
Left = tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Held:
    """What is held of one check, ready for sums and draws.

    p(k) = shown[k] + rest q(k): `shown` is the mass that observations put on outcomes, `rest` what is left to the
    mixture of its states (`mixture`, q), bad with probability `bad`. `shown_worth` and `shown_variance` are the
    mean and variance of its worth given each outcome as shown; an outcome of the mixture counts the term's worth.
    """

    term: Term
    evidence: Evidence
    bad: float
    shown: tuple[float, ...]
    rest: float
    probability: tuple[float, ...]
    shown_worth: tuple[float, ...]
    shown_variance: tuple[float, ...]
    mixture: tuple[float, ...]

    @property
    def seen(self) -> bool:
        return bool(self.evidence.signs)

    @property
    def worth(self) -> float:
        """Expected worth as it stands."""
        return self._expected(self.term.worth, self.shown_worth)

    @property
    def worth_sd(self) -> float:
        """Standard deviation of worth."""
        # From the deviations, not as a difference of squares: that would leave rounding where nothing is in doubt.
        middle = self.worth
        return math.sqrt(
            sum(
                shown * ((mean - middle) ** 2 + variance) + self.rest * chance * (worth - middle) ** 2
                for shown, mean, variance, chance, worth in zip(
                    self.shown, self.shown_worth, self.shown_variance, self.mixture, self.term.worth, strict=True
                )
            )
        )

    def worth_after(self, left: Left) -> float:
        """Expected worth after the work that leaves this of each outcome."""
        return self._expected(*self.worths_after(left))

    def worths_after(self, left: Left) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Worth of each outcome after the work, from the mixture and as shown; work never makes it worse."""

        def after(worths: tuple[float, ...]) -> tuple[float, ...]:
            return tuple(
                worth if mended is None else max(worth, mended) for worth, mended in zip(worths, left, strict=True)
            )

        return after(self.term.worth), after(self.shown_worth)

    def _expected(self, worth: tuple[float, ...], shown_worth: tuple[float, ...]) -> float:
        q = self.mixture
        total = sum(
            shown * mean + self.rest * chance * own
            for shown, mean, chance, own in zip(self.shown, shown_worth, q, worth, strict=True)
        )
        return min(1.0, max(0.0, total))


def held(
    term: Term, evidence: Evidence, causes: Mapping[str, CauseState], mixture: tuple[float, ...] | None = None
) -> Held:
    """What is held of a check, from its evidence and the states of the causes.

    `mixture`: the chances of its outcomes where something else gives them, as the class of making does for its signs.
    """
    bad = causes[term.cause].without(term.check) if term.cause in causes and term.cause else term.prior
    q = term.mixed(bad) if mixture is None else mixture
    shown, rest = _shown(evidence, q)
    probability = tuple(s + rest * chance for s, chance in zip(shown, q, strict=True))
    moments = evidence.moments
    if moments is None:
        worths, variances = term.worth, (0.0,) * len(q)
    else:
        worths = tuple(m.mean if m.share > 0 else w for m, w in zip(moments, term.worth, strict=True))
        variances = tuple(m.variance for m in moments)
    return Held(term, evidence, bad, shown, rest, probability, worths, variances, q)


def _shown(evidence: Evidence, q: tuple[float, ...]) -> tuple[tuple[float, ...], float]:
    """Mass put on each outcome by observations, and the share left to q."""
    signs = evidence.signs
    if not signs:
        return (0.0,) * len(q), 1.0
    if len(signs) == 1 and signs[0].even:
        sign = signs[0]
        return tuple(sign.reliability * share for share in sign.spread(q)), 1.0 - sign.reliability
    if len(signs) > 1:
        signs = tuple(replace(sign, shows=tuple(min(share, MOST_SURE) for share in sign.shows)) for sign in signs)
    full = list(q)
    missed = [1.0] * len(q)
    for sign in signs:
        full = [so_far * like for so_far, like in zip(full, sign.likelihoods(q), strict=True)]
        missed = [so_far * (1.0 - share) for so_far, share in zip(missed, sign.shows, strict=True)]
    total = math.fsum(full)
    rest = min(missed) / total  # what is missed more often than this no longer hangs on the state, but counts in full
    return tuple(max(0.0, f / total - rest * chance) for f, chance in zip(full, q, strict=True)), rest
