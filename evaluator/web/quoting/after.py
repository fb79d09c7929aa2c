"""When the work is done: the instrument looked at again, before and after side by side, and the next service."""

from collections.abc import Callable
from datetime import date
from functools import partial

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for
from markupsafe import Markup

from ...assessment.observing.typed import Typed
from ...choosing.ownership import calendar_text
from ...figures.domains import domain_rule
from ...figures.shapes import Figure
from ...figures.svg import svg
from ...papers.before_after import BeforeAfter, before_after, hours_sum, score_figure, to_look_at, worked
from ...quoting.readings import told as told_reading
from ...store.evaluations import DRAFT, Kept, create, newest_made_from
from ...store.quotes import KeptQuote
from ...store.workshop.timeline import belongs_to, put_to
from ..looking.pages import View, kept_or_404
from ..result.house_style import headed, pdf
from ..result.pictures import PHONE_MM, WIDE_MM
from ..service import service
from ..workshop.history import service_on
from .family import first_of, joint_of
from .quotes import quote_or_404

after = Blueprint("after", __name__)


@after.get("/quotes/<identity>/after")
def page(identity: str) -> View:
    """Before and after; until somebody has looked again, hours and parts alone."""
    kept = first_of(quote_or_404(identity))
    if kept.quote.state != "done" or kept.work is None:
        return redirect(url_for("bench.work", identity=kept.id))
    before, again = kept_or_404(kept.evaluation), _again(kept)
    found = before_after(service().shown(before), service().shown(again)) if again else None
    return render_template(
        "quoting/after.html",
        kept=kept,
        quote=kept.quote,
        before=before,
        again=again,
        draft=again is not None and again.state == DRAFT,
        found=found,
        figures=_drawn(found, score_figure) if found else "",
        domains=_drawn(found, lambda one, width: domain_rule(one.domains, width)) if found else "",
        waiting=_waiting(kept, before, again),
        worked=worked(kept.work),
        hours=hours_sum(kept.work),
        joint=joint_of(kept),
        agreed=kept.chain[-1],
        service_on=service_on(kept),
        told_reading=partial(told_reading, units=service().shop.units.shown),
    )


@after.post("/quotes/<identity>/again")
def again(identity: str) -> View:
    """A new draft with the answers that the work cannot have changed; one that is open already is gone on with."""
    kept = first_of(quote_or_404(identity))
    if kept.quote.state != "done" or kept.work is None:
        return redirect(url_for("bench.work", identity=kept.id))
    open_ = _again(kept)
    if open_ is None or open_.state != DRAFT:
        before = kept_or_404(kept.evaluation)
        anew = _changed_by_work(kept, before)
        answers = {name: answer for name, answer in before.typed["answers"].items() if name not in anew}
        typed: Typed = {"start": before.typed["start"], "answers": answers}
        made = create(service().engine, before.rubric, typed, service().now(), made_from=before.id)
        put_to(service().engine, made, belongs_to(service().engine, before.id))
    return redirect(url_for("after.page", identity=kept.id))


@after.get("/quotes/<identity>/after.pdf")
def paper(identity: str) -> Response:
    """What was done and what it changed, as a paper to go home with the instrument."""
    kept = first_of(quote_or_404(identity))
    if kept.quote.state != "done" or kept.work is None:
        abort(404)
    return after_pdf(kept)


def after_pdf(kept: KeptQuote) -> Response:
    """The paper of a quote whose work is done; before and after once the second look is finished."""
    from ...papers.after_story import after_paper
    from ...papers.printing.pdf import PAPERS

    size = request.args.get("paper", "A4")
    if size not in PAPERS or kept.work is None:
        abort(404)
    before, now = kept_or_404(kept.evaluation), _again(kept)
    result = service().shown(before)
    found = before_after(result, service().shown(now)) if now and now.state != DRAFT else None
    units = service().shop.units.shown
    story = after_paper(
        kept.work, kept.quote, result, kept.chain[-1], joint_of(kept), found, kept.changed, service_on(kept), units
    )
    return pdf(service().drawn(headed(story, before), size), f"done-{kept.quote.number}.pdf")


@after.get("/quotes/<identity>/service.ics")
def calendar(identity: str) -> Response:
    """The next service as a calendar file."""
    kept = first_of(quote_or_404(identity))
    title = f"Service: {kept_or_404(kept.evaluation).title or 'the instrument'}"
    text = calendar_text((service_on(kept),), title, date.fromisoformat(service().now()[:10]))
    headers = {"Content-Disposition": f'attachment; filename="service-{kept.quote.number}.ics"'}
    return Response(text, mimetype="text/calendar", headers=headers)


def _drawn(found: BeforeAfter, figure: Callable[[BeforeAfter, float], Figure]) -> Markup:
    """The figure in its wide and in its narrow form; the style sheet shows one of them."""
    wide, narrow = figure(found, WIDE_MM), figure(found, PHONE_MM)
    return Markup(svg(wide, "rule wide") + svg(narrow, "rule narrow"))


def _again(kept: KeptQuote) -> Kept | None:
    """The newest evaluation that was begun from this quote's since its work was done."""
    return newest_made_from(service().engine, kept.evaluation, kept.changed)


def _changed_by_work(kept: KeptQuote, before: Kept) -> tuple[str, ...]:
    assert kept.work is not None, "work that is done was noted"
    jobs = {task.job for task in kept.work.tasks}
    return to_look_at(service().rubric(before.rubric).checks, before.typed["answers"], jobs)


def _waiting(kept: KeptQuote, before: Kept, now: Kept | None) -> list[tuple[str, str, str]]:
    """What must be looked at again and has not been: (question, its part's page, its place there)."""
    if now is None or now.state != DRAFT:
        return []
    rubric = service().rubric(now.rubric)
    checks = rubric.checks
    return [
        (checks[name].ask, url_for("pages.part", identity=now.id, name=rubric.page_of(checks[name])), f"check-{name}")
        for name in _changed_by_work(kept, before)
        if name not in now.typed["answers"] and checks[name].kind != "derived"
    ]
