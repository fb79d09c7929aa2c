"""The first page of an evaluation, and one page a part of the instrument. Views guard, act and redirect."""

import secrets
from collections.abc import Mapping

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse

from ...assessment.observing.typed import Typed
from ...basis.typed.kinds import Understood, Wanted, note, understand
from ...rubric.rubric import Rubric
from ...store.evaluations import DRAFT, Conflict, Kept, create, find, save_start
from ..service import service, start_problems
from .answering import (
    conflict_page,
    finished_page,
    keep,
    kept_while_typing,
    readings_told,
    sent_answers,
    sent_version,
    writer,
)
from .cards import cards_of, filled_for, known_elsewhere, steps_of, where_to_go_on
from .forms import START_FIELDS, asked_parts, part_form, shown_checks, start_form

__all__ = ["View", "kept_or_404", "pages", "sent_version"]

pages = Blueprint("pages", __name__)
View = str | AnyResponse | tuple[str, int]
PRICE = {"data-reads": "money", "data-above": "yes", "data-currency-of": "currency"}


def kept_or_404(identity: str) -> Kept:
    kept = find(service().engine, identity)
    if kept is None:
        abort(404)
    return kept


@pages.route("/new/<family>", methods=["GET", "POST"])
def start(family: str) -> View:
    if family not in service().families():
        abort(404)
    rubric = service().rubric(family)
    form = start_form(rubric, service().shop)()
    if not form.validate_on_submit():
        return _start_page(rubric, form, None, _form_errors(form))
    typed: Typed = {"start": _start_of(form), "answers": {}}
    wrong = start_problems(rubric, typed["start"])
    if wrong:
        return _start_page(rubric, form, None, wrong)
    identity = create(service().engine, family, typed, service().now())
    service().expect(kept_or_404(identity))
    if request.form.get("go") == "readings":
        return redirect(url_for("readings.page", identity=identity))
    if request.form.get("go") == "parts":
        return redirect(url_for("pages.part", identity=identity, name=asked_parts(rubric)[0]))
    return redirect(url_for("looking.looks", identity=identity))


@pages.route("/evaluations/<identity>/start", methods=["GET", "POST"])
def change_start(identity: str) -> View:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    form = start_form(rubric, service().shop)(data=_shown_start(kept))
    if not form.validate_on_submit():
        wrong = _form_errors(form) or start_problems(rubric, kept.typed["start"])
        return _start_page(rubric, form, kept, wrong)
    wrong = start_problems(rubric, _start_of(form))
    if wrong:
        return _start_page(rubric, form, kept, wrong)
    saved = save_start(service().engine, identity, sent_version(), _start_of(form), service().now())
    if isinstance(saved, Conflict):
        return _start_conflict(saved.kept, form)
    return redirect(url_for("pages.evaluation", identity=identity))


def _start_page(rubric: Rubric, form: FlaskForm, kept: Kept | None, wrong: Mapping[str, str]) -> View:
    page = render_template(
        "looking/start.html", form=form, rubric=rubric, wrong=wrong, kept=kept, read=_prices_read(form), price=PRICE
    )
    return (page, 422) if wrong and request.method == "POST" else page


def _prices_read(form: FlaskForm) -> dict[str, str]:
    """How the prices were read, where that is open to doubt."""
    wanted = Wanted("money", most=1e9, currency=form.currency.data or service().shop.currency, above=True)
    read = {name: understand(form[name].data or "", wanted) for name in ("asking", "ready_value")}
    return {name: note(form[name].data, one, "money") for name, one in read.items() if isinstance(one, Understood)}


def _start_of(form: FlaskForm) -> dict[str, str]:
    texts = {name: form[name].data for name in START_FIELDS if form[name].data}
    return {name: " ".join(text) if isinstance(text, list) else str(text).strip() for name, text in texts.items()}


def _shown_start(kept: Kept) -> dict[str, object]:
    start = kept.typed["start"]
    return {**start, "tools": start.get("tools", "").split()}


def _form_errors(form: FlaskForm) -> dict[str, str]:
    return {name: str(errors[0]) for name, errors in form.errors.items() if errors}


