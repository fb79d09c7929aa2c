"""Sixty instruments in one go from the browser: a ZIP or a sheet is sent, judged behind the page, and saved as a table,
as papers, or as evaluations here.
"""

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.problem import Message, Messages, Problem, problem
from ...exchange.evaluation_file import typed_from
from ...fleet.judging import Judge, data_of
from ...fleet.rows import as_csv
from ...fleet.running import Wanted
from ...fleet.sources import MOST_SHEET, Source, from_content
from ...fleet.template import template
from ...papers.story import READERS
from ...store.evaluations import create
from ...store.known_sales import whole_book
from ...valuation.sales.sales_book import SalesBook
from ...wording.names import ADVICE
from ..looking.pages import View
from ..service import service
from .jobs import MOST_INSTRUMENTS, Fleet

fleets = Blueprint("fleets", __name__)

MOST_NAME = 80
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MESSAGES: Messages = {
    "fleet.not_sent": Message("no file was sent.", "Choose a ZIP of evaluation files, or a sheet, and send it."),
    "fleet.no_kind": Message(
        '"{name}" is neither.', "Choose evaluation files (YAML, or a ZIP), or a sheet: XLSX, ODS or CSV."
    ),
    "fleet.sent_too_large": Message("the file is larger than {limit} MB.", "Split it."),
    "fleet.too_long": Message("it holds {count:,} instruments, more than {limit:,}.", "Split it."),
}


@fleets.get("/fleet")
def page() -> View:
    return _page()


@fleets.get("/fleet/sheets/<family>.xlsx")
def sheet(family: str) -> Response:
    """The sheet to fill in for one family."""
    if family not in service().families():
        abort(404)
    headers = {"Content-Disposition": f'attachment; filename="{family}s.xlsx"'}
    return Response(template(service().rubric(family)), mimetype=XLSX, headers=headers)


@fleets.post("/fleet")
def send() -> View:
    """Take a ZIP or a sheet in; what is wrong with the whole of it is told here, with one instrument in its line."""
    found = _sent()
    if isinstance(found, Problem):
        return _page(found), 422
    name, sources = found
    reader = request.form.get("papers", "")
    size = "A4" if service().shop.currency != "USD" else "Letter"
    wanted = Wanted(reader if reader in READERS else "", size, service().now()[:10])
    fleet = service().fleets.begin(name, sources, judge(), wanted)
    return redirect(url_for("fleets.judged", key=fleet.key))


def _sent() -> tuple[str, tuple[Source, ...]] | Problem:
    file = request.files.get("file")
    if file is None or not file.filename:
        return problem(MESSAGES, "fleet.not_sent", "the file")
    name = file.filename.replace("\\", "/").rpartition("/")[2][:MOST_NAME]
    content = file.read(MOST_SHEET + 1)
    if len(content) > MOST_SHEET:
        return problem(MESSAGES, "fleet.sent_too_large", name, limit=MOST_SHEET // 1_000_000)
    if not name.lower().endswith((".zip", ".xlsx", ".ods", ".csv", ".tsv", ".yaml", ".yml", ".json")):
        return problem(MESSAGES, "fleet.no_kind", "the file", name=name)
    sources = tuple(from_content(content, name))
    if len(sources) == 1 and sources[0].name == name and sources[0].problems:
        return sources[0].problems[0]
    if len(sources) > MOST_INSTRUMENTS:
        return problem(MESSAGES, "fleet.too_long", name, count=len(sources), limit=MOST_INSTRUMENTS)
    return name, sources


def judge() -> Judge:
    """By today's prices, the shop's own book and its own opinions, in this process and in others."""
    book = whole_book(service().engine)
    sales = SalesBook(book.sales, service().today(), leave_out_much=book.leave_out_much)
    return Judge(service().shop, _overlays(), book=sales)


def _overlays() -> tuple[str, ...]:
    return tuple(map(str, service().overlays_now))


@fleets.get("/fleet/<key>")
def judged(key: str) -> View:
    """How far it is, and what was found so far."""
    fleet = _fleet(key)
    return render_template("desk/judged.html", fleet=fleet, advice=ADVICE, count=len(fleet.sources))


@fleets.get("/fleet/<key>.csv")
def table(key: str) -> Response:
    headers = {"Content-Disposition": 'attachment; filename="fleet.csv"'}
    return Response(as_csv(_fleet(key).rows), mimetype="text/csv", headers=headers)


@fleets.get("/fleet/<key>.zip")
def papers(key: str) -> Response:
    """The papers of all that could be judged."""
    found = _fleet(key).papers
    if found is None:
        abort(404)
    headers = {"Content-Disposition": 'attachment; filename="papers.zip"'}
    return Response(found.read_bytes(), mimetype="application/zip", headers=headers)


@fleets.post("/fleet/<key>/keep")
def keep(key: str) -> View:
    """Put every instrument that could be read among the evaluations, once."""
    fleet = _fleet(key)
    if fleet.done and not fleet.kept:
        fleet.kept = True
        good = {row.file for row in fleet.good}
        for source in fleet.sources:
            data = data_of(source, _overlays()) if source.name in good else ()
            if not isinstance(data, tuple):
                create(service().engine, str(data["rubric"]), typed_from(data), service().now())
    return redirect(url_for("pages.front"))


def _fleet(key: str) -> Fleet:
    found = service().fleets.find(key)
    if found is None:
        abort(404)
    return found


def _page(wrong: Problem | None = None) -> str:
    return render_template("desk/fleet.html", families=service().families(), wrong=wrong)
