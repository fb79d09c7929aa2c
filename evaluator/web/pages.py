"""Front, first page, and one page a part of the instrument. Views guard, act and redirect."""

import secrets
from collections.abc import Mapping
from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse

from ..rubric.rubric import Rubric
from ..store.evaluations import DRAFT, Conflict, Kept, create, find, newest, save_answers, save_start
from .cards import cards_of, known_elsewhere, refusal, steps_of, where_to_go_on
from .forms import (
    START_FIELDS,
    answers_from,
    asked_parts,
    filled,
    part_form,
    shown_checks,
    start_form,
    typed_fields,
)
from .service import case_of, problems_of, service, start_problems

pages = Blueprint("pages", __name__)
View = str | AnyResponse | tuple[str, int]
FAMILY_ORDER = {"violin": 0, "viola": 1, "cello": 2, "bow": 3}


def kept_or_404(identity: str) -> Kept:
    kept = find(service().engine, identity)
    if kept is None:
        abort(404)
    return kept


def sent_version() -> int:
    """The version that the sending page was made from."""
    text = request.form.get("version", "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


@pages.get("/")
def front() -> View:
    names = sorted(service().families(), key=lambda name: FAMILY_ORDER.get(name, 9))
    titles = [(name, service().rubric(name).title) for name in names]
    return render_template("front.html", families=titles, kept=newest(service().engine))


@pages.route("/new/<family>", methods=["GET", "POST"])
def start(family: str) -> View:
    if family not in service().families():
        abort(404)
    rubric = service().rubric(family)
    form = start_form(rubric, service().shop)()
    if not form.validate_on_submit():
        return _start_page(rubric, form, None, _form_errors(form))
    typed = {"start": _start_of(form), "answers": {}}
    wrong = start_problems(rubric, typed["start"])
    if wrong:
        return _start_page(rubric, form, None, wrong)
    identity = create(service().engine, family, typed, service().now())
    return redirect(url_for("pages.part", identity=identity, name=asked_parts(rubric)[0]))


@pages.route("/evaluations/<identity>/start", methods=["GET", "POST"])
def change_start(identity: str) -> View:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    form = start_form(rubric, service().shop)(data=kept.typed["start"])
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
    page = render_template("start.html", form=form, rubric=rubric, wrong=wrong, kept=kept)
    return (page, 422) if wrong and request.method == "POST" else page


def _start_of(form: FlaskForm) -> dict[str, str]:
    return {name: str(form[name].data).strip() for name in START_FIELDS if form[name].data}


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
    return render_template("conflict.html", kept=kept, rows=rows, fields=mine, action=action), 409


@pages.get("/evaluations/<identity>")
def evaluation(identity: str) -> View:
    kept = kept_or_404(identity)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    steps = steps_of(service().rubric(kept.rubric), kept.typed)
    return redirect(url_for("pages.part", identity=identity, name=where_to_go_on(steps)))


@pages.route("/evaluations/<identity>/parts/<name>", methods=["GET", "POST"])
def part(identity: str, name: str) -> View:
    kept, rubric = _draft_part(identity, name)
    form_class = part_form(rubric, name)
    if kept.state != DRAFT:
        return _finished(rubric, kept, name, form_class())
    if request.method == "GET":
        return _part_page(rubric, kept, name, form_class(data=filled(rubric, name, kept.typed["answers"])))
    answers = _sent_answers(rubric, name, form_class())
    saved = save_answers(service().engine, identity, sent_version(), answers, service().now(), _writer())
    if isinstance(saved, Conflict):
        return _part_conflict(rubric, saved.kept, name, answers)
    if saved is None:
        abort(404)
    if problems_of(rubric, answers):
        return _part_page(rubric, saved, name, form_class(data=filled(rubric, name, saved.typed["answers"]))), 422
    return redirect(_after(rubric, identity, name))


@pages.post("/evaluations/<identity>/parts/<name>/save")
def save_part(identity: str, name: str) -> tuple[dict[str, Any], int]:
    """Save a part while it is being filled in; what cannot be read is kept as typed and told."""
    _, rubric = _draft_part(identity, name)
    answers = _sent_answers(rubric, name, part_form(rubric, name)())
    saved = save_answers(service().engine, identity, sent_version(), answers, service().now(), _writer())
    if saved is None:
        return {"saved": False, "say": "This evaluation is finished and cannot be changed."}, 409
    if isinstance(saved, Conflict):
        return {"saved": False, "say": "Somebody else changed this too. Press the button to see both."}, 409
    told = {check: str(found[0].what) for check, found in problems_of(rubric, answers).items()}
    return {"saved": True, "version": saved.version, "problems": told}, 200


def _draft_part(identity: str, name: str) -> tuple[Kept, Rubric]:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if name not in asked_parts(rubric):
        abort(404)
    return kept, rubric


def _finished(rubric: Rubric, kept: Kept, name: str, form: FlaskForm) -> View:
    """To the result; but what somebody typed meanwhile is shown, so that it is not lost."""
    if request.method == "GET":
        return redirect(url_for("results.result", identity=kept.id))
    mine, stands = _sent_answers(rubric, name, form), kept.typed["answers"]
    rows = [
        (rubric.checks[check].ask, refusal(rubric, check, answer))
        for check, answer in mine.items()
        if answer and answer != stands.get(check)
    ]
    return render_template("finished.html", kept=kept, rows=rows), 409


def _writer() -> str:
    """The open page that sends this; a page never clashes with itself."""
    return request.form.get("writer", "")[:32]


def _sent_answers(rubric: Rubric, name: str, form: FlaskForm) -> dict[str, dict[str, str]]:
    """What was sent; where a page tells what was touched, only that, so that nobody undoes another's work."""
    answers = answers_from(rubric, name, form)
    touched = request.form.get("touched", "")
    return {check: answers[check] for check in touched.split() if check in answers} if touched else answers


def _part_conflict(rubric: Rubric, kept: Kept, name: str, mine: Mapping[str, Mapping[str, str]]) -> View:
    theirs = kept.typed["answers"]
    differ = {check: answer for check, answer in mine.items() if answer != theirs.get(check, {})}
    rows = [
        (rubric.checks[check].ask, refusal(rubric, check, theirs.get(check, {})), refusal(rubric, check, answer))
        for check, answer in differ.items()
    ]
    fields = {**typed_fields(differ), "touched": " ".join(differ)}
    action = url_for("pages.part", identity=kept.id, name=name)
    return render_template("conflict.html", kept=kept, rows=rows, fields=fields, action=action), 409


def _after(rubric: Rubric, identity: str, name: str) -> str:
    """Where the pressed button leads: a named part, the result, the start, or the next part."""
    parts = asked_parts(rubric)
    wanted = request.form.get("go", "next")
    if wanted in parts:
        return url_for("pages.part", identity=identity, name=wanted)
    if wanted == "start":
        return url_for("pages.change_start", identity=identity)
    place = parts.index(name) + 1
    if wanted == "result" or place >= len(parts):
        return url_for("results.result", identity=identity)
    return url_for("pages.part", identity=identity, name=parts[place])


def _part_page(rubric: Rubric, kept: Kept, name: str, form: FlaskForm) -> str:
    typed = kept.typed
    answers = {check.check: typed["answers"].get(check.check, {}) for check in shown_checks(rubric, name)}
    case, _ = case_of(rubric, typed)
    steps = steps_of(rubric, typed)
    cards, others = cards_of(rubric, name, typed, case)
    return render_template(
        "part.html",
        rubric=rubric,
        kept=kept,
        writer=_writer() or secrets.token_hex(8),
        form=form,
        part=rubric.parts[name],
        cards=cards,
        others=others,
        steps=steps,
        place=next(i for i, step in enumerate(steps) if step.part == name),
        wrong=problems_of(rubric, answers),
        known=known_elsewhere(rubric, name, case),
    )
