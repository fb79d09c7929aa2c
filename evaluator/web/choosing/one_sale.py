"""One known sale on a page of its own: added, corrected, taken out."""

import csv
import io
import re
from collections.abc import Mapping
from datetime import date

from flask import Blueprint, abort, redirect, render_template, request, url_for

from ...basis.problem import Problem
from ...basis.show import number
from ...store.known_sales import KeptSale, add_sales, correct_sale, remove_sale, whole_book
from ...valuation.sales.comparables import KIND_WORDS, Comparable
from ...valuation.sales.sale_row import FAMILIES, MAKINGS, TIERS
from ...valuation.sales.sales_file import BOOK_NEEDED, COLUMNS, read_sales
from ..looking.pages import View, sent_version
from ..service import service

one_sale = Blueprint("one_sale", __name__)
FILE = "the list"
MOST_CELL = 400
DIFFERED = ("made", "retention", "extras", "set_up", "grade", "note")  # they stand folded away on the form
_CHOSEN = ("kind", "family", "tier")
COLUMN_NAMED = re.compile(r'column "(\w+)"')


def sizes() -> dict[str, tuple[str, ...]]:
    """The sizes of each family."""
    return {name: service().rubric(name).sizes for name in service().families()}


@one_sale.route("/sales/new", methods=["GET", "POST"])
def new() -> View:
    """Add one; the address may say what it was, where a page about such an instrument leads here."""
    if request.method == "GET":
        return _sale_page(None, {"currency": service().shop.currency, **_cells(request.args)}, {})
    cells = _cells(request.form)
    sale, wrong = _read(cells)
    if sale is None:
        return _sale_page(None, cells, wrong)
    add_sales(service().engine, [sale], service().now())
    return redirect(_back())


@one_sale.route("/sales/<key>", methods=["GET", "POST"])
def correct(key: str) -> View:
    """Correct one; where somebody else did so meanwhile, what was typed stays on the page and nothing is written."""
    kept = _kept_or_404(key)
    if request.method == "GET":
        return _sale_page(kept, _as_cells(kept.sale), {})
    cells = _cells(request.form)
    sale, wrong = _read(cells)
    if sale is None:
        return _sale_page(kept, cells, wrong)
    if not correct_sale(service().engine, key, sent_version(), sale, service().now()):
        return _sale_page(kept, cells, {"": "Somebody else corrected it meanwhile. Look at it again, then save."})
    return redirect(url_for("known_sales.book"))


@one_sale.post("/sales/<key>/remove")
def remove(key: str) -> View:
    kept = _kept_or_404(key)
    if not remove_sale(service().engine, key, sent_version()):
        return _sale_page(kept, _as_cells(kept.sale), {"": "Somebody else corrected it meanwhile. Look at it again."})
    return redirect(url_for("known_sales.book"))


def _kept_or_404(key: str) -> KeptSale:
    kept = whole_book(service().engine).find(key)
    if kept is None:
        abort(404)
    return kept


def _cells(sent: Mapping[str, str]) -> dict[str, str]:
    return {name: sent.get(name, "").strip()[:MOST_CELL] for name in COLUMNS if sent.get(name)}


def _as_cells(sale: Comparable) -> dict[str, str]:
    """A kept sale as it would be typed: figures that say nothing stay empty."""
    usual = {"extras": 0.0, "grade": 1.0, "retention": 1.0, "set_up": 0.0}
    cells: dict[str, str] = {}
    for name in COLUMNS:
        value: object = getattr(sale, name)
        if value in (None, "") or value == usual.get(name):
            continue
        if isinstance(value, date):
            cells[name] = value.isoformat()
        else:
            cells[name] = number(value, 4).replace(",", "") if isinstance(value, float) else str(value)
    return cells


def _read(cells: Mapping[str, str]) -> tuple[Comparable | None, dict[str, str]]:
    """The sale from typed cells, or a sentence for each that is wrong; read as a list of one row is."""
    out = io.StringIO()
    csv.writer(out).writerows([COLUMNS, [cells.get(name, "") for name in COLUMNS]])
    shop = service().shop
    read, problems = read_sales(out.getvalue(), FILE, shop.currency, service().today(), sizes(), BOOK_NEEDED)
    wrong: dict[str, str] = {}
    for one in problems:
        column = COLUMN_NAMED.search(one.where)
        name = column.group(1) if column else ""
        wrong.setdefault(name, "Choose one." if name in _CHOSEN and not cells.get(name) else _sentence(one))
    return (read[0] if read and not problems else None), wrong


def _sentence(one: Problem) -> str:
    text = f"{one.what} {one.what_to_do}".strip()
    return text[:1].upper() + text[1:]


def _back() -> str:
    """To the evaluation that led here, else to the book."""
    identity = request.form.get("back", "")
    if re.fullmatch(r"[0-9a-f]{4,16}", identity):
        return url_for("sales.page", identity=identity)
    return url_for("known_sales.book")


def _sale_page(kept: KeptSale | None, cells: Mapping[str, str], wrong: Mapping[str, str]) -> View:
    page = render_template(
        "choosing/known_sale.html",
        kept=kept,
        cells=cells,
        wrong=wrong,
        kinds=[(kind, say.capitalize()) for kind, say in KIND_WORDS.items()],
        families=[(name, name.capitalize()) for name in FAMILIES],
        tiers=[(name, name.capitalize()) for name in TIERS],
        makings=[(name, name.replace("_", " ").capitalize()) for name in MAKINGS],
        differs=any(cells.get(name) or name in wrong for name in DIFFERED),
        sizes=sizes(),
        currency=service().shop.currency,
        back=request.values.get("back", ""),
    )
    return (page, 422) if wrong else page
