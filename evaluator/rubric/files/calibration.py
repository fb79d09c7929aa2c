"""The file of reference instruments: judged before they were tried, they show on one scale what a rubric says.

Each is an example like those inside a rubric, with its family, how it was seen and by whom, and sets of answers that
several share. A workshop that changes weights, losses or prices sees by them which judgement breaks.
"""

from pathlib import Path
from typing import Annotated

from pydantic import Field, ValidationError

from ...basis.document import Document
from ...basis.message import Message, Messages
from ...basis.problem import Problem, by_place
from ..model import Channel, Family, Id, Looker, RubricExample, Written
from .mistakes import problems_of
from .sources import Sources, read_file

FILE = "calibration.yaml"
MESSAGES: Messages = {
    "calibration.set": Message('there is no set of answers "{name}".', "Write it under answer_sets, or take it out."),
    "calibration.double": Message("this example is written twice.", "Give one of them another name."),
}
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
