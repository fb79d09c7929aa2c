"""Random catalogues, and the cheapest plan found by trying every set of jobs: the oracle for the planner.

The oracle knows nothing of clauses or bounds: it asks of each set of jobs, one rule after the other, whether it holds.
"""

import random
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from evaluator.estimate.planning.catalogue import CERTAIN, Need
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.written.work import Job
from tests.estimate.small import job_of, rubric_of, shared_of


def random_catalogue(
    seed: int, jobs: int, faults: int, labours: int, *, links: float = 0.25
) -> tuple[Rubric, list[Need]]:
    """A rubric with so many jobs, and one need a fault. `links`: share of jobs with each kind of tie to others."""
    chance = random.Random(seed)
    names = [f"job_{i:03d}" for i in range(jobs)]
    shared = [shared_of(f"labour_{i}", _hours(chance, 0.4)) for i in range(labours)]
    if labours > 1 and chance.random() < 0.5:
        shared[0]["includes"] = ["labour_1"]
    made = []
    for place, name in enumerate(names):
        keys: dict[str, object] = {}
        others = names[:place] + names[place + 1 :]
        if others and chance.random() < links:
            keys["requires"] = [chance.choice(names[:place])] if place else []
        if others and chance.random() < links:
            keys["makes_unnecessary"] = chance.sample(others, 1)
        if others and chance.random() < links:
            keys["choose_one"] = chance.sample(others, 1)
        if len(others) > 1 and chance.random() < links:
            keys["forces"] = [_force(chance, others)]
        keys["shares"] = [one["shared"] for one in shared if chance.random() < 0.3]
        made.append(job_of(name, _hours(chance, 3.0), **keys))
    cures = {
        f"fault_{i:03d}": tuple(chance.sample(names, min(jobs, chance.choice((1, 2, 2, 3, 4))))) for i in range(faults)
    }
    rubric = rubric_of(tuple(made), cures, tuple(shared))
    return rubric, [Need(check, "poor", check, jobs) for check, jobs in cures.items()]


def joined_cures(seed: int, needs: list[Need]) -> list[Need]:
    """The same needs with some of their jobs joined in pairs that are needed together."""
    chance = random.Random(seed + 1)
    found = []
    for need in needs:
        jobs = list(need.jobs)
        if len(jobs) > 1 and chance.random() < 0.7:
            jobs = [f"{jobs[0]} + {jobs[1]}", *jobs[2:]]
        found.append(replace(need, jobs=tuple(jobs)))
    return found


def _hours(chance: random.Random, most: float) -> tuple[float, float, float]:
    low, likely, high = sorted(round(chance.uniform(0.05, most), 2) for _ in range(3))
    return low, likely, high


def _force(chance: random.Random, others: list[str]) -> dict[str, object]:
    likely = chance.choice((0.3, 0.9, 1.0))
    if chance.random() < 0.5:
        return {"job": chance.choice(others), "chance": likely, "when": "always"}
    return {"one_of": chance.sample(others, 2), "chance": likely, "when": "always"}


def cheapest_by_trial(rubric: Rubric, needs: list[Need], price: dict[str, int]) -> int | None:
    """Cents of the cheapest set of jobs that keeps every rule; None when no set does. For up to about 16 jobs."""
    jobs = list(rubric.jobs)
    sets = np.arange(1 << len(jobs))
    inside = {name: (sets >> place & 1).astype(bool) for place, name in enumerate(jobs)}
    holds = np.ones(len(sets), dtype=bool)

    def done(names: tuple[str, ...]) -> NDArray[np.bool_]:
        found = np.zeros(len(sets), dtype=bool)
        for name in names:
            found |= inside[name]
            for other, job in rubric.jobs.items():
                if name in job.makes_unnecessary:
                    found |= inside[other]
        return found

    for need in needs:
        cured = np.zeros(len(sets), dtype=bool)
        for cure in need.jobs:
            whole = np.ones(len(sets), dtype=bool)
            for name in cure.split(" + "):
                whole &= done((name,))
            cured |= whole
        holds &= cured
    for name, job in rubric.jobs.items():
        for asked in _brought(job):
            holds &= ~inside[name] | done(asked)
        for other in (*job.choose_one, *job.makes_unnecessary):
            holds &= ~(inside[name] & inside[other])
    if not holds.any():
        return None
    total = sum(inside[name].astype(np.int64) * price[name] for name in jobs) + _labour(rubric, inside, price)
    return int(np.min(total[holds]))


def _brought(job: Job) -> list[tuple[str, ...]]:
    asked: list[tuple[str, ...]] = [(name,) for name in job.requires]
    for force in job.forces:
        if force.chance >= CERTAIN:
            asked.append(((force.job,) if force.job else ()) + force.one_of)
    return [one for one in asked if not set(one) & {job.job, *job.makes_unnecessary}]


def _labour(rubric: Rubric, inside: dict[str, NDArray[np.bool_]], price: dict[str, int]) -> NDArray[np.int64]:
    """The cheapest shared labour for each set of jobs, trying every set of labours."""
    labours = list(rubric.shared_labour)
    size = len(next(iter(inside.values())))
    best = np.full(size, np.iinfo(np.int64).max // 2)
    for count in range(len(labours) + 1):
        for paid in combinations(labours, count):
            covered = set(paid) | {one for name in paid for one in rubric.shared_labour[name].includes}
            enough = np.ones(size, dtype=bool)
            for name, job in rubric.jobs.items():
                if not set(job.shares) <= covered:
                    enough &= ~inside[name]
            best = np.where(enough, np.minimum(best, sum(price[name] for name in paid)), best)
    return best
