"""Bills: made of an order that is done, given once, taken back by a credit note; payments and their receipts."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.money import Money, total_of
from ...basis.problem import Problem, problem
from ...basis.typed.money import read_money
from ...papers.before_after import hours_sum
from ...quoting.answers import deposit, standing, totals
from ...quoting.billing.bill import (
    HOW_PAID,
    MESSAGES,
    RECEIPTS,
    Adjustment,
    Asked,
    Bill,
    Order,
    Payment,
    Seller,
    series_of,
)
from ...quoting.billing.booked import missing
from ...quoting.billing.making import bill_of, most_billed
from ...rubric.shop import Shop
from ...store.finding.listing import from_address, in_address
from ...store.people import note_deed
from ...store.quotes import KeptQuote, find_quote
from ...store.workshop.bills import (
    KeptBill,
    KeptPayment,
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
from ...store.workshop.customers import find_customer, find_instrument
from ...store.workshop.timeline import belongs_to
from ...wording import bills as words
from ...wording.words import instrument_line
from ..asked import day_typed
from ..looking.pages import View, kept_or_404
from ..people.doors import name_now
from ..quoting.family import agreed_more, answers_of, first_of, joint_of
from ..quoting.quotes import quote_or_404
from ..quoting.view import told
from ..result.house_style import dressed, pdf
from ..service import service

bills = Blueprint("bills", __name__)
ROWS = range(3)
MOST_WORDS = 200


@bills.get("/bills")
def every() -> str:
    """The bills, the newest first."""
    made, key = newest_bills(service().engine, from_address(request.args.get("after", "")))
    return render_template("workshop/bills.html", made=made, words=words, more=in_address(key))


@bills.get("/quotes/<identity>/bill")
def make(identity: str) -> View:
    """The bill as it would be given, with room for what came out otherwise; and what was paid so far."""
    return _make_page(first_of(quote_or_404(identity)))


@bills.post("/quotes/<identity>/bill")
def give(identity: str) -> View:
    """Look at the bill as typed, or give it under the next number."""
    kept = first_of(quote_or_404(identity))
    made = _bill_typed(kept)
    if isinstance(made, tuple):
        return _make_page(kept, made), 422
    if request.form.get("go") != "give":
        return _make_page(kept, bill=made)
    series = series_of(service().shop.bill_number, made.on)
    given = give_bill(service().engine, kept.id, made, series, service().now())
    if isinstance(given, Problem):
        return _make_page(kept, (given,)), 409
    note_deed(service().engine, service().now(), name_now(), "gave a bill", given.bill.number)
    return redirect(url_for("bills.bill", identity=given.id))


@bills.get("/bills/<identity>")
def bill(identity: str) -> str:
    return _bill_page(_bill_or_404(identity))


@bills.post("/bills/<identity>/credit")
def credit(identity: str) -> View:
    """Take the bill back by a credit note."""
    kept, today = _bill_or_404(identity), service().today()
    series = series_of(service().shop.bill_number, today)
    found = give_credit(
        service().engine, identity, today, request.form.get("reason", "")[:400], series, service().now()
    )
    if isinstance(found, Problem):
        return _bill_page(kept, (found,)), 409 if found.code == "bill.credited" else 422
    note_deed(service().engine, service().now(), name_now(), "gave a credit note", found.bill.number)
    return redirect(url_for("bills.bill", identity=found.id))


@bills.get("/bills/<identity>/bill.pdf")
def paper(identity: str) -> Response:
    from ...papers.bill_story import bill_paper, bill_xml
    from ...papers.printing.pdf import PAPERS

    kept, size = _bill_or_404(identity), request.args.get("paper", "A4")
    if size not in PAPERS:
        abort(404)
    paid = tuple(one.payment for one in payments_of(service().engine, kept.quote))
    name = kept.bill.number.replace("/", "-").replace(" ", "-")
    invoice = bill_xml(kept.bill, paid if kept.bill.kind == "bill" else ())
    rests_on = kept_or_404(quote_or_404(kept.quote).evaluation)
    return pdf(service().drawn(dressed(bill_paper(kept.bill, paid, invoice=invoice), rests_on), size), f"{name}.pdf")


@bills.post("/quotes/<identity>/payments")
def pay(identity: str) -> View:
    """Note a payment: a deposit before the work, or what is left on the bill."""
    kept, form = first_of(quote_or_404(identity)), request.form
    currency = kept.quote.terms.currency
    amount = read_money(form.get("amount", ""), currency, "Amount", above=True)
    if not form.get("amount", "").strip():
        amount = problem(MESSAGES, "pay.nothing")
    on = day_typed(form.get("on", ""))
    wrong = tuple(one for one in (amount, on) if isinstance(one, Problem))
    if isinstance(amount, Problem) or isinstance(on, Problem):
        return _make_page(kept, wrong), 422
    how = form.get("how", "cash") if form.get("how") in HOW_PAID else "other"
    by = form.get("by", "").strip()[:MOST_WORDS] or _who(kept).partition("\n")[0]
    series = series_of(RECEIPTS, on)
    take_payment(service().engine, kept.id, on, amount, how, by, series, service().now())
    note_deed(service().engine, service().now(), name_now(), "noted a payment", kept.quote.number)
    return redirect(url_for("bills.make", identity=kept.id))


@bills.get("/payments/<identity>/receipt.pdf")
def receipt(identity: str) -> Response:
    from ...papers.bill_story import receipt_paper

    found = find_payment(service().engine, identity)
    kept = find_quote(service().engine, found.quote) if found else None
    if found is None or kept is None:
        abort(404)
    stands = standing_bill(bills_of(service().engine, kept.id))
    number = stands.bill.number if stands and found.payment.on >= stands.bill.on else None
    rests_on = kept_or_404(kept.evaluation)
    about = f"Quote {kept.quote.number}, {rests_on.title or 'an instrument'}"
    story = receipt_paper(found.payment, _seller(service().shop), about, number)
    return pdf(service().drawn(dressed(story, rests_on)), f"receipt-{found.payment.number}.pdf")


def _bill_or_404(identity: str) -> KeptBill:
    kept = find_bill(service().engine, identity)
    if kept is None:
        abort(404)
    return kept


def _seller(shop: Shop) -> Seller:
    lines = tuple(line for line in (*shop.address, shop.telephone, shop.email) if line)
    more = (shop.address, shop.country, shop.bank_account, shop.no_tax_because)
    return Seller(shop.shop, lines, shop.tax_number, *more)


def _who(kept: KeptQuote) -> str:
    """Name and address of the owner's card, else who agreed."""
    instrument = find_instrument(service().engine, belongs_to(service().engine, kept.evaluation))
    owner = find_customer(service().engine, instrument.customer) if instrument else None
    if owner is not None:
        return f"{owner.name}\n{owner.record.get('address', '')}".strip()
    return kept.chain[-1].by if kept.chain else ""


