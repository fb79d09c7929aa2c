"""The page "Sales we know": the shop's own book of sales, listed, added to, corrected, and as CSV in and out.

A list with a bad row is imported only when that is decided: until then the rows wait on the page, and nothing of it is
kept.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from flask import Blueprint, Response, redirect, render_template, request, url_for

from ...basis.money import Money
from ...basis.problem import MOST_TOLD, Problem, first_told
from ...basis.typed.days import Order
from ...basis.typed.money import say
from ...store.known_sales import add_sales, choose_leave_out, last_batch, new_batch, take_back, whole_book
from ...valuation.sales.comparables import KIND_WORDS
from ...valuation.sales.sale_row import FAMILIES
from ...valuation.sales.sales_file import BOOK_NEEDED, COLUMNS, ReadRow, SheetRead, flagged, read_sheet, write_sales
from ...valuation.sales.sheets import as_csv as rows_as_csv
from ...valuation.sales.sheets import rows_of
from ...wording.names import OPINION
from ..looking.pages import View
from ..service import service
from .one_sale import COLUMN_NAMED, FILE, sizes

known_sales = Blueprint("known_sales", __name__)
MOST_LETTERS = 800_000
ORDERS: Mapping[str, Order] = {"day": "day_first", "month": "month_first"}


def told(problems: Sequence[Problem]) -> list[str]:
    """Each mistake of a list with its line and column."""
    found = []
    for one in problems:
        column, spot, place = COLUMN_NAMED.search(one.where), one.place, ""
        if spot and spot.line:
            named = f" ({column.group(1)})" if column else ""
            place = f"Line {spot.line}, column {spot.column}{named}: "
        where = f"{one.where}: " if one.where and not (place and column) else ""
        found.append(f"{place}{where}{one.what} {one.what_to_do}".strip())
    return found


# The list


@known_sales.get("/sales")
def book() -> View:
    return _list_page()


@dataclass(frozen=True, slots=True)
class Import:
    """A list on its way into the book: as text, how it was understood, and what stands out by line."""

    text: str
    read: SheetRead
    flags: Mapping[int, tuple[str, ...]]

    @property
    def shown(self) -> list[ReadRow]:
        """The rows that stand out, then the first others."""
        rows = sorted(self.read.rows, key=lambda row: row.line not in self.flags)
        return rows[:MOST_TOLD]


def _list_page(sent: Import | None = None, said: str = "") -> View:
    found = whole_book(service().engine)
    family = request.args.get("family", "")
    shown = [one for one in found.kept if family in ("", one.sale.family)]
    batch, count = last_batch(service().engine)
    page = (
        render_template(
            "choosing/known_sales.html",
            kept=shown,
            all=len(found.kept),
            families=[name for name in FAMILIES if any(one.sale.family == name for one in found.kept)],
            family=family,
            leave_out=found.leave_out_much,
            said=said,
            last=(batch, count),
            kinds=KIND_WORDS,
            columns=COLUMNS,
            shop=service().shop,
            opinion=OPINION,
        )
        if sent is None
        else _preview(sent)
    )
    return (page, 422) if sent and sent.read.problems else page


def _preview(sent: Import) -> str:
    """How the list was understood, row by row: nothing of it is in the book yet."""
    listed, more = first_told(sent.read.problems)
    return render_template(
        "choosing/sales_preview.html",
        sent=sent,
        problems=told(listed),
        more=more,
        two_days=any(one.code == "sales.two_days" for one in sent.read.problems),
        kinds=KIND_WORDS,
        shop=service().shop,
        price=read_as_price,
    )


def read_as_price(row: ReadRow) -> str:
    """'1.800 read as 1,800.00 USD', or the amount alone where nobody could read it otherwise."""
    amount = say(Money(Decimal(repr(row.sale.price)), row.sale.currency))
    plainly = re.fullmatch(r"[$€£]?([0-9]+|[0-9]{1,3}(,[0-9]{3})+)\.[0-9]{2}|[$€£]?[0-9]+", row.price_text)
    return amount if plainly else f"{row.price_text} read as {amount}"


@known_sales.post("/sales")
def import_list() -> View:
    """Show how a pasted or chosen sheet is understood; with go=good put its good rows into the book, in one step."""
    sent = _sent()
    if not sent.strip():
        return _list_page(said="Nothing was sent: paste a list, or choose a file.")
    shop, order = service().shop, ORDERS.get(request.form.get("order", ""))
    needed = tuple(name for name in BOOK_NEEDED if name != "currency")
    read = read_sheet(sent, FILE, shop.currency, service().today(), sizes(), needed, order)
    if not (read.rows and request.form.get("go") == "good"):
        flags = flagged(read.rows, whole_book(service().engine).sales)
        return _list_page(Import(waiting(sent), read, flags))
    new = add_sales(service().engine, [row.sale for row in read.rows], service().now(), new_batch())
    again = len(read.rows) - new
    put = f"{new} sale{'' if new == 1 else 's'} put into the book."
    return _list_page(said=put + (f" {again} stood there already." if again else ""))


@known_sales.post("/sales/undo")
def undo() -> View:
    """Take back, as one, the list that was put in last."""
    count = take_back(service().engine, request.form.get("batch", "")[:40])
    return _list_page(said=f"{count} sale{'' if count == 1 else 's'} taken out of the book again.")


def _sent() -> bytes | str:
    """The chosen file as it is, else the pasted list."""
    file = request.files.get("file")
    content = file.read(MOST_LETTERS) if file and file.filename else b""
    return content or request.form.get("list", "")[:MOST_LETTERS]


def waiting(sent: bytes | str) -> str:
    """The list as text, so that it can wait on the page: what was pasted as it is, a file as comma-separated text."""
    if isinstance(sent, str):
        return sent
    rows = rows_of(sent, FILE)
    return "" if isinstance(rows, Problem) else rows_as_csv(rows)


@known_sales.post("/sales/switch")
def switch() -> View:
    """Leave out, for every instrument, what had to be adjusted by more than half; or count it."""
    choose_leave_out(service().engine, request.form.get("leave_out") == "yes")
    return redirect(url_for("known_sales.book"))


@known_sales.get("/sales.csv")
def as_csv() -> Response:
    headers = {"Content-Disposition": 'attachment; filename="sales.csv"'}
    return Response(write_sales(whole_book(service().engine).sales), mimetype="text/csv", headers=headers)
