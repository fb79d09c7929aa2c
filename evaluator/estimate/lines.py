"""The lines of an estimate: jobs in the order in which they are done, then the shared labour, each with its reasons."""

import heapq
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from ..basis.show import money
from ..rubric.written.kinds import Urgency
from .model import Alternative, PlanLine
from .pert import cost
from .planning.catalogue import Need
from .planning.plan import Plan, Planner

URGENCIES: tuple[Urgency, ...] = ("to_play_safely", "to_standard", "recommended", "cosmetic", "can_wait")
MINIMUM = "minimum_charge"


def in_bench_order(planner: Planner, jobs: Iterable[str]) -> tuple[str, ...]:
    """Each job after those that it is done after or needs; in catalogue order where nothing decides (or all in a
    ring).
    """
    place = {name: i for i, name in enumerate(planner.jobs)}
    chosen = set(jobs)
    before = {name: {*planner.jobs[name].after, *planner.jobs[name].requires} & chosen for name in chosen}
    done: list[str] = []
    ready = [place[name] for name, first in before.items() if not first]
    heapq.heapify(ready)
    names = list(planner.jobs)
    while ready:
        name = names[heapq.heappop(ready)]
        done.append(name)
        for other, first in before.items():
            if name in first:
                first.discard(name)
                if not first:
                    heapq.heappush(ready, place[other])
    return (*done, *sorted(chosen - set(done), key=place.__getitem__))


def plan_lines(planner: Planner, plan: Plan, *, choices: bool = True) -> tuple[PlanLine, ...]:
    """The lines of a plan: what each cures, what forced it, and (with `choices`) the next-best way."""
    cured = cures(planner, plan.jobs, plan.needs)
    jobs = [
        job_line(planner, job, cured[job], _brought_by(planner, plan, job, cured), plan.units.get(job, 1))
        for job in in_bench_order(planner, plan.jobs)
    ]
    urgency = {line.job: line.urgency for line in jobs}
    lines = [_as_urgent(line, urgency) for line in jobs]
    found = []
    for line in lines:
        other = planner.next_best(plan, line.job) if choices else None
        best = Alternative(*other) if other else None
        found.append(line if best is None else replace(line, next_best=best))
    return (*found, *(shared_line(planner, name, lines) for name in plan.shared))


def cures(planner: Planner, jobs: Sequence[str], needs: Iterable[Need]) -> dict[str, list[Need]]:
    """For each job of the plan the needs that it cures, itself or by making the cure unnecessary."""
    found: dict[str, list[Need]] = {job: [] for job in jobs}
    for need in needs:
        curing = planner.cured_with(need, jobs)
        direct = [job for job in jobs if job in curing and job in need.every_job]
        for job in direct or [job for job in jobs if job in curing]:
            found[job].append(need)
    return found


def job_line(
    planner: Planner, name: str, needs: Sequence[Need], forced_by: str | None = None, units: int = 1
) -> PlanLine:
    """One job as a line; its urgency is the highest of what it cures, else the job's own."""
    job = planner.jobs[name]
    price = planner.price_of(name, units)
    urgencies = [need.urgency for need in needs] or [job.urgency]
    return PlanLine(
        job=name,
        say=job.say,
        plain=job.plain,
        shared=False,
        because=tuple(dict.fromkeys(need.say for need in needs)),
        forced_by=forced_by,
        urgency=min(urgencies, key=URGENCIES.index),
        cost=price.whole,
        hours_likely=price.hours_likely,
        if_left=job.if_left,
        cautions=planner.prices.rubric.caution_texts(job),
        contact_first=job.contact_first,
        cures=tuple(dict.fromkeys(need.check for need in needs)),
        forced_by_say=planner.jobs[forced_by].say if forced_by else None,
        units=units,
        labour=price.labour,
        parts=price.used,
        shares=job.shares,
    )


def shared_line(planner: Planner, name: str, lines: Iterable[PlanLine]) -> PlanLine:
    """One shared labour as a line; as urgent as the most urgent job that needs it."""
    price, labour = planner.shared[name], planner.prices.rubric.shared_labour[name]
    serves = [line for line in lines if any(name in options for options in planner.labour(line.job))]
    return PlanLine(
        job=name,
        say=labour.say,
        plain=labour.say,
        shared=True,
        because=tuple(line.say for line in serves),
        forced_by=None,
        urgency=min((line.urgency for line in serves), key=URGENCIES.index, default="to_standard"),
        cost=price.whole,
        hours_likely=price.hours_likely,
        labour=price.labour,
    )


def minimum_line(lines: Sequence[PlanLine], minimum: Decimal, currency: str) -> tuple[PlanLine, ...]:
    """The line that brings a small order up to the shop's minimum charge; none where there is nothing to raise."""
    missing = float(minimum) - sum(line.cost.mean for line in lines)
    if not lines or missing <= 0:
        return ()
    text = f"The shop charges at least {money(minimum, currency)} for an order"
    fixed = cost(missing, missing, missing)
    return (PlanLine(MINIMUM, "To the minimum charge", text, True, (), None, "to_standard", fixed, 0.0, labour=fixed),)


def _brought_by(planner: Planner, plan: Plan, job: str, cured: Mapping[str, list[Need]]) -> str | None:
    """The job that asks for this one, where nothing that it cures would stay uncured without it."""
    others = [name for name in plan.jobs if name != job]
    if any(not planner.cured_with(need, others) for need in cured[job]):
        return None
    for name in others:
        if any(job in options for options in planner.brings(name, loose=True)):
            return name
    return None


def _as_urgent(line: PlanLine, urgency: Mapping[str, Urgency]) -> PlanLine:
    """A line that only follows from another is as urgent as that one."""
    if line.forced_by is None:
        return line
    return replace(line, urgency=urgency[line.forced_by])
