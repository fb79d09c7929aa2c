"""What the rubric says of each check in this setting (tier, style, size): chances, worths, weight, limits.

Before any look a check is in one of two hidden states, good or bad: that of its cause, or its own where it has none.
Each state gives its outcomes their probabilities, from `if_good` and `if_bad` of the rubric or from the class.
"""

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache

from ...basis.frozen import dataclass
from ...rubric.fitting import worth_left
from ...rubric.making import Rank, ranks, rising
from ...rubric.rubric import Limits, Rubric
from ...rubric.written.checks import Check, Outcome, jobs_of
from ...rubric.written.kinds import WORTH_BY_CLASS, Age, Domain, OutcomeClass, StringType, Style, Tier
from ...rubric.written.surroundings import Cause
from ..model import MEETS, TOO_HIGH, TOO_LOW, Instrument
from .worth import slope

# Share of all instruments in a state that show an outcome of each class, shared out evenly among the outcomes of a
# class. Judged, no source; only the ratio bad : good moves a cause, and it rises with the class: 0.19, 1.3, 12 and
# 20, so that a worse outcome is never a sign of a better instrument.
IF_GOOD_BY_CLASS: dict[OutcomeClass, float] = {"sound": 0.80, "acceptable": 0.15, "fault": 0.05, "disqualifying": 0.001}
IF_BAD_BY_CLASS: dict[OutcomeClass, float] = {"sound": 0.15, "acceptable": 0.20, "fault": 0.60, "disqualifying": 0.02}
# Probability that a check without a cause is in its bad state. Judged, no source.
OWN_PRIOR = 0.15
# No outcome is impossible before a look (Cromwell's rule): else one odd answer could divide by zero.
LEAST = 1e-6
# What written chances leave for the outcomes without one, at the least.
LEAST_REST = 0.02
# A cause certain either way could never be moved by what is seen.
PRIOR_BOUNDS = (0.001, 0.999)

_BAD_CLASSES = ("fault", "disqualifying")
Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Term:
    """One check in its setting; the tuples follow the order of its outcomes.

    `if_good`, `if_bad` sum to 1. `worth` is what an outcome counts. `leaves` is the worth after the best cure, None
    where nothing cures it. `bites`: the share that the rubric writes for an outcome, else None. `lasting`: the share of
    the value that stays lost. `points_to`: checks that count the same matter. `points` is the worth of a reading,
    straight lines between, flat outside; `prior` P(bad). `weight` is its importance, `in_score` the same in the score.
    """

    check: str
    outcomes: tuple[str, ...]
    classes: tuple[OutcomeClass, ...]
    if_good: tuple[float, ...]
    if_bad: tuple[float, ...]
    worth: tuple[float, ...]
    leaves: tuple[float | None, ...]
    bites: tuple[float | None, ...]
    lasting: tuple[float, ...]
    points_to: tuple[str, ...]
    weight: float
    in_score: float
    evidence_of: Mapping[Domain, float]
    cause: str | None
    prior: float
    limits: Limits | None
    points: Points

    def mixed(self, bad: float) -> tuple[float, ...]:
        """Probabilities of the outcomes when the state is bad with this probability."""
        return tuple(bad * b + (1.0 - bad) * g for g, b in zip(self.if_good, self.if_bad, strict=True))

    @property
    def sides(self) -> tuple[int, int, int]:
        """Index of the outcomes for too low, meets and too high; a side that is not there counts as meeting."""
        meets = self.outcomes.index(MEETS) if MEETS in self.outcomes else 0
        low = self.outcomes.index(TOO_LOW) if TOO_LOW in self.outcomes else meets
        return low, meets, self.outcomes.index(TOO_HIGH) if TOO_HIGH in self.outcomes else meets


@lru_cache(maxsize=4096)
def bare_term(
    rubric: Rubric, check: str, size: str, style: Style, tier: Tier, strings: StringType | None, age: Age | None
) -> Term:
    """The term of a check in a setting, kept for the next instrument; how likely its bad state is, is put in later."""
    return term_of(rubric, rubric.checks[check], Instrument(size, style, tier, age=age, strings=strings))


