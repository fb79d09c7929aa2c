"""A bill of agreed work: its lines as they were agreed, what came out otherwise, tax by rate, what was paid and is due.

A bill once given is never changed: a credit note takes it back, line by line, under a number of its own, and names it.
Sums follow the European standard for invoices (EN 16931, group of totals): net amounts and their taxes by rate make the
total; what was paid before comes off it. What a bill must carry besides is the place's own rule; the fields here are
those of the common VAT rules (Directive 2006/112/EC, Art. 226) as a digest of them tells.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from ...basis.message import Message, Messages, problem
from ...basis.money import Money, total_of
from ...basis.problem import Problem
from ..answers import Answers, shown_price, standing, tax_in, totals, with_tax
from ..quote import Quote, Terms

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


def most_billed(agreed: Money, ceiling: Money, share: float, amount: Decimal) -> Money:
    """What a bill may come to: the ceiling that the customer set, or what the place lets pass what was agreed."""
    over = max(agreed.times(share).rounded(), Money(amount, agreed.currency), key=lambda one: one.amount)
    return max(ceiling, agreed + over, key=lambda one: one.amount)


def bill_of(
    order: Order,
    adjustments: Sequence[Adjustment],
    seller: Seller,
    buyer: Sequence[str],
    on: date,
    pay_within_days: int,
    note: str | None = None,
) -> Bill | tuple[Problem, ...]:
    """The bill without its number, or everything that speaks against it."""
    terms = order.parts[0][0].terms
    currency = terms.currency
    lines = [*_agreed(order), *(_adjusted(terms, one) for one in adjustments)]
    sums = [totals(quote, standing(quote, answers)) for quote, answers in order.parts]
    extra = [_adjusted(terms, one) for one in adjustments]
    taxes = _rows(
        terms,
        total_of((one.labour + one.rush + one.minimum for one in sums), currency),
        total_of((one.parts for one in sums), currency),
        total_of((one.labour_tax for one in sums), currency),
        total_of((one.parts_tax for one in sums), currency),
        extra,
    )
    exact = total_of((one.total for one in sums), currency)
    exact += total_of((line.shown if terms.prices == "gross" else _whole(terms, line) for line in extra), currency)
    total = exact.rounded(terms.rounding) if extra else exact
    made = Bill(
        number="",
        kind="bill",
        on=on,
        done_on=order.done_on,
        pay_until=on + timedelta(days=pay_within_days),
        seller=seller,
        buyer=tuple(line.strip() for line in buyer if line.strip()),
        about=order.about,
        order=tuple(quote.number for quote, _ in order.parts),
        lines=tuple(lines),
        haste=total_of((one.gross[2] if one.gross else one.rush for one in sums), currency),
        least=total_of((one.gross[3] if one.gross else one.minimum for one in sums), currency),
        taxes=taxes,
        rounding=total_of((one.rounding for one in sums), currency) + total - exact,
        total=total,
        prices=terms.prices,
        promised=order.promised,
        paid=order.payments,
        hours=order.hours,
        note=note,
    )
    wrong = _wrong(made, order, adjustments)
    return wrong or made


def credit_of(bill: Bill, on: date, reason: str) -> Bill | Problem:
    """The credit note that takes a bill back whole; what was paid stays to be paid out or counted on a new one."""
    where = f"bill {bill.number}"
    if bill.kind == "credit":
        return problem(MESSAGES, "bill.is_credit", where)
    if not reason.strip():
        return problem(MESSAGES, "bill.no_reason", where)
    return replace(
        bill,
        number="",
        kind="credit",
        on=on,
        pay_until=on,
        lines=tuple(
            replace(line, labour=_minus(line.labour), parts=_minus(line.parts), shown=_minus(line.shown))
            for line in bill.lines
        ),
        haste=_minus(bill.haste),
        least=_minus(bill.least),
        taxes=tuple(replace(row, base=_minus(row.base), tax=_minus(row.tax)) for row in bill.taxes),
        rounding=_minus(bill.rounding),
        total=_minus(bill.total),
        paid=(),
        corrects=bill.number,
        reason=reason.strip(),
    )


def _wrong(bill: Bill, order: Order, adjustments: Sequence[Adjustment]) -> tuple[Problem, ...]:
    where = f"quote {bill.order[0]}"
    found = []
    if not bill.buyer:
        found.append(problem(MESSAGES, "bill.no_buyer", where))
    if any(not one.say.strip() for one in adjustments):
        found.append(problem(MESSAGES, "bill.no_words", where))
    if bill.total.amount < 0:
        found.append(problem(MESSAGES, "bill.below", where))
    if order.most < bill.total:
        total, most = (f"{one.amount:,.2f} {one.currency}" for one in (bill.total, order.most))
        found.append(problem(MESSAGES, "bill.over", where, total=total, most=most))
    return tuple(found)


def _agreed(order: Order) -> list[BillLine]:
    return [
        BillLine(line.say, line.units, line.labour, line.parts, shown_price(quote.terms, line), quote.number)
        for quote, answers in order.parts
        for line in standing(quote, answers)
    ]


def _adjusted(terms: Terms, one: Adjustment) -> BillLine:
    price = one.labour + one.parts
    if terms.prices == "gross":
        price = with_tax(one.labour, terms.labour_tax) + with_tax(one.parts, terms.parts_tax)
    return BillLine(one.say.strip(), 1, one.labour, one.parts, price)


def _whole(terms: Terms, line: BillLine) -> Money:
    return with_tax(line.labour, terms.labour_tax) + with_tax(line.parts, terms.parts_tax)


def _rows(
    terms: Terms, work: Money, parts: Money, work_tax: Money, parts_tax: Money, extra: Sequence[BillLine]
) -> tuple[TaxRow, ...]:
    """The taxes of what was agreed and of what came out otherwise."""
    for line in extra:
        work, parts = work + line.labour, parts + line.parts
        work_tax += with_tax(line.labour, terms.labour_tax) - line.labour
        parts_tax += with_tax(line.parts, terms.parts_tax) - line.parts
    rows = [TaxRow("work", terms.labour_tax, work, work_tax), TaxRow("parts", terms.parts_tax, parts, parts_tax)]
    if terms.labour_tax == terms.parts_tax and terms.prices == "gross":
        whole = work + parts + work_tax + parts_tax
        tax = tax_in(whole, terms.labour_tax)
        rows = [TaxRow("all", terms.labour_tax, whole - tax, tax)]
    found = [row for row in rows if row.base.amount or row.tax.amount]
    return tuple(sorted(found, key=lambda row: -row.rate)) or (TaxRow("all", terms.labour_tax, work, work_tax),)


def _minus(amount: Money) -> Money:
    return Money(-amount.amount if amount.amount else amount.amount, amount.currency)
