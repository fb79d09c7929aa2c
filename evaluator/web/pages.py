"""The pages: front, start, one a part of the instrument, result, paper. Views guard, act and redirect."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse

from ..report.story import READERS
from ..rubric.rubric import Rubric
from ..store.evaluations import DRAFT, Conflict, Kept, create, find, finish, newest, save_answers, save_start
from .forms import answers_from, asked_parts, filled, part_form, shown_checks, start_form
from .service import case_of, problems_of, service, start_problems

pages = Blueprint("pages", __name__)
View = str | AnyResponse | tuple[str, int]
START_FIELDS = (
    "title", "size", "style", "tier", "purpose", "strings", "year", "asking", "ready_value", "currency", "seen_by",
    "looker", "about",
)  # fmt: skip


def kept_or_404(identity: str) -> Kept:
    kept = find(service().engine, identity)
    if kept is None:
        abort(404)
    return kept


@dataclass(frozen=True, slots=True)
class Step:
    """A part of the instrument on the way through: how many of its checks are answered."""

    part: str
    say: str
    answered: int
    asked: int


def steps_of(rubric: Rubric, kept: Kept) -> tuple[Step, ...]:
    answers = kept.typed["answers"]
    found = []
    for part in asked_parts(rubric):
        checks = shown_checks(rubric, part)
        done = sum(1 for check in checks if {"outcome", "reading"} & set(answers.get(check.check, {})))
        found.append(Step(part, rubric.parts[part].say, done, len(checks)))
    return tuple(found)


@pages.get("/")
def front() -> View:
    return render_template("front.html", families=_titles(), kept=newest(service().engine))


def _titles() -> list[tuple[str, str]]:
    order = {"violin": 0, "viola": 1, "cello": 2, "bow": 3}
    names = sorted(service().families(), key=lambda name: order.get(name, 9))
    return [(name, service().rubric(name).title) for name in names]


@pages.route("/new/<family>", methods=["GET", "POST"])
def start(family: str) -> View:
    if family not in service().families():
        abort(404)
    rubric = service().rubric(family)
    form = start_form(rubric, service().shop)()
    if not form.validate_on_submit():
        return render_template("start.html", form=form, rubric=rubric, wrong=_form_errors(form), kept=None)
    typed = {"start": _start_of(form), "answers": {}}
    wrong = start_problems(rubric, typed["start"])
    if wrong:
        return render_template("start.html", form=form, rubric=rubric, wrong=wrong, kept=None), 422
    identity = create(service().engine, family, typed, service().now())
    return redirect(url_for("pages.part", identity=identity, name=asked_parts(rubric)[0]))


def _start_of(form: FlaskForm) -> dict[str, str]:
    return {name: str(form[name].data).strip() for name in START_FIELDS if form[name].data}


def _form_errors(form: FlaskForm) -> dict[str, str]:
    return {name: str(errors[0]) for name, errors in form.errors.items() if errors}


@pages.route("/evaluations/<identity>/start", methods=["GET", "POST"])
def change_start(identity: str) -> View:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if kept.state != DRAFT:
        return redirect(url_for("pages.result", identity=identity))
    form = start_form(rubric, service().shop)(data=kept.typed["start"])
    if not form.validate_on_submit():
        return render_template("start.html", form=form, rubric=rubric, wrong=_form_errors(form), kept=kept)
    wrong = start_problems(rubric, _start_of(form))
    if wrong:
        return render_template("start.html", form=form, rubric=rubric, wrong=wrong, kept=kept), 422
    saved = save_start(service().engine, identity, _version(), _start_of(form), service().now())
    if isinstance(saved, Conflict):
        return render_template("conflict.html", kept=saved.kept, mine=_start_of(form)), 409
    return redirect(url_for("pages.part", identity=identity, name=asked_parts(rubric)[0]))


def _version() -> int:
    text = request.form.get("version", "0")
    return int(text) if text.isdigit() and len(text) < 10 else 0


def _writer() -> str:
    """The open page that sends this; a page never clashes with itself."""
    return request.form.get("writer", "")[:32]


@pages.get("/evaluations/<identity>")
def evaluation(identity: str) -> View:
    kept = kept_or_404(identity)
    if kept.state != DRAFT:
        return redirect(url_for("pages.result", identity=identity))
    steps = steps_of(service().rubric(kept.rubric), kept)
    step = next((one for one in steps if one.answered < one.asked), steps[0])
    return redirect(url_for("pages.part", identity=identity, name=step.part))


@pages.route("/evaluations/<identity>/parts/<name>", methods=["GET", "POST"])
def part(identity: str, name: str) -> View:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if name not in asked_parts(rubric):
        abort(404)
    if kept.state != DRAFT:
        return redirect(url_for("pages.result", identity=identity))
    form_class = part_form(rubric, name)
    if request.method == "GET":
        return _part_page(rubric, kept, name, form_class(data=filled(rubric, name, kept.typed["answers"])))
    form = form_class()
    form.validate()
    answers = answers_from(rubric, name, form)
    saved = save_answers(service().engine, identity, _version(), answers, service().now(), _writer())
    if isinstance(saved, Conflict):
        return render_template("conflict.html", kept=saved.kept, mine=_answered(rubric, answers)), 409
    if saved is None:
        abort(404)
    wrong = problems_of(rubric, answers)
    if wrong:
        return _part_page(rubric, saved, name, form, wrong), 422
    return redirect(_after(rubric, identity, name))


def _answered(rubric: Rubric, answers: Mapping[str, Mapping[str, str]]) -> dict[str, str]:
    """The answers that could not be saved, in words, so that nothing typed is lost."""
    return {
        rubric.checks[name].ask: ", ".join(_said(rubric, name, key, value) for key, value in answer.items())
        for name, answer in answers.items()
        if answer
    }


def _said(rubric: Rubric, name: str, key: str, value: str) -> str:
    outcome = rubric.checks[name].outcomes.get(value)
    return outcome.say if key == "outcome" and outcome else value


def _after(rubric: Rubric, identity: str, name: str) -> str:
    """Where the pressed button leads: a named part, the result, or the next part."""
    parts = asked_parts(rubric)
    wanted = request.form.get("go", "next")
    if wanted in parts:
        return url_for("pages.part", identity=identity, name=wanted)
    place = parts.index(name) + 1
    if wanted == "result" or place >= len(parts):
        return url_for("pages.result", identity=identity)
    return url_for("pages.part", identity=identity, name=parts[place])


def _part_page(rubric: Rubric, kept: Kept, name: str, form: FlaskForm, wrong: Mapping[str, Any] | None = None) -> str:
    steps = steps_of(rubric, kept)
    if wrong is None:
        wrong = problems_of(
            rubric, {c.check: kept.typed["answers"].get(c.check, {}) for c in shown_checks(rubric, name)}
        )
    case, _ = case_of(rubric, kept.typed)
    place = next(i for i, step in enumerate(steps) if step.part == name)
    return render_template(
        "part.html",
        rubric=rubric,
        kept=kept,
        writer=_writer() or secrets.token_hex(8),
        form=form,
        part=rubric.parts[name],
        checks=shown_checks(rubric, name),
        steps=steps,
        place=place,
        wrong=wrong,
        case=case,
        relevant={check: formula.tree() for check, formula in rubric.relevant.items()},
    )


@pages.post("/evaluations/<identity>/parts/<name>/save")
def save_part(identity: str, name: str) -> tuple[dict[str, Any], int]:
    """Save a part while it is being filled in; what cannot be read is kept as typed and told."""
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if name not in asked_parts(rubric):
        abort(404)
    form = part_form(rubric, name)()
    answers = answers_from(rubric, name, form)
    saved = save_answers(service().engine, identity, _version(), answers, service().now(), _writer())
    if saved is None:
        return {"saved": False, "say": "This evaluation is finished and cannot be changed."}, 409
    if isinstance(saved, Conflict):
        return {"saved": False, "say": "Somebody else changed this page. Send it to see both."}, 409
    told = {check: str(found[0].what) for check, found in problems_of(rubric, answers).items()}
    return {"saved": True, "version": saved.version, "problems": told}, 200


@pages.get("/evaluations/<identity>/result")
def result(identity: str) -> View:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    wrong = problems_of(rubric, kept.typed["answers"]) if kept.state == DRAFT else {}
    said = {name: rubric.checks[name] for name in wrong}
    return render_template("result.html", kept=kept, snapshot=service().snapshot(kept), wrong=wrong, said=said)


@pages.post("/evaluations/<identity>/finish")
def finish_evaluation(identity: str) -> View:
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    frozen = finish(service().engine, identity, _version(), service().snapshot(kept), rubric.hash, service().now())
    if isinstance(frozen, Conflict):
        return render_template("conflict.html", kept=frozen.kept, mine={}), 409
    return redirect(url_for("pages.result", identity=identity))


@pages.post("/evaluations/<identity>/again")
def again(identity: str) -> View:
    """A new draft with the same answers, beside the finished one."""
    kept = kept_or_404(identity)
    typed = {"start": dict(kept.typed["start"]), "answers": dict(kept.typed["answers"])}
    identity = create(service().engine, kept.rubric, typed, service().now(), made_from=kept.id)
    return redirect(url_for("pages.evaluation", identity=identity))


@pages.get("/evaluations/<identity>/report.pdf")
def report(identity: str) -> Response:
    from ..report.pdf import PAPERS, report_pdf

    kept = kept_or_404(identity)
    reader, paper = request.args.get("for", "buyer"), request.args.get("paper", "A4")
    if reader not in READERS or paper not in PAPERS:
        abort(404)
    content = report_pdf(service().snapshot(kept), reader=reader, paper=paper)
    name = f"evaluation-{kept.id}-{reader}.pdf"
    return Response(content, mimetype="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'})


@pages.get("/evaluations/<identity>/result.json")
def result_json(identity: str) -> dict[str, Any]:
    return dict(service().snapshot(kept_or_404(identity)))
