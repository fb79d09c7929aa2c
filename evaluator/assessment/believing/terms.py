"""What the rubric says of each check in this setting (tier, style, size): chances, worths, weight, limits.

Before any look a check is in one of two hidden states, good or bad: that of its cause, or its own where it has none.
Each state gives its outcomes their probabilities, from `if_good` and `if_bad` of the rubric or from the class.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ...rubric.fitting import worth_left
from ...rubric.model import WORTH_BY_CLASS, Check, Domain, Outcome, OutcomeClass, Tier, jobs_of
from ...rubric.rubric import Limits, Rubric
from ..model import MEETS, TOO_HIGH, TOO_LOW, Instrument
from .slope import slope

# Share of all instruments in a state that show an outcome of each class, shared out evenly among the outcomes of a
# class. Judged, no source; only the ratio bad : good moves a cause, and it rises with the class: 0.19, 1.3, 12 and
# 20, so that a worse outcome is never a sign of a better instrument.
IF_GOOD_BY_CLASS: dict[OutcomeClass, float] = {"sound": 0.80, "acceptable": 0.15, "fault": 0.05, "disqualifying": 0.001}
IF_BAD_BY_CLASS: dict[OutcomeClass, float] = {"sound": 0.15, "acceptable": 0.20, "fault": 0.60, "disqualifying": 0.02}
# Probability that a check without a cause is in its bad state. Judged, no source: the cheaper, the more goes wrong
# alone.
OWN_PRIOR: dict[Tier, float] = {"student": 0.20, "intermediate": 0.15, "professional": 0.10}
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

    `if_good`, `if_bad` sum to 1. `worth` is what an outcome counts in the sum. `leaves` is the worth after the best
    cure, None where nothing cures it. `points` is the worth of a reading, straight lines between, flat outside;
    `prior` P(bad).
    """

    check: str
    outcomes: tuple[str, ...]
    classes: tuple[OutcomeClass, ...]
    if_good: tuple[float, ...]
    if_bad: tuple[float, ...]
    worth: tuple[float, ...]
    leaves: tuple[float | None, ...]
    weight: float
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


def term_of(rubric: Rubric, check: Check, instrument: Instrument) -> Term:
    """The check's term for this instrument's size, style, tier and age."""
    tier, style = instrument.tier, instrument.style
    limits = rubric.limits(check, instrument.size, style, instrument.strings) if check.standard else None
    doubtful = limits is not None and limits.confidence == "low"
    outcomes = tuple(check.outcomes.values())
    classes = tuple(_class_here(outcome.class_at(tier, style, instrument.age), doubtful) for outcome in outcomes)
    worth = tuple(_worth_here(outcome, instrument, doubtful) for outcome in outcomes)
    # A sign of the making takes its chances from the classes and not from a cause of two states.
    cause = rubric.causes.get(check.cause) if check.cause and check.check not in rubric.signs else None
    prior = cause.prior_at(tier, instrument.age) if cause else OWN_PRIOR[tier]
    points = limits.worth_at if limits and limits.worth_at else tuple(sorted(check.worth_at.items()))
    return Term(
        check=check.check,
        outcomes=tuple(check.outcomes),
        classes=classes,
        if_good=_chances(outcomes, "if_good", IF_GOOD_BY_CLASS),
        if_bad=_chances(outcomes, "if_bad", IF_BAD_BY_CLASS),
        worth=_in_the_sum(worth, classes),
        leaves=tuple(_leaves(rubric, check, outcome, instrument) for outcome in outcomes),
        weight=check.weight_at(tier, style),
        evidence_of=check.evidence_of,
        cause=check.cause if cause else None,
        prior=min(max(prior, PRIOR_BOUNDS[0]), PRIOR_BOUNDS[1]),
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


def _class_here(class_: OutcomeClass, doubtful: bool) -> OutcomeClass:
    """A standard that is itself doubtful (low confidence) never makes a fault: acceptable is the worst it can say."""
    return "acceptable" if doubtful and class_ in _BAD_CLASSES else class_


def _worth_here(outcome: Outcome, instrument: Instrument, doubtful: bool) -> float:
    worth = outcome.worth_at(instrument.tier, instrument.style, instrument.age)
    return max(worth, WORTH_BY_CLASS["acceptable"]) if doubtful else worth


def _in_the_sum(worth: Sequence[float], classes: Sequence[OutcomeClass]) -> tuple[float, ...]:
    """Worth of each outcome in the sum.

    A disqualifying outcome stops the verdict and must not be weighed against good varnish, so it does not sink the
    sum: it counts as the worst of the other outcomes. (Not as their mean: then a fault would score below a reason to
    walk away.)
    """
    others = [w for w, class_ in zip(worth, classes, strict=True) if class_ != "disqualifying"]
    worst = min(others, default=0.0)
    return tuple(worst if class_ == "disqualifying" else w for w, class_ in zip(worth, classes, strict=True))


def _leaves(rubric: Rubric, check: Check, outcome: Outcome, instrument: Instrument) -> float | None:
    """Worth after the best way to cure it; of jobs that are needed together, what the least of them leaves."""
    tier, style = instrument.tier, instrument.style
    ways = [[worth_left(rubric, check, job, tier, style) for job in jobs_of(cure)] for cure in outcome.cured_by]
    known = [[left for left in way if left is not None] for way in ways]
    return max((min(way) for way in known if way), default=None)


def _chances(outcomes: Sequence[Outcome], key: str, by_class: Mapping[OutcomeClass, float]) -> tuple[float, ...]:
    """Probabilities of the outcomes in one state: as written, the rest by class, made to sum to 1."""
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
