"""The draft of a quote from a finished evaluation, by the lists or by what the shop's own work took and what came on
top; and the page of those own hours: catalogue, own record and blend.
"""

from collections.abc import Mapping
from datetime import date

from flask import Blueprint, render_template

from ...basis.problem import Message, Messages, Problem, problem
from ...estimate.price import for_size
from ...quoting.draft import quote_of
from ...quoting.learning import (
    OwnChance,
    at_own_chances,
    at_own_hours,
    learnt,
    mean_of,
    own_chances,
    per_unit,
    with_own_hours,
)
from ...quoting.quote import Quote
from ...rubric.rubric import Rubric
from ...store.evaluations import DRAFT, Kept
from ...store.workshop.orders import done_orders, hours_noted
from ...wording.answer.extras import offered_extra
from ..looking.pages import View, sent_version
from ..service import service

hours_page = Blueprint("own_hours", __name__)
MESSAGES: Messages = {
    "quote.not_finished": Message("it is not finished.", "Finish the evaluation; a quote needs figures that stay."),
    "quote.no_work": Message("nothing that was seen needs work.", "Look further, or write a report instead."),
    "quote.old_form": Message(
        "it was finished before the work was kept as a quote needs it.",
        "Look at it again from its page, then make the quote.",
    ),
}


def made_quote(
    kept: Kept, about: str, *, in_haste: bool = False, own_hours: bool = False, chances: bool = False
) -> Quote | Problem:
    """The draft of a finished evaluation, from the figures that were frozen with it; hours, and chances of what may
    come on top, of one's own if wanted.
    """
    where = kept.title or "The evaluation"
    if kept.state == DRAFT or kept.frozen is None:
        return problem(MESSAGES, "quote.no_work" if sent_version() else "quote.not_finished", where)
    draft = service().result(kept).quotable
    if draft is None:
        return problem(MESSAGES, "quote.old_form" if _has_work(kept) else "quote.no_work", where)
    if own_hours:
        rubric = for_size(service().rubric(kept.rubric), service().result(kept).instrument.size)
        own, counts = learnt_rubric(rubric, True)
        draft = at_own_hours(draft, rubric, own, service().shop, counts)
    if chances:
        draft = at_own_chances(draft, extras_recorded())
    return quote_of(draft, "", date.fromisoformat(service().now()[:10]), about, in_haste=in_haste, worded=offered_extra)


def _has_work(kept: Kept) -> bool:
    found = service().result(kept)
    return bool(found.plan.lines or found.optional)


@hours_page.get("/hours")
def hours() -> View:
    """Catalogue, own record and blend, for every job that was done here and every extra that could have come."""
    rows = []
    for job, own in recorded().items():
        rubric = next((one for one in map(service().rubric, service().families()) if job in one.jobs), None)
        if rubric is not None:
            fixed = job in service().shop.job_prices
            rows.append((rubric.jobs[job].say, learnt(rubric.jobs[job].hours, own), fixed))
    chances = sorted(extras_recorded().values(), key=lambda one: one.say)
    rows.sort(key=lambda row: row[0])
    return render_template("quoting/hours.html", rows=rows, chances=chances, mean=mean_of)


def extras_recorded() -> Mapping[str, OwnChance]:
    """Each extra that a done quote named, with what truly came."""
    return own_chances(done_orders(service().engine))


def recorded() -> dict[str, tuple[float, ...]]:
    """The hours of each job as they were noted, brought to one unit on a violin, as the catalogue's are."""
    families = {name: service().rubric(name) for name in service().families()}
    found: dict[str, list[float]] = {}
    for one in hours_noted(service().engine):
        rubric = families.get(one.rubric)
        if rubric is not None and one.job in rubric.jobs:
            hours_of_one = per_unit(rubric.jobs[one.job], rubric.family, one.units, one.hours)
            found.setdefault(one.job, []).append(hours_of_one)
    return {job: tuple(hours) for job, hours in found.items()}


def learnt_rubric(rubric: Rubric, wanted: bool) -> tuple[Rubric, Mapping[str, int]]:
    """The rubric with the shop's own hours, and from how many jobs each; as it is where that is not wanted."""
    return with_own_hours(rubric, service().shop, recorded()) if wanted else (rubric, {})


def jobs_recorded(rubric: Rubric) -> int:
    """For how many jobs of this rubric there are hours of one's own that a price can use."""
    return len(learnt_rubric(rubric, True)[1])
