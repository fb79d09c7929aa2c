"""Causes: hidden two-state variables, good or bad, that make several checks go wrong together.

Given its cause, checks are independent. A channel of reliability r shows the true outcome with probability r and
otherwise one drawn at random, so an observation o has the likelihood r P(o | state) + (1 - r) P(o), with P(o) the
mixture before any look; with a reliability r_k for each outcome k, of what hides, r_o P(o | state) + P(o) times the
sum of (1 - r_k) P(k | state). For several observations of one check it is the sum over its outcomes of the product of
these. Bayes' rule then gives P(bad) in closed form, whatever the order of looking. So five cheap signs tell hardly
more than two once P(bad) is near its end, and a clean inside tells much.
"""

import math
from collections.abc import Mapping, Sequence

from ...basis.frozen import dataclass
from .evidence import Evidence
from .terms import Term

# A sign whose odds move by less than this factor is not named as one.
SIGN_FACTOR = 1.15


@dataclass(frozen=True, slots=True)
class CauseState:
    """One cause after all looks: `bad` its probability, `log_odds` too, `pull` how far each seen check moved it."""

    prior: float
    bad: float
    log_odds: float
    pull: Mapping[str, float]

    def without(self, check: str) -> float:
        """P(bad) from all that was seen but this check."""
        pull = self.pull.get(check)
        return self.bad if pull is None else share_of(self.log_odds - pull)

    def signs(self) -> tuple[str, ...]:
        """The seen checks that moved it, the strongest first."""
        named = [check for check, pull in self.pull.items() if abs(pull) >= math.log(SIGN_FACTOR)]
        return tuple(sorted(named, key=lambda check: -abs(self.pull[check])))


def odds_of(share: float) -> float:
    """Natural logarithm of the odds of a probability strictly between 0 and 1."""
    return math.log(share / (1.0 - share))


def share_of(log_odds: float) -> float:
    """The probability at these log odds."""
    if log_odds >= 0:
        return 1.0 / (1.0 + math.exp(-log_odds))
    odds = math.exp(log_odds)
    return odds / (1.0 + odds)


def log_ratio(term: Term, evidence: Evidence) -> float:
    """How much the check's observations raise the log odds that its state is bad."""
    chance = term.mixed(term.prior)
    if len(evidence.signs) == 1 and evidence.signs[0].even:
        sign = evidence.signs[0]
        missed = (1.0 - sign.reliability) * _dot(sign.outcomes, chance)
        good = sign.reliability * _dot(sign.outcomes, term.if_good) + missed
        bad = sign.reliability * _dot(sign.outcomes, term.if_bad) + missed
        return math.log(bad / good) if good > 0 and bad > 0 else 0.0
    shown = [1.0] * len(chance)
    for sign in evidence.signs:
        by_chance = _dot(sign.outcomes, chance)
        likely = (r * p + (1.0 - r) * by_chance for r, p in zip(sign.shows, sign.outcomes, strict=True))
        shown = [so_far * one for so_far, one in zip(shown, likely, strict=True)]
    good, bad = _dot(shown, term.if_good), _dot(shown, term.if_bad)
    return math.log(bad / good) if good > 0 and bad > 0 else 0.0


def cause_states(terms: Sequence[Term], evidence: Mapping[str, Evidence]) -> dict[str, CauseState]:
    """The state of every cause that one of these checks has, after all evidence."""
    priors: dict[str, float] = {}
    pulls: dict[str, dict[str, float]] = {}
    for term in terms:
        if term.cause is None or not term.outcomes:
            continue
        priors.setdefault(term.cause, term.prior)
        pull = pulls.setdefault(term.cause, {})
        seen = evidence.get(term.check)
        if seen is not None and seen.signs:
            pull[term.check] = log_ratio(term, seen)
    found = {}
    for cause, prior in priors.items():
        log_odds = odds_of(prior) + math.fsum(pulls[cause].values())
        found[cause] = CauseState(prior, share_of(log_odds), log_odds, pulls[cause])
    return found


def _dot(left: Sequence[float], right: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(left, right, strict=True))
