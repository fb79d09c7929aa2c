"""How far the advice hangs on the guide to prices: in what share of other guides it stays.

A guide from memory may be a quarter too high or too low for a place and a year. The level of the guide is moved over a
bell of that width in the logarithm, in even steps of its probability, and the ladder is asked again at each.
"""

from dataclasses import replace
from math import exp

from ...basis.chance import normal_quantile
from ..model import Decision
from .ladder import RUNGS, limits, rung_at
from .stops import likely_stop
from .weigh import Weighed

STEPS = 41


def share_of_guides(weighed: Weighed, decision: Decision) -> float | None:
    """Share 0..1 of other guides in which the rung stays; None where the guide is not what the advice rests on."""
    if decision.advice not in RUNGS or weighed.ready.kind != "price_guide" or weighed.worlds is None:
        return None
    spread = weighed.figure("guides_apart")
    levels = [exp(spread * normal_quantile((step + 0.5) / STEPS)) for step in range(STEPS)]
    here = _rung_at(weighed, 1.0)
    return sum(_rung_at(weighed, level) == here for level in levels) / STEPS


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
