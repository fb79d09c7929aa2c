"""Answers that were given on a phone, perhaps without a net: the script that opens a visit again there (browsers take
it from the root alone), the answers kept in their order, and what became of each.
"""

from collections.abc import Mapping, Sequence

from flask import Blueprint, Response, current_app, request

from ...assessment.observing.typed import Answer
from ...rubric.rubric import Rubric
from ...store.evaluations import Kept, save_look
from ...wording.looks import held_sentence
from ..service import problems_of, service
from .answering import sentence
from .pages import kept_or_404
from .plan import Plan, applying

offline = Blueprint("offline", __name__)
MOST_SENT = 200
MOST_TEXT = 400
TAKEN = ("outcome", "reading", "unit", "tool", "note", "by", "at")


@offline.get("/worker.js")
def worker() -> Response:
    return current_app.send_static_file("worker.js")


def take_answers(kept: Kept, plan: Plan, guest: str, who: str) -> tuple[dict[str, object], int]:
    """Keep a list of answers sent as JSON; a `guest` answers by her name and only what the plan holds."""
    sent_body = request.get_json(silent=True)
    body = sent_body if isinstance(sent_body, dict) else {}
    given = body.get("sent")
    if not isinstance(given, list) or len(given) > MOST_SENT or not all(isinstance(one, dict) for one in given):
        return {"say": "This could not be read. Reload the page and answer once more."}, 400
    rubric = service().rubric(kept.rubric)
    if guest:
        given = [{**one, "answer": _by(one.get("answer"), guest)} for one in given if one.get("check") in plan.looks]
    told = send(rubric, kept, plan, given, who or str(body.get("writer", ""))[:32])
    if told is None:
        return {"say": "This evaluation is finished. Look again to change it."}, 409
    kept = kept_or_404(kept.id)
    checks, case = applying(rubric, kept, plan), service().read(kept).case
    waits = {check.check: held for check in checks if (held := held_sentence(rubric, case, check))}
    return {"version": kept.version, "told": told, "looks": [check.check for check in checks], "waits": waits}, 200


def _by(answer: object, guest: str) -> object:
    return {**answer, "by": guest} if isinstance(answer, dict) and answer else answer


def send(
    rubric: Rubric, kept: Kept, plan: Plan, given: Sequence[Mapping[str, object]], who: str
) -> list[dict[str, str | bool]] | None:
    """Keep each answer; what became of each in order, or None where the evaluation is finished."""
    kept_so_far: list[tuple[str, Answer, bool]] = []
    last = kept
    for one in given:
        name = str(one.get("check", ""))
        if name not in rubric.checks:
            kept_so_far.append((name, {}, False))
            continue
        raw = one.get("answer")
        answer = {key: str(raw[key])[:MOST_TEXT] for key in TAKEN if raw.get(key)} if isinstance(raw, dict) else {}
        if answer and plan.looks:
            answer["seen_by"] = plan.channel
        version = one.get("version")
        base = version if isinstance(version, int) and not isinstance(version, bool) else kept.version
        saved = save_look(service().engine, kept.id, base, name, answer, service().now(), who)
        if saved is None:
            return None
        kept_so_far.append((name, answer, saved[1]))
        last = saved[0]
    service().expect(last)
    return [_told(rubric, last, *one) for one in kept_so_far]


def _told(rubric: Rubric, kept: Kept, name: str, answer: Answer, beside: bool) -> dict[str, str | bool]:
    """What became of an answer: one that stands is not parsed for that alone."""
    if name not in rubric.checks:
        return {"check": name, "problem": "There is no such look any more.", "beside": False}
    stands = kept.typed["answers"].get(name, {}) == answer
    wrong = (service().read(kept).wrong if stands else problems_of(rubric, {name: answer})).get(name, ())
    return {"check": name, "problem": sentence(wrong[0]) if wrong else "", "beside": beside}
