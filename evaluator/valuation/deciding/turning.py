"""What could still turn the advice: a few minutes of looking, and which looks, or another guide to prices.

The choice that a look may turn is to buy at the asking price or to leave it. Its worth is the expected value of the
information for that choice (Raiffa and Schlaifer, Applied Statistical Decision Theory, 1961); of several looks
together it is worked out from the worlds by regression. A look has to be worth its minutes.

A guide from memory may be a quarter too high or too low for a place and a year. The level of the guide is moved over a
bell of that width in the logarithm, in even steps of its probability, and the ladder is asked again at each.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import exp
from operator import attrgetter

import numpy as np
from numpy.typing import NDArray

from ...assessment.looking.information import Gain, Looks, can_look
from ...assessment.looking.telling import columns_of, told_by
from ...assessment.model import Case
from ...assessment.observing.relevance import best_observation
from ...basis.chance import normal_quantile
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ..model import CouldChange, Decision, Turning
from .ladder import RUNGS, limits, rung_at
from .stops import likely_stop
from .weigh import Weighed

NAMED = 5
LEAST_CHANCE = 0.05  # a look that turns it more seldom turns nothing that is worth saying
Floats = NDArray[np.float64]
GUIDES = 41  # levels of the guide that are tried


@dataclass(frozen=True, slots=True)
class Turn:
    """The looks that could turn the advice, those that tell most by the minute first; None together without any."""

    looks: tuple[CouldChange, ...]
    together: Turning | None


NOTHING_WILL = Turn((), None)


def could_turn(looks: Looks, case: Case, net: Floats) -> Turn:
    """What a few minutes in the hand of this person could turn; `net` is what buying gains in each world."""
    gains = looks.gains("in_person", _in_the_hand(looks, case))
    few = looks.rubric.figure("few_minutes")
    chosen = (_few_minutes(gains, attrgetter(key), few) for key in ("tells", "money"))
    found = [(_together(looks, some, net), some) for some in chosen if some]
    if not found:
        return NOTHING_WILL
    together, some = max(found, key=lambda pair: pair[0].gain)
    if together.chance < LEAST_CHANCE:
        return NOTHING_WILL
    named = sorted(some, key=lambda one: (-one.turns, -one.tells / one.minutes))[:NAMED]
    return Turn(tuple(CouldChange(one.check, one.minutes, one.turns) for one in named), together)


def _in_the_hand(looks: Looks, case: Case) -> list[str]:
    """The checks that this person could still look at in the hand: not looked at, or only from afar."""
    found = []
    for name in looks.assessment.relevant:
        check = looks.rubric.checks[name]
        if not can_look(check, case.looker, "in_person") or not check.outcomes:
            continue
        best = best_observation(check, case.observations.get(name, ()))
        if name in looks.open or (best is not None and best.seen_by != "in_person"):
            found.append(name)
    return found


def _few_minutes(gains: Sequence[Gain], worth: Callable[[Gain], float], few: float) -> list[Gain]:
    """The looks that are worth most by the minute, as many as fit; those that are worth nothing are left out."""
    chosen, left = [], few
    telling = [gain for gain in gains if worth(gain) > 0]
    for gain in sorted(telling, key=lambda one: worth(one) / one.minutes, reverse=True):
        if gain.minutes <= left:
            chosen.append(gain)
            left -= gain.minutes
    return chosen


def _together(looks: Looks, chosen: Sequence[Gain], net: Floats) -> Turning:
    worlds = looks.assessment.worlds
    columns = []
    for gain in chosen:
        place = worlds.checks.index(gain.check)
        shown = columns_of(worlds.outcome[:, place], len(looks.rubric.checks[gain.check].outcomes))
        columns.append(shown)
    weight = sum(gain.tells for gain in chosen)
    trust = sum(gain.trust * gain.tells for gain in chosen) / weight if weight > 0 else 1.0
    mean = float(net.mean())
    after = mean + trust * (told_by(np.column_stack(columns), net) - mean)
    better = float(np.maximum(after, 0.0).mean()) - max(mean, 0.0)
    turned = after < 0.0 if mean >= 0.0 else after >= 0.0
    return Turning(sum(one.minutes for one in chosen), float(turned.mean()), max(0.0, better))


def worth_it(turning: Turning | None, minute_costs: float, rubric: Rubric) -> bool:
    """Whether those looks are worth the minutes that they take."""
    return turning is not None and turning.gain > rubric.figure("plainly_worth") * turning.minutes * minute_costs


def share_of_guides(weighed: Weighed, decision: Decision) -> float | None:
    """Share 0..1 of other guides in which the rung stays; None where the guide is not what the advice rests on."""
    if decision.advice not in RUNGS or weighed.ready.kind != "price_guide" or weighed.worlds is None:
        return None
    spread = weighed.figure("guides_apart")
    levels = [exp(spread * normal_quantile((step + 0.5) / GUIDES)) for step in range(GUIDES)]
    here = _rung_at(weighed, 1.0)
    return sum(_rung_at(weighed, level) == here for level in levels) / GUIDES


def _rung_at(weighed: Weighed, level: float) -> str:
    """The rung if every price of the guide were so many times as high."""
    sums, worlds = weighed.sums, weighed.worlds
    assert sums is not None and worlds is not None and weighed.asking is not None
    moved = replace(sums, worth=sums.worth * level, worth_low=sums.worth_low * level)
    hard = weighed.is_unsellable or moved.much_work
    net = (worlds.worth * level - worlds.work - worlds.unseen) * weighed.factor
    return rung_at(
        weighed.asking,
        limits(moved, stopped=weighed.is_unsellable),
        moved.at,
        chance=float((net >= weighed.asking).mean()),
        stop_likely=likely_stop(weighed.stops, weighed.stopped, weighed.rubric),
        hard=hard,
    )
