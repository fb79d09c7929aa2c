"""One row of known sales while it is read: its day, kind, words and figures, each mistake at its cell."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import get_args

from ...basis.problem import Hints, Message, Messages, Place, Problem, problem
from ...basis.show import day as day_words
from ...basis.typed.days import Order, days_of
from ...basis.typed.money import currencies_of, read_money
from ...basis.typed.numbers import read_factor, read_share
from ...basis.typed.quantities import read_quantity
from ...basis.typed.signs import plain, sign_problem
from ...rubric.written.kinds import Family, Tier
from .comparables import KIND_WORDS, KINDS, Comparable, SaleKind
from .headings import FAMILIES_SAID, FULL, KINDS_SAID, MAKINGS_SAID, TIERS_SAID, plainly, word_of
from .sheets import MESSAGES as SHEET_MESSAGES
from .sheets import Row

WHAT = ("family", "size", "tier", "made", "making")  # empty: not known, and then it counts beside any
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


class SaleRow:
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
        word = word_of(text, KINDS_SAID)
        found = found or next((kind for kind in KINDS if kind == word), None)
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
