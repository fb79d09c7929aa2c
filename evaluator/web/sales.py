"""The page of comparable sales: records typed or pasted, their adjustments as a table, and the ready value from them.

Nothing is kept but what is typed on the page; a bad row is named, and the good ones wait until that is decided.
"""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from flask import Blueprint, Response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from ..basis.problem import Problem
from ..report import sales_story
from ..store.evaluations import DRAFT, Conflict, Kept, save_start
from ..valuation.comparables import KIND_WORDS, Comparable, Reconciled, reconcile
from ..valuation.sales_file import COLUMNS, read_sales, write_sales
from ..valuation.trade_in import OPINION
from .decisions import drawn, pdf
from .pages import View, kept_or_404, sent_version
from .service import service

sales = Blueprint("sales", __name__)

FILE = "the list"
MOST_LETTERS = 400_000


@dataclass(frozen=True, slots=True)
class Sent:
    """What stands on the page, as typed, and what it comes to."""

    text: str
    on: date
    retention_text: str
    leave_out: bool
    good_only: bool
    currency: str
    found: Reconciled | None
    read: tuple[Comparable, ...]
    problems: tuple[Problem, ...]
    wrong: str | None


def _sent(kept: Kept) -> Sent:
    form = request.form
    text = _with_new_row(form.get("sales", "")[:MOST_LETTERS])
    on = date.fromisoformat(service().now()[:10])
    currency = kept.typed["start"].get("currency") or service().shop.currency
    retention_text = form.get("retention", "1").strip()[:12]
    retention, wrong = _share(retention_text)
    read, problems = read_sales(text, FILE, currency, on) if text.strip() else ((), ())
    leave_out, good_only = form.get("leave_out") == "yes", form.get("good_only") == "yes"
    ready = read and retention is not None and (good_only or not problems)
    found = reconcile(read, retention or 1.0, on, leave_out_much=leave_out) if ready else None
    return Sent(text, on, retention_text, leave_out, good_only, currency, found, read, problems, wrong)


def _share(text: str) -> tuple[float | None, str | None]:
    """A share of value from 0.01 to 1, or the sentence that says what is wrong."""
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if 0.01 <= value <= 1.0:
        return value, None
    return None, f'"{text}" is not a share. Write 1 for no lasting fault, 0.8 where a fifth of the value is gone.'


def _with_new_row(text: str) -> str:
    """The list with the row that was typed field by field below it; a column that the list lacks is added to it."""
    typed = {name: request.form.get(f"new_{name}", "").strip()[:200] for name in COLUMNS}
    if not (typed["name"] or typed["price"] or typed["sold_on"]):
        return text
    try:
        rows = [row for row in csv.reader(io.StringIO(text)) if row] or [list(COLUMNS)]
    except csv.Error:
        return f"{text}\n{_lines([list(typed.values())])}"
    head = [name.strip().lower() for name in rows[0]]
    missing = [name for name in COLUMNS if name not in head and typed[name]]
    rows = [rows[0] + missing, *(row + [""] * len(missing) for row in rows[1:])]
    return _lines([*rows, [typed.get(name, "") for name in [*head, *missing]]])


def _lines(rows: Sequence[Sequence[str]]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue()


@sales.route("/evaluations/<identity>/sales", methods=["GET", "POST"])
def page(identity: str) -> View:
    """The list, its mistakes, and what the sales come to; as CSV or PDF where that is asked for."""
    kept = kept_or_404(identity)
    sent = _sent(kept)
    go = request.form.get("go", "")
    if go == "csv" and sent.read:
        headers = {"Content-Disposition": 'attachment; filename="sales.csv"'}
        return Response(write_sales(sent.read), mimetype="text/csv", headers=headers)
    if go == "pdf" and sent.found is not None:
        shop = service().shop
        letterhead = "" if shop.is_default else shop.shop
        paper = sales_story.sales_paper(sent.found, kept.title or "", sent.currency, sent.on, letterhead)
        return pdf(paper, "sales.pdf")
    if go == "use" and sent.found is not None:
        return _use(kept, sent.found, sent.currency)
    page = render_template(
        "sales.html",
        kept=kept,
        sent=sent,
        said=sales_story,
        figure=drawn(sales_story.sales_rule(sent.found, 110.0)) if sent.found else "",
        problems=_told(sent.problems),
        kinds=KIND_WORDS,
        columns=COLUMNS,
        opinion=OPINION,
        draft=kept.state == DRAFT,
    )
    return (page, 422) if sent.wrong or (sent.problems and not sent.good_only) else page


def _told(problems: Sequence[Problem]) -> list[str]:
    """Each mistake with its line and column."""
    found = []
    for one in problems:
        place = f"Line {one.place.line}, column {one.place.column}: " if one.place and one.place.line else ""
        where = f"{one.where}: " if one.where else ""
        found.append(f"{place}{where}{one.what} {one.what_to_do}".strip())
    return found


def _use(kept: Kept, found: Reconciled, currency: str) -> AnyResponse | tuple[str, int]:
    """Put the value into the evaluation as its ready value; only a draft can change."""
    start = {**kept.typed["start"], "ready_value": f"{found.value:.0f}", "currency": currency}
    saved = save_start(service().engine, kept.id, sent_version(), start, service().now())
    if isinstance(saved, Conflict):
        return render_template("conflict.html", kept=saved.kept, mine={"Ready value": start["ready_value"]}), 409
    return redirect(url_for("results.result", identity=kept.id))