def _start_conflict(kept: Kept, form: FlaskForm) -> View:
    mine, theirs = _start_of(form), kept.typed["start"]
    rows = [
        (form[name].label.text, theirs.get(name, "nothing"), mine.get(name, "nothing"))
        for name in START_FIELDS
        if mine.get(name) != theirs.get(name)
    ]
    action = url_for("pages.change_start", identity=kept.id)
    return render_template("looking/conflict.html", kept=kept, rows=rows, fields=mine, action=action), 409


@pages.get("/evaluations/<identity>")
def evaluation(identity: str) -> View:
    kept = kept_or_404(identity)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    if "plan" in kept.typed:
        return redirect(url_for("looking.looks", identity=identity))
    steps = steps_of(service().rubric(kept.rubric), kept.typed)
    return redirect(url_for("pages.part", identity=identity, name=where_to_go_on(steps)))


@pages.get("/evaluations/<identity>/parts")
def parts(identity: str) -> View:
    """Part by part, where to go on."""
    kept = kept_or_404(identity)
    steps = steps_of(service().rubric(kept.rubric), kept.typed)
    return redirect(url_for("pages.part", identity=identity, name=where_to_go_on(steps)))


@pages.route("/evaluations/<identity>/parts/<name>", methods=["GET", "POST"])
def part(identity: str, name: str) -> View:
    kept, rubric = _draft_part(identity, name)
    form_class = part_form(rubric, name)
    if kept.state != DRAFT:
        if request.method == "GET":
            return redirect(url_for("results.result", identity=identity))
        return finished_page(rubric, kept, sent_answers(shown_checks(rubric, name), form_class()))
    if request.method == "GET":
        return _part_page(rubric, kept, name, form_class(data=_filled(rubric, name, kept)))
    answers = sent_answers(shown_checks(rubric, name), form_class())
    saved = keep(identity, answers)
    if isinstance(saved, Conflict):
        return conflict_page(rubric, saved.kept, answers, url_for("pages.part", identity=identity, name=name))
    if saved is None:
        abort(404)
    if service().read(saved).wrong_of(answers):
        return _part_page(rubric, saved, name, form_class(data=_filled(rubric, name, saved))), 422
    return redirect(_after(rubric, identity, name))


@pages.post("/evaluations/<identity>/parts/<name>/save")
def save_part(identity: str, name: str) -> tuple[dict[str, object], int]:
    """Save a part while it is being filled in."""
    _, rubric = _draft_part(identity, name)
    answers = sent_answers(shown_checks(rubric, name), part_form(rubric, name)())
    return kept_while_typing(rubric, identity, answers)


def _filled(rubric: Rubric, name: str, kept: Kept) -> dict[str, str]:
    return filled_for(shown_checks(rubric, name), kept.typed, service().shop.units.shown)


def _draft_part(identity: str, name: str) -> tuple[Kept, Rubric]:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if name not in asked_parts(rubric):
        abort(404)
    return kept, rubric


def _after(rubric: Rubric, identity: str, name: str) -> str:
    """Where the pressed button leads: a named part, the result, the start, or the next part."""
    parts = asked_parts(rubric)
    wanted = request.form.get("go", "next")
    if wanted in parts:
        return url_for("pages.part", identity=identity, name=wanted)
    if wanted == "readings":
        return url_for("readings.page", identity=identity)
    if wanted == "start":
        return url_for("pages.change_start", identity=identity)
    place = parts.index(name) + 1
    if wanted == "result" or place >= len(parts):
        return url_for("results.result", identity=identity)
    return url_for("pages.part", identity=identity, name=parts[place])


def _part_page(rubric: Rubric, kept: Kept, name: str, form: FlaskForm) -> str:
    typed = kept.typed
    answers = {check.check: typed["answers"].get(check.check, {}) for check in shown_checks(rubric, name)}
    case = service().read(kept).case
    steps = steps_of(rubric, typed)
    cards, others = cards_of(rubric, name, typed, case, service().shop.units.shown)
    return render_template(
        "looking/part.html",
        rubric=rubric,
        kept=kept,
        writer=writer() or secrets.token_hex(8),
        form=form,
        part=rubric.pages[name],
        cards=cards,
        others=others,
        steps=steps,
        place=next(i for i, step in enumerate(steps) if step.part == name),
        wrong=service().read(kept).wrong_of(answers),
        read=readings_told(case.observations, answers),
        known=known_elsewhere(rubric, shown_checks(rubric, name), case),
    )
