"""The year in figures: each finding with its plot, its table and its CSV, and all on one paper."""

import csv
import io
from dataclasses import dataclass

from flask import Blueprint, Response, abort, render_template, request
from markupsafe import Markup

from ...figures.svg import svg
from ...figures.year import year_figure
from ...result.model.result import Result
from ...store.desk.offers import all_offers, all_stock
from ...store.desk.year import finished_in, mark, orders_of, years
from ...store.evaluations import find
from ...valuation.sales.sheets import guarded
from ...yearly.foretold import Pair, foretold, pairs_of
from ...yearly.standards import GROUPS, by_group, standards
from ...yearly.tables import YearTable
from ...yearly.trade import hours, offers, open_work, stock
from ..looking.pages import View
from ..remembered import Remembered
from ..result.house_style import headed_pdf
from ..service import service

year = Blueprint("year", __name__)
_made: Remembered[tuple[str, ...], "Year"] = Remembered(4)


@dataclass(frozen=True, slots=True)
class Year:
    """A year's tables, and how many instruments were finished in it."""

    tables: tuple[YearTable, ...]
    count: int


@year.get("/year")
def page() -> View:
    chosen = _chosen()
    made = _year(chosen)
    told = [table for table in made.tables if table.rows or not table.name.startswith("standards_by_")]
    shown = [(table, Markup(svg(figure, "rule")) if (figure := year_figure(table)) else "") for table in told]
    known = sorted({*years(service().engine), str(service().today().year)}, reverse=True)
    return render_template("desk/year.html", year=chosen, years=known, shown=shown, count=made.count)


@year.get("/year/<name>.csv")
def table(name: str) -> Response:
    """One finding as a table for a spreadsheet."""
    found = next((one for one in _year(_chosen()).tables if one.name == name), None)
    if found is None:
        abort(404)
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerows([guarded(cell) for cell in row] for row in (found.columns, *found.rows))
    headers = {"Content-Disposition": f'attachment; filename="{_chosen()}-{name}.csv"'}
    return Response(out.getvalue(), mimetype="text/csv", headers=headers)


@year.get("/year.pdf")
def paper() -> Response:
    from ...papers.shop_story import year_paper

    chosen, shop = _chosen(), service().shop
    made = _year(chosen)
    lead = f"{made.count} instruments were finished in {chosen}."
    letterhead = "" if shop.is_default else shop.shop
    return headed_pdf(year_paper(made.tables, chosen, letterhead, lead), f"year-{chosen}.pdf")


def _chosen() -> str:
    text = request.args.get("year", "") or str(service().today().year)
    if len(text) != 4 or not (text.isascii() and text.isdigit()):
        abort(404)
    return text


def _year(chosen: str) -> Year:
    """The tables of a year, worked out anew only where something changed."""
    here = service()
    stands = "|".join(f"{one.id}{one.version}" for one in all_stock(here.engine))
    said = "|".join(f"{one.id}{one.letter.state}" for one in all_offers(here.engine))
    key = (str(here.engine.url), chosen, *map(str, mark(here.engine)), stands, said)
    return _made.of(key, lambda: _worked_out(chosen))


def _worked_out(chosen: str) -> Year:
    here = service()
    results: list[Result] = []
    pairs: list[Pair] = []
    for kept in finished_in(here.engine, chosen):
        found = here.result(kept)
        results.append(found)
        before = find(here.engine, kept.made_from) if kept.made_from else None
        if before is not None and before.frozen is not None:
            pairs += pairs_of(here.result(before), found)
    currency, bench = here.shop.currency, here.shop.buying.bench_cost_per_hour
    items = [one.item for one in all_stock(here.engine)]
    sold = [one for one in items if one.sold_on is not None and str(one.sold_on.year) == chosen]
    letters = [one.letter for one in all_offers(here.engine) if str(one.letter.made_on.year) == chosen]
    tables = (
        standards(results),
        *(by_group(results, group) for group in GROUPS),
        hours(orders_of(here.engine, chosen), bench, currency),
        open_work(orders_of(here.engine), currency),
        stock(items, currency),
        offers(letters, sold, currency),
        foretold(pairs),
    )
    return Year(tables, len(results))
