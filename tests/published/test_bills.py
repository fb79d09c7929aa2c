"""What bills must carry by published rules, and how their sums hang together.

Sources, both by a digest (the texts themselves were not read): Directive 2006/112/EC, Article 226, what an invoice
carries; EN 16931, the totals of an invoice (BT-106 to BT-117). Which of it a place asks for is that place's own rule.
"""

from decimal import Decimal

import pytest

from evaluator.basis.money import Money, total_of
from evaluator.papers.bill_story import bill_paper
from evaluator.papers.printing.pdf import draw
from evaluator.quoting.billing.bill import Bill, Payment
from tests.papers.cases import text_of
from tests.quoting.billing.test_bill import ON, billed, order_of, usd
from tests.quoting.test_quote import quote_of


def bill_with(prices: str, paid: str = "40.00") -> Bill:
    from dataclasses import replace

    quote = quote_of(tax={"labour": 0.19, "parts": 0.07}, prices_shown=prices)
    order = replace(order_of(quote), payments=(Payment("R-1", ON, usd(paid), "cash", "Mother of Anna"),))
    return replace(billed(order), number="B2026-0007")


@pytest.mark.parametrize("prices", ["net", "gross"])
def test_article_226_what_an_invoice_carries(prices: str) -> None:
    bill = bill_with(prices)
    printed = text_of(draw(bill_paper(bill)))
    for what in (
        "20 March 2026",  # (1) the day it was given
        "B2026-0007",  # (2) a sequential number that is its own
        "XX 123",  # (3) the seller's number for tax
        "Bench and Bow", "1 Hill Lane", "Mother of Anna", "2 Mill Road",  # (5) both names and addresses
        "18 March 2026",  # (7) when it was done
        "19 %", "7 %",  # (9) the rates
    ):  # fmt: skip
        assert what in printed, what
    for line in bill.lines:
        assert line.say in printed  # (6) kind and amount of what was done
    for row in bill.taxes:
        assert f"{row.base.amount:,.2f}" in printed  # (8) what is taxed at each rate
        assert f"{row.tax.amount:,.2f}" in printed  # (10) the tax


def test_en_16931_totals() -> None:
    bill = bill_with("net")
    zero = Money(Decimal("0.00"), "USD")
    lines = total_of((line.labour + line.parts for line in bill.lines), "USD") + bill.haste + bill.least  # BT-106
    without_tax = lines - zero + zero  # BT-109 = BT-106 - BT-107 + BT-108
    tax = total_of((row.tax for row in bill.taxes), "USD")  # BT-110
    with_tax = without_tax + tax  # BT-112
    paid = total_of((one.amount for one in bill.paid), "USD")  # BT-113
    assert bill.net == without_tax
    assert bill.due == with_tax - paid + bill.rounding  # BT-115 = BT-112 - BT-113 + BT-114
    for row in bill.taxes:  # BT-117 = BT-116 x BT-119 / 100, to two decimals
        assert row.tax == row.base.times(row.rate).rounded()
