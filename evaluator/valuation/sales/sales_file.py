"""Known sales as comma-separated text, in and out. Every bad cell is named by line and column; nothing is half
imported.
"""

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import get_args

from ...basis.message import Message, Messages, problem
from ...basis.problem import Place, Problem, did_you_mean
from ...basis.show import MONTHS
from ...basis.typed.money import read_money
from ...basis.typed.numbers import read_factor, read_share
from ...rubric.model import Family, Tier
from .comparables import KIND_WORDS, KINDS, Comparable, SaleKind

NEEDED = ("name", "sold_on", "kind", "price", "currency")
BOOK_NEEDED = (*NEEDED, "family", "size", "tier")  # in a book that holds every kind, a sale must say what it was
WHAT = ("family", "size", "tier", "made")  # empty: not known, and then it counts beside any
COLUMNS = (*NEEDED, *WHAT, "extras", "grade", "retention", "set_up", "note")
DEFAULTS = {"extras": "0", "grade": "1", "retention": "1", "set_up": "0", "note": "", **dict.fromkeys(WHAT, "")}
FAMILIES: tuple[Family, ...] = get_args(Family)
TIERS: tuple[Tier, ...] = get_args(Tier)
Sizes = Mapping[str, Sequence[str]]
MOST_ROWS = 5_000
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_NAMED_DAY = re.compile(r"(\d{1,2})\.? ([A-Za-z]+),? (\d{4})")

MESSAGES: Messages = {
    "sales.empty": Message("the file holds no rows.", "Put the column names in the first line, one sale a line below."),
    "sales.missing_column": Message('the column "{name}" is missing.', "Add it to the first line."),
    "sales.unknown_column": Message('the column "{name}" is not known.', "Leave it out or rename it. {hint}"),
    "sales.twice": Message('the column "{name}" is there twice.', "Keep one of them."),
    "sales.cells": Message("the row has {found} cells; the first line names {wanted}.", "Count the commas."),
    "sales.date": Message('"{text}" is not a date.', "Write it as 2026-03-31."),
    "sales.future": Message('"{text}" lies after the day of valuation.', "Check the date."),
    "sales.kind": Message('"{text}" is not a kind of sale.', "Use one of {known}. {hint}"),
    "sales.word": Message('"{text}" is not a {what}.', "Use one of {known}, or leave it empty. {hint}"),
    "sales.size_alone": Message("a size is given without a family.", "Say violin, viola, cello or bow as well."),
    "sales.currency": Message('"{text}" is not {currency}.', "Convert the price first: two currencies do not add."),
    "sales.range": Message('"{text}" is outside {low} to {high}.', "Check the figure."),
    "sales.too_many": Message("the file has more than {limit} rows.", "Split it."),
    "sales.quote": Message("a quotation mark is not closed.", 'Close it with ".'),
}
_RANGES = {
    "price": (0.01, 1e9),
    "extras": (0.0, 1e9),
    "grade": (0.2, 5.0),
    "retention": (0.01, 1.0),
    "set_up": (-1e9, 1e9),
}
_MADE = (0.0, 100.0)
_AMOUNTS = ("price", "extras", "set_up")


def read_sales(
    text: str,
    file: str,
    currency: str,
    on: date,
    sizes: Sizes | None = None,
    needed: Sequence[str] = NEEDED,
) -> tuple[tuple[Comparable, ...], tuple[Problem, ...]]:
    """(sales of the good rows, what is wrong with the others). Import only when the second is empty, or when told to.

    `sizes`: the sizes of each family; without them a size is taken as it is written. `needed`: columns that every row
    must fill.
    """
    lines = csv.reader(io.StringIO(text.lstrip("\ufeff")), strict=True)
    try:
        rows = [(lines.line_num, row) for row in lines if any(cell.strip() for cell in row)]
    except csv.Error:
        return (), (problem(MESSAGES, "sales.quote", "", Place(file, lines.line_num, 1)),)
    if len(rows) < 2:
        return (), (problem(MESSAGES, "sales.empty", "", Place(file)),)
    if len(rows) > MOST_ROWS + 1:
        return (), (problem(MESSAGES, "sales.too_many", "", Place(file), limit=MOST_ROWS),)
    names = [cell.strip().lower() for cell in rows[0][1]]
    wrong = _wrong_header(names, file, rows[0][0], needed)
    if wrong:
        return (), tuple(wrong)
    found: list[Comparable] = []
    problems: list[Problem] = []
    for line, row in rows[1:]:
        if len(row) != len(names):
            place = Place(file, line, min(len(row), len(names)))
            problems.append(problem(MESSAGES, "sales.cells", "", place, found=len(row), wanted=len(names)))
            continue
        one = _Row(dict(zip(names, (cell.strip() for cell in row), strict=True)), names, file, line, sizes or {})
        sale = one.sale(currency, on, needed)
        problems += one.problems
        if sale is not None:
            found.append(sale)
    return tuple(found), tuple(problems)


