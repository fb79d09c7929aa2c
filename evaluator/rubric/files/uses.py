"""Which names each entry of a rubric uses, and where they stand in it."""

from collections.abc import Callable, Iterator

from ..making import SignGroup
from ..written.checks import Check, Likeness, jobs_of
from ..written.surroundings import StandardTable, Tool
from ..written.work import Job, PartPrice, SharedLabour
from .renamed import Renamed

Use = tuple[str, str, tuple[object, ...]]  # kind, id, path inside the entry


def _listed(kind: str, names: tuple[str, ...], *path: object) -> Iterator[Use]:
    for at, name in enumerate(names):
        yield kind, name, (*path, at)


def _check_uses(check: Check) -> Iterator[Use]:
    yield "parts", check.part, ("part",)
    if check.cause:
        yield "causes", check.cause, ("cause",)
    yield from _listed("cautions", check.cautions, "cautions")
    if check.drawing:
        yield "drawings", check.drawing, ("drawing",)
    if check.standard and check.standard.table:
        yield "standards", check.standard.table, ("standard", "table")
    if check.standard:
        yield from _listed("source", check.standard.sources, "standard", "sources")
    if check.measure or check.unit:
        yield (
            ("units", check.measure.unit, ("measure", "unit"))
            if check.measure
            else ("units", check.unit or "", ("unit",))
        )
    if check.measure:
        yield from _listed("tools", check.measure.tools, "measure", "tools")
    if check.count:
        yield from _listed("checks", check.count.units_of, "count", "units_of")
    yield from _listed("checks", check.points_to, "points_to")
    for key, outcome in check.outcomes.items():
        for at, cure in enumerate(outcome.cured_by):
            for job in jobs_of(cure):
                yield "jobs", job, ("outcomes", key, "cured_by", at)
    yield from _listed("source", check.sources, "sources")


def _job_uses(job: Job) -> Iterator[Use]:
    yield from _listed("shared_labour", job.shares, "shares")
    for at, part in enumerate(job.parts):
        yield "part_prices", part.part, ("parts", at, "part")
    yield from _listed("cautions", job.cautions, "cautions")
    for key in ("requires", "after", "makes_unnecessary", "choose_one"):
        yield from _listed("jobs", getattr(job, key), key)
    for at, force in enumerate(job.forces):
        if force.job:
            yield "jobs", force.job, ("forces", at, "job")
        yield from _listed("jobs", force.one_of, "forces", at, "one_of")
    for name in job.leaves_as:
        yield "checks", name, ("leaves_as", name)
    for at, limit in enumerate(job.limits):
        yield "checks", limit.check, ("limits", at, "check")
    yield from _listed("source", job.sources, "sources")


def _table_uses(table: StandardTable) -> Iterator[Use]:
    yield "units", table.unit, ("unit",)
    for at, row in enumerate(table.rows):
        yield from _listed("source", row.sources, "rows", at, "sources")


def _tool_uses(tool: Tool) -> Iterator[Use]:
    yield "units", tool.unit, ("unit",)


def _renamed_uses(renamed: Renamed) -> Iterator[Use]:
    if renamed.now:
        yield "checks", renamed.now, ("now",)
    if renamed.standard and renamed.standard.table:
        yield "standards", renamed.standard.table, ("standard", "table")


def _shared_uses(shared: SharedLabour) -> Iterator[Use]:
    yield from _listed("shared_labour", shared.includes, "includes")
    yield from _listed("source", shared.sources, "sources")


def _price_uses(price: PartPrice) -> Iterator[Use]:
    yield from _listed("cautions", price.cautions, "cautions")
    yield from _listed("source", price.sources, "sources")


def _sign_uses(group: SignGroup) -> Iterator[Use]:
    for name, sign in group.signs.items():
        yield "checks", name, ("signs", name)
        yield from _listed("source", sign.sources, "signs", name, "sources")


def _likeness_uses(likeness: Likeness) -> Iterator[Use]:
    yield "checks", likeness.check, ("check",)
    yield "drawings", likeness.drawing, ("drawing",)
    yield from _listed("source", likeness.sources, "sources")


USERS: tuple[tuple[str, Callable[..., Iterator[Use]], str], ...] = (
    ("checks", _check_uses, "check"),
    ("jobs", _job_uses, "job"),
    ("standards", _table_uses, "standard"),
    ("tools", _tool_uses, "measuring tool"),
    ("shared_labour", _shared_uses, "shared labour"),
    ("part_prices", _price_uses, "part price"),
    ("renamed", _renamed_uses, "renamed check"),
    ("sign_groups", _sign_uses, "group of signs"),
    ("likenesses", _likeness_uses, "likeness"),
)
