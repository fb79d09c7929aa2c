"""From the bytes of an evaluation file, or the cells of a sheet's row, to its evaluation: for a fleet, by one shop.

A `Judge` is everything but the instrument; it travels to other processes and computers as it is. What it reads from
files (rubrics) is read once a process.
"""

import json
from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path

from ..assessment.model import Case
from ..assessment.observing.case import Places, read_case, rubric_name_of
from ..basis.document import parse_document
from ..basis.frozen import dataclass
from ..basis.problem import Message, Messages, Place, Problem, by_place, problem
from ..result.evaluation import Evaluation, evaluate
from ..result.json_form import NoResultError, read_result
from ..result.making.result import result_of
from ..result.model.result import Result
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..store.folders import rubric_read, rubrics_folder
from ..valuation.sales.sales_book import SalesBook
from .sheet import SheetRow, row_data
from .sources import Source

Problems = tuple[Problem, ...]
MOST_RESULT = 5_000_000
PDF = b"%PDF-"
MESSAGES: Messages = {
    "fleet.broken_result": Message(
        "it looks like a result that was printed, and cannot be read as one.",
        "Print it again with score --json, or give the evaluation file.",
    ),
}


@dataclass(frozen=True, slots=True)
class SalesFile:
    """A file of known sales that is read for each family: its content, its name, the day of valuation."""

    content: bytes
    name: str
    on: date
    leave_out_moved: bool = False


@dataclass(frozen=True, slots=True)
class Judge:
    """By whom and how every instrument of a fleet is judged. `book`: the shop's own, else `sales` from a file."""

    shop: Shop
    overlays: tuple[str, ...] = ()
    seed: int = 1
    sales: SalesFile | None = None
    book: SalesBook | None = None

    def result(self, source: Source) -> Result | Problems:
        """The result of one source: a kept one as it was, else that of its evaluation; or every mistake in it."""
        kept = None if source.row else kept_result(source.content, source.name)
        if isinstance(kept, Problem):
            return (kept,)
        if kept is not None:
            return kept
        found = self.evaluation(source)
        return found if isinstance(found, tuple) else result_of(found)

    def evaluation(self, source: Source) -> Evaluation | Problems:
        """The evaluation of one source, or every mistake in it."""
        found = read_source(source, self.overlays)
        if not isinstance(found[0], Rubric):
            return found
        rubric, case = found
        book = self._book_for(rubric)
        if isinstance(book, tuple):
            return book
        return evaluate(rubric, case, self.shop, seed=self.seed, book=book)

    def _book_for(self, rubric: Rubric) -> SalesBook | Problems | None:
        if self.book is not None or self.sales is None:
            return self.book
        return book_of(self.sales, rubric, self.shop)


def book_of(sales: SalesFile, rubric: Rubric, shop: Shop) -> SalesBook | Problems:
    """The known sales of a file; one bad row, and nothing of it is used."""
    from ..valuation.sales.sales_file import read_sales

    read, problems = read_sales(sales.content, sales.name, shop.currency, sales.on, {rubric.family: rubric.sizes})
    if problems:
        return problems
    return SalesBook(read, sales.on, sales.name, leave_out_much=sales.leave_out_moved)


@lru_cache(maxsize=16)
def rubric_named(name: str, overlays: tuple[str, ...] = ()) -> Rubric | Problems:
    """The rubric of a family with a shop's overlays on it, read once; or every mistake in its files."""
    rubric, problems = rubric_read(rubrics_folder(), name, [Path(one) for one in overlays])
    return problems if rubric is None else rubric


def read_source(source: Source, overlays: tuple[str, ...] = ()) -> tuple[Rubric, Case] | Problems:
    """The rubric that a source names, and its case; or every mistake in it."""
    if source.problems:
        return source.problems
    if source.row is not None:
        return _from_row(source.row, overlays)
    document, problems = parse_document(source.content, source.name)
    if document is None:
        return problems
    wanted = rubric_name_of(document)
    if isinstance(wanted, Problem):
        return (wanted,)
    return _case_of(wanted, overlays, document.data, document)


def _from_row(row: SheetRow, overlays: tuple[str, ...]) -> tuple[Rubric, Case] | Problems:
    name = row.rubric_name()
    if isinstance(name, Problem):
        return (name,)
    rubric = rubric_named(name, overlays)
    if isinstance(rubric, tuple):
        return rubric
    data, problems = row_data(row, rubric)
    return problems if problems else _case_of(name, overlays, data, row)


def _case_of(
    name: str, overlays: tuple[str, ...], data: Mapping[str, object], places: Places
) -> tuple[Rubric, Case] | Problems:
    rubric = rubric_named(name, overlays)
    if isinstance(rubric, tuple):
        return rubric
    case, problems = read_case(rubric, data, places)
    return by_place(problems) if case is None or problems else (rubric, case)


def kept_result(content: bytes, name: str) -> Result | Problem | None:
    """The result that `score --json` printed or that a paper carries; None for what is none, a Problem for what was one
    and is broken.
    """
    if content.startswith(PDF):
        from ..papers.printing.tagged.enclosed import evaluation_in

        carried = evaluation_in(content, name)
        if isinstance(carried, Problem):
            return carried
        return kept_result(carried, name) or problem(MESSAGES, "fleet.broken_result", "", Place(name))
    start = content.lstrip(b"\xef\xbb\xbf \r\n\t")
    if not start.startswith(b"{") or len(content) > MOST_RESULT or b'"verdict"' not in content:
        return None
    try:
        data = json.loads(start)
    except (ValueError, RecursionError):
        return None
    if not isinstance(data, dict) or not {"program", "verdict", "checks"} <= set(data):
        return None
    try:
        return read_result({key: value for key, value in data.items() if key != "why"})
    except NoResultError:
        return problem(MESSAGES, "fleet.broken_result", "", Place(name))


def data_of(source: Source, overlays: tuple[str, ...] = ()) -> Mapping[str, object] | Problems:
    """A source as the data of the evaluation file that it is or stands for; it may still be wrong in itself."""
    if source.row is None:
        document, problems = parse_document(source.content, source.name)
        return problems if document is None else document.data
    name = source.row.rubric_name()
    rubric = (name,) if isinstance(name, Problem) else rubric_named(name, overlays)
    if isinstance(rubric, tuple):
        return rubric
    data, problems = row_data(source.row, rubric)
    return problems or data
