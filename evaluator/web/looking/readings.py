"""Every reading of an instrument on one page, for a bench where forty are taken in a row."""

from itertools import groupby
from secrets import token_hex

from flask import Blueprint, redirect, render_template, request, url_for

from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...store.evaluations import DRAFT, Conflict, Kept
from ..service import service
from .answering import (
    conflict_page,
    finished_page,
    keep,
    kept_while_typing,
    readings_told,
    sent_answers,
    sentence,
    writer,
)
from .cards import cards_for, filled_for
from .forms import asked_parts, checks_form, shown_checks
from .pages import View, kept_or_404

readings = Blueprint("readings", __name__)


@readings.get("/evaluations/<identity>/readings")
def page(identity: str) -> View:
    kept = kept_or_404(identity)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    return _page(service().rubric(kept.rubric), kept)


@readings.post("/evaluations/<identity>/readings")
def take(identity: str) -> View:
    """Keep the readings, then to the result, or to the parts; a wrong one keeps the page open."""
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    answers = _sent(rubric)
    saved = keep(identity, answers)
    if saved is None:
        return finished_page(rubric, kept, answers)
    if isinstance(saved, Conflict):
        return conflict_page(rubric, saved.kept, answers, url_for("readings.page", identity=identity))
    if service().read(saved).wrong_of(answers):
        return _page(rubric, saved), 422
    on = "pages.evaluation" if request.form.get("go") == "parts" else "results.result"
    return redirect(url_for(on, identity=identity))


@readings.post("/evaluations/<identity>/readings/save")
def save(identity: str) -> tuple[dict[str, object], int]:
    """Keep the readings while they are being typed."""
    rubric = service().rubric(kept_or_404(identity).rubric)
    return kept_while_typing(rubric, identity, _sent(rubric))


def measured(rubric: Rubric) -> tuple[Check, ...]:
    """The checks that take a number with or without a unit, part by part; marks and choices have their own pages."""
    return tuple(
        check for part in asked_parts(rubric) for check in shown_checks(rubric, part) if check.measure or check.count
    )


def _sent(rubric: Rubric) -> dict[str, dict[str, str]]:
    checks = measured(rubric)
    return sent_answers(checks, checks_form(rubric, checks)())


def _page(rubric: Rubric, kept: Kept) -> str:
    checks, answers, units = measured(rubric), kept.typed["answers"], service().shop.units.shown
    case = service().read(kept).case
    cards = [one for one in cards_for(rubric, checks, case, units) if one.applies or answers.get(one.check.check)]
    pages = rubric.pages
    groups = [(pages[page].say, tuple(own)) for page, own in groupby(cards, lambda one: rubric.page_of(one.check))]
    return render_template(
        "looking/readings.html",
        kept=kept,
        rubric=rubric,
        writer=writer() or token_hex(8),
        form=checks_form(rubric, checks)(formdata=None, data=filled_for(checks, kept.typed, units)),
        groups=groups,
        sentence=sentence,
        wrong=service().read(kept).wrong_of(one.check.check for one in cards),
        read=readings_told(case.observations, {one.check.check: answers.get(one.check.check, {}) for one in cards}),
    )