def write_sales(sales: Iterable[Comparable]) -> str:
    """The sales as text that `read_sales` reads back."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in sales:
        writer.writerow([_cell(getattr(one, name)) for name in COLUMNS])
    return out.getvalue()


class _Row:
    """One row while it is read; `problems` gathers what is wrong with its cells. Columns count cells from 1."""

    def __init__(self, cells: dict[str, str], names: list[str], file: str, line: int, sizes: Sizes) -> None:
        self.cells = DEFAULTS | {name: text for name, text in cells.items() if text}
        self.names, self.file, self.line, self.sizes = names, file, line, sizes
        self.problems: list[Problem] = []

    def sale(self, currency: str, on: date, needed: Sequence[str]) -> Comparable | None:
        for name in needed:
            if not self.cells.get(name):
                self.wrong("reading.empty", name)
        sold_on, kind = self.day(on), self.kind()
        if self.cells.get("currency", currency).upper() != currency:
            self.wrong("sales.currency", "currency", currency=currency)
        figures = {name: self.figure(name, *_RANGES[name], currency) for name in _RANGES if name in self.cells}
        made = self.figure("made", *_MADE, currency) if self.cells["made"] else None
        family, tier = self.word("family", FAMILIES), self.word("tier", TIERS)
        size = self.size(family)
        if self.problems or sold_on is None or kind is None:
            return None
        return Comparable(
            self.cells["name"],
            sold_on,
            kind,
            figures["price"],
            currency,
            figures["extras"],
            figures["grade"],
            figures["retention"],
            figures["set_up"],
            self.cells["note"],
            family,
            size,
            tier,
            made,
        )

    def wrong(self, code: str, name: str, **words: object) -> None:
        column = self.names.index(name) + 1 if name in self.names else 0
        place = Place(self.file, self.line, column)
        text = self.cells.get(name, "")
        if code == "reading.empty":
            self.problems.append(Problem(code, f'column "{name}"', "nothing is written.", "Fill it in.", place))
        else:
            self.problems.append(problem(MESSAGES, code, f'column "{name}"', place, text=text[:30], **words))

    def day(self, on: date) -> date | None:
        text = self.cells.get("sold_on", "")
        found = _day(text)
        if not text:
            return None
        if found is None:
            self.wrong("sales.date", "sold_on")
        elif found > on:
            self.wrong("sales.future", "sold_on")
        return found

    def kind(self) -> SaleKind | None:
        text = self.cells.get("kind", "").lower()
        found = next((kind for kind in KINDS if text in (kind, kind.replace("_", " "), KIND_WORDS[kind])), None)
        if text and found is None:
            self.wrong("sales.kind", "kind", known=", ".join(KINDS), hint=did_you_mean(text, KINDS))
        return found

    def word(self, name: str, known: Sequence[str]) -> str:
        """One of the known words, or empty where nothing is written."""
        text = self.cells[name].lower()
        if text and text not in known:
            self.wrong("sales.word", name, what=name, known=", ".join(known), hint=did_you_mean(text, known))
        return text

    def size(self, family: str) -> str:
        text = self.cells["size"]
        if text and not self.cells["family"]:
            self.wrong("sales.size_alone", "size")
        known = self.sizes.get(family, ())
        if text and known and text not in known:
            hint = did_you_mean(text, known)
            self.wrong("sales.word", "size", what=f"size of a {family}", known=", ".join(known), hint=hint)
        return text

    def figure(self, name: str, low: float, high: float, currency: str) -> float:
        text, where = self.cells[name], f'column "{name}"'
        read: float | Problem
        if name in _AMOUNTS:
            amount = read_money(text, currency, where, least=None)
            read = amount if isinstance(amount, Problem) else float(amount.amount)
        else:
            read = read_share(text, where) if name == "retention" else read_factor(text, where)
        if isinstance(read, Problem):
            column = self.names.index(name) + 1 if name in self.names else 0
            self.problems.append(replace(read, place=Place(self.file, self.line, column)))
            return 0.0
        if not low <= read <= high:
            self.wrong("sales.range", name, low=f"{low:g}", high=f"{high:g}")
        return read


def _day(text: str) -> date | None:
    """The day of '2026-03-31' or '31 March 2026'; None where it is neither."""
    named = _NAMED_DAY.fullmatch(text)
    month = next((at for at, name in enumerate(MONTHS, 1) if named and name == named[2].capitalize()), 0)
    try:
        if named and month:
            return date(int(named[3]), month, int(named[1]))
        return date.fromisoformat(text) if _DATE.fullmatch(text) else None
    except ValueError:
        return None


def _wrong_header(names: list[str], file: str, line: int, needed: Sequence[str]) -> list[Problem]:
    found = [
        problem(MESSAGES, "sales.missing_column", "", Place(file, line, 1), name=name)
        for name in needed
        if name not in names
    ]
    for place, name in enumerate(names):
        where = Place(file, line, place + 1)
        if name not in COLUMNS:
            hint = did_you_mean(name, COLUMNS)
            found.append(problem(MESSAGES, "sales.unknown_column", "", where, name=name[:30], hint=hint))
        elif name in names[:place]:
            found.append(problem(MESSAGES, "sales.twice", "", where, name=name))
    return found


def _cell(value: object) -> str:
    if value is None:
        return ""
    return f"{value:.10g}" if isinstance(value, float) else str(value)
