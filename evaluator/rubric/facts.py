"""From a file of facts of its own to its records: every mistake at once, with file, line and column."""

from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from ..basis.documents.document import Document
from ..basis.problem import Hints, Problem, by_place
from .files.mistakes import problems_of
from .files.sources import Sources, read_file
from .written.kinds import Written

Facts = TypeVar("Facts", bound=Written)


def read_facts(path: Path, kind: type[Facts]) -> tuple[Facts | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The facts of a file, the text that they are read from, and what is wrong in it."""
    sources = Sources()
    document = read_file(path, f"{path.parent.name}/{path.name}", sources)
    if document is None:
        return None, (), by_place(sources.problems)
    try:
        return kind.model_validate(document.data), (document,), ()
    except ValidationError as error:
        wrong = problems_of(error, document.data, lambda p, k: document.place(*p, key=k), kind, Hints())
        return None, (document,), by_place(wrong)
