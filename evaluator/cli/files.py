"""What every command needs: reading files, rubrics and shops, and telling the user's mistakes."""

import json
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from ..basis.problem import Problem, by_place
from ..store.folders import rubrics_folder

if TYPE_CHECKING:
    from ..assessment.model import Case
    from ..result.evaluation import Evaluation
    from ..rubric.rubric import Rubric
    from ..rubric.shop import Shop
    from ..valuation.sales.sales_book import SalesBook

MAX_BYTES = 2_000_000


class MistakesError(Exception):
    """The user's mistakes, on their way to standard error and exit 1."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = by_place(problems)
        super().__init__(f"{len(self.problems)} problems")


def fail(code: str, where: str, what: str, what_to_do: str = "") -> NoReturn:
    """Stop with one mistake."""
    raise MistakesError([Problem(code, where, what, what_to_do)])


def read_bytes(path: str) -> tuple[bytes, str]:
    """The content of a file, or of standard input for `-`, and the name to show for it."""
    try:
        if path == "-":
            return sys.stdin.buffer.read(MAX_BYTES + 1), "standard input"
        with Path(path).open("rb") as file:
            return file.read(MAX_BYTES + 1), path
    except OSError as error:
        fail("file.unreadable", path, f"cannot be read: {error.strerror}.", "Give the path of an evaluation file.")


def rubric_named(name: str, overlays: Iterable[str] = ()) -> "Rubric":
    """The rubric of a family, with a shop's overlays on it."""
    from ..rubric.files.load import load_rubric

    rubric, problems = load_rubric(rubrics_folder(), name, [Path(p) for p in overlays])
    if rubric is None:
        raise MistakesError(problems)
    return rubric


def shop_from(path: str | None) -> "Shop":
    """The shop file at `path`, else the built-in default shop."""
    from ..rubric.files.shop_file import load_shop

    default = rubrics_folder() / "shop.yaml"
    shop, problems = load_shop(Path(path) if path else default, default)
    if shop is None:
        raise MistakesError(problems)
    return shop


def case_from(path: str, overlays: Iterable[str] = ()) -> "tuple[Rubric, Case]":
    """The evaluation file at `path` and the rubric that it names."""
    from ..assessment.observing.case import read_case, rubric_name_of
    from ..basis.document import parse_document

    content, name = read_bytes(path)
    document, problems = parse_document(content, name)
    if document is None:
        raise MistakesError(problems)
    wanted = rubric_name_of(document)
    if isinstance(wanted, Problem):
        raise MistakesError([wanted])
    rubric = rubric_named(wanted, overlays)
    case, problems = read_case(rubric, document.data, document)
    if case is None or problems:
        raise MistakesError(problems)
    return rubric, case


@dataclass(frozen=True, slots=True)
class Sales:
    """The file of known sales that was named, and whether what was moved by more than half is left out."""

    path: str | None = None
    leave_out_moved: bool = False


def book_from(sales: Sales, rubric: "Rubric", shop: "Shop") -> "SalesBook | None":
    """The known sales of a CSV file; one bad row, and nothing of it is used."""
    if sales.path is None:
        return None
    from ..valuation.sales.sales_book import SalesBook
    from ..valuation.sales.sales_file import read_sales

    content, name = read_bytes(sales.path)
    today = date.today()
    read, problems = read_sales(content, name, shop.currency, today, {rubric.family: rubric.sizes})
    if problems:
        raise MistakesError(problems)
    return SalesBook(read, today, name, leave_out_much=sales.leave_out_moved)


def evaluation_of(
    path: str, shop: str | None, seed: int, overlays: Iterable[str] = (), sales: Sales = Sales()
) -> "Evaluation":
    from ..result.evaluation import evaluate

    rubric, case = case_from(path, overlays)
    figures = shop_from(shop)
    return evaluate(rubric, case, figures, seed=seed, book=book_from(sales, rubric, figures))


def emit(value: object) -> None:
    """JSON on standard output, and nothing else there."""
    click.echo(json.dumps(value, ensure_ascii=False, indent=2, allow_nan=False))
