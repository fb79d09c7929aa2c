"""Another look at an instrument: what was answered before stands there as old, with its day, until it is confirmed.

An old answer counts for nothing until it is confirmed, one by one; a new one stands beside it with what changed since.
"""

from collections.abc import Container
from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for

from ...assessment.observing.typed import Answer, Before, Typed
from ...papers.before_after import to_look_at
from ...rubric.rubric import Rubric
from ...store.evaluations import DRAFT, Kept, create, find, save_answers
from ...store.quotes import quotes_of
from ...store.workshop.timeline import belongs_to, put_to
from ..looking.pages import View, kept_or_404
from ..service import service
from .history import Changed, changes_between

again = Blueprint("again", __name__)
MOST_NAME = 60
CONFIRMED = "again"  # who writes what was confirmed, not looked at anew


@dataclass(frozen=True, slots=True)
class Old:
    """An answer of before: the question, what was answered, and where it is asked now."""

    check: str
    ask: str
    answer: str
    link: str


def begin(kept: Kept) -> str:
    """A new draft that takes the old answers over as old; gives its id. It belongs to the same instrument."""
    earlier = kept.typed.get("before")
    old = {**(earlier["answers"] if earlier else {}), **kept.typed["answers"]}
    before: Before = {"of": kept.id, "on": kept.changed[:10], "answers": old}
    typed: Typed = {"start": kept.typed["start"], "answers": {}, "before": before}
    if "sales" in kept.typed:
        typed["sales"] = kept.typed["sales"]
    made = create(service().engine, kept.rubric, typed, service().now(), made_from=kept.id)
    put_to(service().engine, made, belongs_to(service().engine, kept.id))
    return made


@again.get("/evaluations/<identity>/again")
def page(identity: str) -> View:
    """The old answers that nobody has confirmed or given anew, and what changed where somebody did."""
    kept = kept_or_404(identity)
    if kept.state != DRAFT or "before" not in kept.typed:
        return redirect(url_for("pages.evaluation", identity=identity))
    rubric = service().rubric(kept.rubric)
    worked = _worked_on(rubric, kept)
    return render_template(
        "workshop/again.html",
        kept=kept,
        on=kept.typed["before"]["on"],
        old=_old(rubric, kept, worked),
        worked=_old(rubric, kept, frozenset(kept.typed["before"]["answers"]) - worked),
        changes=_changes(kept),
        confirmed=len(kept.typed["answers"]),
        safety=rubric.safety is not None,
    )


@again.post("/evaluations/<identity>/again/confirm")
def confirm(identity: str) -> View:
    """Take the ticked old answers over as today's."""
    kept = kept_or_404(identity)
    old = kept.typed["before"]["answers"] if "before" in kept.typed else {}
    ticked = {name: _fresh(old[name]) for name in request.form.getlist("check") if name in old}
    gone = {*kept.typed["answers"], *_worked_on(service().rubric(kept.rubric), kept)}
    still = {name: answer for name, answer in ticked.items() if name not in gone}
    if still and kept.state == DRAFT:
        save_answers(service().engine, identity, kept.version, still, service().now(), CONFIRMED)
    return redirect(url_for("again.page", identity=identity))


def _fresh(answer: Answer) -> Answer:
    """The answer without the day on which it was given first."""
    return {key: value for key, value in answer.items() if key != "at"}


def _worked_on(rubric: Rubric, kept: Kept) -> frozenset[str]:
    """The old answers that work since can have changed: nobody can say of them that it is still so."""
    before = kept.typed.get("before")
    if before is None:
        return frozenset()
    done = [one.work for one in quotes_of(service().engine, before["of"]) if one.quote.state == "done" and one.work]
    jobs = {task.job for order in done for task in order.tasks}
    return frozenset(to_look_at(rubric.checks, before["answers"], jobs))


def _old(rubric: Rubric, kept: Kept, without: Container[str]) -> tuple[Old, ...]:
    """The old answers that were not given anew, but for these."""
    answers, before = kept.typed["answers"], kept.typed.get("before")
    found = []
    for name, answer in before["answers"].items() if before else ():
        check = rubric.checks.get(name)
        if check is None or name in answers or name in without or check.kind == "derived":
            continue
        link = url_for("pages.part", identity=kept.id, name=rubric.page_of(check))
        found.append(Old(name, check.ask, _said(rubric, name, answer), f"{link}#check-{name}"))
    return tuple(found)


def _said(rubric: Rubric, name: str, answer: Answer) -> str:
    if answer.get("reading"):
        return f"{answer['reading']} {answer.get('unit', '')}".strip()
    outcome = rubric.checks[name].outcomes.get(str(answer.get("outcome", "")))
    return outcome.say if outcome else str(answer.get("outcome") or answer.get("note") or "").replace("_", " ")


def _changes(kept: Kept) -> tuple[Changed, ...]:
    earlier = kept.typed.get("before")
    before = find(service().engine, earlier["of"]) if earlier else None
    if earlier is None or before is None or not kept.typed["answers"]:
        return ()
    first = (earlier["on"], service().shown(before))
    return changes_between(first, (service().now()[:10], service().shown(kept)))
