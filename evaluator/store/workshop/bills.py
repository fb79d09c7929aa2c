"""Bills, credit notes and payments in the database: each numbered in the transaction that keeps it, and only added.

So a series has no gap, however many are given at once: a number is taken only together with what bears it.
"""

import secrets
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import Connection, Engine, Row, Table, insert, select, update

from ...basis.money import Money
from ...basis.problem import Problem, problem
from ...quoting.billing.bill import MESSAGES, Bill, Payment, number_of
from ...quoting.billing.making import credit_of
from ...quoting.records import from_data, to_data
from ..engine import reading, writing
from ..finding.listing import PAGE, Key, cut, keyed
from .tables import bills, number_series, payments

ID_BYTES = 6
UNKNOWN = Problem("bill.unknown", "", "there is no such bill.", "Look at the list of bills.")


@dataclass(frozen=True, slots=True)
class KeptBill:
    """A bill or credit note, and the id of the quote whose work it is for."""

    id: str
    quote: str
    bill: Bill
    made: str


@dataclass(frozen=True, slots=True)
class KeptPayment:
    """A payment and the id of the quote that it is for."""

    id: str
    quote: str
    payment: Payment


def give_bill(engine: Engine, quote: str, bill: Bill, series: str, now: str) -> KeptBill | Problem:
    """Give the bill under the next number of its series; refused while the order has one that stands."""
    with writing(engine) as connection:
        standing = standing_bill(tuple(map(_bill, _rows(connection, bills, quote))))
        if standing is not None:
            return problem(MESSAGES, "bill.there", f"quote {bill.order[0]}", number=standing.bill.number)
        paid = tuple(_payment(row).payment for row in _rows(connection, payments, quote))
        return _given(connection, quote, replace(bill, paid=paid), series, now)


def give_credit(engine: Engine, identity: str, on: date, reason: str, series: str, now: str) -> KeptBill | Problem:
    """Take a bill back whole, once, by a credit note under the next number."""
    with writing(engine) as connection:
        row = connection.execute(select(bills).where(bills.c.id == identity)).one_or_none()
        if row is None:
            return UNKNOWN
        kept = _bill(row)
        before = connection.execute(select(bills.c.number).where(bills.c.corrects == row.number)).scalar_one_or_none()
        if before is not None:
            return problem(MESSAGES, "bill.credited", f"bill {row.number}", number=before)
        made = credit_of(kept.bill, on, reason)
        return made if isinstance(made, Problem) else _given(connection, kept.quote, made, series, now)


def take_payment(
    engine: Engine, quote: str, on: date, amount: Money, how: str, by: str, series: str, now: str
) -> KeptPayment:
    """Keep what was paid for an order, under the next number of receipts."""
    with writing(engine) as connection:
        payment = Payment(next_number(connection, series), on, amount, how, by)
        kept = KeptPayment(secrets.token_hex(ID_BYTES), quote, payment)
        values = {"id": kept.id, "number": payment.number, "quote": quote, "made": now, "record": to_data(payment)}
        connection.execute(insert(payments).values(**values))
        return kept


def bills_of(engine: Engine, quote: str) -> tuple[KeptBill, ...]:
    """The bills and credit notes of an order, in the order in which they were given."""
    with reading(engine) as connection:
        return tuple(map(_bill, _rows(connection, bills, quote)))


def payments_of(engine: Engine, quote: str) -> tuple[KeptPayment, ...]:
    """What was paid for an order so far."""
    with reading(engine) as connection:
        return tuple(map(_payment, _rows(connection, payments, quote)))


def find_bill(engine: Engine, identity: str) -> KeptBill | None:
    with reading(engine) as connection:
        row = connection.execute(select(bills).where(bills.c.id == identity)).one_or_none()
    return None if row is None else _bill(row)


def find_payment(engine: Engine, identity: str) -> KeptPayment | None:
    with reading(engine) as connection:
        row = connection.execute(select(payments).where(payments.c.id == identity)).one_or_none()
    return None if row is None else _payment(row)


def newest_bills(engine: Engine, after: Key | None = None) -> tuple[tuple[KeptBill, ...], Key | None]:
    """A page of the bills, the newest first, and the key of its last where there are more."""
    query = keyed(select(bills), bills.c.made, bills.c.number, after).limit(PAGE + 1)
    with reading(engine) as connection:
        rows, key = cut(list(connection.execute(query)), PAGE, lambda row: (row.made, row.number))
    return tuple(map(_bill, rows)), key


def standing_bill(found: tuple[KeptBill, ...]) -> KeptBill | None:
    """The bill of an order that no credit note took back; None where there is none."""
    back = {one.bill.corrects for one in found}
    return next((one for one in found if one.bill.kind == "bill" and one.bill.number not in back), None)


def _given(connection: Connection, quote: str, bill: Bill, series: str, now: str) -> KeptBill:
    numbered = replace(bill, number=next_number(connection, series))
    kept = KeptBill(secrets.token_hex(ID_BYTES), quote, numbered, now)
    values = {"id": kept.id, "number": numbered.number, "quote": quote, "kind": numbered.kind, "made": now}
    record = {"corrects": numbered.corrects, "record": to_data(numbered)}
    connection.execute(insert(bills).values(**values, **record))
    return kept


def next_number(connection: Connection, series: str) -> str:
    """The next number of a series; nobody else writes until this transaction ends."""
    last = connection.execute(select(number_series.c.last).where(number_series.c.name == series)).scalar_one_or_none()
    if last is None:
        connection.execute(insert(number_series).values(name=series, last=1))
    else:
        connection.execute(update(number_series).where(number_series.c.name == series).values(last=last + 1))
    return number_of(series, (last or 0) + 1)


def _rows(connection: Connection, table: Table, quote: str) -> list[Row[object]]:
    return list(connection.execute(select(table).where(table.c.quote == quote).order_by(table.c.made, table.c.number)))


def _bill(row: Row[object]) -> KeptBill:
    return KeptBill(row.id, row.quote, from_data(Bill, row.record), row.made)


def _payment(row: Row[object]) -> KeptPayment:
    return KeptPayment(row.id, row.quote, from_data(Payment, row.record))
