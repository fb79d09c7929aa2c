"""What a look that is still open would bring: the expected gain of each.

With a price the gain is the value of information for the decision to buy or not (EVSI; Raiffa and Schlaifer, Applied
Statistical Decision Theory, 1961): the mean over what the look may show of the better of buying and leaving, less the
better of the two now. Without a price it is the fall of the score's variance that the look brings, and the chance to
meet an outcome that disqualifies, counted as the fall of the variance of a score that such an outcome brings to
nought.

Both come from the assessment's worlds, grouped by the outcome of the check; what a look says of other checks through
a cause is in there. One look is weighed at a time: two that only help together are worth more than is said here.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Channel, Looker
from ..model import Assessment, Case
from ..observing.relevance import LOOKER_RANK, reliability, shows
from .telling import (
    Floats,
    Grouping,
    as_seen,
    chance_to_turn,
    explained_variance,
    groups_of,
    share_left,
    share_shown,
    steadied,
    value_of_look,
)

LEAST_MINUTES = 0.25
MONEY, POINTS = "money", "score variance"


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
        kept = share_left(told.share, told.buying, (share, means), shown)
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