def _order(kept: KeptQuote) -> Order:
    """What was agreed and done of an order."""
    shop, joint = service().shop, joint_of(kept)
    family = (kept, *agreed_more(kept))
    agreed, ceiling = (joint.agreed, joint.ceiling) if joint else (kept.chain[-1].total, kept.chain[-1].ceiling)
    result = service().result(kept_or_404(kept.evaluation))
    paid = tuple(one.payment for one in payments_of(service().engine, kept.id))
    return Order(
        parts=tuple((one.quote, answers_of(one)) for one in family),
        about=f"{result.title or 'Instrument'}: {instrument_line(result)}",
        done_on=date.fromisoformat(kept.changed[:10]),
        promised=agreed,
        most=most_billed(agreed, ceiling, shop.over_agreed.share, shop.over_agreed.amount),
        hours=hours_sum(kept.work) if kept.work else (None, 0.0),
        payments=paid,
    )


def _bill_typed(kept: KeptQuote) -> Bill | tuple[Problem, ...]:
    """The bill with what was typed, or all that speaks against it."""
    if kept.quote.state != "done":
        return (problem(MESSAGES, "bill.not_done", f"quote {kept.quote.number}"),)
    form, shop = request.form, service().shop
    found = [_adjustment(row, kept.quote.terms.currency) for row in ROWS]
    wrong = tuple(one for many in found if isinstance(many, tuple) for one in many)
    if wrong:
        return wrong
    adjustments = [one for one in found if isinstance(one, Adjustment)]
    buyer = form.get("buyer", "")[:1000].splitlines()
    note = form.get("note", "").strip()[:400] or None
    made = bill_of(_order(kept), adjustments, _seller(shop), buyer, service().today(), shop.pay_within_days, note)
    return replace(made, asked=_asked(), form=shop.bill_form) if isinstance(made, Bill) else made


