"""What the bench measures: its fields on the work order, and what was typed into them.

A field sends what the page had shown of it, as the hours do, so two people at one order lose nothing.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

from ...basis.problem import Problem
from ...basis.units import ShownUnits
from ...quoting.readings import Measured, measured, moved_to, read, with_its_unit, with_reading
from ...quoting.work_order import WorkOrder
from ...rubric.facts import load_bench
from ...rubric.knowledge import Bench
from ...store.folders import rubrics_folder

SIDES = ("found", "after")
Changed = Callable[[str, str, str, list[Problem]], str]


@lru_cache(maxsize=1)
def bench_measures() -> Bench:
    """The measures of bench.yaml; a mistake in our own file is a bug and raises."""
    found, problems = load_bench(rubrics_folder() / "bench.yaml")
    if found is None:
        raise RuntimeError("; ".join(map(str, problems)))
    return found


def readings_of(order: WorkOrder, family: str) -> tuple[Measured, ...]:
    """Every measure that the bench takes on this family, with what was read; those that the jobs want come first."""
    return measured(bench_measures().of(family), order.readings, {task.job for task in order.tasks})


def name_of(measure: str, place: int, side: str) -> str:
    """The name of a field: m-scoop-0-found."""
    return f"m-{measure}-{place}-{side}"


def with_readings(
    order: WorkOrder, family: str, units: ShownUnits, changed: Changed, wrong: list[Problem]
) -> WorkOrder:
    """The order with the readings that the page changed and that can be read; `changed` gives what stands in a field,
    `wrong` gets what speaks against it. A bare number is in the shop's own unit (`units`), and is kept with it.
    """
    for row in readings_of(order, family):
        for place, reading in enumerate(row.readings):
            now = reading
            for side in SIDES:
                before = reading.found if side == "found" else reading.after
                where = f"{reading.say}, {reading.place}"
                text = changed(name_of(reading.measure, place, side), where, before, wrong)
                text = text if text == before else with_its_unit(text, units.of(reading.unit), reading.unit)
                problem = read(text, row.measure, where) if text and text != before else None
                if isinstance(problem, Problem):
                    wrong.append(problem)
                else:
                    now = moved_to(now, side, text)
            order = replace(order, readings=with_reading(order.readings, now))
    return order
