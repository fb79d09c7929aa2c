"""The work order for the bench: what was agreed, in the order in which it is done, with parts, standards and
cautions.
"""

import calendar
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from ..assessment.model import Instrument
from ..basis.show import bare_figure, figure
from ..basis.units import METRIC, ShownUnits, in_units
from ..rubric.rubric import Limits, Rubric
from .answers import Answers, standing
from .quote import Quote, QuoteLine
from .readings import BenchReading


@dataclass(frozen=True, slots=True)
class Target:
    """A standard to reach: the check's words and the limits in words ("53.5 to 55.5 mm, best 54.5 mm")."""

    check: str
    say: str
    limits: str


@dataclass(frozen=True, slots=True)
class Task:
    """One job at the bench. `hours` and `parts_used` are noted when it is done; None before.

    `hours_likely`: what was reckoned, for all of its `units`, 0 where the quote does not say; `quote`: the number of
    the second quote that it came with, None for the first.
    """

    job: str
    say: str
    parts: tuple[str, ...]
    targets: tuple[Target, ...]
    cautions: tuple[str, ...]
    contact_first: str | None
    hours: float | None = None
    parts_used: str = ""
    hours_likely: float = 0.0
    units: int = 1
    quote: str | None = None


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """The agreed jobs of a quote in bench order; `not_agreed` names what must not be done.

    `more`: numbers of the second quotes whose work is in it; `fallen`: what was agreed and is no longer needed.
    `shared_hours`: (shared labour, hours that it took); `running`: (job, ISO time) for each clock that runs;
    `readings`: what was measured at the bench, place by place.
    """

    quote: str
    tasks: tuple[Task, ...]
    shared: tuple[str, ...]
    not_agreed: tuple[str, ...]
    more: tuple[str, ...] = ()
    fallen: tuple[str, ...] = ()
    shared_hours: tuple[tuple[str, float], ...] = ()
    running: tuple[tuple[str, str], ...] = ()
    readings: tuple[BenchReading, ...] = ()

    @property
    def done(self) -> bool:
        return all(task.hours is not None for task in self.tasks)


def work_order(
    rubric: Rubric, instrument: Instrument, quote: Quote, answers: Answers, units: ShownUnits = METRIC
) -> WorkOrder:
    """What the bench gets. Lines of a quote already stand in bench order group by group; jobs keep what precedes
    them. Standards are told in `units`.
    """
    lines = standing(quote, answers)
    here = {line.job for line in lines}
    tasks = [_task(rubric, instrument, line, units) for line in lines if not line.shared]
    return WorkOrder(
        quote=quote.number,
        tasks=_in_order(rubric, tasks),
        shared=tuple(line.say for line in lines if line.shared),
        not_agreed=tuple(line.say for line in quote.lines if line.job not in here and not line.shared),
    )


def with_more(
    order: WorkOrder,
    rubric: Rubric,
    instrument: Instrument,
    more: Quote,
    answers: Answers,
    units: ShownUnits = METRIC,
) -> WorkOrder:
    """The order with what was agreed of a second quote, once; what that takes the place of is no longer to be done."""
    if more.number in order.more:
        return order
    lines = standing(more, answers)
    credited = {line.takes_off for line in lines}
    needless = {labour.say for name, labour in rubric.shared_labour.items() if name in credited}
    gone = [task for task in order.tasks if task.job in credited and task.hours is None]
    new = [replace(_task(rubric, instrument, line, units), quote=more.number) for line in lines if not line.shared]
    agreed = {line.say for line in lines}
    refused = [line.say for line in more.lines if not line.shared and line.say not in agreed]
    shared = [line.say for line in lines if line.shared and not line.is_credit]
    return replace(
        order,
        tasks=_in_order(rubric, [*(task for task in order.tasks if task not in gone), *new]),
        shared=tuple(dict.fromkeys(say for say in (*order.shared, *shared) if say not in needless)),
        not_agreed=tuple(dict.fromkeys(say for say in (*order.not_agreed, *refused) if say not in agreed)),
        more=(*order.more, more.number),
        fallen=(*order.fallen, *(task.say for task in gone)),
    )


