"""The plan: the cheapest set of jobs that cures what must be cured, with everything that these jobs bring along.

Each need asks for one of the jobs that cure it and fit: what fits decides before what costs less. Where nothing fits
the instrument's class or standard, what fits the fault does; where nothing fits at all, everything that is listed. A
job in the plan that makes another unnecessary counts as having done it. A job needs its prerequisites, and every job
that follows from it with a chance of `CERTAIN` or more; of alternatives only one is chosen; shared labour is paid once,
and not at all where another that is paid includes it.

Objective: the sum of mean prices in whole cents, each job's as often as it is done in `KEPT_YEARS`: what holds half a
year is paid again and again, and is no saving. Solved by `programme`, by HiGHS where that takes too long; what comes
back is checked again clause by clause. Ties: the fewest lines, then those earlier in the catalogue.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from ..rubric.fitting import Setting, unfit_jobs
from ..rubric.model import Force, Job, Urgency, jobs_of
from . import highs
from .price import Price, PriceList
from .programme import ALWAYS, Choice, Programme, any_choice, met_in_turn, search

KEPT_YEARS = 2.0  # how long a cure has to hold to be paid once; judged: two years of lessons on one size
CERTAIN = 0.9  # from this chance on, what follows from a job is part of the plan
NODES = 2_000  # about a fifth of a second; a usual order takes a few dozen
NODES_FOR_ALTERNATIVE = 200
NO_JOB = "No job in the catalogue cures this."
CLASH = "What cures this cannot be combined with the other work of the plan."


@dataclass(frozen=True, slots=True)
class Need:
    """A fault that must go: one of `jobs` cures it, or several joined by "+" that are needed together.

    `units`: how many times it is there (seams, cracks).
    """

    check: str
    outcome: str
    say: str
    jobs: tuple[str, ...]
    urgency: Urgency = "to_standard"
    units: int = 1

    @property
    def ways(self) -> tuple[tuple[str, ...], ...]:
        """The jobs of each way to cure it."""
        return tuple(jobs_of(cure) for cure in self.jobs)

    @property
    def every_job(self) -> tuple[str, ...]:
        """All jobs that have a part in a cure, each once."""
        return tuple(dict.fromkeys(job for way in self.ways for job in way))


@dataclass(frozen=True, slots=True)
class Plan:
    """Jobs and shared labour in catalogue order. `unmet`: needs that no possible plan cures, with the reason.

    `prices` has every job that was weighed. `may_save`: how much less another plan could cost, 0 where it is proven.
    """

    jobs: tuple[str, ...]
    shared: tuple[str, ...]
    needs: tuple[Need, ...]
    unmet: Mapping[Need, str]
    proven: bool
    may_save: float
    prices: Mapping[str, Price]
    units: Mapping[str, int]
    programme: Programme

    @property
    def mean(self) -> float:
        return sum(self.prices[name].whole.mean for name in (*self.jobs, *self.shared))


_Loosened = tuple[list[Need], list[Need], Programme, dict[str, Price], dict[str, int]]


class Planner:
    """Plans for one price list: everything about jobs that does not depend on the faults is worked out once.

    `setting` is the instrument that the work is for; without it every job fits, and lasts.
    """

    def __init__(self, prices: PriceList, setting: Setting | None = None) -> None:
        self.prices = prices
        self.why = unfit_jobs(prices.rubric, setting) if setting else {}
        # From the strictest on: what must not be taken as a cure or what follows.
        self.unfit = (
            frozenset(self.why),
            frozenset(name for name, one in self.why.items() if one.is_physical),
            frozenset[str](),
        )
        self.setting = setting
        self._fitting: dict[tuple[str, ...], dict[str, tuple[frozenset[str], ...]]] = {}
        priced = {name: prices.job(name) for name in prices.rubric.jobs}
        self.price: dict[str, Price] = {name: price for name, price in priced.items() if price is not None}
        self.jobs: Mapping[str, Job] = {name: prices.rubric.jobs[name] for name in self.price}
        self.services = frozenset(name for name, job in self.jobs.items() if job.service)
        self.shared = {name: prices.shared(name) for name in prices.rubric.shared_labour}
        self.makers: dict[str, set[str]] = {}
        self.includers: dict[str, set[str]] = {}
        self.chosen_against: dict[str, set[str]] = {}
        for name, job in self.jobs.items():
            for needless in job.makes_unnecessary:
                self.makers.setdefault(needless, set()).add(name)
            for other in job.choose_one:
                self.chosen_against.setdefault(other, set()).add(name)
        for name, labour in prices.rubric.shared_labour.items():
            for needless in labour.includes:
                self.includers.setdefault(needless, set()).add(name)
        self.done: dict[str, frozenset[str]] = {
            name: frozenset(({name} & self.jobs.keys()) | self.makers.get(name, set()))
            for name in (*self.jobs, *self.makers)
        }

    def done_by(self, jobs: Iterable[str]) -> frozenset[str]:
        """The jobs that leave one of these done: itself, or one that makes it unnecessary."""
        return frozenset().union(*[self.done[job] for job in jobs if job in self.done])

    def over_life(self, job: str) -> float:
        """How many times the job is paid in the years for which a cure should hold, at least once."""
        holds = self.jobs[job].holds_years if job in self.jobs and self.setting else None
        return max(1.0, KEPT_YEARS / holds.at(self.setting.tier)) if holds and self.setting else 1.0

    def fitting(self, need: Need) -> dict[str, tuple[frozenset[str], ...]]:
        """The ways to cure a need that fit it, by their words: for each of a way's jobs what does it."""
        if need.jobs not in self._fitting:
            ways = ({cure: self._asked(cure, unfit) for cure in need.jobs} for unfit in self.unfit)
            kept = ({cure: asked for cure, asked in found.items() if all(asked)} for found in ways)
            self._fitting[need.jobs] = next((found for found in kept if found), {})
        return self._fitting[need.jobs]

    def every_way(self, need: Need) -> dict[str, tuple[frozenset[str], ...]]:
        """All ways that are listed, whether they fit or not."""
        ways = {cure: self._asked(cure, frozenset()) for cure in need.jobs}
        return {cure: asked for cure, asked in ways.items() if all(asked)}

    def suits(self, need: Need) -> bool:
        """Whether something that cures it is also meant for such an instrument."""
        return any(all(self._asked(cure, self.unfit[0])) for cure in need.jobs)

    def _asked(self, cure: str, unfit: frozenset[str]) -> tuple[frozenset[str], ...]:
        """For each job of a way what does it and is not unfit; a bundle that holds an unfit job is no better."""
        held = {job: self.services if job in unfit else frozenset[str]() for job in jobs_of(cure)}
        return tuple(self.done_by((job,)) - unfit - bundles for job, bundles in held.items())

    def answers(self, need: Need, *, loose: bool = False) -> dict[str, tuple[frozenset[str], ...]]:
        """What cures a need: a job by its name, and each way of several jobs by theirs with what each asks for.

        `loose`: whether it fits or not.
        """
        ways = self.every_way(need) if loose else self.fitting(need)
        single = frozenset().union(*[asked[0] for asked in ways.values() if len(asked) == 1])
        found: dict[str, tuple[frozenset[str], ...]] = dict.fromkeys(sorted(single), ())
        return found | {cure: asked for cure, asked in ways.items() if len(asked) > 1}

    def cured_with(self, need: Need, jobs: Iterable[str]) -> frozenset[str]:
        """Those of the jobs that cure the need, alone or together; empty where they do not.

        What is done anyway cures, though it would not have been chosen.
        """
        there = frozenset(jobs)
        found: set[str] = set()
        for cure, asked in self.every_way(need).items():
            done = [options & there for options in asked]
            if all(done):
                found.update(*((options & {job}) or options for job, options in zip(jobs_of(cure), done, strict=True)))
        return frozenset(found)

    def brings(self, job: str, *, loose: bool = False) -> tuple[frozenset[str], ...]:
        """For each prerequisite and each job that surely follows: the jobs one of which must be in the plan too.

        `loose`: whether they fit or not.
        """
        asked: list[tuple[str, ...]] = [(need,) for need in self.jobs[job].requires]
        sure = [force for force in self.jobs[job].forces if self.chance(force) >= CERTAIN]
        asked += [forced_jobs(force) if loose else self.followers(job, force) for force in sure]
        return tuple(found for found in map(self.done_by, asked) if found and job not in found)

    def chance(self, force: Force) -> float:
        """How often it follows on such an instrument."""
        old = self.setting is not None and self.setting.old
        return force.old if old and force.old is not None else force.chance

    def followers(self, job: str, force: Force) -> tuple[str, ...]:
        """The jobs one of which follows from a job: those that fit what it leaves, or all where none does."""
        named, done = forced_jobs(force), self.jobs[job].leaves_as
        mended = {name for name, why in self.why.items() if why.limit is not None and why.limit.check in done}
        kept = ([name for name in named if name not in unfit - mended] for unfit in self.unfit)
        return next((tuple(jobs) for jobs in kept if jobs), named)

    def labour(self, job: str) -> tuple[frozenset[str], ...]:
        """For each shared labour of a job: the labours one of which must be paid."""
        return tuple(
            frozenset({name, *self.includers.get(name, ())}) for name in self.jobs[job].shares if name in self.shared
        )

    def excluded_by(self, job: str) -> frozenset[str]:
        """The jobs that cannot be in a plan together with this one."""
        one = self.jobs[job]
        mutual = self.makers.get(job, set()) | self.chosen_against.get(job, set())
        return frozenset({*one.choose_one, *one.makes_unnecessary, *mutual} - {job})

    def reach(self, jobs: Iterable[str]) -> frozenset[str]:
        """Every job that may come into a plan on account of these."""
        found: set[str] = set()
        todo = list(self.done_by(jobs))
        while todo:
            job = todo.pop()
            if job not in found:
                found.add(job)
                todo += [name for options in self.brings(job, loose=True) for name in options]
        return frozenset(found)

    def plan(self, needs: Iterable[Need]) -> Plan:
        """The cheapest plan for all needs that can be met together; the others are `unmet`, each with its reason."""
        wanted = tuple(needs)
        hopeless = {need: NO_JOB for need in wanted if not self.answers(need)}
        open_ = [need for need in wanted if need not in hopeless]
        programme, prices, units = self._programme(open_, over_life=True)
        choice = cheapest(programme)
        if choice is None:
            open_, clashing = self._possible(open_, programme)
            open_, left, programme, prices, units = self._loosened(open_, clashing)
            hopeless |= dict.fromkeys(left, CLASH)
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

    def units(self, needs: Iterable[Need]) -> dict[str, int]:
        """How many units of each job the needs ask for: the most that any of them counts."""
        found: dict[str, int] = {}
        for need in needs:
            for job in need.every_job:
                found[job] = max(found.get(job, 1), self.times(job, need.units))
        return found

    def times(self, job: str, units: int) -> int:
        """How often a job is done for so many faults: once where the catalogue has no price for a further one."""
        return units if job in self.jobs and self.jobs[job].further_unit is not None else 1

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

    def price_of(self, name: str, units: int = 1) -> Price:
        """Price of a job on so many units, or of a shared labour."""
        if name not in self.jobs:
            return self.shared[name]
        count = self.times(name, units)
        price = self.price[name] if count == 1 else self.prices.job(name, count)
        assert price is not None, "only jobs with a price are planned"
        return price


def forced_jobs(force: Force) -> tuple[str, ...]:
    """The jobs one of which follows."""
    return ((force.job,) if force.job else ()) + force.one_of


def cheapest(programme: Programme, nodes: int = NODES, seconds: float = 5.0) -> Choice | None:
    """The proven cheapest choice, None when there is none; the best that was met where the time ran out."""
    first = search(programme, nodes=nodes)
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
