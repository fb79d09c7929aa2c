"""Faults that must go, and what the catalogue has for each: which jobs cure it and fit, and what they bring along.

Each need asks for one of the jobs that cure it and fit: what fits decides before what costs less. Where nothing fits
the instrument's class or standard, what fits the fault does; where nothing fits at all, everything that is listed.
"""

from collections.abc import Iterable, Mapping

from ...basis.frozen import dataclass
from ...rubric.fitting import Setting, unfit_jobs
from ...rubric.written.checks import jobs_of
from ...rubric.written.kinds import Urgency
from ...rubric.written.work import Force, Job
from ..price import Price, PriceList

CERTAIN = 0.9  # from this chance on, what follows from a job is part of the plan


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


class Catalogue:
    """The jobs of one price list: everything about them that does not depend on the faults is worked out once.

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
        self._every: dict[tuple[str, ...], dict[str, tuple[frozenset[str], ...]]] = {}
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
        if not holds or not self.setting:
            return 1.0
        return max(1.0, self.prices.rubric.figure("kept_years") / holds.at(self.setting.tier))

    def fitting(self, need: Need) -> dict[str, tuple[frozenset[str], ...]]:
        """The ways to cure a need that fit it, by their words: for each of a way's jobs what does it."""
        if need.jobs not in self._fitting:
            ways = ({cure: self._asked(cure, unfit) for cure in need.jobs} for unfit in self.unfit)
            kept = ({cure: asked for cure, asked in found.items() if all(asked)} for found in ways)
            self._fitting[need.jobs] = next((found for found in kept if found), {})
        return self._fitting[need.jobs]

    def every_way(self, need: Need) -> dict[str, tuple[frozenset[str], ...]]:
        """All ways that are listed, whether they fit or not."""
        if need.jobs not in self._every:
            ways = {cure: self._asked(cure, frozenset()) for cure in need.jobs}
            self._every[need.jobs] = {cure: asked for cure, asked in ways.items() if all(asked)}
        return self._every[need.jobs]

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
