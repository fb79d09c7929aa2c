"""Known sales from a spreadsheet, and back. Every bad cell is named by line and column; nothing is half imported.

Columns stand in any order under our names or the trade's; those that we do not use go into the note. Days whose month
cannot be told, and amounts that can be two, are asked back.
"""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import cast, get_args

from ...basis.message import Message, Messages, problem
from ...basis.problem import Hints, Place, Problem
from ...basis.show import day as day_words
from ...basis.typed.currencies import currencies_of
from ...basis.typed.days import Order, days_of, order_of
from ...basis.typed.money import read_money
from ...basis.typed.numbers import read_factor, read_share
from ...basis.typed.quantities import read_quantity
from ...basis.typed.signs import plain, sign_problem
from ...rubric.model import Family, Tier
from .comparables import KIND_WORDS, KINDS, Comparable, SaleKind
from .headings import FAMILIES_SAID, FULL, KINDS_SAID, MAKINGS_SAID, TIERS_SAID, column_of, plainly, word_of
from .sheets import MESSAGES as SHEET_MESSAGES
from .sheets import Row, guarded, rows_of

NEEDED = ("name", "sold_on", "kind", "price", "currency")
BOOK_NEEDED = (*NEEDED, "family", "size", "tier")  # in a book that holds every kind, a sale must say what it was
WHAT = ("family", "size", "tier", "made", "making")  # empty: not known, and then it counts beside any
COLUMNS = (*NEEDED, *WHAT, "extras", "grade", "retention", "set_up", "note")
DEFAULTS = {"extras": "0", "grade": "1", "retention": "1", "set_up": "0", "note": "", **dict.fromkeys(WHAT, "")}
FAMILIES: tuple[Family, ...] = get_args(Family)
TIERS: tuple[Tier, ...] = get_args(Tier)
MAKINGS = tuple(MAKINGS_SAID)
Sizes = Mapping[str, Sequence[str]]
NEAR_SIZE_MM = 6.5  # half an inch apart, the sizes of violas are told from each other by half of that
MOST_NOTE = 400
FORMULA = ("'=", "'+", "'-", "'@")

