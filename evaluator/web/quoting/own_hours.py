"""What the shop's own work took and what came on top: catalogue, own record and blend, and their use in new quotes."""

from collections.abc import Mapping

from flask import Blueprint, render_template

from ...quoting.chances import OwnChance, own_chances
from ...quoting.learning import learnt, mean_of, per_unit, with_own_hours
from ...rubric.rubric import Rubric
from ...store.workshop.orders import done_orders, hours_noted
from ..looking.pages import View
from ..service import service

own_hours = Blueprint("own_hours", __name__)


@own_hours.get("/hours")
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
