"""Bills in the database: numbers without gaps under many at once, given once, taken back once, never rewritten."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import Engine, delete, update
from sqlalchemy.exc import DBAPIError

from evaluator.basis.problem import Problem
from evaluator.store.engine import open_database, writing
from evaluator.store.evaluations import create
from evaluator.store.workshop.bills import (
    KeptBill,
    bills_of,
    find_bill,
    find_payment,
    give_bill,
    give_credit,
    newest_bills,
    payments_of,
    standing_bill,
    take_payment,
)
from evaluator.store.workshop.drafts import keep_draft
from evaluator.store.workshop.tables import bills
from tests.quoting.billing.test_bill import ON, billed, order_of, usd
from tests.quoting.test_quote import quote_of

NOW = "2026-03-20T09:00:00+00:00"
SERIES = "B2026-{number}"
BILL = billed(order_of(quote_of()))
AT_ONCE = 50


def order(engine: Engine) -> str:
    evaluation = create(engine, "violin", {"start": {}, "answers": {}}, NOW)
    return keep_draft(engine, evaluation, quote_of(), NOW)


def given(engine: Engine, quote: str) -> KeptBill:
    found = give_bill(engine, quote, BILL, SERIES, NOW)
    assert isinstance(found, KeptBill), found
    return found


def test_fifty_at_once_have_numbers_without_a_gap(engine: Engine, where: Path | str) -> None:
    orders = [order(engine) for _ in range(AT_ONCE)]
    others = [engine, open_database(where)]  # as two processes on one database
    with ThreadPoolExecutor(10) as people:
        found = list(people.map(lambda at: given(others[at % 2], orders[at]).bill.number, range(AT_ONCE)))
    others[1].dispose()
    assert sorted(found) == [f"B2026-{place:04d}" for place in range(1, AT_ONCE + 1)]


def test_a_refused_bill_leaves_no_gap(engine: Engine) -> None:
    first, second = order(engine), order(engine)
    given(engine, first)
    again = give_bill(engine, first, BILL, SERIES, NOW)
    assert isinstance(again, Problem) and again.code == "bill.there"
    assert given(engine, second).bill.number == "B2026-0002"


def test_of_many_who_bill_one_order_at_once_one_does(engine: Engine) -> None:
    quote = order(engine)
    with ThreadPoolExecutor(8) as people:
        found = list(people.map(lambda _: give_bill(engine, quote, BILL, SERIES, NOW), range(8)))
    assert sum(isinstance(one, KeptBill) for one in found) == 1


def test_a_credit_note_takes_back_once_and_then_a_new_bill_can_be_given(engine: Engine) -> None:
    quote = order(engine)
    first = given(engine, quote)
    note = give_credit(engine, first.id, ON, "Wrong name", SERIES, NOW)
    assert isinstance(note, KeptBill)
    assert (note.bill.number, note.bill.corrects) == ("B2026-0002", "B2026-0001")
    again = give_credit(engine, first.id, ON, "Wrong name", SERIES, NOW)
    assert isinstance(again, Problem) and again.code == "bill.credited"
    assert standing_bill(bills_of(engine, quote)) is None
    assert given(engine, quote).bill.number == "B2026-0003"
    assert [one.bill.number for one in newest_bills(engine)[0]] == ["B2026-0003", "B2026-0002", "B2026-0001"]
    kept = find_bill(engine, first.id)
    assert kept is not None and kept.bill == replace(BILL, number="B2026-0001")


def test_what_was_given_cannot_be_rewritten_or_removed(engine: Engine) -> None:
    given(engine, order(engine))
    for change in (update(bills).values(record={}), delete(bills)):
        with pytest.raises(DBAPIError, match="never changed"), writing(engine) as connection:
            connection.execute(change)


def test_payments_are_numbered_apart_and_come_off_the_bill(engine: Engine) -> None:
    quote = order(engine)
    paid = take_payment(engine, quote, date(2026, 3, 1), usd("50.00"), "cash", "Mother of Anna", "R{number}", NOW)
    assert paid.payment.number == "R0001"
    assert find_payment(engine, paid.id) == paid
    assert payments_of(engine, quote) == (paid,)
    bill = given(engine, quote).bill
    assert bill.paid == (paid.payment,) and bill.due + usd("50.00") == bill.total
    assert find_bill(engine, "none") is None and find_payment(engine, "none") is None
    missing = give_credit(engine, "none", ON, "x", SERIES, NOW)
    assert isinstance(missing, Problem) and missing.code == "bill.unknown"
