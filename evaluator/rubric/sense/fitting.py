"""What jobs say of their fitness and makes no sense: limits that nothing meets, cures that do not fit, cures without
point.
"""

from collections.abc import Iterator

from ...basis.problem import Message, Messages
from ..fitting import TIERS, Seen, passed, worth_left
from ..rubric import Rubric
from ..written.checks import Check, Outcome, jobs_of
from ..written.kinds import Skill
from ..written.work import Job, Limit
from .slip import Slip

MESSAGES: Messages = {
    "fit.cure_unfit": Message(
        '"{job}" does not fit this: {why}.', "Take it out of cured_by, or correct the limit or the degree."
    ),
    "fit.limit_empty": Message("the limit says nothing.", "Write at_least, at_most, off_at_most or not_when."),
    "fit.limit_no_degree": Message(
        'nothing of "{check}" can be held against the limit: it is not measured, and no outcome has a degree.',
        "Give its outcomes a degree, or write not_when.",
    ),
    "fit.limit_never_met": Message('no outcome of "{check}" keeps within the limit.', "Correct the limit."),
    "fit.limit_no_standard": Message('"{check}" has no standard that a reading could miss.', "Write at_most instead."),
    "fit.limit_outcome": Message('the check "{check}" has no outcome "{outcome}".', "Use one of its outcomes."),
    "fit.leaves_outcome": Message('the check "{check}" has no outcome "{outcome}".', "Use one of its outcomes."),
    "fit.degree_of_what": Message("nothing says what its degrees count.", "Write degree_of: with the unit."),
    "fit.name_unknown": Message(
        'it fits "{name}", which is neither a tier nor a class of making.', "Use one of {choices}."
    ),
    "fit.nobody": Message("it fits nobody.", "Take something out of fit_for or not_for."),
    "fit.cheaper_leaves_more": Message(
        '"{cheap}" takes less work than "{dear}" and leaves more ({more:g}, not {less:g}).',
        'Take "{dear}" out, or say what limits "{cheap}".',
    ),
}
# Only to tell which of two cures takes less: what an hour of each skill costs beside the others. From memory.
HOUR: dict[Skill, float] = {"set_up": 0.85, "repair": 1.0, "restoration": 1.2}


