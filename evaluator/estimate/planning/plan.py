"""The plan: the cheapest set of jobs that cures what must be cured, with all that they bring along and leave.

A job in the plan that makes another unnecessary counts as having done it. A job needs its prerequisites, and every job
that surely follows from it; of alternatives only one is chosen; shared labour is paid once, and not at all where
another that is paid includes it.

Objective: the sum of mean prices in whole cents, each job's as often as it is done in `kept_years`: what holds half a
year is paid again and again, and is no saving. Solved by `programme`, by HiGHS where that takes too long; what comes
back is checked again clause by clause. Ties: the fewest lines, then those earlier in the catalogue.

A mend is worth what it is worth where it is found, a new part is new: a check whose fault the plan cures stands,
whatever curable outcome the bench meets there, at what the curing job leaves. A check at which a job of the plan leaves
a known outcome (`leaves_as`: a new bridge is flat and fitted) stands at that, whether anybody had looked at it or not.
What no job of the plan cures stays as it is.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from ...assessment.believing.beliefs import Held, Left
from ...assessment.model import Case
from ...basis.frozen import dataclass
from ...rubric.fitting import worth_left
from ...rubric.written.checks import Check, Outcome
from ..model import Uncured
from ..price import Price
from . import highs
from .catalogue import Catalogue, Need
from .programme import ALWAYS, Choice, Programme, any_choice, met_in_turn, search

NODES = 2_000  # about a fifth of a second; a usual order takes a few dozen
NODES_FOR_ALTERNATIVE = 200


@dataclass(frozen=True, slots=True)
class Plan:
    """Jobs and shared labour in catalogue order. `unmet`: needs that no possible plan cures, with the reason.

    `prices` has every job that was weighed. `may_save`: how much less another plan could cost, 0 where it is proven.
    """

    jobs: tuple[str, ...]
    shared: tuple[str, ...]
    needs: tuple[Need, ...]
    unmet: Mapping[Need, Uncured]
    proven: bool
    may_save: float
    prices: Mapping[str, Price]
    units: Mapping[str, int]
    programme: Programme

    @property
    def mean(self) -> float:
        return sum(self.prices[name].whole.mean for name in (*self.jobs, *self.shared))


_Loosened = tuple[list[Need], list[Need], Programme, dict[str, Price], dict[str, int]]


class Planner(Catalogue):
    """Plans for one price list."""

    def plan(self, needs: Iterable[Need]) -> Plan:
        """The cheapest plan for all needs that can be met together; the others are `unmet`, each with its reason."""
        wanted = tuple(needs)
        hopeless: dict[Need, Uncured] = {need: "no_job" for need in wanted if not self.answers(need)}
        open_ = [need for need in wanted if need not in hopeless]
        programme, prices, units = self._programme(open_, over_life=True)
        choice = cheapest(programme)
        if choice is None:
            open_, clashing = self._possible(open_, programme)
            open_, left, programme, prices, units = self._loosened(open_, clashing)
            hopeless |= dict.fromkeys(left, "clash")
            choice = cheapest(programme)
        assert choice is not None, "needs that were met one after the other can be met together"
        chosen = [programme.names[i] for i in sorted(choice.chosen)]
        return Plan(
            jobs=tuple(name for name in chosen if name in self.jobs),
            shared=tuple(name for name in chosen if name in self.shared),
            needs=tuple(need for need in wanted if need in open_),
            unmet=hopeless,
            proven=choice.proven,
            may_save=choice.may_save_cents / 100.0,
            prices=prices,
            units=units,
            programme=programme,
        )

    def _loosened(self, fitting: list[Need], clashing: list[Need]) -> _Loosened:
        """What fits cannot be had together: those that clash take what is listed, or another one does, or what follows
        does; at last some are left. (The needs that are met, those that are left, and the programme with its prices.)
        """
        together = [*fitting, *clashing]
        for loose in (clashing, *([need] for need in reversed(fitting))) if self.why else ():
            found = self._met(together, loose, followers=False)
            if not found[1]:
                return found
        kept, left, *_ = self._met(together, clashing, followers=True)
        return kept, left, *self._programme(kept, over_life=True, loose=clashing, followers=True)

    def _met(self, needs: list[Need], loose: Collection[Need], *, followers: bool) -> _Loosened:
        made = self._programme(needs, over_life=True, loose=loose, followers=followers)
        return *self._possible(needs, made[0], loose), *made

    def next_best(self, plan: Plan, job: str) -> tuple[str, float] | None:
        """The job that takes this one's place in the cheapest plan without it, and how much dearer that plan is.

        None where there is no other way, or where looking for it would take long.
        """
        place = plan.programme.names.index(job)
        other = search(plan.programme, frozenset({place}), NODES_FOR_ALTERNATIVE)
        if other is None or not other.proven:
            return None
        names = [plan.programme.names[i] for i in sorted(other.chosen)]
        new = [name for name in names if name in self.jobs and name not in plan.jobs]
        if not new:
            return None
        helpers = [found for need in plan.needs if job in (found := self.done_by(need.every_job))]
        useful = [name for name in new if any(name in helping for helping in helpers)]
        price = sum(plan.prices[name].whole.mean for name in names if name in plan.prices)
        return (useful or new)[0], price - plan.mean

    def _possible(
        self, needs: Iterable[Need], programme: Programme, loose: Collection[Need] = ()
    ) -> tuple[list[Need], list[Need]]:
        """Needs that can be met together, taken in their order, and those that then cannot."""
        wanted = tuple(needs)
        place = {name: i for i, name in enumerate(programme.names)}
        asked = [frozenset(place[name] for name in self.answers(need, loose=need in loose)) for need in wanted]
        met = met_in_turn(programme, asked)
        kept = [need for need, is_met in zip(wanted, met, strict=True) if is_met]
        return kept, [need for need, is_met in zip(wanted, met, strict=True) if not is_met]

    def programme(self, needs: Iterable[Need]) -> Programme:
        """The 0/1 programme of these needs; its names are jobs, then shared labour, then jobs needed together."""
        return self._programme(needs)[0]

    def _programme(
        self, needs: Iterable[Need], *, over_life: bool = False, loose: Collection[Need] = (), followers: bool = False
    ) -> tuple[Programme, dict[str, Price], dict[str, int]]:
        wanted = tuple(needs)
        reach = self.reach(job for need in wanted for job in need.every_job)
        units = self.units(wanted)
        jobs = [name for name in self.jobs if name in reach]
        labours = {name for job in jobs for options in self.labour(job) for name in options}
        answers = [self.answers(need, loose=need in loose) for need in wanted]
        together = {name: asked for found in answers for name, asked in found.items() if asked}
        priced = [*jobs, *(name for name in self.shared if name in labours)]
        names = [*priced, *together]
        place = {name: i for i, name in enumerate(names)}
        prices = {name: self.price_of(name, units.get(name, 1)) for name in priced}
        clauses = [(ALWAYS, frozenset(place[name] for name in found)) for found in answers]
        for name, asked in together.items():
            clauses += [(place[name], frozenset(place[job] for job in options)) for options in asked]
        exclusions: set[tuple[int, int]] = set()
        for job in jobs:
            for options in (*self.brings(job, loose=followers), *self.labour(job)):
                clauses.append((place[job], frozenset(place[name] for name in options)))
            for other in self.excluded_by(job) & reach:
                exclusions.add((min(place[job], place[other]), max(place[job], place[other])))
        times = {name: self.over_life(name) if over_life else 1.0 for name in priced}
        cents = tuple(round(prices[name].whole.mean * times[name] * 100) if name in prices else 0 for name in names)
        return Programme(tuple(names), cents, tuple(dict.fromkeys(clauses)), tuple(sorted(exclusions))), prices, units


def cheapest(
    programme: Programme, nodes: int = NODES, seconds: float = 5.0, near: Sequence[frozenset[int]] = ()
) -> Choice | None:
    """The proven cheapest choice, None when there is none; the best that was met where the time ran out.

    `near`: choices that hold, perhaps the cheapest of other prices.
    """
    first = search(programme, nodes=nodes, near=near)
    if first is None or (first.proven and not programme.broken(first.chosen)):
        return first
    second = highs.solve(programme, seconds=seconds)
    if second is None:
        return None
    third = any_choice(programme) if programme.broken(second.chosen) else None
    holding = [one for one in (second, first, third) if one and not programme.broken(one.chosen)]
    if not holding:
        return None
    best = min(holding, key=lambda one: (programme.cost(one.chosen), not one.proven))
    if best.proven or best.may_save_cents > 0:
        return best
    return replace(best, may_save_cents=float(programme.cost(best.chosen)))  # no bound is known but nothing at all


def left_by(planner: Planner, plan: Plan, case: Case, beliefs: Sequence[Held]) -> tuple[Left, ...]:
    """For each belief what the plan leaves of its outcomes, in their order."""
    wanted = {need.check for need in plan.needs}
    checks = planner.prices.rubric.checks
    return tuple(_left(planner, plan.jobs, case, checks[one.term.check], wanted) for one in beliefs)


def _left(planner: Planner, jobs: Sequence[str], case: Case, check: Check, wanted: Collection[str]) -> Left:
    renewing = [job for job in jobs if check.check in planner.jobs[job].leaves_as]
    if check.check not in wanted and not renewing:
        return (None,) * len(check.outcomes)
    found = []
    for name, outcome in check.outcomes.items():
        curing = _curing(planner, jobs, check, name, outcome)
        found.append(_worth(planner, case, check, curing, renewing if _is_renewed(outcome) else []))
    return tuple(found)


def _curing(planner: Planner, jobs: Sequence[str], check: Check, name: str, outcome: Outcome) -> Collection[str]:
    if not outcome.cured_by:
        return ()
    return planner.cured_with(Need(check.check, name, outcome.say, outcome.cured_by), jobs)


def _is_renewed(outcome: Outcome) -> bool:
    """Whether a new part takes an outcome with it: not one that lies elsewhere, or that asks for work of its own."""
    return not outcome.inherent and not outcome.cured_by


def _worth(
    planner: Planner, case: Case, check: Check, curing: Collection[str], renewing: Collection[str]
) -> float | None:
    """The least that the curing jobs leave; else the best that a new part gives; None where nothing touches it."""
    rubric, tier, style = planner.prices.rubric, case.instrument.tier, case.instrument.style
    jobs, choose = (curing, min) if curing else (renewing, max)
    left = [worth_left(rubric, check, job, tier, style) for job in jobs]
    return choose((one for one in left if one is not None), default=None)
