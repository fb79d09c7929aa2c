"""The bench's side of a quote: the work order, with what was agreed since, and hours and parts as they were."""

from dataclasses import replace
from functools import partial

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for

from ...basis.money import Money
from ...basis.problem import Problem, problem
from ...basis.show import number
from ...estimate.price import for_size
from ...quoting.consent import MESSAGES as CONSENT
from ...quoting.consent import beyond, first_wrong
from ...quoting.readings import told as told_reading
from ...quoting.readings import with_its_unit
from ...quoting.supplement import addable, offered_units
from ...quoting.work_order import (
    Task,
    WorkOrder,
    noted,
    started,
    stopped,
    with_more,
    with_shared,
    work_order,
)
from ...store.quotes import KeptQuote
from ...store.workshop.orders import begin_work, call_done, note_work
from ...wording.phrases import capital
from ..looking.pages import View, kept_or_404
from ..result.house_style import headed, pdf
from ..service import service
from ..workshop.history import service_on
from .family import agreed_more, answers_of, first_of, held_back, held_of, joint_of, second_quotes
from .quotes import quote_or_404, refused
from .readings import readings_of, with_readings
from .view import MESSAGES, told, typed_hours

bench = Blueprint("bench", __name__)


@bench.get("/quotes/<identity>/work")
def work(identity: str) -> View:
    """The work order: as it will be before the work begins, as noted from then on; of a second quote, the first's."""
    kept = quote_or_404(identity)
    if kept.quote.belongs_to:
        return redirect(url_for("bench.work", identity=first_of(kept).id))
    return _page(kept)


@bench.post("/quotes/<identity>/begin")
def begin(identity: str) -> View:
    kept = first_of(quote_or_404(identity))
    altered = _altered(kept)
    if altered:
        return refused(kept, (altered,))
    begun = begin_work(service().engine, kept.id, _order(kept), service().now())
    if isinstance(begun, Problem):
        return refused(kept, (begun,))
    return redirect(url_for("bench.work", identity=kept.id))


@bench.post("/quotes/<identity>/work")
def note(identity: str) -> View:
    """Keep the hours and parts that can be read; tell of those that cannot. With go=done the work is called done."""
    kept = first_of(quote_or_404(identity))
    told_of: list[Problem] = []
    family = _family(kept)
    saved = note_work(service().engine, kept.id, lambda now: _noted(_order(now), family, told_of), service().now())
    if isinstance(saved, Problem):
        return _page(kept, (saved,)), 409
    wrong = tuple(told_of)
    if not wrong and request.form.get("go") == "done":
        missing = ", ".join(task.say for task in _order(saved).tasks if task.hours is None)
        if not missing:
            done = call_done(service().engine, kept.id, service().now())
            wrong = (done,) if isinstance(done, Problem) else ()
        else:
            wrong = (problem(MESSAGES, "quote.hours_missing", jobs=missing),)
    if any(one.code == "quote.noted_meanwhile" for one in wrong):
        return _page(saved, wrong), 409
    return (_page(saved, wrong), 422) if wrong else redirect(url_for("bench.work", identity=kept.id))


@bench.get("/quotes/<identity>/work.pdf")
def paper(identity: str) -> Response:
    """The work order as a paper for the bench."""
    from ...papers.printing.pdf import PAPERS
    from ...papers.work_story import work_paper

    kept, size = first_of(quote_or_404(identity)), request.args.get("paper", "A4")
    if size not in PAPERS or not kept.chain:
        abort(404)
    rests_on = kept_or_404(kept.evaluation)
    about, order = service().shown(rests_on), _order(kept)
    bench_rows, units = readings_of(order, _family(kept)), service().shop.units.shown
    story = work_paper(order, kept.quote, about, kept.chain[-1], joint_of(kept), held_back(kept), bench_rows, units)
    return pdf(service().drawn(headed(story, rests_on), size), f"work-order-{kept.quote.number}.pdf")


def _altered(kept: KeptQuote) -> Problem | None:
    """What was changed after it was given, in the first or in a second quote."""
    for one in (kept, *agreed_more(kept)):
        which = first_wrong(one.quote, one.chain)
        if which is not None:
            return problem(CONSENT, "consent.altered", f"quote {one.quote.number}", which=which + 1)
    return None


def _family(kept: KeptQuote) -> str:
    return service().rubric(kept_or_404(kept.evaluation).rubric).family


