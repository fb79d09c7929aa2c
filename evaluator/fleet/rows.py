"""One line a judged instrument: what a shop wants of sixty at once, and what is wrong with those that cannot be read.

Money is text with its currency in a column of its own; cells that a spreadsheet would reckon with are guarded.
"""

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields
from decimal import Decimal
from pathlib import PurePath

from ..basis.money import Money, written
from ..basis.problem import Problem
from ..result.model.result import Result
from ..valuation.sales.sheets import guarded
from ..wording.answer.verdict import words_of
from ..wording.words import subject

NAMED_FAULTS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A judged instrument as texts; what is not known is empty, and `problem` says why where nothing is."""

    file: str
    title: str = ""
    rubric: str = ""
    size: str = ""
    style: str = ""
    tier: str = ""
    advice: str = ""
    score: str = ""
    score_low: str = ""
    score_high: str = ""
    score_after_work: str = ""
    looked_at: str = ""
    work: str = ""
    work_up_to: str = ""
    bench_hours: str = ""
    asking: str = ""
    ready_value: str = ""
    offer: str = ""
    at_most: str = ""
    currency: str = ""
    stopped_by: str = ""
    faults: str = ""
    worst: str = ""
    sentence: str = ""
    problem: str = ""


COLUMNS = tuple(one.name for one in fields(Row))


def row_of(file: str, result: Result) -> Row:
    """The line of a judged instrument."""
    currency = result.plan.currency
    likely = [one for one in (*result.disqualifying, *result.findings) if one.level != "possible" and one.seen]
    verdict, bill = result.verdict, result.plan.invoice
    return Row(
        file=file,
        title=result.title,
        rubric=result.rubric.name,
        size=result.instrument.size,
        style=result.instrument.style,
        tier=result.instrument.tier,
        advice=verdict.advice or "",
        score=figure(result.score.expected),
        score_low=figure(result.score.low),
        score_high=figure(result.score.high),
        score_after_work=figure(result.score_after_work.expected),
        looked_at=f"{result.coverage:.2f}",
        work=written(bill.total if bill else Decimal(0)),
        work_up_to=written(bill.up_to if bill else Decimal(0)),
        bench_hours=f"{result.plan.hours_likely:.2f}",
        asking=_same(verdict.asking, currency),
        ready_value=_same(verdict.ready_value, currency),
        offer="" if verdict.offer is None else written(verdict.offer),
        at_most="" if verdict.ceiling is None else written(verdict.ceiling),
        currency=currency,
        stopped_by="; ".join(verdict.stopped_by),
        faults=str(len(likely)),
        worst="; ".join(subject(one) for one in likely[:NAMED_FAULTS]),
        sentence=words_of(result).sentence,
    )


def bad_row(file: str, problems: Iterable[Problem]) -> Row:
    """The line of an instrument that could not be read: what is wrong, the first three mistakes of it."""
    told = list(problems)
    more = f" And {len(told) - 3} more." if len(told) > 3 else ""
    return Row(file=file, problem=" ".join(str(one) for one in told[:3]) + more)


def figure(value: float | None) -> str:
    """A score to one decimal; empty where only its range is known."""
    return "" if value is None else f"{value:.1f}"


def _same(amount: Money | None, currency: str) -> str:
    """An amount in the row's currency; one in another is written with its own."""
    if amount is None:
        return ""
    text = f"{amount.amount:.2f}"
    return text if amount.currency == currency else f"{text} {amount.currency}"


def as_csv(rows: Iterable[Row]) -> str:
    """The header and a line for each."""
    return csv_line(COLUMNS) + "".join(csv_line(asdict(row).values()) for row in rows)


def csv_line(cells: Iterable[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerow([guarded(cell.replace("\r", " ")) for cell in cells])
    return out.getvalue()


def paper_name(file: str, taken: set[str]) -> str:
    """'rack-07.pdf' for 'fleet/rack-07.yaml'; a name that was there before gets a number."""
    stem = re.sub(r"\.(ya?ml|json)$", "", PurePath(file).name, flags=re.IGNORECASE)
    stem = re.sub(r"[^\w.-]+", "-", stem).strip(".-") or "instrument"
    name, count = stem, 1
    while name.lower() in taken:
        count += 1
        name = f"{stem}-{count}"
    taken.add(name.lower())
    return f"{name}.pdf"