def noted(order: WorkOrder, job: str, hours: float, parts_used: str = "") -> WorkOrder:
    """The order with a job's actual hours and parts."""
    tasks = tuple(
        replace(task, hours=hours, parts_used=parts_used) if task.job == job else task for task in order.tasks
    )
    return replace(order, tasks=tasks)


def with_shared(order: WorkOrder, say: str, hours: float | None) -> WorkOrder:
    """The order with the hours that one shared labour took; None takes them out."""
    kept = tuple(one for one in order.shared_hours if one[0] != say)
    return replace(order, shared_hours=kept if hours is None else (*kept, (say, hours)))


def started(order: WorkOrder, job: str, at: str) -> WorkOrder:
    """The order with the clock of a job running since `at`; one that runs goes on."""
    if any(one == job for one, _ in order.running):
        return order
    return replace(order, running=(*order.running, (job, at)))


def stopped(order: WorkOrder, job: str, at: str) -> WorkOrder:
    """The order with the clock of a job stopped and its time put to the job's hours, to the hundredth."""
    since = dict(order.running).get(job)
    task = next((one for one in order.tasks if one.job == job), None)
    rest = replace(order, running=tuple(one for one in order.running if one[0] != job))
    if since is None or task is None:
        return rest
    spent = (datetime.fromisoformat(at) - datetime.fromisoformat(since)).total_seconds() / 3600
    return noted(rest, job, round((task.hours or 0.0) + max(0.0, spent), 2) or 0.01, task.parts_used)


def next_service(done: date, months: float) -> date:
    """The day so many whole months later, or the last of its month."""
    whole = done.year * 12 + done.month - 1 + round(months)
    year, month = whole // 12, whole % 12 + 1
    return date(year, month, min(done.day, calendar.monthrange(year, month)[1]))


def targets_of(rubric: Rubric, instrument: Instrument, job: str, units: ShownUnits = METRIC) -> tuple[Target, ...]:
    """The standards of every check that the job cures, for this instrument."""
    found = []
    for check in rubric.checks.values():
        if not any(job in outcome.jobs for outcome in check.outcomes.values()):
            continue
        limits = rubric.limits(check, instrument.size, instrument.style, instrument.strings)
        if limits is not None:
            found.append(Target(check.check, check.term or check.ask, limits_in_words(in_units(limits, units))))
    return tuple(found)


def limits_in_words(limits: Limits) -> str:
    """'53.5 to 55.5 mm, best 54.5 mm', 'at most 430 g', 'at least 3 mm'."""
    unit = limits.unit
    if limits.low is not None and limits.high is not None:
        text = f"{bare_figure(limits.low, unit)} to {figure(limits.high, unit)}"
    elif limits.high is not None:
        text = f"at most {figure(limits.high, unit)}"
    else:
        text = "" if limits.low is None else f"at least {figure(limits.low, unit)}"
    best = "" if limits.target is None else f"best {figure(limits.target, unit)}"
    return ", ".join(part for part in (text, best) if part)


def _task(rubric: Rubric, instrument: Instrument, line: QuoteLine, units: ShownUnits) -> Task:
    return Task(
        line.job,
        line.say,
        line.parts_named,
        targets_of(rubric, instrument, line.job, units),
        line.cautions,
        line.contact_first,
        hours_likely=line.hours_likely,
        units=line.units,
    )


def _in_order(rubric: Rubric, tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Each task after those that its job is done after or needs; as they stand where nothing decides."""
    rest, done = list(tasks), []
    before: Mapping[str, set[str]] = {
        task.job: {*rubric.jobs[task.job].after, *rubric.jobs[task.job].requires} if task.job in rubric.jobs else set()
        for task in tasks
    }
    while rest:
        waiting = {task.job for task in rest}
        ready = next((task for task in rest if not before[task.job] & (waiting - {task.job})), rest[0])
        rest.remove(ready)
        done.append(ready)
    return tuple(done)
