"""The budget curve: what score each next sum buys, and which jobs.

Every step is the best score that its money can buy: a corner of the upper hull of all plans, found by weighing
money against points at every rate at which the best plan changes (Eisner and Severance, Journal of the ACM 23, 1976,
from memory). Between two steps there may be plans that a step leaves out.
"""

import heapq
import math
from collections.abc import Sequence
from dataclasses import field, replace

from ..assessment.model import Assessment, Case, Deduction
from ..assessment.scoring.bites import WEAR
from ..assessment.scoring.weights import FULL
from ..basis.frozen import dataclass
from ..rubric.fitting import worth_left
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.checks import jobs_of
from .lines import in_bench_order
from .needed import cured_findings, needs_of, setting_of
from .planning.catalogue import Need
from .planning.plan import Planner, cheapest
from .planning.programme import ALWAYS, Choice, Programme
from .price import price_list

Corner = tuple[tuple[str, ...], float, float]
LEAST_GAIN = 0.01  # points of score; what gains less is not worth a step
MOST_STEPS = 12  # more would not be read
CENT = 0.01
ALL_POINTS = 1e-6  # at so low a price of money no gain is left
DEAREST = 1e7
# Beyond MANY things HiGHS is quicker than the plain search, because any fault may be left.
NODES, MANY = 2_000, 80
TWO_THIRDS = 2 / 3


@dataclass(frozen=True, slots=True)
class Step:
    """With this much money (the plan's mean price, or the shop's minimum charge) the score can be this (0..100), by
    these jobs; `adds` are the new ones, `drops` those in whose place they come.
    """

    cost: float
    score: float
    jobs: tuple[str, ...]
    adds: tuple[str, ...]
    drops: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Gain:
    """A fault that work can cure, and what the cure brings: hundredths of the logarithm of the score, which add up."""

    need: Need
    points: float


def budget_curve(rubric: Rubric, case: Case, assessment: Assessment, shop: Shop) -> tuple[Step, ...]:
    """From nothing to everything that gains, both dearer and better from step to step; the first costs nothing."""
    planner = Planner(price_list(rubric, shop), setting_of(rubric, case, assessment))
    found = gains(rubric, case, assessment, planner)
    base = assessment.score.expected
    corners = charged(hull(planner, found), float(shop.minimum_charge))
    steps: list[Step] = []
    before: tuple[str, ...] = ()
    for jobs, cost, points in corners:
        ordered = in_bench_order(planner, jobs)
        adds = tuple(job for job in ordered if job not in before)
        drops = tuple(job for job in before if job not in ordered)
        steps.append(Step(cost, risen(base, points), ordered, adds, drops))
        before = ordered
    return tuple(steps)


def charged(corners: Sequence[Corner], minimum: float) -> list[Corner]:
    """The corners at what a shop charges at least; of those that then cost the same only the best stays."""
    small = [corner for corner in corners if 0 < corner[1] <= minimum]
    raised = [(jobs, minimum, points) for jobs, _, points in small[-1:]]
    return [*(corner for corner in corners if corner[1] == 0), *raised, *(c for c in corners if c[1] > minimum)]


def worthwhile(steps: Sequence[Step]) -> Step | None:
    """The first step that brings two thirds of all that work can bring; None where work brings nothing."""
    if len(steps) < 2:
        return None
    enough = steps[0].score + TWO_THIRDS * (steps[-1].score - steps[0].score)
    return next(step for step in steps if step.score >= enough)


def risen(score: float, points: float) -> float:
    """A score after gains that add up in hundredths of its logarithm."""
    return min(FULL, score * math.exp(points / FULL))


def gains(rubric: Rubric, case: Case, assessment: Assessment, planner: Planner) -> list[Gain]:
    """What curing each confirmed or probable fault brings to the score.

    Where the score after the work counts a cure already, its gain is taken; for work that is only recommended it is
    the part of what the fault takes that the job gives back.
    """
    tier, style = case.instrument.tier, case.instrument.style
    now = _parts(assessment.score.expected, assessment.deductions)
    later = _parts(assessment.score_after.expected, assessment.deductions_after)
    best: dict[str, Gain] = {}
    wanted = cured_findings(assessment.findings)
    for need, one in zip(needs_of(rubric, case, wanted), [one for one in wanted if one.cured_by], strict=True):
        belief = assessment.beliefs.get(one.check)
        if belief is None or not planner.answers(need):
            continue
        check = rubric.checks[one.check]
        ways = [
            [worth_left(rubric, check, job, tier, style) for job in jobs_of(cure)] for cure in planner.fitting(need)
        ]
        leaves = max((min(left for left in way if left is not None) for way in ways if any(way)), default=1.0)
        worth = rubric.checks[one.check].outcomes[one.outcome].worth_at(tier, style, case.instrument.age)
        taken = now.get(one.check, 0.0)
        points = taken - later.get(one.check, 0.0) if one.required else taken * _given_back(worth, leaves)
        if points > LEAST_GAIN and (one.check not in best or best[one.check].points < points):
            best[one.check] = Gain(need, points)
    return list(best.values())


