"""Standards that load but make no sense: limits, sizes, sources, and what a doubtful standard may say."""

from collections.abc import Iterator

from ....basis.problem import Message, Messages
from ....basis.units import UNITS
from ...rubric import Rubric
from ...written.checks import Check
from ...written.surroundings import StandardRow, StandardTable
from ..checks import RANK
from ..formulas import answers
from ..slip import Slip
from .sizes import size_slips

MESSAGES: Messages = {
    "standard.none": Message("its reading is held to no standard.", "Name a table under standard:, or write limits."),
    "standard.not_measured": Message("a standard belongs to a measured or derived check.", "Take it away."),
    "standard.table_and_limits": Message("it names a table and writes limits too.", "Keep one of the two."),
    "standard.empty": Message("it sets no limit.", "Write low, high, or target with tolerance, or name a table."),
    "standard.tolerance_alone": Message("a tolerance needs a target.", "Write the target, or low and high."),
    "standard.no_source": Message("it has no source.", "Name one, or write common practice, no source."),
    "standard.reversed": Message("low, {low:g}, is not below high, {high:g}.", "Write the smaller one as low."),
    "standard.open": Message("the row sets no limit on either side.", "Write low, high or both."),
    "standard.target_outside": Message("the target {target:g} lies outside the limits.", "Move the target or a limit."),
    "standard.size_missing": Message(
        'the check "{check}" has no row here for {sizes}.', "Add a row for these sizes, or one without size."
    ),
    "standard.size_unknown": Message('there is no size "{size}" of a {family}.', "Use a size of the family file."),
    "standard.double_row": Message("another row is for the same family, size, style and strings.", "Keep one of them."),
    "standard.unit_differs": Message(
        "the table is in {unit}, but the check is in {check_unit}.", "Use one unit in both."
    ),
    "standard.low_confidence_fault": Message(
        "a standard of low confidence makes it a {class_}.",
        "Call it acceptable: it may raise a question, never a fault.",
    ),
    "standard.side_never": Message("no limit on this side exists, so it can never come out.", "Take the outcome away."),
    "standard.side_without_outcome": Message("a reading {side} has no outcome.", "Say under {outcome}: what it means."),
    "standard.cannot_be_read": Message(
        "no reading that is allowed ({low:g} to {high:g}) meets it.", "Widen the measure or correct the limits."
    ),
    "standard.one_point": Message("worth_at has one point only.", "Give two points or more."),
    "standard.best_outside": Message(
        "worth is highest at {best:g}, outside the limits.", "Let the best reading be one that meets the standard."
    ),
}
_SIDES = (("too_low", "low", "below the limit"), ("too_high", "high", "above the limit"))


