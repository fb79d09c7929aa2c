"""From a bill, a credit note or a payment to a paper's blocks. Arranges and words; computes no price."""

from collections.abc import Sequence

from ..basis import show
from ..basis.money import Money, total_of
from ..quoting.billing.bill import HOW_PAID, Bill, Payment, Seller
from ..wording.bills import due_words, paid_words, sums_of, taxes_in, title_of, took_sentence
from ..wording.quotes import cents, positive
from .blocks import Block, Column, Heading, Lead, Paper, Paragraph, Signature, TableBlock, Together

LINES = (Column("Work and parts", 0.6), Column("Number", 0.12, True), Column("Price", 0.28, True))
SUMS = (Column("", 0.72), Column("", 0.28, True))


def bill_paper(bill: Bill, payments: Sequence[Payment] | None = None, invoice: bytes = b"") -> Paper:
    """The bill as it was given; `payments` are those known now, where more came since; `invoice`: the same as XML."""
    paid = tuple(payments) if payments is not None else bill.paid
    due = bill.total - total_of((one.amount for one in paid), bill.total.currency)
    blocks: list[Block] = [
        *_seller(bill.seller),
        *(Paragraph(line, "strong" if not place else "body") for place, line in enumerate(bill.buyer)),
        Lead(_lead(bill, due)),
        Paragraph(_dates(bill)),
        *_asked(bill),
        Paragraph(bill.about, "soft"),
        *_reason(bill),
        _lines(bill),
        Together((_sums(bill, paid, due),)),
        *_closing(bill, due),
    ]
    title = title_of(bill)
    return Paper(title, bill.seller.name, title, tuple(blocks), day=bill.on.isoformat(), invoice=invoice, subject=title)


def receipt_paper(payment: Payment, seller: Seller, about: str, bill: str | None) -> Paper:
    """The receipt for one payment: number, day, who paid whom, for what, how much and how."""
    what = f"Bill {bill}" if bill else "Deposit before the work"
    rows = (
        ("Receipt", payment.number),
        ("Day", show.day(payment.on.isoformat())),
        ("Paid by", payment.by),
        ("Paid to", seller.name),
        ("For", f"{what}. {about}"),
        ("How", HOW_PAID.get(payment.how, payment.how)),
    )
    table = TableBlock((Column("", 0.25), Column("", 0.75)), (*rows, ("Amount", cents(payment.amount))), totals=1)
    closing = Together((Signature(("For the workshop", "Place and date")),))
    blocks = (*_seller(seller), Lead(f"{cents(payment.amount)} received, with thanks."), table, closing)
    title = f"Receipt {payment.number}"
    return Paper(title, seller.name, title, blocks, day=payment.on.isoformat())


def _seller(seller: Seller) -> list[Block]:
    lines = [*seller.lines, *([f"Tax number {seller.tax_number}"] if seller.tax_number else [])]
    return [Paragraph(" · ".join([seller.name, *lines]), "soft")]


def _lead(bill: Bill, due: Money) -> str:
    if bill.kind == "credit":
        return f"{title_of(bill)}: {cents(positive(bill.total))} taken back."
    return f"{title_of(bill)}: {cents(bill.total)}" + (", paid." if not due.amount else ".")


def _dates(bill: Bill) -> str:
    said = f"Given on {show.day(bill.on.isoformat())}. The work was done on {show.day(bill.done_on.isoformat())}, "
    return f"{said}as agreed in quote {' and '.join(bill.order)}."


def _asked(bill: Bill) -> list[Block]:
    """The buyer's own reference and order number."""
    named = (("Your reference", bill.asked.reference), ("Your order", bill.asked.order))
    said = [f"{name}: {text}" for name, text in named if text]
    return [Paragraph(" · ".join(said), "strong")] if said else []


def _reason(bill: Bill) -> list[Block]:
    if bill.kind != "credit":
        return []
    return [Paragraph(f"It takes back bill {bill.corrects} whole: {bill.reason}", "strong")]


def _lines(bill: Bill) -> TableBlock:
    rows = tuple((_said(bill, line.say, line.quote), str(line.units), cents(line.shown)) for line in bill.lines)
    return TableBlock(LINES, rows)


def _said(bill: Bill, say: str, quote: str | None) -> str:
    return f"{say}\nAgreed in quote {quote}." if quote and quote != bill.order[0] else say


def _sums(bill: Bill, paid: Sequence[Payment], due: Money) -> TableBlock:
    rows = [*sums_of(bill), ("Total", cents(bill.total)), *taxes_in(bill)]
    if bill.kind == "bill":
        rows += [(paid_words(one), cents(_taken(one.amount))) for one in paid]
        rows += [(due_words(due), cents(positive(due)))] if paid else []
    return TableBlock(SUMS, tuple(rows), totals=len(rows) - len(sums_of(bill)))


def _taken(amount: Money) -> Money:
    return Money(-amount.amount, amount.currency)


def _closing(bill: Bill, due: Money) -> list[Block]:
    blocks: list[Block] = []
    if bill.kind == "bill":
        blocks = [Heading("What was promised, and what it took", 2), Paragraph(took_sentence(bill))]
        if due.amount > 0:
            blocks.append(Paragraph(f"Please pay {cents(due)} by {show.day(bill.pay_until.isoformat())}.", "strong"))
    return [*blocks, *(Paragraph(text) for text in (_untaxed(bill), _account(bill), bill.note) if text)]


def _untaxed(bill: Bill) -> str:
    """Why no tax is charged, where none is."""
    return bill.seller.no_tax_because or "" if any(not row.rate for row in bill.taxes) else ""


def _account(bill: Bill) -> str:
    return f"Bank account: {bill.seller.account}" if bill.seller.account and bill.kind == "bill" else ""
