"""Known sales from a spreadsheet, and back: every bad cell is named by line and column; nothing is half imported.

Columns stand in any order under our names or the trade's; those that we do not use go into the note. Days whose month
cannot be told, and amounts that can be two, are asked back. What stands out is said before it goes into the book: sales
that are there twice, prices far from the others.
"""

import csv
import io
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median

from ...basis.problem import Hints, Place, Problem, problem
from ...basis.typed.days import Order, order_of
from .comparables import Comparable, mark
from .headings import column_of, plainly
from .sale_row import MESSAGES, WHAT, SaleRow, Sizes
from .sheets import Row, guarded, rows_of

NEEDED = ("name", "sold_on", "kind", "price", "currency")
BOOK_NEEDED = (*NEEDED, "family", "size", "tier")  # in a book that holds every kind, a sale must say what it was
COLUMNS = (*NEEDED, *WHAT, "extras", "grade", "retention", "set_up", "note")
FAR = 5.0  # times dearer or cheaper than the middle one of its kind: a slip of a digit is ten
FEWEST = 4  # below that there is no middle to be far from


@dataclass(frozen=True, slots=True)
class ReadRow:
    """A good row: its line, the sale, and what its price and day were written as."""

    line: int
    sale: Comparable
    price_text: str
    day_text: str


@dataclass(frozen=True, slots=True)
class SheetRead:
    """A sheet as it was understood. `order`: which of day and month stands first, where the days are written so;
    `extra`: columns that went into the note; `assumed`: the currency that no cell names.
    """

    rows: tuple[ReadRow, ...]
    problems: tuple[Problem, ...]
    order: Order | None = None
    extra: tuple[str, ...] = ()
    assumed: str = ""


def read_sales(
    content: bytes | str,
    file: str,
    currency: str,
    on: date,
    sizes: Sizes | None = None,
    needed: Sequence[str] = NEEDED,
) -> tuple[tuple[Comparable, ...], tuple[Problem, ...]]:
    """(sales of the good rows, what is wrong with the others): import when the second is empty, or when told to."""
    found = read_sheet(content, file, currency, on, sizes, needed)
    return tuple(one.sale for one in found.rows), found.problems


def read_sheet(
    content: bytes | str,
    file: str,
    currency: str,
    on: date,
    sizes: Sizes | None = None,
    needed: Sequence[str] = NEEDED,
    order: Order | None = None,
) -> SheetRead:
    """A spreadsheet as sales, row by row.

    `sizes`: the sizes of each family; without them a size is taken as it is written. `needed`: columns that every row
    must fill. `order`: which of day and month stands first, where somebody has said so.
    """
    rows = rows_of(content, file)
    if isinstance(rows, Problem):
        return SheetRead((), (rows,))
    head, *body = rows
    names = [column_of(cell) for cell in head.cells]
    wrong = _wrong_header(head, names, file, needed)
    if wrong:
        return SheetRead((), tuple(wrong))
    at = names.index("sold_on") if "sold_on" in names else -1
    order = order or order_of(row.cells[at] for row in body if 0 <= at < len(row.cells))
    hints = Hints()
    found: list[ReadRow] = []
    problems: list[Problem] = []
    for row in body:
        if len(row.cells) != len(names):
            place = Place(file, row.line, min(len(row.cells), len(names)))
            problems.append(problem(MESSAGES, "sales.cells", "", place, found=len(row.cells), wanted=len(names)))
            continue
        one = SaleRow(head, names, row, file, sizes or {}, hints)
        sale = one.sale(currency, on, needed, order)
        problems += one.problems
        if sale is not None:
            found.append(ReadRow(row.line, sale, one.cells["price"], one.cells["sold_on"]))
    extra = tuple(cell for cell, name in zip(head.cells, names, strict=True) if name is None and cell)
    return SheetRead(tuple(found), tuple(problems), order, extra, "" if "currency" in names else currency)


def _wrong_header(head: Row, names: list[str | None], file: str, needed: Sequence[str]) -> list[Problem]:
    found = []
    strange = [plainly(cell) for cell, name in zip(head.cells, names, strict=True) if name is None]
    for name in needed:
        if name not in names:
            hint = Hints().near(name.replace("_", " "), strange)
            found.append(problem(MESSAGES, "sales.missing_column", "", Place(file, head.line, 1), name=name, hint=hint))
    for place, column in enumerate(names):
        if column is not None and column in names[:place]:
            where, first = Place(file, head.line, place + 1), head.cells[names.index(column)]
            words = {"name": column, "first": first[:30], "second": head.cells[place][:30]}
            found.append(problem(MESSAGES, "sales.twice", "", where, **words))
    return found


def flagged(rows: Sequence[ReadRow], book: Iterable[Comparable]) -> Mapping[int, tuple[str, ...]]:
    """What stands out, by line: nothing for most."""
    known = list(book)
    here = {mark(one) for one in known}
    seen: dict[Hashable, int] = {}
    found: dict[int, tuple[str, ...]] = {}
    middles = _middles([*known, *(row.sale for row in rows)])
    for row in rows:
        said, this = [], mark(row.sale)
        if this in here:
            said.append("is in the book already, and is not put there twice")
        elif this in seen:
            said.append(f"is the same as line {seen[this]}, and counts once")
        seen.setdefault(this, row.line)
        middle = middles.get((row.sale.family, row.sale.tier))
        if middle and not middle / FAR <= row.sale.price <= middle * FAR:
            far = f"more than {FAR:.0f} times" if row.sale.price > middle else f"less than one part in {FAR:.0f} of"
            said.append(f"costs {far} the middle one of its kind: look at its figures")
        if said:
            found[row.line] = tuple(said)
    return found


def _middles(sales: Sequence[Comparable]) -> dict[tuple[str, str], float]:
    """The middle price of each family and standard with enough sales."""
    prices: dict[tuple[str, str], list[float]] = {}
    for one in sales:
        prices.setdefault((one.family, one.tier), []).append(one.price)
    return {kind: median(all_) for kind, all_ in prices.items() if len(all_) >= FEWEST}


def write_sales(sales: Iterable[Comparable]) -> str:
    """The sales as text that `read_sales` reads back; no cell is a formula to any spreadsheet."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in sales:
        writer.writerow([guarded(_cell(getattr(one, name))) for name in COLUMNS])
    return out.getvalue()


def _cell(value: object) -> str:
    if value is None:
        return ""
    return f"{value:.10g}" if isinstance(value, float) else str(value)
