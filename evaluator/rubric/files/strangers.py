"""A rubric without the names of what is not in it: a shared entry may name what other families have, or what an opinion
dropped.
"""

from collections.abc import Sequence

from ..rubric import Rubric
from ..written.checks import Check, Outcome, jobs_of
from ..written.work import Force, Job
from .waits import with_waits


def without_strangers(rubric: Rubric, jobs_elsewhere: set[str], checks_elsewhere: set[str]) -> Rubric:
    """The rubric without names of what it does not have."""
    jobs = {name: _job_without(job, jobs_elsewhere, checks_elsewhere) for name, job in rubric.jobs.items()}
    checks = {}
    for name, check in with_waits(rubric.checks, rubric.waits, rubric.renamed).items():
        waits = tuple(one for one in check.postponed_by if one.partition(".")[0] not in checks_elsewhere)
        kept_check = check if waits == check.postponed_by else check.model_copy(update={"postponed_by": waits})
        checks[name] = _check_without(kept_check, jobs_elsewhere)
    kept = {field: getattr(rubric, field) for field in rubric.__dataclass_fields__}
    return Rubric(**(kept | {"checks": checks, "jobs": jobs}))


def _kept(names: Sequence[str], strangers: set[str]) -> tuple[str, ...]:
    return tuple(name for name in names if name not in strangers)


def _cures_kept(outcome: Outcome, strangers: set[str]) -> tuple[str, ...]:
    """The ways to cure it of which every job is there."""
    return tuple(cure for cure in outcome.cured_by if not strangers & set(jobs_of(cure)))


def _check_without(check: Check, strangers: set[str]) -> Check:
    outcomes = {
        key: outcome.model_copy(update={"cured_by": _cures_kept(outcome, strangers)})
        for key, outcome in check.outcomes.items()
        if strangers & outcome.jobs
    }
    return check.model_copy(update={"outcomes": {**check.outcomes, **outcomes}}) if outcomes else check


def _job_without(job: Job, strangers: set[str], checks_elsewhere: set[str]) -> Job:
    lists = {key: getattr(job, key) for key in ("requires", "after", "makes_unnecessary", "choose_one")}
    forces = tuple(kept for force in job.forces if (kept := _force_without(force, strangers)))
    changes: dict[str, object] = {key: _kept(names, strangers) for key, names in lists.items()}
    changes = {key: names for key, names in changes.items() if names != lists[key]}
    if forces != job.forces:
        changes["forces"] = forces
    if checks_elsewhere.intersection(job.leaves_as):
        changes["leaves_as"] = {one: left for one, left in job.leaves_as.items() if one not in checks_elsewhere}
    if any(limit.check in checks_elsewhere for limit in job.limits):
        changes["limits"] = tuple(limit for limit in job.limits if limit.check not in checks_elsewhere)
    return job.model_copy(update=changes) if changes else job


def _force_without(force: Force, strangers: set[str]) -> Force | None:
    """The force with the jobs that are here; None when none is left."""
    one_of = _kept(force.one_of, strangers)
    if force.job not in strangers and one_of == force.one_of:
        return force
    if (force.job is None or force.job in strangers) and not one_of:
        return None
    return force.model_copy(update={"one_of": one_of, "job": None if force.job in strangers else force.job})
