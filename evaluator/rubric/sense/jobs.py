"""Jobs, parts and shared labour that load but make no sense: cures, order, prices and what follows from what."""

from collections.abc import Iterator

from ...basis.problem import Message, Messages
from ..rubric import Rubric
from ..written.work import Job, PartPrice
from .checks import worth_of
from .slip import Slip, circles

MESSAGES: Messages = {
    "job.cures_nothing": Message(
        "it cures nothing, and no other job needs it.", "Name it under cured_by of a check, or write service: true."
    ),
    "job.requires_circle": Message("the jobs require each other in a circle: {circle}.", "Break it."),
    "job.after_circle": Message("the order of the jobs leads round in a circle: {circle}.", "Break it."),
    "job.needs_and_removes": Message('it requires "{job}" and makes it unnecessary too.', "Keep one of the two."),
    "job.needs_alternatives": Message('it requires "{first}" and "{second}", of which one is chosen.', "Require one."),
    "job.choice_one_way": Message('it is a choice with "{job}", which does not say so.', "Name it in both jobs."),
    "job.choice_cures_other": Message('it is a choice with "{job}", but they cure nothing in common.', "Take it out."),
    "job.forces_nothing": Message("what it forces is not named.", "Write job: or one_of:."),
    "job.forces_twice": Message("it forces a job and one of several at once.", "Keep job: or one_of:."),
    "job.forces_never": Message('it forces "{job}" with the chance 0.', "Write the chance, or take it out."),
    "job.requires_forced": Message(
        'it both requires and forces "{job}".', "What is always needed belongs in requires."
    ),
    "job.leaves_worse": Message(
        'it leaves {leaves:g}, no better than "{outcome}" of "{check}", which it cures ({worth:g}).',
        "Say better what it leaves, or lower the worth of the outcome.",
    ),
    "job.costs_nothing": Message("it takes neither time nor a part.", "Write the hours."),
    "job.factor_of_stranger": Message("it has a factor for {family}, but is not done on a {family}.", "Take one away."),
    "job.no_part_price": Message('the part "{part}" has no {grade} price for a {family}.', "Add it to part_prices."),
    "job.no_if_left": Message("nothing says what happens if it is left.", "Write if_left: in a sentence."),
    "job.no_source": Message("it has no source.", "Name one, or write common practice, no source."),
    "shared.circle": Message("shared labour includes itself in a circle: {circle}.", "Break it."),
    "shared.no_time": Message("it takes no time.", "Write the hours, or take it out."),
    "part_price.none": Message("it has no price at all.", "Write one for a family and grade."),
    "part_price.size_unknown": Message('there is no size "{size}" of a {family}.', "Use a size of the family file."),
    "part_price.size_empty": Message(
        "the row for {size} says no price.", "Write times: or the price of a grade, one of the two."
    ),
}
Cures = dict[str, set[tuple[str, str]]]  # job: the (check, outcome) pairs that it cures


def job_slips(rubric: Rubric, *, complete: bool = True) -> Iterator[Slip]:
    """Every slip in jobs, shared labour and part prices. `complete`: False leaves out what hangs on broken entries."""
    if complete:
        yield from _useless(rubric)
    cured = cures(rubric)
    for job in rubric.jobs.values():
        yield from _order_slips(rubric, job, cured, complete)
        yield from _force_slips(job)
        yield from _cost_slips(rubric, job)
    yield from _leaves_slips(rubric)
    for code, key in (("job.requires_circle", "requires"), ("job.after_circle", "after")):
        for circle in circles({name: getattr(job, key) for name, job in rubric.jobs.items()}):
            yield Slip(code, "jobs", circle[0], (key,), {"circle": _round(circle)}, key=True)
    for circle in circles({name: shared.includes for name, shared in rubric.shared_labour.items()}):
        yield Slip("shared.circle", "shared_labour", circle[0], ("includes",), {"circle": _round(circle)}, key=True)
    for name, shared in rubric.shared_labour.items():
        if shared.hours.high == 0:
            yield Slip("shared.no_time", "shared_labour", name, ("hours",))
    for name, price in rubric.part_prices.items():
        if not any(price.prices.values()):
            yield Slip("part_price.none", "part_prices", name, ("prices",), key=True)
        yield from _part_size_slips(rubric, price)


