"""Before and after the work, from the results of two evaluations and the work order: what went, stayed and came.

A finding is gone only if somebody looked again; what nobody has looked at since the work is said to be open. Computes
no figure.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Literal

from ..basis import show
from ..figures.domains import Row
from ..figures.readings import standard_words
from ..figures.rules import Mark, rule
from ..figures.shapes import Figure
from ..quoting.work_order import WorkOrder
from ..result.model.result import Result
from ..result.model.score import Measured, Score, Span
from ..rubric.written.checks import Check
from ..wording.names import DOMAINS, STATEMENTS
from ..wording.phrases import capital
from ..wording.words import believed, subject, title

Became = Literal["gone", "left", "new", "open"]
ORDER: tuple[Became, ...] = ("new", "gone", "open", "left")


@dataclass(frozen=True, slots=True)
class Pair:
    """A finding before and after, None where it was not there; `open`: nobody has looked again yet."""

    became: Became
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading before and after, each as text with what it says of the standard; None where it was not taken."""

    subject: str
    standard: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class Worked:
    """Hours and parts of one job as reckoned and as they were; `hours_likely` is None where the quote does not say."""

    say: str
    hours_likely: str | None
    hours: str | None
    parts: str
    parts_used: str


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """Scores before and after as (expected, low, high), domains, findings, and the readings that are not the same."""

    scores: tuple[tuple[float, float, float], tuple[float, float, float]]
    domains: tuple[Row, ...]
    findings: tuple[Pair, ...]
    readings: tuple[Reading, ...]

    def count(self, became: Became) -> int:
        """How many findings became this."""
        return sum(pair.became == became for pair in self.findings)


def before_after(before: Result, after: Result) -> BeforeAfter:
    """The two evaluations side by side."""
    return BeforeAfter(
        scores=(_triple(before.score), _triple(after.score)),
        domains=tuple(
            Row(DOMAINS[name], _triple(values.as_it_stands), _triple(after.domains[name].as_it_stands))
            for name, values in before.domains.items()
            if name in after.domains
        ),
        findings=_findings(before, after),
        readings=_readings(before, after),
    )


def _findings(before: Result, after: Result) -> tuple[Pair, ...]:
    was, now = _found(before), _found(after)
    checks = {check.check: check.seen for check in after.checks}
    rows: list[Pair] = []
    for name, told in was.items():
        if name in now:
            rows.append(Pair("left", told, now[name]))
        elif name in checks and not checks[name]:
            rows.append(Pair("open", told, None))
        else:
            rows.append(Pair("gone", told, None))
    rows += [Pair("new", None, told) for name, told in now.items() if name not in was]
    return tuple(sorted(rows, key=lambda row: ORDER.index(row.became)))


def _found(result: Result) -> dict[str, str]:
    """Title by check of every finding that was seen and is believed, what stops a purchase first."""
    stops = [item for item in result.disqualifying if item.level != "possible" and item.seen]
    return {item.check: title(item) for item in (*stops, *believed(result))}


def score_figure(found: BeforeAfter, width: float) -> Figure:
    """The score before and after on one rule (width in mm)."""
    was, now = found.scores
    marks = [
        Mark(was[0], f"before {was[0]:.0f}", "ink", was[1], was[2]),
        Mark(now[0], f"after {now[0]:.0f}", "accent", now[1], now[2]),
    ]
    alt = (
        f"Score {was[0]:.0f} of 100 before the work, between {was[1]:.0f} and {was[2]:.0f}; "
        f"{now[0]:.0f} after it, between {now[1]:.0f} and {now[2]:.0f}."
    )
    return rule(0, 100, marks, alt, width=width, arrow=(was[0], now[0]))


def worked(order: WorkOrder) -> tuple[Worked, ...]:
    """Every job of the order."""
    return tuple(
        Worked(
            task.say,
            show.hours(task.hours_likely) if task.hours_likely else None,
            show.hours(task.hours) if task.hours is not None else None,
            ", ".join(task.parts),
            task.parts_used,
        )
        for task in order.tasks
    )


def hours_sum(order: WorkOrder) -> tuple[float | None, float]:
    """(hours reckoned, hours noted) of all jobs; the first is None where a job's quote does not say."""
    reckoned = [task.hours_likely for task in order.tasks]
    whole = sum(reckoned) if reckoned and all(reckoned) else None
    return whole, sum(task.hours or 0.0 for task in order.tasks)


def to_look_at(checks: Mapping[str, Check], answered: Collection[str], jobs: Collection[str]) -> tuple[str, ...]:
    """The answered checks that a job of these can change: they must be looked at again once it is done."""
    return tuple(
        name
        for name, check in checks.items()
        if name in answered and any(outcome.jobs & set(jobs) for outcome in check.outcomes.values())
    )


def _readings(before: Result, after: Result) -> tuple[Reading, ...]:
    was, now = before.conformity, after.conformity
    names = [*was, *(name for name in now if name not in was)]
    rows = [_reading(was.get(name), now.get(name)) for name in names]
    return tuple(row for row in rows if row.before != row.after)


def _reading(was: Measured | None, now: Measured | None) -> Reading:
    item = now or was
    assert item is not None, "a name comes from one of the two"
    return Reading(capital(subject(item)), standard_words(item.low, item.high, item.unit), _told(was), _told(now))


def _told(item: Measured | None) -> str | None:
    if item is None:
        return None
    value = show.doubtful(item.value, item.standard_uncertainty, item.unit)
    return f"{value}, {STATEMENTS[item.statement].verb}"


def _triple(values: Span | Score) -> tuple[float, float, float]:
    middle = (values.low + values.high) / 2 if values.expected is None else values.expected
    return middle, values.low, values.high