def _parts(score: float, deductions: Sequence[Deduction]) -> dict[str, float]:
    """What each check takes, in hundredths of the logarithm of the score."""
    if score <= 0 or score >= FULL:
        return {}
    each = -math.log(score / FULL) * FULL / (FULL - score)
    found: dict[str, float] = {}
    for one in deductions:
        if one.check is not None:
            found[one.check] = found.get(one.check, 0.0) + one.points * each
    return found


def _given_back(worth: float, leaves: float) -> float:
    """The share of what a fault takes that is gone when a job leaves this worth."""
    lost, still = (1.0 - worth) ** WEAR, max(0.0, 1.0 - leaves) ** WEAR
    return max(0.0, 1.0 - still / lost) if lost > 0 else 0.0


def hull(planner: Planner, found: Sequence[Gain]) -> list[Corner]:
    """(jobs, cost, points) of the plans that are best at some rate of points for money, cheapest first.

    Where there are more than `MOST_STEPS`, the widest gaps are filled first.
    """
    programme = _leaving(planner, found)
    nothing: Corner = ((), 0.0, 0.0)
    best = _Best(planner, found, programme)
    most = best.at(ALL_POINTS)
    if most[2] <= 0:
        return [nothing]
    corners = [nothing, most]
    gaps = [_gap(nothing, most)]
    while gaps and len(corners) < MOST_STEPS:
        _, left, right = heapq.heappop(gaps)
        rate = (right[2] - left[2]) / (right[1] - left[1])
        middle = best.at(rate)
        above = middle[2] - left[2] - rate * (middle[1] - left[1])
        if above > max(LEAST_GAIN, CENT * rate) and left[1] + CENT < middle[1] < right[1] - CENT:
            corners.append(middle)
            heapq.heappush(gaps, _gap(left, middle))
            heapq.heappush(gaps, _gap(middle, right))
    return sorted(corners, key=lambda corner: corner[1])


def _gap(left: Corner, right: Corner) -> tuple[float, Corner, Corner]:
    """The gap between two corners, the widest (money times points) sorting first."""
    return -(right[1] - left[1]) * (right[2] - left[2]), left, right


@dataclass(slots=True, eq=False)
class _Best:
    """The best plans, each search begun from those found before: at rates near each other they differ little."""

    planner: Planner
    found: Sequence[Gain]
    programme: Programme
    before: list[frozenset[int]] = field(default_factory=list)

    def at(self, rate: float) -> Corner:
        """The plan with the most points less `rate` points for each unit of money."""
        first_leave = len(self.programme.names) - len(self.found)
        leave = (round(min(one.points / rate, DEAREST) * 100) for one in self.found)
        weighed = replace(self.programme, cents=(*self.programme.cents[:first_leave], *leave))
        choice = cheapest(weighed, NODES if len(weighed.names) < MANY else 0, near=self.before)
        if choice is not None:
            self.before.append(choice.chosen)
        return _read(self.planner, self.found, weighed, choice)


def _leaving(planner: Planner, found: Sequence[Gain]) -> Programme:
    """The programme in which each fault may also be left; the last names are those, priced in hundredths of a point."""
    base = planner.programme([one.need for one in found])
    place = {name: i for i, name in enumerate(base.names)}
    rules = [clause for clause in base.clauses if clause[0] != ALWAYS]
    clauses = [
        (ALWAYS, frozenset({*(place[name] for name in planner.answers(one.need)), len(base.names) + number}))
        for number, one in enumerate(found)
    ]
    names = (*base.names, *(f"leave {one.need.check}" for one in found))
    cents = (*base.cents, *(round(one.points * 100) for one in found))
    return Programme(names, cents, (*clauses, *rules), base.exclusions)


def _read(planner: Planner, found: Sequence[Gain], programme: Programme, choice: Choice | None) -> Corner:
    """Jobs of a choice, what they and their shared labour cost, and the points of every fault that they cure."""
    chosen = sorted(choice.chosen) if choice else []
    first_leave = len(programme.names) - len(found)
    jobs = tuple(programme.names[i] for i in chosen if programme.names[i] in planner.jobs)
    cost = sum(programme.cents[i] for i in chosen if i < first_leave) / 100.0
    points = sum(one.points for one in found if planner.cured_with(one.need, jobs))
    return jobs, cost, points
