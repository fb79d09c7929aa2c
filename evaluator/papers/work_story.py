"""The work order: jobs with their findings and parts, measures as found and to be reached, cautions."""

from collections.abc import Mapping, Sequence

from ..basis import show
from ..basis.units import METRIC, ShownUnits
from ..quoting.consent import Consent
from ..quoting.quote import Quote
from ..quoting.readings import Measured, told
from ..quoting.supplement import Joint
from ..quoting.work_order import Task, WorkOrder
from ..result.model.result import Result
from ..wording.quotes import cents, shortly
from ..wording.words import instrument_line
from .blocks import (
    Block,
    CautionBlock,
    Column,
    Heading,
    Lead,
    Listing,
    Paper,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)
from .quote_story import letterhead, together
from .sections.costs import numbers_of

TASKS = (Column("Job", 0.62), Column("Hours", 0.13), Column("Parts used", 0.25))
READINGS = (Column("To measure", 0.52), Column("As found", 0.24), Column("After", 0.24))
TARGETS = (Column("To measure", 0.31), Column("As found", 0.19), Column("Target", 0.34), Column("Result", 0.16))


def work_paper(
    order: WorkOrder,
    quote: Quote,
    result: Result,
    agreed: Consent,
    joint: Joint | None = None,
    held_back: Mapping[str, str] | None = None,
    measures: Sequence[Measured] = (),
    units: ShownUnits = METRIC,
) -> Paper:
    """The bench's paper: jobs in order with parts, standards and cautions, and room for hours.

    `held_back`: job -> number of the open second quote that may take its place. `measures`: what the bench reads.
    """
    held = held_back or {}
    most = joint.ceiling if joint else agreed.ceiling
    in_all = f"{cents(joint.agreed)} with what was found later" if joint and joint.more else cents(agreed.total)
    title = result.title or "The instrument"
    count = f"{len(order.tasks)} {'job' if len(order.tasks) == 1 else 'jobs'}"
    blocks: list[Block] = [
        Lead(f"{title}: {count}, to be done in this order."),
        Paragraph(instrument_line(result)),
        Paragraph(
            f"Quote {quote.number}, agreed by {agreed.by} on {show.day(agreed.at.isoformat())}. "
            f"Agreed {in_all}; stop and ask before {cents(most)} is passed.",
            "strong",
        ),
        *together(joint),
    ]
    if order.shared:
        blocks.append(Paragraph(f"Once for all: {', '.join(shortly(say) for say in order.shared)}."))
    numbers = _findings_of(result)
    rows = tuple(_task(place, task, held, numbers) for place, task in enumerate(order.tasks, 1))
    blocks += [TableBlock(TASKS, rows), *_measured(order, result), *_readings(measures, units)]
    if order.fallen:
        blocks += [Heading("Agreed, and no longer needed", 2), Listing(order.fallen)]
    if order.not_agreed:
        blocks += [Heading("Not agreed: leave it", 2), Listing(order.not_agreed)]
    here = {task.job for task in order.tasks}
    shows = tuple(f"{one.say}. {one.when}" for one in quote.extras if one.job not in here)
    blocks += [Heading("Stop and ask if it shows", 2), Listing(shows)] if shows else []
    cautions = tuple(dict.fromkeys(text for task in order.tasks for text in task.cautions))
    told: tuple[Block, ...] = (CautionBlock(cautions),) if cautions else ()
    blocks.append(Together((*told, Signature(("Done by", "Looked over by", "Date")))))
    name, day = f"Work order {quote.number}", agreed.at.date().isoformat()
    return Paper(name, letterhead(quote, result), name, tuple(blocks), day=day)


def _findings_of(result: Result) -> Mapping[str, tuple[int, ...]]:
    """The numbers in the list of findings that each job of the plan cures."""
    numbers = numbers_of(result)
    return {
        line.job: tuple(sorted(numbers[check] for check in line.cures if check in numbers))
        for line in result.plan.lines
    }


def _measured(order: WorkOrder, result: Result) -> list[Block]:
    """What is measured again when the work is done: as found, the target, and room for the result."""
    targets = {target.check: target for task in order.tasks for target in task.targets}
    rows = tuple(
        (f"{target.say[:1].upper()}{target.say[1:]}", _as_found(result, check), target.limits, "")
        for check, target in targets.items()
    )
    return [Heading("Measures, before and after", 2), TableBlock(TARGETS, rows)] if rows else []


def _readings(measures: Sequence[Measured], units: ShownUnits) -> list[Block]:
    """What the bench reads, place by place: what the jobs want, with room to write, and whatever was read."""
    blocks: list[Block] = []
    for row in measures:
        rows = tuple(
            (
                f"{one.place[:1].upper()}{one.place[1:]}",
                told(one.found, one.unit, units),
                told(one.after, one.unit, units),
            )
            for one in row.readings
            if row.wanted or one.noted
        )
        if rows:
            told_first: tuple[Block, ...] = () if blocks else (Heading("Read at the bench", 2),)
            blocks.append(Together((*told_first, Paragraph(row.measure.say, "strong"), TableBlock(READINGS, rows))))
    return blocks


def _as_found(result: Result, check: str) -> str:
    found = result.conformity.get(check)
    return show.doubtful(found.value, found.standard_uncertainty, found.unit) if found else "not measured"


def _task(
    place: int, task: Task, held_back: Mapping[str, str], numbers: Mapping[str, tuple[int, ...]]
) -> tuple[str, str, str]:
    waits = task.hours is None and task.job in held_back
    notes = [f"Do not begin it: quote {held_back[task.job]} may take its place."] if waits else []
    notes += [f"Agreed in quote {task.quote}."] if task.quote else []
    notes += [f"Get: {', '.join(task.parts)}."] if task.parts else []
    cured = numbers.get(task.job, ())
    notes += [f"For {'finding' if len(cured) == 1 else 'findings'} {', '.join(map(str, cured))}."] if cured else []
    notes += [task.contact_first] if task.contact_first else []
    hours = show.hours(task.hours) if task.hours is not None else ""
    return "\n".join([f"{place}. {task.say}", *notes]), hours, task.parts_used