def fitting_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every slip in limits, degrees, classes that a job is for, and what it leaves."""
    for job in rubric.jobs.values():
        for at, limit in enumerate(job.limits):
            yield from _limit_slips(rubric, job, limit, at)
        yield from _name_slips(rubric, job)
        for name, outcome in job.leaves_as.items():
            if name in rubric.checks and outcome not in rubric.checks[name].outcomes:
                words = {"check": name, "outcome": outcome}
                yield Slip("fit.leaves_outcome", "jobs", job.job, ("leaves_as", name), words)
    for check in rubric.checks.values():
        for name, one in check.outcomes.items():
            if one.degree is not None and check.degree_of is None:
                yield Slip("fit.degree_of_what", "checks", check.check, ("outcomes", name, "degree"))
                break
        for name, one in check.outcomes.items():
            yield from _cure_slips(rubric, check, name, one)
            yield from _pointless(rubric, check, name, one)


def _limit_slips(rubric: Rubric, job: Job, limit: Limit, at: int) -> Iterator[Slip]:
    check = rubric.checks.get(limit.check)
    here, words = ("limits", at), {"check": limit.check}
    figures = limit.at_least is not None or limit.at_most is not None
    if not figures and limit.off_at_most is None and not limit.not_when:
        yield Slip("fit.limit_empty", "jobs", job.job, here)
    if check is None:
        return
    for name in limit.not_when:
        if name not in check.outcomes:
            yield Slip("fit.limit_outcome", "jobs", job.job, (*here, "not_when"), words | {"outcome": name})
    if limit.off_at_most is not None and check.standard is None:
        yield Slip("fit.limit_no_standard", "jobs", job.job, (*here, "off_at_most"), words, key=True)
    degrees = [one.degree for one in check.outcomes.values() if one.degree is not None]
    if figures and not degrees and check.kind not in ("measure", "derived"):
        yield Slip("fit.limit_no_degree", "jobs", job.job, (*here, "check"), words)
    elif not any(passed(limit, check, Seen(name), rubric.family) is None for name in check.outcomes):
        yield Slip("fit.limit_never_met", "jobs", job.job, (*here, "check"), words)


def _name_slips(rubric: Rubric, job: Job) -> Iterator[Slip]:
    classes = tuple(rubric.classes)
    for key in ("fit_for", "not_for"):
        for at, name in enumerate(getattr(job, key)):
            if name not in (*TIERS, *classes):
                words = {"name": name, "choices": ", ".join((*TIERS, *classes))}
                yield Slip("fit.name_unknown", "jobs", job.job, (key, at), words)
    for names in (TIERS, classes):
        only = [name for name in names if name in job.fit_for] or names
        if only and all(name in job.not_for for name in only):
            yield Slip("fit.nobody", "jobs", job.job, ("not_for",), key=True)


def _cure_slips(rubric: Rubric, check: Check, name: str, outcome: Outcome) -> Iterator[Slip]:
    """Cures that the outcome itself puts out of reach."""
    for at, cure in enumerate(outcome.cured_by):
        for job in jobs_of(cure):
            limits = [one for one in rubric.jobs[job].limits if one.check == check.check] if job in rubric.jobs else []
            for limit in limits:
                if passed(limit, check, Seen(name), rubric.family):
                    words = {"job": job, "why": _why(limit, name, outcome)}
                    yield Slip("fit.cure_unfit", "checks", check.check, ("outcomes", name, "cured_by", at), words)


def _why(limit: Limit, name: str, outcome: Outcome) -> str:
    if name in limit.not_when:
        return "it names this outcome under not_when"
    bound = f"up to {limit.at_most:g}" if limit.at_most is not None else f"from {limit.at_least:g} on"
    return f"it is for {bound}, and this is {outcome.degree:g}"


def _pointless(rubric: Rubric, check: Check, name: str, outcome: Outcome) -> Iterator[Slip]:
    """A cure that takes more work than another and leaves less, where nothing limits the other. Services are offers."""
    ways = [(at, jobs_of(cure)[0]) for at, cure in enumerate(outcome.cured_by) if len(jobs_of(cure)) == 1]
    known = [(at, job) for at, job in ways if job in rubric.jobs and not rubric.jobs[job].service]
    for at, dear in known:
        for _, cheap in known:
            if _unlimited(rubric.jobs[cheap]) and _work(rubric, cheap) < _work(rubric, dear):
                more, less = (worth_left(rubric, check, job, "intermediate", "classical") for job in (cheap, dear))
                if more is not None and less is not None and more > less:
                    words = {"cheap": cheap, "dear": dear, "more": more, "less": less}
                    here = ("outcomes", name, "cured_by", at)
                    yield Slip("fit.cheaper_leaves_more", "checks", check.check, here, words)


def _unlimited(job: Job) -> bool:
    return not job.limits and not job.fit_for and not job.not_for


def _work(rubric: Rubric, name: str) -> float:
    """Likely hours of a job with all that it requires and the shared labour, in hours of a repairer."""
    wanted = [name]
    for one in wanted:
        wanted += [other for other in rubric.jobs[one].requires if other in rubric.jobs and other not in wanted]
    jobs = [rubric.jobs[one] for one in wanted]
    shared = {one for job in jobs for one in job.shares if one in rubric.shared_labour}
    labours = [rubric.shared_labour[one] for one in sorted(shared)]
    hours = [one.hours.likely * HOUR[one.skill] for one in jobs]
    return sum(hours) + sum(one.hours.likely * HOUR[one.skill] for one in labours)
