"""What a page of checks sends: its answers are read, kept, and told as they were read or where they could not be, with
nothing typed lost.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from flask import render_template, request
from flask_wtf import FlaskForm

from ...assessment.model import Observation
from ...assessment.observing.typed import Answers
from ...basis.problem import Problem
from ...basis.show import number, with_unit
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...store.evaluations import Conflict, Kept, save_answers
from ...wording.phrases import capital
from ..service import service
from .cards import refusal
from .forms import answers_from, typed_fields

Seen = Mapping[str, Sequence[Observation]]
_PLAIN = re.compile(r"-?[0-9]+(?:[.,][0-9]{1,2})?")


def writer() -> str:
    """The open page that sends this; a page never clashes with itself."""
    return request.form.get("writer", "")[:32]


def sent_version() -> int:
    """The version that the sending page was made from."""
    text = request.form.get("version", "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


def sent_answers(checks: Iterable[Check], form: FlaskForm) -> dict[str, dict[str, str]]:
    """What was sent; where a page tells what was touched, only that, so that nobody undoes another's work."""
    answers = answers_from(checks, form)
    touched = request.form.get("touched", "")
    return {check: answers[check] for check in touched.split() if check in answers} if touched else answers


def keep(identity: str, answers: Answers) -> Kept | Conflict | None:
    """Keep what was sent; None where the evaluation is finished."""
    saved = save_answers(service().engine, identity, sent_version(), answers, service().now(), writer())
    if isinstance(saved, Kept):
        service().expect(saved)
    return saved


def kept_while_typing(rubric: Rubric, identity: str, answers: Answers) -> tuple[dict[str, object], int]:
    """Keep what is being typed; what cannot be read is kept as typed and told."""
    saved = keep(identity, answers)
    if saved is None:
        return {"saved": False, "say": "This evaluation is finished and cannot be changed."}, 409
    if isinstance(saved, Conflict):
        return {"saved": False, "say": "Somebody else changed this too. Press the button to see both."}, 409
    read = service().read(saved)
    told = {check: sentence(found[0]) for check, found in read.wrong_of(answers).items()}
    seen = read.case.observations
    words = {"known": values_of(seen, answers), "read": readings_told(seen, answers)}
    return {"saved": True, "version": saved.version, "problems": told, **words}, 200


def sentence(problem: Problem) -> str:
    """What is wrong and what to do, as it stands beside the field."""
    return capital(f"{problem.what} {problem.what_to_do}".strip())


def finished_page(rubric: Rubric, kept: Kept, mine: Answers) -> tuple[str, int]:
    """What somebody typed while another finished the evaluation, shown so that it is not lost."""
    stands = kept.typed["answers"]
    rows = [
        (rubric.checks[check].ask, refusal(rubric, check, answer))
        for check, answer in mine.items()
        if answer and answer != stands.get(check)
    ]
    return render_template("looking/finished.html", kept=kept, rows=rows), 409


def conflict_page(rubric: Rubric, kept: Kept, mine: Answers, action: str) -> tuple[str, int]:
    """Both answers beside each other where two people changed the same; `action` takes the choice."""
    theirs = kept.typed["answers"]
    differ = {check: answer for check, answer in mine.items() if answer != theirs.get(check, {})}
    rows = [
        (rubric.checks[check].ask, refusal(rubric, check, theirs.get(check, {})), refusal(rubric, check, answer))
        for check, answer in differ.items()
    ]
    fields = {**typed_fields(differ), "touched": " ".join(differ)}
    return render_template("looking/conflict.html", kept=kept, rows=rows, fields=fields, action=action), 409


def values_of(seen: Seen, checks: Iterable[str]) -> dict[str, float]:
    """The value of each reading among these checks, in the unit of its check."""
    return {name: one.reading.value for name, one in _standing(seen, checks) if one.reading is not None}


def readings_told(seen: Seen, answers: Answers) -> dict[str, str]:
    """'1 1/64 in read as 25.8 mm', by check, for readings in another unit or with signs that leave room for doubt."""
    found = {}
    for name, one in _standing(seen, answers):
        typed, unit = str(answers[name].get("reading", "")), str(answers[name].get("unit") or "")
        if one.reading is not None and not _plainly(typed, unit, one):
            found[name] = f"{typed.strip()} read as {_said(one)}"
    return found


def _standing(seen: Seen, checks: Iterable[str]) -> Iterator[tuple[str, Observation]]:
    """Of each check that was read the answer that stands; what others gave beside it comes behind."""
    yield from ((name, seen[name][0]) for name in checks if seen.get(name))


def _plainly(typed: str, unit: str, one: Observation) -> bool:
    """Whether every reading is a plain number in the unit of its check."""
    here = one.reading.unit if one.reading else ""
    parts = [part.strip().removesuffix(here).strip() for part in typed.split(";") if part.strip()]
    return unit in {"", here} and all(_PLAIN.fullmatch(part) for part in parts)


def _said(one: Observation) -> str:
    if one.reading is None:
        return ""
    return "; ".join(with_unit(number(value, 3).replace(",", ""), one.reading.unit) for value in one.reading.values)
