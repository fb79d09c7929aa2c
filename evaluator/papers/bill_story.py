"""From a bill, a credit note or a payment to a paper's blocks, and to the XML that travels within the paper (EN 16931
as a Cross Industry Invoice, the profile of Factur-X). Arranges and words; computes no price.

The library writes the XML and holds it against its schema. It could also ask a server about the standard's rules: that
is turned off, for no bill leaves the computer by itself; tests hold the rules.
"""

from collections.abc import Sequence

from ..basis import show
from ..basis.money import Money, total_of
from ..quoting.billing.bill import HOW_PAID, Bill, Payment, Seller
from ..quoting.billing.booked import missing, terms_of
from ..wording.bills import due_words, paid_words, sums_of, taxes_in, title_of, took_sentence
from ..wording.quotes import cents, positive
from .blocks import Block, Column, Heading, Lead, Paper, Paragraph, Signature, TableBlock, Together
from .printing.tagged.metadata import clean

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


def bill_xml(bill: Bill, paid: Sequence[Payment]) -> bytes:
    """The file; empty where the bill is not given so, or lacks what the standard asks for (`missing` says what)."""
    if bill.form != "xml" or missing(bill):
        return b""
    from facturx import generate_cii_xml

    made: bytes = generate_cii_xml(_cleaned(terms_of(bill, paid)), level="en16931", check_schematron=None)
    return made


def _cleaned(value: object) -> object:
    """The terms with no character that XML does not take; a copy, for the library writes into what it is given."""
    if isinstance(value, dict):
        return {name: _cleaned(one) for name, one in value.items()}
    if isinstance(value, list):
        return [_cleaned(one) for one in value]
    return clean(value) if isinstance(value, str) else value


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
