"""A visit of ten minutes, one look after the other in a good order, and a message to the seller."""

from collections.abc import Mapping, Sequence
from secrets import token_hex
from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask_wtf import FlaskForm

from ...rubric.model import Check
from ...rubric.rubric import Rubric
from ...store.evaluations import DRAFT, Conflict, Kept
from ..service import case_of, problems_of, service
from .answering import conflict_page, finished_page, keep, kept_while_typing, sent_answers, writer
from .cards import SAID, cards_for, filled_for, usual_tool
from .forms import checks_form
from .pages import View, kept_or_404

looking = Blueprint("looking", __name__)
MOST_LOOKS = 40


@looking.get("/evaluations/<identity>/visit")
def visit(identity: str) -> View:
    """One of the looks that are worth most in ten minutes; the address keeps which they are, and the place in them."""
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    checks = _asked(rubric)
    if not checks:
        looks = ".".join(look["check"] for look in service().snapshot(kept)["visit"])
        if looks:
            return redirect(url_for("looking.visit", identity=identity, looks=looks, at=1))
    return _look_page(rubric, kept, checks)


@looking.post("/evaluations/<identity>/visit")
def visited(identity: str) -> View:
    """Keep what was looked at, then on to the next look, back to the last, or to the result."""
    kept = kept_or_404(identity)
    rubric = service().rubric(kept.rubric)
    checks = _asked(rubric)
    if not checks:
        return redirect(url_for("looking.visit", identity=identity))
    answers, here = _sent(rubric, checks), _address(identity, checks, _place(checks))
    saved = keep(identity, answers)
    if saved is None:
        return finished_page(rubric, kept, answers)
    if isinstance(saved, Conflict):
        return conflict_page(rubric, saved.kept, answers, here)
    if problems_of(rubric, answers):
        return _look_page(rubric, saved, checks), 422
    return redirect(_after(rubric, saved, checks))


@looking.post("/evaluations/<identity>/visit/save")
def save(identity: str) -> tuple[dict[str, Any], int]:
    """Keep a look while it is being taken."""
    rubric = service().rubric(kept_or_404(identity).rubric)
    return kept_while_typing(rubric, identity, _sent(rubric, _asked(rubric)))


def _asked(rubric: Rubric) -> tuple[Check, ...]:
    """The checks that the address or the sent page names, each once."""
    names = dict.fromkeys(request.values.get("looks", "").split("."))
    found = [rubric.checks[name] for name in names if name in rubric.checks]
    return tuple(check for check in found if check.kind != "derived")[:MOST_LOOKS]


def _place(checks: Sequence[Check]) -> int:
    """The place in the row, from 1; a strange one is the first or the last."""
    text = request.values.get("at", "1")
    return min(max(int(text), 1), len(checks)) if text.isascii() and text.isdigit() and len(text) < 4 else 1


def _sent(rubric: Rubric, checks: Sequence[Check]) -> dict[str, dict[str, str]]:
    here = checks[_place(checks) - 1 : _place(checks)] if checks else ()
    return sent_answers(here, checks_form(rubric, here)())


def _address(identity: str, checks: Sequence[Check], at: int) -> str:
    return url_for("looking.visit", identity=identity, looks=".".join(check.check for check in checks), at=at)


def _after(rubric: Rubric, kept: Kept, checks: Sequence[Check]) -> str:
    """Where the pressed button leads, past what does not apply as answered."""
    go, at = request.form.get("go", "next"), _place(checks)
    case, _ = case_of(rubric, kept.typed)
    applies = [card.applies for card in cards_for(rubric, checks, case)]
    ways = range(at - 1, 0, -1) if go == "back" else range(at + 1, len(checks) + 1)
    there = next((place for place in ways if applies[place - 1]), at if go == "back" else None)
    if there is None or go == "result":
        return url_for("results.result", identity=kept.id)
    return _address(kept.id, checks, there)


def _look_page(rubric: Rubric, kept: Kept, checks: Sequence[Check]) -> str:
    answers = kept.typed["answers"]
    case, _ = case_of(rubric, kept.typed)
    at = _place(checks) if checks else 0
    here = checks[at - 1 : at] if checks else ()
    tools = dict.fromkeys(usual_tool(check, kept.typed) for check in checks if check.measure)
    return render_template(
        "looking/visit.html",
        kept=kept,
        rubric=rubric,
        writer=writer() or token_hex(8),
        form=_form(rubric, kept, here),
        one=cards_for(rubric, checks, case)[at - 1] if checks else None,
        at=at,
        looks=".".join(check.check for check in checks),
        minutes=sum(check.minutes for check in checks),
        answered=[bool(SAID & set(answers.get(check.check, {}))) for check in checks],
        tools=[rubric.tools[name].say.lower() for name in tools if name],
        wrong=problems_of(rubric, {check.check: answers.get(check.check, {}) for check in here}),
    )


def _form(rubric: Rubric, kept: Kept, checks: Sequence[Check]) -> FlaskForm:
    """What is kept already; what is looked at here is seen in person, also where the rest was seen in photographs."""
    data = filled_for(checks, kept.typed)
    if kept.typed["start"].get("seen_by", "in_person") != "in_person":
        unseen = [check for check in checks if check.check not in kept.typed["answers"]]
        data |= {f"s-{check.check}": "in_person" for check in unseen}
    return checks_form(rubric, checks)(formdata=None, data=data)


@looking.get("/evaluations/<identity>/message")
def message(identity: str) -> str:
    """Numbered questions and photographs to ask for, ready to be copied."""
    kept = kept_or_404(identity)
    snapshot = service().snapshot(kept)
    return render_template("result/message.html", kept=kept, snapshot=snapshot, text=message_text(snapshot))


def message_text(snapshot: Mapping[str, Any]) -> str:
    """The message in plain text: a greeting line, numbered questions, then the photographs."""
    lines = ["Good day,", "", f"I am interested in this {snapshot['instrument']['family']}. Could you tell me:"]
    lines += [f"{number}. {text}" for number, text in enumerate(snapshot["questions"], 1)]
    if snapshot["photos_to_ask_for"]:
        lines += ["", "And could you send sharp photographs in daylight of:"]
        lines += [f"- {text}" for text in snapshot["photos_to_ask_for"]]
    return "\n".join([*lines, "", "Thank you."])
