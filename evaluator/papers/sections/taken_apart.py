"""The score and the price taken apart: rows that add up to what the front page says."""

from collections.abc import Sequence
from math import floor

from ...result.model.result import Result
from ...wording.answer.points import points_rows
from ...wording.answer.prices import paid
from ...wording.answer.source import source_words
from ..blocks import Block, Column, Heading, Paragraph, TableBlock, Together
from .costs import with_tax
from .frame import money

POINTS = (Column("What took points", 0.8), Column("Points", 0.2, True))
PRICE = (Column("How the highest price comes about", 0.8), Column("", 0.2, True))
MOST = 12
SHORT = 5
MINUS = "\N{MINUS SIGN}"


def points(result: Result) -> Sequence[Block]:
    """Where the points went."""
    return points_table(result, MOST)


def all_points(result: Result) -> Sequence[Block]:
    """The same row by row."""
    return points_table(result, len(result.deductions))


def points_table(result: Result, most: int) -> Sequence[Block]:
    """The same with at most so many rows, the rest in one."""
    if result.score.expected is None:
        return []
    found = sorted(((one.what, one.points) for one in points_rows(result)), key=lambda row: -row[1])
    shown, rest = found[:most], found[most:]
    taken_by = (
        [*shown, (f"{len(rest)} more rows, in the technical annex", sum(one for _, one in rest))] if rest else shown
    )
    rows = list(zip((say for say, _ in taken_by), in_tenths([one for _, one in taken_by]), strict=True))
    missing = sum(taken for _, taken in rows)
    told = tuple((say, f"{taken:.1f}") for say, taken in rows)
    total = (f"Missing from 100, which leaves {100 - missing:.1f}", f"{missing:.1f}")
    return [Together((Heading("Where the points went", 2, room=0), TableBlock(POINTS, (*told, total), totals=1)))]


def in_tenths(amounts: Sequence[float]) -> list[float]:
    """Amounts in tenths that add up to their sum in tenths: those that lie highest above one are rounded up."""
    floors = [floor(10 * one + 1e-9) for one in amounts]
    missing = round(10 * sum(amounts)) - sum(floors)
    by_rest = sorted(range(len(floors)), key=lambda i: floors[i] - 10 * amounts[i])
    up = set(by_rest[: max(0, missing)])
    return [(one + (i in up)) / 10 for i, one in enumerate(floors)]


def price(result: Result) -> Sequence[Block]:
    """From what it is worth to this buyer down to the most that should be paid; only where there is such a price."""
    verdict = result.verdict
    if not verdict.ceiling or verdict.worth is None or result.purpose == "quote" or verdict.advice == "look_first":
        return []
    about = round(paid(result)[0]) if result.plan.lines else 0
    top = round(verdict.work or 0.0) - about
    off = [
        (f"The work{with_tax(result)}", about),
        ("What may come on top of it, by its chance", top),
        ("What faults that nobody has looked for usually cost", round(verdict.unseen or 0.0)),
    ]
    left = round(verdict.worth) - sum(amount for _, amount in off)
    kept = left - round(verdict.ceiling)
    why = "Kept back: one more surprise would leave nothing" if verdict.hard else "Rounded"
    rows = [("Worth to you, ready to play", money(result, verdict.worth))]
    rows += [(say, _signed(result, -amount)) for say, amount in (*off, (why, kept)) if amount]
    rows.append(("So pay no more than", money(result, verdict.ceiling)))
    table = TableBlock(PRICE, tuple(rows), totals=1)
    return [Together((Heading("What it is worth to you", 2, room=0), table, *_source(result)))]


def _signed(result: Result, amount: int) -> str:
    return f"{MINUS if amount < 0 else '+'}{money(result, abs(amount))}"


def _source(result: Result) -> Sequence[Block]:
    """Where the value ready to play comes from, without naming it a second time."""
    source = source_words(result)
    return [Paragraph(f"What it is worth rests on: {source}.", "soft")] if source else []