def _asked() -> Asked:
    """What the buyer asks the bill to carry, as typed."""
    names = ("reference", "order", "country")
    reference, order, country = (request.form.get(name, "").strip()[:100] or None for name in names)
    return Asked(reference, order, country.upper() if country else None)


def _adjustment(row: int, currency: str) -> Adjustment | tuple[Problem, ...] | None:
    """What was typed in one row; None for an empty one."""
    texts = {name: request.form.get(f"{name}-{row}", "").strip() for name in ("say", "labour", "parts")}
    if not any(texts.values()):
        return None
    amounts = [
        read_money(texts[name] or "0", currency, f"{name.capitalize()} of “{texts['say'][:40]}”", least=None)
        for name in ("labour", "parts")
    ]
    wrong = tuple(one for one in amounts if isinstance(one, Problem))
    labour, parts = amounts
    if isinstance(labour, Problem) or isinstance(parts, Problem):
        return wrong
    return Adjustment(texts["say"][:MOST_WORDS], labour, parts)


def _make_page(kept: KeptQuote, wrong: tuple[Problem, ...] = (), bill: Bill | None = None) -> str:
    given = bills_of(service().engine, kept.id)
    paid = payments_of(service().engine, kept.id)
    return render_template(
        "workshop/make_bill.html",
        kept=kept,
        quote=kept.quote,
        evaluation=kept_or_404(kept.evaluation),
        given=given,
        stands=standing_bill(given),
        payments=paid,
        paid=_sum(paid, kept.quote.terms.currency),
        deposit=_deposit(kept),
        bill=bill,
        lacks=told(missing(bill)) if bill and bill.form == "xml" else (),
        as_xml=service().shop.bill_form == "xml",
        rows=ROWS,
        how_paid=HOW_PAID,
        buyer=request.form.get("buyer") or _who(kept),
        note=request.form.get("note", service().shop.bill_note or ""),
        form=request.form,
        wrong=told(wrong),
        words=words,
        today=service().today().isoformat(),
    )


def _deposit(kept: KeptQuote) -> Money | None:
    """What is due before the work begins; None before anything is agreed."""
    if not kept.chain:
        return None
    stands = standing(kept.quote, answers_of(kept))
    return deposit(kept.quote, totals(kept.quote, stands).total) if stands else None


def _sum(paid: tuple[KeptPayment, ...], currency: str) -> Money:
    return total_of((one.payment.amount for one in paid), currency)


def _bill_page(kept: KeptBill, wrong: tuple[Problem, ...] = ()) -> str:
    family = bills_of(service().engine, kept.quote)
    paid: tuple[Payment, ...] = tuple(one.payment for one in payments_of(service().engine, kept.quote))
    back: Mapping[str | None, KeptBill] = {one.bill.corrects: one for one in family if one.bill.corrects}
    due = kept.bill.total - total_of((one.amount for one in paid), kept.bill.total.currency)
    return render_template(
        "workshop/bill.html",
        kept=kept,
        bill=kept.bill,
        lacks=told(missing(kept.bill)) if kept.bill.form == "xml" else (),
        paid=paid if kept.bill.kind == "bill" else (),
        due=due,
        credit=back.get(kept.bill.number),
        form=request.form,
        wrong=told(wrong),
        words=words,
    )
