"""The page of one evaluation's comparable sales: those of the book that are alike, and how each was brought to it.

What is decided here (a sale set aside, a grade, the share that lasting faults leave) is kept with the draft. A finished
evaluation shows the table that was frozen with it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from ...assessment.observing.typed import SalesChosen
from ...basis.problem import Problem
from ...papers.valued import sales_story
from ...result.model.result import Result
from ...rubric.shop import Shop
from ...store.evaluations import DRAFT, Conflict, Kept, save_sales_choices, save_start
from ...valuation.sales.comparables import Comparable
from ...valuation.sales.sales_book import alike, brought_near
from ...valuation.sales.sales_file import write_sales
from ...wording.names import OPINION
from ..looking.pages import View, kept_or_404, sent_version
from ..result.house_style import headed_pdf
from ..service import service, typed_grade, typed_share
from .decisions import drawn

sales = Blueprint("sales", __name__)
NOTHING = SalesChosen()
GRADE_WORDS = "Write 1 for made as well, 1.1 where the one in hand is made a tenth better."
LIKELY = 0.5  # from there on the class goes with the sale
SHARE_WORDS = "Write 1 for no lasting fault, 0.8 where a fifth of the value is gone."


@dataclass(frozen=True, slots=True)
class Choice:
    """One sale of the like: whether it counts for this one, and its grade as typed and as it is without that."""

    sale: Comparable
    counts: bool
    grade_text: str
    usual_grade: float
    wrong: str = ""


@sales.get("/evaluations/<identity>/sales")
def page(identity: str) -> View:
    return _page(kept_or_404(identity), {})


@sales.post("/evaluations/<identity>/sales")
def choose(identity: str) -> View:
    """Keep what was decided about the sales; a share or grade that is none is told, and nothing is kept."""
    kept = kept_or_404(identity)
    chosen = _chosen(kept)
    wrong = _wrong(chosen)
    if wrong:
        return _page(kept, wrong, chosen)
    saved = save_sales_choices(service().engine, identity, sent_version(), chosen, service().now())
    if isinstance(saved, Conflict):
        return _page(
            saved.kept, {"": "Somebody else changed this evaluation meanwhile. Look again, then save."}, chosen
        )
    return redirect(url_for("sales.page", identity=identity))


def _chosen(kept: Kept) -> SalesChosen:
    """What the form says, over what was decided before about sales that the form did not show."""
    form, before = request.form, kept.typed.get("sales", NOTHING)
    shown = form.get("shown", "").split()
    set_aside = {key for key in before.get("set_aside", ()) if key not in shown}
    grades = {key: text for key, text in before.get("grades", {}).items() if key not in shown}
    for key in shown:
        if form.get(f"counts_{key}") != "yes":
            set_aside.add(key)
        if text := form.get(f"grade_{key}", "").strip()[:12]:
            grades[key] = text
    leave_out = "yes" if form.get("leave_out") == "yes" else "no"
    retention = form.get("retention", "").strip()[:12]
    return {"set_aside": sorted(set_aside), "grades": grades, "retention": retention, "leave_out": leave_out}


def _wrong(chosen: SalesChosen) -> dict[str, str]:
    """A sentence for each figure that cannot be read, by the key of its sale or by `retention`."""
    read = {key: typed_grade(text) for key, text in chosen["grades"].items()}
    wrong = {key: f"{one.what} {GRADE_WORDS}" for key, one in read.items() if isinstance(one, Problem)}
    share = typed_share(chosen["retention"])
    if isinstance(share, Problem):
        asked_back = share.code == "number.more_than_all"
        wrong["retention"] = f"{share.what} {share.what_to_do if asked_back else SHARE_WORDS}"
    return wrong


def _page(kept: Kept, wrong: Mapping[str, str], chosen: SalesChosen | None = None) -> View:
    result = service().result(kept)
    verdict, shop = result.verdict, service().shop
    found = verdict.known_sales
    draft = kept.state == DRAFT
    typed = chosen or kept.typed.get("sales", NOTHING)
    page = render_template(
        "choosing/sales.html",
        kept=kept,
        result=result,
        found=found,
        trusted=verdict.ready_value_kind == "comparables",
        few=sales_story.too_few_sentence(found, shop.sales.fewest) if found else "",
        lasting=sales_story.lasting_sentence(verdict.lasting),
        said=sales_story,
        figure=drawn(sales_story.sales_rule(found, 110.0)) if found else "",
        choices=_choices(kept, typed, wrong) if draft else [],
        leave_out=_leaves_out(kept, typed),
        typed=typed,
        wrong=wrong,
        currency=_currency(kept, shop),
        today=kept.changed if kept.state != DRAFT else service().now(),
        sold=_as_sold(kept, result, shop),
        fewest=shop.sales.fewest,
        opinion=OPINION,
        draft=draft,
    )
    return (page, 422) if wrong else page


def _currency(kept: Kept, shop: Shop) -> str:
    """A finished one keeps the money that it was frozen in."""
    return shop.currency if kept.frozen is None else service().result(kept).plan.currency


def _leaves_out(kept: Kept, typed: SalesChosen) -> bool:
    if "leave_out" in typed:
        return typed["leave_out"] == "yes"
    return service().book(kept).leave_out_much


def _choices(kept: Kept, typed: SalesChosen, wrong: Mapping[str, str]) -> list[Choice]:
    one = service().evaluation(kept)
    instrument = one.case.instrument
    reading = one.verdict.ready.reading
    set_aside, grades = set(typed.get("set_aside", ())), typed.get("grades", {})
    return [
        Choice(
            sale,
            sale.key not in set_aside,
            grades.get(sale.key, ""),
            brought_near(sale, reading, one.shop, instrument).grade,
            wrong.get(sale.key, ""),
        )
        for sale in alike(service().book(kept), one.rubric, instrument, one.shop)
    ]


def _as_sold(kept: Kept, result: Result, shop: Shop) -> dict[str, str]:
    """What the book would say of this very instrument, for the day that it is sold."""
    instrument = result.instrument
    made = result.domains.get("workmanship")
    lasting = result.verdict.lasting
    found = {
        "name": kept.title or "",
        "family": instrument.family,
        "size": instrument.size,
        "tier": instrument.tier,
        "kind": "dealer_sale",
        "currency": shop.currency,
    }
    if result.making.likeliest and result.making.shares[result.making.likeliest] >= LIKELY:
        found["making"] = result.making.likeliest
    if made:
        found["made"] = f"{made.after_work.expected:.0f}"
    if lasting and lasting.left < 1:
        found["retention"] = f"{lasting.left:.2f}"
    return found


@sales.post("/evaluations/<identity>/sales/own")
def use(identity: str) -> View | tuple[str, int]:
    """Take what few sales come to as the user's own figure; only a draft can change."""
    kept = kept_or_404(identity)
    found = service().result(kept).verdict.known_sales
    if found is None or found.value is None or kept.state != DRAFT:
        return redirect(url_for("sales.page", identity=identity))
    start = {**kept.typed["start"], "ready_value": f"{found.value:.0f}", "currency": service().shop.currency}
    saved = save_start(service().engine, kept.id, sent_version(), start, service().now())
    if isinstance(saved, Conflict):
        return _page(saved.kept, {"": "Somebody else changed this evaluation meanwhile. Look again, then press again."})
    return redirect(url_for("results.result", identity=kept.id))


@sales.get("/evaluations/<identity>/sales.pdf")
def paper(identity: str) -> AnyResponse:
    """The table on paper; back to the page where there is none."""
    kept = kept_or_404(identity)
    result, shop = service().result(kept), service().shop
    if not result.verdict.known_sales:
        return redirect(url_for("sales.page", identity=identity))
    on = kept.changed if kept.state != DRAFT else service().now()
    return headed_pdf(sales_story.sales_paper(result, on, _currency(kept, shop), shop.sales.fewest), "sales.pdf")


@sales.get("/evaluations/<identity>/sales.csv")
def as_csv(identity: str) -> Response:
    """The sales of the like as a list."""
    kept = kept_or_404(identity)
    if kept.state != DRAFT:
        abort(404)
    one = service().evaluation(kept)
    rows = alike(service().book(kept), one.rubric, one.case.instrument, one.shop)
    headers = {"Content-Disposition": 'attachment; filename="sales.csv"'}
    return Response(write_sales(rows), mimetype="text/csv", headers=headers)
