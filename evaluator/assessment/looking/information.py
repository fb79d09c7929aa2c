"""What a look that is still open would bring: the expected gain of each.

With a price the gain is the value of information for the decision to buy or not (EVSI; Raiffa and Schlaifer, Applied
Statistical Decision Theory, 1961): the mean over what the look may show of the better of buying and leaving, less the
better of the two now. Without a price it is the fall of the score's variance that the look brings, and the chance to
meet an outcome that disqualifies, counted as the fall of the variance of a score that such an outcome brings to
nought.

Of a way of seeing that shows outcome k with probability r_k and else one drawn at random, outcome o comes up with
P(o) (r_o + c), and then the mean is (r_o m_o + the sum over k of (1 - r_k) P(k) m_k) / (r_o + c), c the sum of
(1 - r_k) P(k): with one r for all, r m_o + (1 - r) m.

Both come from the assessment's worlds, grouped by the outcome of the check; what a look says of other checks through
a cause is in there. One look is weighed at a time: two that only help together are worth more than is said here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ...rubric.model import Channel, Check, Looker
from ...rubric.rubric import Rubric
from ..model import Assessment, Case
from ..observing.relevance import reliability, shows

LEAST_MINUTES = 0.25
MONEY, POINTS = "money", "score variance"

LOOKER_RANK: dict[Looker, int] = {"student": 0, "teacher": 1, "luthier": 2}

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Gain:
    """What one look brings: `money` of the decision (0 without one), `points` of variance and of disqualifying.

    `turns`: the chance that it alone turns the decision; `tells`: how much of the decision's variance it explains;
    `trust`: how reliably this way of seeing shows it.
    """

    check: str
    minutes: float
    money: float
    points: float
    disqualifying: float
    turns: float = 0.0
    tells: float = 0.0
    trust: float = 1.0

    @property
    def by_the_minute(self) -> tuple[float, float]:
        """Money first; variance decides where money does not."""
        return round(self.money, 6) / self.minutes, self.points / self.minutes


def can_look(check: Check, looker: Looker, channel: Channel) -> bool:
    """Whether this person can do the check in this way of seeing; a channel that the rubric leaves out cannot."""
    seen = not check.seen_by or (channel in check.seen_by and reliability(check, channel) > 0.0)
    return seen and LOOKER_RANK[looker] >= LOOKER_RANK[check.who]


def open_checks(rubric: Rubric, assessment: Assessment) -> tuple[str, ...]:
    """Checks that count, were not looked at and are not postponed; what follows from readings cannot be looked at."""
    return tuple(
        name
        for name in assessment.relevant
        if not assessment.beliefs[name].seen
        and assessment.beliefs[name].postponed is None
        and rubric.checks[name].kind != "derived"
        and rubric.checks[name].outcomes
    )


@dataclass(frozen=True, slots=True)
class Told:
    """What the worlds tell of one check, before any way of seeing it.

    `outcomes`: the indices of those that any world has; `share` of the worlds and mean `score` of each. `points` of
    score variance that they explain; `stop`, the variance that a disqualifying one would add, by its chance
    `disqualifying`; `buying`: what buying gains on average, by outcome (None without a decision), and the variance of
    it that they explain, `tells`.
    """

    outcomes: tuple[int, ...]
    share: tuple[float, ...]
    score: tuple[float, ...]
    points: float
    stop: float
    disqualifying: float
    buying: tuple[float, ...] | None
    tells: float = 0.0


class Looks:
    """The looks that are still open in one assessment, and what each would bring.

    The worlds are grouped by each check once; every way of seeing and every list then shares the groups. `net`: what
    buying gains in each world, against leaving it; None where there is nothing to decide.
    """

    def __init__(self, rubric: Rubric, case: Case, assessment: Assessment, net: Floats | None = None) -> None:
        self.rubric, self.case, self.assessment, self.net = rubric, case, assessment, net
        self.open = open_checks(rubric, assessment)
        worlds = assessment.worlds
        self._column = {name: i for i, name in enumerate(worlds.checks)}
        self._score = _with_moments(worlds.score)
        self._buying = None if net is None else _with_moments(net)
        self._told: dict[str, Told] = {}
        self._known: dict[tuple[str, Channel], Gain] = {}

    def gains(self, channel: Channel, checks: Sequence[str]) -> tuple[Gain, ...]:
        """The gain of each of these looks, in their order. What this channel cannot show is taken as seen in person."""
        return tuple(self._gain_of(name, channel) for name in checks)

    def _gain_of(self, name: str, channel: Channel) -> Gain:
        """The gain of one look, worked out once: the lists of looks share many."""
        if (name, channel) not in self._known:
            check, told = self.rubric.checks[name], self.told(name)
            sight = self._sight(check, channel)
            shown = tuple(sight[k] for k in told.outcomes)
            points = told.points * share_shown(told.share, told.score, shown) + told.stop * min(shown) ** 2
            self._known[name, channel] = self._gain(name, max(check.minutes, LEAST_MINUTES), points, told, shown)
        return self._known[name, channel]

    def _gain(self, name: str, minutes: float, points: float, told: Told, shown: tuple[float, ...]) -> Gain:
        """What one look brings where its outcomes show so often."""
        if told.buying is None:
            return Gain(name, minutes, 0.0, points, told.disqualifying)
        share, means = as_seen(told.share, told.buying, shown)
        kept = _share_left(told.share, told.buying, (share, means), shown)
        return Gain(
            name,
            minutes,
            value_of_look(share, means, 1.0),
            points,
            told.disqualifying,
            turns=chance_to_turn(share, means),
            tells=kept * told.tells,
            trust=math.sqrt(kept),
        )

    def _sight(self, check: Check, channel: Channel) -> tuple[float, ...]:
        """How often each outcome shows in this way of seeing; what it cannot show is taken as seen in person."""
        sight = shows(check, channel, self.case.looker)
        return sight if any(sight) else shows(check, "in_person", self.case.looker)

    def told(self, name: str) -> Told:
        """What the worlds tell of a check."""
        if name not in self._told:
            self._told[name] = self._tell(name)
        return self._told[name]

    def _tell(self, name: str) -> Told:
        assessment = self.assessment
        group = Grouping.of(assessment.worlds.outcome[:, self._column[name]])
        stops = stopping(self.rubric.checks[name], self.case)
        chance = sum(assessment.beliefs[name].probability[outcome] for outcome in stops)
        # A world with such an outcome scores nought: the variance that this adds is p (1 - p) times the score squared.
        stop = chance * (1.0 - chance) * assessment.score.expected**2
        score = groups_of(group, *self._score)
        outcomes = tuple(k for k, count in enumerate(group.counts) if count)
        told = Told(outcomes, score.share, score.means, explained_variance(score), stop, chance, None)
        if self._buying is None:
            return told
        buying = groups_of(group, *self._buying)
        return replace(told, buying=steadied(buying), tells=explained_variance(buying))


def _with_moments(values: Floats) -> tuple[Floats, float, float]:
    """The values, their mean and their variance."""
    return values, float(values.mean()), float(values.var())


def stopping(check: Check, case: Case) -> tuple[str, ...]:
    """The outcomes of a check that disqualify at this tier and style."""
    here = case.instrument
    classes = ((name, one.class_at(here.tier, here.style, here.age)) for name, one in check.outcomes.items())
    return tuple(name for name, class_ in classes if class_ == "disqualifying")


def ranked(found: Sequence[Gain]) -> list[Gain]:
    """Those that bring anything, the most by the minute first."""
    telling = [gain for gain in found if gain.money > 0 or gain.points > 0]
    return sorted(telling, key=lambda gain: tuple(-share for share in gain.by_the_minute))


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
    return _share_left(share, means, as_seen(share, means, shown), shown)


def _share_left(
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