def _part_size_slips(rubric: Rubric, price: PartPrice) -> Iterator[Slip]:
    for at, row in enumerate(price.by_size):
        priced = any(one is not None for one in (row.plain, row.good, row.select))
        if priced == (row.times is not None):
            yield Slip("part_price.size_empty", "part_prices", price.part, ("by_size", at), {"size": row.size[0]})
        for place, size in enumerate(row.size):
            if row.family == rubric.family and size not in rubric.sizes:
                words = {"size": size, "family": row.family}
                yield Slip("part_price.size_unknown", "part_prices", price.part, ("by_size", at, "size", place), words)


def _round(circle: tuple[str, ...]) -> str:
    return " -> ".join((*circle, circle[0]))


def cures(rubric: Rubric) -> Cures:
    """The (check, outcome) pairs that each job cures."""
    found: Cures = {name: set() for name in rubric.jobs}
    for check in rubric.checks.values():
        for name, outcome in check.outcomes.items():
            for job in outcome.jobs:
                found.setdefault(job, set()).add((check.check, name))
    return found


def _useless(rubric: Rubric) -> Iterator[Slip]:
    needed = {name for job in rubric.jobs.values() for name in job.requires}
    needed |= {force.job for job in rubric.jobs.values() for force in job.forces if force.job}
    needed |= {name for job in rubric.jobs.values() for force in job.forces for name in force.one_of}
    for name, cured in cures(rubric).items():
        if name in rubric.jobs and not cured and not rubric.jobs[name].service and name not in needed:
            yield Slip("job.cures_nothing", "jobs", name)


def _order_slips(rubric: Rubric, job: Job, cured: Cures, complete: bool) -> Iterator[Slip]:
    for at, name in enumerate(job.requires):
        if name in job.makes_unnecessary:
            yield Slip("job.needs_and_removes", "jobs", job.job, ("requires", at), {"job": name})
        if any(force.job == name for force in job.forces):
            yield Slip("job.requires_forced", "jobs", job.job, ("requires", at), {"job": name})
        for other in job.requires[:at]:
            if other in rubric.jobs and name in rubric.jobs[other].choose_one:
                words = {"first": other, "second": name}
                yield Slip("job.needs_alternatives", "jobs", job.job, ("requires", at), words)
    for at, name in enumerate(job.choose_one):
        other_job = rubric.jobs.get(name)
        if other_job is None:
            continue
        if job.job not in other_job.choose_one:
            yield Slip("job.choice_one_way", "jobs", job.job, ("choose_one", at), {"job": name})
        both = tuple({check for check, _ in cured.get(one, set())} for one in (job.job, name))
        if complete and job.job < name and all(both) and not both[0] & both[1]:
            yield Slip("job.choice_cures_other", "jobs", job.job, ("choose_one", at), {"job": name})


def _force_slips(job: Job) -> Iterator[Slip]:
    for at, force in enumerate(job.forces):
        if force.job is None and not force.one_of:
            yield Slip("job.forces_nothing", "jobs", job.job, ("forces", at))
        if force.job is not None and force.one_of:
            yield Slip("job.forces_twice", "jobs", job.job, ("forces", at))
        if force.chance == 0:
            words = {"job": force.job or " or ".join(force.one_of)}
            yield Slip("job.forces_never", "jobs", job.job, ("forces", at, "chance"), words)


def _cost_slips(rubric: Rubric, job: Job) -> Iterator[Slip]:
    if job.hours.high == 0 and not job.parts and not job.shares:
        yield Slip("job.costs_nothing", "jobs", job.job, ("hours",))
    for family in job.family:
        if job.families and family not in job.families:
            path = ("family", family)
            yield Slip("job.factor_of_stranger", "jobs", job.job, path, {"family": family}, key=True)
    for at, part in enumerate(job.parts):
        price = rubric.part_prices.get(part.part)
        if price and part.grade not in price.prices.get(rubric.family, {}):
            words = {"part": part.part, "grade": part.grade, "family": rubric.family}
            yield Slip("job.no_part_price", "jobs", job.job, ("parts", at, "part"), words)
    if not job.if_left and not job.service:
        yield Slip("job.no_if_left", "jobs", job.job)
    if not job.sources:
        yield Slip("job.no_source", "jobs", job.job)


def _leaves_slips(rubric: Rubric) -> Iterator[Slip]:
    told: set[str] = set()
    for name, pairs in cures(rubric).items():
        job = rubric.jobs.get(name)
        for check, outcome in sorted(pairs):
            worth = worth_of(rubric.checks[check].outcomes[outcome])
            if job and job.leaves <= worth and name not in told:
                told.add(name)
                words = {"leaves": job.leaves, "outcome": outcome, "check": check, "worth": worth}
                yield Slip("job.leaves_worse", "jobs", name, ("leaves",), words)