def _order(kept: KeptQuote) -> WorkOrder:
    """The order as it was kept when the work began, or as the agreed lines make it, with what was agreed since."""
    evaluation = kept_or_404(kept.evaluation)
    rubric = service().rubric(evaluation.rubric)
    instrument, units = service().read(evaluation).case.instrument, service().shop.units.shown
    order = kept.work or work_order(rubric, instrument, kept.quote, answers_of(kept), units)
    for one in agreed_more(kept):
        order = with_more(order, rubric, instrument, one.quote, answers_of(one), units)
    return order


def _noted(order: WorkOrder, family: str, wrong: list[Problem]) -> WorkOrder:
    """The order with what the page changed; what cannot be read, or was noted otherwise meanwhile, stays as it was."""
    for task in order.tasks:
        hours = _hours(f"h-{task.job}", task.say, task.hours, wrong)
        parts = _changed(f"p-{task.job}", task.say, task.parts_used, wrong)[:400]
        order = _with(order, replace(task, hours=hours, parts_used=parts))
    noted_before = dict(order.shared_hours)
    for place, say in enumerate(order.shared):
        if f"s-{place}" in request.form:
            order = with_shared(order, say, _hours(f"s-{place}", say, noted_before.get(say), wrong))
    order = with_readings(order, family, service().shop.units.shown, _changed, wrong)
    clock, _, job = request.form.get("go", "").partition(":")
    run = {"start": started, "stop": stopped}.get(clock)
    return run(order, job, service().now()) if run else order


def _hours(name: str, say: str, now: float | None, wrong: list[Problem]) -> float | None:
    shown = number(now) if now is not None else ""
    text = _changed(name, say, shown, wrong)
    if text == shown:
        return now
    typed = typed_hours(text, say)
    if isinstance(typed, Problem):
        wrong.append(typed)
        return now
    return typed


def _changed(name: str, say: str, now: str, wrong: list[Problem]) -> str:
    """What stands in a field, if this page changed it; else what is noted now. `was-` holds what the page had shown."""
    typed = request.form.get(name, now).strip()
    was = request.form.get(f"was-{name}", now).strip()
    if typed in (was, now):
        return now
    if was != now:
        wrong.append(problem(MESSAGES, "quote.noted_meanwhile", say, now=now or "nothing", typed=typed))
        return now
    return typed


def _with(order: WorkOrder, task: Task) -> WorkOrder:
    if task.hours is not None:
        return noted(order, task.job, task.hours, task.parts_used)
    return replace(order, tasks=tuple(task if one.job == task.job else one for one in order.tasks))


def _adds(kept: KeptQuote, order: WorkOrder) -> dict[str, Money]:
    """What each job that is not agreed would add before tax, less what it takes the place of."""
    before = kept_or_404(kept.evaluation)
    rubric = for_size(service().rubric(before.rubric), service().result(before).instrument.size)
    begun = [task.job for task in order.tasks if task.hours is not None]
    if service().shop.currency != kept.quote.terms.currency:
        return {}
    found = addable(rubric, service().shop, held_of(kept), begun, offered_units(kept.quote))
    return {one.job: one.adds for one in found}


def _page(kept: KeptQuote, wrong: tuple[Problem, ...] = ()) -> str:
    evaluation, agreed = kept_or_404(kept.evaluation), kept.chain[-1] if kept.chain else None
    order, more = _order(kept), second_quotes(kept)
    besides = [one.chain[-1] for one in agreed_more(kept)]
    here = {task.job for task in order.tasks}
    extras = [one for one in kept.quote.extras if one.job not in here]
    adds = _adds(kept, order) if agreed and extras else {}
    stops = (
        {one.job: beyond(kept.quote, agreed, one.job, besides, adds.get(one.job)) for one in extras} if agreed else {}
    )
    return render_template(
        "quoting/work.html",
        kept=kept,
        quote=kept.quote,
        order=order,
        cautions=tuple(dict.fromkeys(text for task in order.tasks for text in task.cautions)),
        evaluation=evaluation,
        agreed=agreed,
        extras=extras,
        more=more,
        joint=joint_of(kept),
        held_back=held_back(kept),
        stops={job: capital(found.what) for job, found in stops.items() if found},
        wrong=told(wrong),
        form=request.form,
        measures=readings_of(order, _family(kept)),
        told_reading=partial(told_reading, units=service().shop.units.shown),
        units=service().shop.units.shown,
        with_its_unit=with_its_unit,
        service_on=service_on(kept),
    )
