"""The shop's own stock: what each cost so far, its tag, and its sale, which goes into the known sales."""

import re
from collections.abc import Sequence
from datetime import date

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.money import Money, total_of
from ...basis.problem import Problem
from ...basis.typed.days import days_of
from ...basis.typed.money import read_money
from ...choosing.stock import Item, marked, sale_of, sold, with_cost
from ...store.desk.offers import KeptItem, change_item, find_item, listed_stock
from ...store.finding.listing import from_address, in_address
from ...store.known_sales import add_sales
from ..asked import sentence
from ..looking.pages import View, sent_version
from ..result.house_style import pdf
from ..service import service

stock = Blueprint("stock", __name__)
MOST_SAY = 120
MOST_SCANNED = 300
_TAG = re.compile(r"/stock/([0-9a-f]{12})/?$")


@stock.get("/stock")
def every() -> View:
    """What is here, with its cost and its price, and what was sold. A scanned tag, or its whole number, leads to it."""
    wanted = request.args.get("find", "").strip()[:MOST_SCANNED]
    tagged = _by_tag(wanted)
    if tagged is not None:
        return redirect(url_for("stock.item", key=tagged.id))
    wanted = wanted[:60]
    here, gone, key = listed_stock(service().engine, wanted, from_address(request.args.get("after", "")))
    return render_template(
        "desk/stock.html",
        here=here,
        gone=gone,
        more=in_address(key),
        wanted=wanted,
        cost=total_of((one.item.cost for one in here), service().shop.currency) if _one_currency(here) else None,
    )


def _by_tag(text: str) -> KeptItem | None:
    """The item that a tag names, as a scanner types it: the address of its code, or its number."""
    code = _TAG.search(text)
    if code is not None:
        return find_item(service().engine, code[1])
    here, gone, _ = listed_stock(service().engine, text) if text else ((), (), None)
    return next((one for one in (*here, *gone) if one.item.number.lower() == text.lower()), None)


@stock.get("/stock/<key>")
def item(key: str) -> View:
    return _page(_kept(key))


@stock.get("/stock/<key>/tag.pdf")
def tag(key: str) -> Response:
    """The tag to print: number, name, price, and a code that leads here."""
    from ...papers.printing.tag import tag_pdf

    kept = _kept(key)
    address = service().house.link(url_for("stock.item", key=key))
    return pdf(tag_pdf(kept.item, address), f"tag-{kept.item.number}.pdf")


@stock.post("/stock/<key>/cost")
def add_cost(key: str) -> View:
    kept, say = _kept(key), " ".join(request.form.get("say", "").split())[:MOST_SAY]
    amount = _amount("amount", kept)
    if not say:
        return _page(kept, {"say": "Say what it was for."}), 422
    if isinstance(amount, Problem):
        return _page(kept, {"amount": sentence(amount)}), 422
    return _changed(kept, with_cost(kept.item, service().today(), say, amount), "amount")


@stock.post("/stock/<key>/price")
def mark(key: str) -> View:
    kept = _kept(key)
    price = _amount("price", kept)
    if isinstance(price, Problem):
        return _page(kept, {"price": sentence(price)}), 422
    return _changed(kept, marked(kept.item, price), "price")


@stock.post("/stock/<key>/sold")
def sell(key: str) -> View:
    """Sold: the sale goes into the book of known sales."""
    kept = _kept(key)
    price, day = _amount("sold_for", kept), _day(request.form.get("sold_on", ""))
    if day is None:
        return _page(kept, {"sold_on": "Enter the day, as 2026-03-31."}), 422
    if isinstance(price, Problem):
        return _page(kept, {"sold_for": sentence(price)}), 422
    found = sold(kept.item, day, price, service().today())
    if isinstance(found, Problem):
        return _page(kept, {"sold_on": sentence(found)}), 422
    saved = change_item(service().engine, kept.id, sent_version(), found)
    if isinstance(saved, Problem):
        return _page(kept, {"sold_on": sentence(saved)}), 409
    add_sales(service().engine, [sale_of(found)], service().now())
    return redirect(url_for("stock.item", key=key))


def _changed(kept: KeptItem, found: Item | Problem, field: str) -> View:
    saved = found if isinstance(found, Problem) else change_item(service().engine, kept.id, sent_version(), found)
    if isinstance(saved, Problem):
        return _page(kept, {field: sentence(saved)}), 409
    return redirect(url_for("stock.item", key=kept.id))


def _amount(name: str, kept: KeptItem) -> Money | Problem:
    currency = kept.item.costs[0].amount.currency
    return read_money(request.form.get(name, "")[:40], currency, most=1e9, above=True)


def _day(text: str) -> date | None:
    found = days_of(text[:40])
    return found[0] if len(found) == 1 else None


def _one_currency(items: Sequence[KeptItem]) -> bool:
    return {one.item.cost.currency for one in items} == {service().shop.currency}


def _kept(key: str) -> KeptItem:
    found = find_item(service().engine, key)
    if found is None:
        abort(404)
    return found


def _page(kept: KeptItem, wrong: dict[str, str] | None = None) -> str:
    return render_template(
        "desk/item.html",
        kept=kept,
        item=kept.item,
        wrong=wrong or {},
        typed=request.form,
        today=service().today().isoformat(),
    )
