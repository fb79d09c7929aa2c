"""A bill made of what was agreed and done, and the credit note that takes one back whole."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from ...basis.money import Money, total_of
from ...basis.problem import Problem, problem
from ..answers import shown_price, standing, tax_in, totals, with_tax
from ..quote import Terms
from .bill import MESSAGES, Adjustment, Bill, BillLine, Order, Seller, TaxRow


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
