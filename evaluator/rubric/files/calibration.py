"""The file of reference instruments: judged before they were tried, they show on one scale what a rubric says.

Each is an example like those inside a rubric, with its family, how it was seen and by whom, and sets of answers that
several share. A workshop that changes weights, losses or prices sees by them which judgement breaks.
"""

import math
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

from pydantic import Field, ValidationError

from ...basis.document import Document
from ...basis.problem import Message, Messages, Problem, by_place
from ..written.kinds import Channel, Family, Id, Looker, Written
from ..written.surroundings import RubricExample
from .mistakes import problems_of
from .sources import Sources, read_file

FILE = "calibration.yaml"
MESSAGES: Messages = {
    "calibration.set": Message('there is no set of answers "{name}".', "Write it under answer_sets, or take it out."),
    "calibration.double": Message("this example is written twice.", "Give one of them another name."),
    "calibration.crossed": Message(
        "{key} is at least {low} and at most {high}: nothing can be both.", "Let the first be the smaller."
    ),
    "calibration.contradicts": Message(
        "it should stand {lead} points above {other}, and by their own bounds it can stand {most} above it at most.",
        "Change the bounds of one of them, or the lead.",
    ),
    "calibration.circle": Message(
        "it should stand above {other}, which should stand above it.", "Take one of the two leads out."
    ),
}
BOUNDED = ("score", "after_work", "ready")
LEAD = "better_than."
TOP = 100.0
Answer = str | float | dict[str, str | float]


class ReferenceExample(RubricExample):
    """A reference instrument; its own answers go over those of its sets, later sets over earlier ones."""

    family: Family
    seen_by: Channel = "in_person"
    looker: Looker = "luthier"
    sets: tuple[Id, ...] = ()


class Calibration(Written):
    """Sets of answers by name, and the instruments made of them."""

    answer_sets: Annotated[dict[Id, dict[Id, Answer]], Field(default_factory=dict)]
    examples: tuple[ReferenceExample, ...]

    def answers(self, example: ReferenceExample) -> dict[str, Answer]:
        """All answers of an instrument, by check."""
        found: dict[str, Answer] = {}
        for name in example.sets:
            found |= self.answer_sets[name]
        return found | example.observations


def load_calibration(path: Path) -> tuple[Calibration | None, tuple[Problem, ...]]:
    """The reference instruments of a file, or every mistake in it; mistakes of what must come out are told later."""
    sources = Sources()
    document = read_file(path, path.name, sources)
    if document is None:
        return None, by_place(sources.problems)
    try:
        found = Calibration.model_validate(document.data)
    except ValidationError as error:
        wrong = problems_of(
            error, document.data, lambda at, key: document.place(*at, key=key), Calibration, sources.hints
        )
        return None, by_place(wrong)
    _note_names(found, document, sources)
    for code, where, words in _contradictions(found.examples):
        i = next(i for i, one in enumerate(found.examples) if one.example == where)
        sources.note(MESSAGES, code, f'example "{where}"', document.place("examples", i, "expect"), **words)
    return (None if sources.problems else found), by_place(sources.problems)


def _note_names(found: Calibration, document: Document, sources: Sources) -> None:
    seen: set[str] = set()
    for i, example in enumerate(found.examples):
        where = f'example "{example.example}"'
        if example.example in seen:
            sources.note(MESSAGES, "calibration.double", where, document.place("examples", i, "example"))
        seen.add(example.example)
        for j, name in enumerate(example.sets):
            if name not in found.answer_sets:
                place = document.place("examples", i, "sets", j)
                sources.note(MESSAGES, "calibration.set", where, place, name=name)


def _contradictions(examples: tuple[ReferenceExample, ...]) -> Iterator[tuple[str, str, dict[str, str]]]:
    """What no rubric could bring about: code, example and the words of the sentence."""
    leads = {one.example: _leads(one) for one in examples}
    bounds = {one.example: (_bound(one, "score.at_least", 0.0), _bound(one, "score.at_most", TOP)) for one in examples}
    for one in examples:
        for key in BOUNDED:
            low, high = _bound(one, f"{key}.at_least", 0.0), _bound(one, f"{key}.at_most", math.inf)
            if low > high:
                yield "calibration.crossed", one.example, {"key": key, "low": f"{low:g}", "high": f"{high:g}"}
        for other, lead in leads[one.example].items():
            most = bounds[one.example][1] - bounds.get(other, (0.0, TOP))[0]
            if _above(leads, other, one.example):
                yield "calibration.circle", one.example, {"other": other}
            elif most < lead:
                yield (
                    "calibration.contradicts",
                    one.example,
                    {"other": other, "lead": f"{lead:g}", "most": f"{most:g}"},
                )


def _leads(one: ReferenceExample) -> dict[str, float]:
    """By how many points it should stand above which others."""
    return {
        key.removeprefix(LEAD): float(value)
        for key, value in one.expect.items()
        if key.startswith(LEAD) and isinstance(value, int | float)
    }


def _bound(one: ReferenceExample, key: str, without: float) -> float:
    value = one.expect.get(key)
    return float(value) if isinstance(value, int | float) else without


def _above(leads: dict[str, dict[str, float]], one: str, other: str) -> bool:
    """Whether, from lead to lead, `one` should stand above `other`."""
    seen, open_ = set(), [one]
    while open_:
        name = open_.pop()
        if name == other:
            return True
        if name not in seen:
            seen.add(name)
            open_ += leads.get(name, {})
    return False
