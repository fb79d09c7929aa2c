"""A bill of agreed work: its number, its lines as they were agreed, what came out otherwise, tax by rate, what was
paid and is due.

A bill once given is never changed: a credit note takes it back, line by line, under a number of its own, and names it.
Sums follow the European standard for invoices (EN 16931, group of totals): net amounts and their taxes by rate make
the total; what was paid before comes off it. What a bill must carry besides is the place's own rule; the fields here
are those of the common VAT rules (Directive 2006/112/EC, Art. 226) as a digest of them tells. Numbers are a series as
the workshop writes it, counted without a gap.
"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from ...basis.money import Money, total_of
from ...basis.problem import Message, Messages
from ..answers import Answers
from ..quote import Quote

Kind = Literal["bill", "credit"]
MESSAGES: Messages = {
    "bill.not_done": Message("its work is not done.", "Note the hours and call the work done; then make the bill."),
    "bill.there": Message("it has bill {number} already.", "Give a credit note for that one first."),
    "bill.no_buyer": Message("nobody is named on the bill.", "Write the customer's name, and the address below it."),
    "bill.no_words": Message("an amount stands without words.", "Write what it is for."),
    "bill.over": Message(
        "it comes to {total}, and {most} is the most that was agreed.",
        "Take something off, or send a second quote for the rest first.",
    ),
    "bill.below": Message("it comes to less than nothing.", "Take less off."),
    "bill.credited": Message("it was taken back by credit note {number}.", "Make a new bill from the work order."),
    "bill.is_credit": Message("it is a credit note itself.", "Make a new bill instead."),
    "bill.no_reason": Message("nothing says why.", "Write why the bill is taken back; it stands on the credit note."),
    "pay.nothing": Message("no amount is given.", "Write what was paid."),
}
HOW_PAID = {"cash": "in cash", "card": "by card", "transfer": "by transfer", "other": "in another way"}
BILLS, RECEIPTS = "B{year}-{number}", "R{year}-{number}"


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line: `labour` and `parts` without tax, `shown` as the customer sees it, `quote` by which it was agreed."""

    say: str
    units: int
    labour: Money
    parts: Money
    shown: Money
    quote: str | None = None


@dataclass(frozen=True, slots=True)
class TaxRow:
    """What is taxed at one rate: `base` without tax, and the `tax`. Where tax is added below the lines, work and parts
    have rows of their own, as they had on the quote; where it is in the prices, what has one rate is one row.
    """

    what: Literal["work", "parts", "all"]
    rate: float
    base: Money
    tax: Money


@dataclass(frozen=True, slots=True)
class Payment:
    """What was paid for an order: a deposit before its bill, or on it. `number` is the receipt's."""

    number: str
    on: date
    amount: Money
    how: str
    by: str


@dataclass(frozen=True, slots=True)
class Seller:
    """The workshop as its papers name it: `lines` are all ways to reach it, `address` those of a letter. `country`: two
    letters (ISO 3166-1); `no_tax_because`: why no tax is charged, in the words of its place. None where not said.
    """

    name: str
    lines: tuple[str, ...]
    tax_number: str | None
    address: tuple[str, ...] = ()
    country: str | None = None
    account: str | None = None
    no_tax_because: str | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """What a buyer asks a bill to carry: its own reference and order number, and its country (two letters)."""

    reference: str | None = None
    order: str | None = None
    country: str | None = None


@dataclass(frozen=True, slots=True)
class Bill:
    """A bill or a credit note. Lines, haste, least charge, taxes and rounding add up to `total`; `due` is left to pay.

    `promised`: what was agreed; `hours`: (reckoned, took), None where the quote does not say. `corrects`: the number of
    the bill that a credit note takes back. `form`: whether its paper carries it as XML too.
    """

    number: str
    kind: Kind
    on: date
    done_on: date
    pay_until: date
    seller: Seller
    buyer: tuple[str, ...]
    about: str
    order: tuple[str, ...]
    lines: tuple[BillLine, ...]
    haste: Money
    least: Money
    taxes: tuple[TaxRow, ...]
    rounding: Money
    total: Money
    prices: Literal["net", "gross"]
    promised: Money
    paid: tuple[Payment, ...] = ()
    hours: tuple[float | None, float] = (None, 0.0)
    note: str | None = None
    corrects: str | None = None
    reason: str | None = None
    asked: Asked = Asked()
    form: Literal["paper", "xml"] = "paper"

    @property
    def net(self) -> Money:
        """Everything without tax, before rounding."""
        return total_of((row.base for row in self.taxes), self.total.currency)

    @property
    def due(self) -> Money:
        """What is left to pay; below zero what goes back."""
        return self.total - total_of((one.amount for one in self.paid), self.total.currency)


@dataclass(frozen=True, slots=True)
class Adjustment:
    """What came out otherwise than it was agreed: more or, below zero, less work and parts, without tax."""

    say: str
    labour: Money
    parts: Money


@dataclass(frozen=True, slots=True)
class Order:
    """What was agreed and done: (quote, answers) of the first and its second quotes; `most`: what may be billed."""

    parts: tuple[tuple[Quote, Answers], ...]
    about: str
    done_on: date
    promised: Money
    most: Money
    hours: tuple[float | None, float]
    payments: tuple[Payment, ...]


def series_of(pattern: str, on: date) -> str:
    """The name of the series that counts on this day: the pattern with its year, where it has one."""
    return pattern.replace("{year}", str(on.year))


def number_of(series: str, place: int) -> str:
    """'B2026-0007' for the seventh of its series."""
    return series.replace("{number}", f"{place:04d}")