def standard_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every slip in the tables, and in what checks say of their standards."""
    for table in rubric.standards.values():
        yield from _table_slips(rubric, table)
        yield from size_slips(rubric, table)
    for check in rubric.checks.values():
        yield from _worth_at_slips(check)
        if check.standard is None:
            if check.kind in {"measure", "derived"}:
                yield Slip("standard.none", "checks", check.check)
            continue
        if check.kind not in {"measure", "derived"}:
            yield Slip("standard.not_measured", "checks", check.check, ("standard",), key=True)
        elif check.standard.table is None:
            yield from _here_slips(check)
        else:
            yield from _use_slips(rubric, check)


def _table_slips(rubric: Rubric, table: StandardTable) -> Iterator[Slip]:
    seen: set[tuple[object, ...]] = set()
    for at, row in enumerate(table.rows):
        yield from _row_slips(table, at, row)
        if row.family == rubric.family:
            for place, size in enumerate(row.size):
                if size not in rubric.sizes:
                    words = {"size": size, "family": row.family}
                    yield Slip("standard.size_unknown", "standards", table.standard, ("rows", at, "size", place), words)
        keys = {(row.family, size, row.style, row.strings) for size in row.size or ("",)}
        if keys & seen:
            yield Slip("standard.double_row", "standards", table.standard, ("rows", at))
        seen |= keys


def _row_slips(table: StandardTable, at: int, row: StandardRow) -> Iterator[Slip]:
    def slip(code: str, *path: object, **words: object) -> Slip:
        return Slip(code, "standards", table.standard, ("rows", at, *path), words)

    if row.low is None and row.high is None:
        yield slip("standard.open")
    if row.low is not None and row.high is not None and row.low >= row.high:
        yield slip("standard.reversed", "low", low=row.low, high=row.high)
    elif row.target is not None and not _within(row.target, row.low, row.high):
        yield slip("standard.target_outside", "target", target=row.target)
    if len(row.worth_at) == 1:
        yield slip("standard.one_point", "worth_at")
    elif row.worth_at and (best := _best_outside(row.worth_at, row.low, row.high)) is not None:
        yield slip("standard.best_outside", "worth_at", best=best)


def _within(value: float, low: float | None, high: float | None) -> bool:
    return (low is None or value >= low) and (high is None or value <= high)


def _best_outside(points: dict[float, float], low: float | None, high: float | None) -> float | None:
    """A reading with the highest worth, when none with that worth lies within the limits; else None."""
    most = max(points.values())
    best = sorted(value for value, worth in points.items() if worth == most)
    flat = (low is None or best[-1] >= low or best[-1] == max(points)) and (
        high is None or best[0] <= high or best[0] == min(points)
    )
    return None if flat else best[0]


def _worth_at_slips(check: Check) -> Iterator[Slip]:
    if len(check.worth_at) == 1:
        yield Slip("standard.one_point", "checks", check.check, ("worth_at",), key=True)


def _here_slips(check: Check) -> Iterator[Slip]:
    """Limits that are written at the check itself."""
    here = check.standard
    if here is None:
        return

    def slip(code: str, *path: object, **words: object) -> Slip:
        return Slip(code, "checks", check.check, ("standard", *path), words, key=not path)

    if here.tolerance is not None and here.target is None:
        yield slip("standard.tolerance_alone", "tolerance")
    if not here.sources and not check.sources:
        yield slip("standard.no_source")
    low, high = here.low, here.high
    if here.target is not None and here.tolerance is not None:
        low = here.target - here.tolerance if low is None else low
        high = here.target + here.tolerance if high is None else high
    if low is None and high is None:
        yield slip("standard.empty")
        return
    if low is not None and high is not None and low >= high:
        yield slip("standard.reversed", low=low, high=high)
    elif here.target is not None and not _within(here.target, low, high):
        yield slip("standard.target_outside", "target", target=here.target)
    if here.confidence == "low":
        yield from _doubtful_faults(check)
    yield from _side_slips(check, low is not None, high is not None)
    yield from _reach_slips(check, [(low, high)])


def _use_slips(rubric: Rubric, check: Check) -> Iterator[Slip]:
    """A check that is held to a table."""
    here = check.standard
    table = rubric.standards.get(here.table or "") if here else None
    if here is None or table is None:
        return
    if any(value is not None for value in (here.low, here.high, here.target, here.tolerance)):
        yield Slip("standard.table_and_limits", "checks", check.check, ("standard",), key=True)
    unit = check.measure.unit if check.measure else check.unit
    if unit != table.unit and unit in UNITS and table.unit in UNITS:
        words = {"unit": table.unit, "check_unit": unit}
        yield Slip("standard.unit_differs", "checks", check.check, ("standard", "table"), words)
    rows = [row for row in table.rows if row.family == rubric.family]
    missing = [size for size in rubric.sizes if not any(not row.size or size in row.size for row in rows)]
    if missing:
        words = {"check": check.check, "sizes": ", ".join(missing)}
        yield Slip("standard.size_missing", "standards", table.standard, (), words)
    if rows and all(row.confidence == "low" for row in table.rows):
        yield from _doubtful_faults(check)
    if rows:
        low, high = any(row.low is not None for row in rows), any(row.high is not None for row in rows)
        yield from _side_slips(check, low, high)
        yield from _reach_slips(check, [(row.low, row.high) for row in rows])


def _doubtful_faults(check: Check) -> Iterator[Slip]:
    for name in ("too_low", "too_high"):
        outcome = check.outcomes.get(name)
        if outcome and RANK[outcome.class_] < 2:
            path = ("outcomes", name, "class")
            yield Slip("standard.low_confidence_fault", "checks", check.check, path, {"class_": outcome.class_})


def _side_slips(check: Check, has_low: bool, has_high: bool) -> Iterator[Slip]:
    for (name, _, side), has in zip(_SIDES, (has_low, has_high), strict=True):
        if name in check.outcomes and not has:
            yield Slip("standard.side_never", "checks", check.check, ("outcomes", name), key=True)
        if has and check.outcomes and name not in check.outcomes:
            words = {"side": side, "outcome": name}
            yield Slip("standard.side_without_outcome", "checks", check.check, ("outcomes",), words, key=True)


def _reach_slips(check: Check, limits: list[tuple[float | None, float | None]]) -> Iterator[Slip]:
    """Limits that no allowed reading can meet."""
    least, most = answers(check)
    for low, high in limits:
        if check.measure and ((low is not None and low > most) or (high is not None and high < least)):
            yield Slip(
                "standard.cannot_be_read", "checks", check.check, ("measure",), {"low": least, "high": most}, True
            )
            return