def term_of(rubric: Rubric, check: Check, instrument: Instrument, making: Mapping[str, float] | None = None) -> Term:
    """The check's term for this instrument's size, style, tier and age.

    `making`: shares of the classes of making, which set how likely a cause is before any look.
    """
    tier, style = instrument.tier, instrument.style
    limits = rubric.limits(check, instrument.size, style, instrument.strings) if check.standard else None
    doubtful = limits is not None and limits.confidence == "low"
    outcomes = tuple(check.outcomes.values())
    classes = tuple(_class_here(outcome.class_at(tier, style, instrument.age), doubtful) for outcome in outcomes)
    worth = tuple(_worth_here(outcome, instrument, doubtful) for outcome in outcomes)
    # A sign of the making takes its chances from the classes and not from a cause of two states.
    cause = rubric.causes.get(check.cause) if check.cause and check.check not in rubric.signs else None
    if_good, if_bad = _chances(outcomes, "if_good", IF_GOOD_BY_CLASS), _chances(outcomes, "if_bad", IF_BAD_BY_CLASS)
    lasting = tuple(outcome.lasting_loss.likely if outcome.lasting_loss else 0.0 for outcome in outcomes)
    points = limits.worth_at if limits and limits.worth_at else tuple(sorted(check.worth_at.items()))
    return Term(
        check=check.check,
        outcomes=tuple(check.outcomes),
        classes=classes,
        if_good=if_good,
        if_bad=_agreed(if_good, if_bad, ranks(check, worth, classes)),
        worth=worth,
        leaves=tuple(_leaves(rubric, check, outcome, instrument) for outcome in outcomes),
        bites=tuple(outcome.bite for outcome in outcomes),
        lasting=lasting,
        points_to=check.points_to,
        weight=check.weight_at(tier, style),
        in_score=check.weight_in_score(tier, style),
        evidence_of=check.evidence_of,
        cause=check.cause if cause else None,
        prior=prior_of(cause, instrument, making or {}),
        limits=limits,
        points=_points(check, limits, worth) if limits and not points else _no_fault(points, doubtful),
    )


def _no_fault(points: Points, doubtful: bool) -> Points:
    return tuple((x, max(y, WORTH_BY_CLASS["acceptable"])) for x, y in points) if doubtful else points


def _points(check: Check, limits: Limits, worth: Sequence[float]) -> Points:
    """The slope beyond the limits down to what the outcomes are worth; a side without an outcome loses nothing."""
    known = dict(zip(check.outcomes, worth, strict=True))
    within = known.get(MEETS, 1.0)
    return slope(limits, known.get(TOO_LOW, within), within, known.get(TOO_HIGH, within))


def prior_of(cause: Cause | None, instrument: Instrument, making: Mapping[str, float]) -> float:
    """How likely the bad state of a check is before any look, never certain."""
    prior = cause.prior_at(making, instrument.age) if cause else OWN_PRIOR
    return min(max(prior, PRIOR_BOUNDS[0]), PRIOR_BOUNDS[1])


def _class_here(class_: OutcomeClass, doubtful: bool) -> OutcomeClass:
    """A standard that is itself doubtful (low confidence) never makes a fault: acceptable is the worst it can say."""
    return "acceptable" if doubtful and class_ in _BAD_CLASSES else class_


def _worth_here(outcome: Outcome, instrument: Instrument, doubtful: bool) -> float:
    worth = outcome.worth_at(instrument.tier, instrument.style, instrument.age)
    return max(worth, WORTH_BY_CLASS["acceptable"]) if doubtful else worth


def _leaves(rubric: Rubric, check: Check, outcome: Outcome, instrument: Instrument) -> float | None:
    """Worth after the best way to cure it; of jobs that are needed together, what the least of them leaves."""
    tier, style = instrument.tier, instrument.style
    ways = [[worth_left(rubric, check, job, tier, style) for job in jobs_of(cure)] for cure in outcome.cured_by]
    known = [[left for left in way if left is not None] for way in ways]
    return max((min(way) for way in known if way), default=None)


def _agreed(if_good: tuple[float, ...], if_bad: tuple[float, ...], order: Sequence[Rank]) -> tuple[float, ...]:
    """Chances in the bad state such that a worse outcome is never a sign of the good one.

    The ratio of the two states is made to rise as outcomes get better, with the least change (`rising`).
    """
    if not if_bad:
        return if_bad
    both = [good + bad for good, bad in zip(if_good, if_bad, strict=True)]
    ratios = rising([math.log(good / bad) for good, bad in zip(if_good, if_bad, strict=True)], both, order)
    raw = [good * math.exp(-ratio) for good, ratio in zip(if_good, ratios, strict=True)]
    total = math.fsum(raw)
    return tuple(share / total for share in raw)


def _chances(outcomes: Sequence[Outcome], key: str, by_class: Mapping[OutcomeClass, float]) -> tuple[float, ...]:
    """Probabilities of the outcomes in one state: as written, the rest by class, made to sum to 1; none of none."""
    if not outcomes:
        return ()
    written = [getattr(outcome, key) for outcome in outcomes]
    classes = [outcome.class_ for outcome in outcomes]
    default = [by_class[class_] / classes.count(class_) for class_ in classes]
    open_ = [i for i, value in enumerate(written) if value is None]
    if len(open_) < len(outcomes):
        rest = max(1.0 - sum(value for value in written if value is not None), LEAST_REST)
        scale = rest / sum(default[i] for i in open_) if open_ else 0.0
        default = [default[i] * scale if value is None else float(value) for i, value in enumerate(written)]
    total = sum(default)
    if total <= 0:
        return (1.0 / len(outcomes),) * len(outcomes)
    floored = [max(value / total, LEAST) for value in default]
    whole = sum(floored)
    return tuple(value / whole for value in floored)