MESSAGES: Messages = {
    **SHEET_MESSAGES,
    "sales.missing_column": Message(
        'the column "{name}" is missing.', "Add it to the first line, or rename the one that holds it. {hint}"
    ),
    "sales.twice": Message('the column "{name}" is there twice ("{first}", "{second}").', "Keep one of them."),
    "sales.cells": Message("the row has {found} cells; the first line names {wanted}.", "Count the commas."),
    "sales.date": Message('"{text}" is not a date.', "Write it as 2026-03-31."),
    "sales.two_days": Message(
        '"{text}" can be {first} or {second}.', "Write the month as a name, as in 5 November 2024."
    ),
    "sales.future": Message('"{text}" ({day}) lies after the day of valuation.', "Check the date."),
    "sales.kind": Message('"{text}" is not a kind of sale.', "Use one of {known}. {hint}"),
    "sales.word": Message('"{text}" is not a {what}.', "Use one of {known}, or leave it empty. {hint}"),
    "sales.size_alone": Message("a size is given without a family.", "Say violin, viola, cello or bow as well."),
    "sales.currency": Message('"{text}" is not {currency}.', "Convert the price first: two currencies do not add."),
    "sales.range": Message('"{text}" is outside {low} to {high}.', "Check the figure."),
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
        one = _Row(head, names, row, file, sizes or {}, hints)
        sale = one.sale(currency, on, needed, order)
        problems += one.problems
        if sale is not None:
            found.append(ReadRow(row.line, sale, one.cells["price"], one.cells["sold_on"]))
    extra = tuple(cell for cell, name in zip(head.cells, names, strict=True) if name is None and cell)
    return SheetRead(tuple(found), tuple(problems), order, extra, "" if "currency" in names else currency)


def write_sales(sales: Iterable[Comparable]) -> str:
    """The sales as text that `read_sales` reads back; no cell is a formula to any spreadsheet."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in sales:
        writer.writerow([guarded(_cell(getattr(one, name))) for name in COLUMNS])
    return out.getvalue()


class _Row:
    """One row while it is read; `problems` gathers what is wrong with its cells. Columns count cells from 1."""

    def __init__(self, head: Row, names: Sequence[str | None], row: Row, file: str, sizes: Sizes, hints: Hints) -> None:
        texts = [cell[1:] if cell.startswith(FORMULA) else cell for cell in row.cells]
        told = {name: text for name, text in zip(names, texts, strict=True) if name and text}
        extra = [
            f"{title}: {text}" for title, name, text in zip(head.cells, names, texts, strict=True) if not name and text
        ]
        self.cells = DEFAULTS | told
        self.cells["note"] = "; ".join([*([told["note"]] if "note" in told else []), *extra])[:MOST_NOTE]
        self.names, self.file, self.line, self.sizes, self.hints = names, file, row.line, sizes, hints
        self.problems: list[Problem] = []

    def sale(self, currency: str, on: date, needed: Sequence[str], order: Order | None) -> Comparable | None:
        for name in needed:
            if not self.cells.get(name):
                self.wrong("reading.empty", name)
        sold_on, kind = self.day(on, order), self.kind()
        if currency not in currencies_of(plain(self.cells.get("currency", currency))):
            self.wrong("sales.currency", "currency", currency=currency)
        figures = {name: self.figure(name, *_RANGES[name], currency) for name in _RANGES if name in self.cells}
        made = self.figure("made", *_MADE, currency) if self.cells["made"] else None
        family = self.word("family", FAMILIES, FAMILIES_SAID)
        tier, size = self.word("tier", TIERS, TIERS_SAID), self.size(family)
        making = self.word("making", MAKINGS, MAKINGS_SAID)
        for name in ("name", "note"):
            if strange := sign_problem(self.cells.get(name, ""), f'column "{name}"'):
                self.problems.append(replace(strange, place=self.place(name)))
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
            making,
        )

    def place(self, name: str) -> Place:
        return Place(self.file, self.line, self.names.index(name) + 1 if name in self.names else 0)

    def wrong(self, code: str, name: str, **words: object) -> None:
        text = self.cells.get(name, "")
        if code == "reading.empty":
            said = Problem(code, f'column "{name}"', "nothing is written.", "Fill it in.", self.place(name))
        else:
            said = problem(MESSAGES, code, f'column "{name}"', self.place(name), text=text[:30], **words)
        self.problems.append(said)

    def day(self, on: date, order: Order | None) -> date | None:
        text = self.cells.get("sold_on", "")
        if not text:
            return None
        found = days_of(text, order)
        if not found:
            self.wrong("sales.date", "sold_on")
            return None
        if len(found) > 1:
            first, second = (day_words(one.isoformat()) for one in found)
            self.wrong("sales.two_days", "sold_on", first=first, second=second)
        elif found[0] > on:
            self.wrong("sales.future", "sold_on", day=day_words(found[0].isoformat()))
        return found[0]

    def kind(self) -> SaleKind | None:
        text = self.cells.get("kind", "")
        said = plainly(text)
        found = next((kind for kind in KINDS if said in (kind.replace("_", " "), KIND_WORDS[kind])), None)
        found = found or cast("SaleKind | None", word_of(text, KINDS_SAID))
        if text and found is None:
            hint = self.hints.near(text.lower(), KINDS)
            self.wrong("sales.kind", "kind", known=", ".join(KINDS), hint=hint)
        return found

    def word(self, name: str, known: Sequence[str], said: dict[str, tuple[str, ...]]) -> str:
        """One of the known words, or empty where nothing is written."""
        text = self.cells[name]
        found = word_of(text, said) or ""
        if text and not found:
            hint = self.hints.near(text.lower(), known)
            what = "class of making" if name == "making" else name
            self.wrong("sales.word", name, what=what, known=", ".join(known), hint=hint)
        return found

    def size(self, family: str) -> str:
        text = self.cells["size"]
        if text and not self.cells["family"]:
            self.wrong("sales.size_alone", "size")
        known = self.sizes.get(family, ())
        if not text or not known:
            return text
        found = _size(text, known)
        if found is None:
            hint = self.hints.near(text, known)
            self.wrong("sales.word", "size", what=f"size of a {family}", known=", ".join(known), hint=hint)
        return found or text

    def figure(self, name: str, low: float, high: float, currency: str) -> float:
        text, where = self.cells[name], f'column "{name}"'
        read: float | Problem
        if name in _AMOUNTS:
            amount = read_money(text, currency, where, least=None)
            read = amount if isinstance(amount, Problem) else float(amount.amount)
        else:
            read = read_share(text, where) if name == "retention" else read_factor(text, where)
        if isinstance(read, Problem):
            self.problems.append(replace(read, place=self.place(name)))
            return 0.0
        if not low <= read <= high:
            self.wrong("sales.range", name, low=f"{low:g}", high=f"{high:g}")
        return read


def _size(text: str, known: Sequence[str]) -> str | None:
    """The known size that is meant: the same words, or of lengths the nearest; None where there is none."""
    bare = plain(text).lower()
    exact = next((size for size in known if size.lower().replace(" ", "") == bare.replace(" ", "")), None)
    if exact or (bare in FULL and "4/4" in known):
        return exact or "4/4"
    lengths = {size: float(size.removesuffix(" mm")) for size in known if size.endswith(" mm")}
    if not lengths or not any(sign.isalpha() or sign in '"\u201d\u2033' for sign in bare):
        return None
    read = read_quantity(text, "mm")
    if isinstance(read, Problem):
        return None
    near = min(lengths, key=lambda size: abs(lengths[size] - read.value))
    return near if abs(lengths[near] - read.value) <= NEAR_SIZE_MM else None


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


def _cell(value: object) -> str:
    if value is None:
        return ""
    return f"{value:.10g}" if isinstance(value, float) else str(value)
