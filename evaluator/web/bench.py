"""The bench's side of a quote: the work order, hours and parts as they were, and what the shop learns from them."""

from dataclasses import replace
from datetime import date

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ..basis.message import problem
from ..basis.problem import Problem
from ..estimate.answers import Answers
from ..estimate.consent import MESSAGES as CONSENT
from ..estimate.consent import beyond, first_altered
from ..estimate.learning import Learnt, learnt
from ..estimate.work_order import Task, WorkOrder, next_service, noted, work_order
from ..rubric.rubric import Rubric
from ..store.quotes import KeptQuote, begin_work, hours_noted, move, note_work
from .pages import View, kept_or_404
from .quote_view import MESSAGES, told, typed_hours
from .quotes import pdf, quote_or_404, refused
from .service import case_of, service

bench = Blueprint("bench", __name__)


@bench.get("/quotes/<identity>/work")
def work(identity: str) -> View:
    """The work order: as it will be before the work begins, as noted from then on."""
    return _page(quote_or_404(identity))


@bench.post("/quotes/<identity>/begin")
def begin(identity: str) -> View:
    kept = quote_or_404(identity)
    altered = first_altered(kept.chain)
    if altered is not None:
        return refused(kept, (problem(CONSENT, "consent.altered", f"quote {kept.quote.number}", which=altered + 1),))
    begun = begin_work(service().engine, identity, _order(kept), service().now())
    if isinstance(begun, Problem):
        return refused(kept, (begun,))
    return redirect(url_for("bench.work", identity=identity))


@bench.post("/quotes/<identity>/work")
def note(identity: str) -> View:
    """Keep the hours and parts that can be read; tell of those that cannot. With go=done the work is called done."""
    kept = quote_or_404(identity)
    order, wrong = _noted(_order(kept))
    saved = note_work(service().engine, identity, order, service().now())
    if isinstance(saved, Problem):
        return _page(kept, (saved,)), 409
    if not wrong and request.form.get("go") == "done":
        missing = ", ".join(task.say for task in order.tasks if task.hours is None)
        if not missing:
            done = move(service().engine, identity, "done", service().now())
            wrong = (done,) if isinstance(done, Problem) else ()
        else:
            wrong = (problem(MESSAGES, "quote.hours_missing", jobs=missing),)
    return (_page(saved, wrong), 422) if wrong else redirect(url_for("bench.work", identity=identity))


@bench.get("/quotes/<identity>/work.pdf")
def paper(identity: str) -> Response:
    """The work order as a paper for the bench."""
    from ..report.pdf import PAPERS, draw
    from ..report.quote_story import work_paper

    kept, size = quote_or_404(identity), request.args.get("paper", "A4")
    if size not in PAPERS or not kept.chain:
        abort(404)
    about = service().snapshot(kept_or_404(kept.evaluation))
    story = work_paper(_order(kept), kept.quote, about, kept.chain[-1])
    return pdf(draw(story, size), f"work-order-{kept.quote.number}.pdf")


@bench.get("/hours")
def hours() -> View:
    """Catalogue, own record and the blend of both, for every job that was done here."""
    rows = []
    for job, own in hours_noted(service().engine).items():
        rubric = next((one for one in map(service().rubric, service().families()) if job in one.jobs), None)
        if rubric is not None:
            rows.append((rubric.jobs[job].say, _learnt(rubric, job, own)))
    return render_template("quote_hours.html", rows=rows)


def _learnt(rubric: Rubric, job: str, own: tuple[float, ...]) -> Learnt:
    return learnt(rubric.jobs[job].hours, own)


def _answers(kept: KeptQuote) -> Answers:
    return dict(kept.chain[-1].answers) if kept.chain else {}


def _order(kept: KeptQuote) -> WorkOrder:
    """The order as it was kept when the work began, or as the agreed lines make it."""
    if kept.work is not None:
        return kept.work
    evaluation = kept_or_404(kept.evaluation)
    rubric = service().rubric(evaluation.rubric)
    case, _ = case_of(rubric, evaluation.typed)
    return work_order(rubric, case.instrument, kept.quote, _answers(kept))


def _noted(order: WorkOrder) -> tuple[WorkOrder, tuple[Problem, ...]]:
    """The order with what was typed; hours that cannot be read stay as they were."""
    wrong: list[Problem] = []
    for task in order.tasks:
        typed = typed_hours(request.form.get(f"h-{task.job}", ""), task.say)
        parts = request.form.get(f"p-{task.job}", task.parts_used).strip()[:400]
        if isinstance(typed, Problem):
            wrong.append(typed)
            typed = task.hours
        order = _with(order, replace(task, hours=typed, parts_used=parts))
    return order, tuple(wrong)


def _with(order: WorkOrder, task: Task) -> WorkOrder:
    if task.hours is not None:
        return noted(order, task.job, task.hours, task.parts_used)
    return replace(order, tasks=tuple(task if one.job == task.job else one for one in order.tasks))


def _page(kept: KeptQuote, wrong: tuple[Problem, ...] = ()) -> str:
    evaluation, agreed = kept_or_404(kept.evaluation), kept.chain[-1] if kept.chain else None
    stops = {one.job: beyond(kept.quote, agreed, one.job) for one in kept.quote.extras} if agreed else {}
    order = _order(kept)
    months = service().shop.service_every_months
    return render_template(
        "quote_work.html",
        kept=kept,
        quote=kept.quote,
        order=order,
        cautions=tuple(dict.fromkeys(text for task in order.tasks for text in task.cautions)),
        evaluation=evaluation,
        agreed=agreed,
        stops={job: told((found,))[0] for job, found in stops.items() if found},
        wrong=told(wrong),
        form=request.form,
        service_on=next_service(date.fromisoformat(kept.changed[:10]), months),
    )
