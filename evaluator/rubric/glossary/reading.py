"""From the glossary's file to its words: every mistake at once, with file, line and column."""

from collections.abc import Iterable
from pathlib import Path

from pydantic import ValidationError

from ...basis.documents.document import Document
from ...basis.problem import Hints, Message, Messages, Problem, by_place, did_you_mean, problem
from ...drawings.names import NAMES
from ..files.mistakes import problems_of
from ..files.sources import Sources, read_file
from .model import Glossary, GlossaryFile, Word

MESSAGES: Messages = {
    "glossary.twice": Message('"{name}" is already a name of "{term}".', "Take one of them away."),
    "glossary.no_drawing": Message('there is no drawing "{name}".', "Take one of evaluator/drawings. {hint}"),
    "glossary.not_ended": Message("the meaning is not a sentence.", "End it with a full stop."),
}


def load_glossary(path: Path) -> tuple[Glossary | None, tuple[Problem, ...]]:
    """The words of a glossary file, or every mistake in it."""
    glossary, _, problems = read_glossary(path)
    return glossary, problems


def read_glossary(path: Path) -> tuple[Glossary | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The same with the text that it is read from."""
    sources = Sources()
    document = read_file(path, f"{path.parent.name}/{path.name}", sources)
    if document is None:
        return None, (), by_place(sources.problems)
    try:
        words = GlossaryFile.model_validate(document.data).glossary
    except ValidationError as error:
        wrong = problems_of(error, document.data, lambda p, k: document.place(*p, key=k), GlossaryFile, Hints())
        return None, (document,), by_place(wrong)
    slips = by_place(_slips(words, document))
    return (None if slips else Glossary(words)), (document,), slips


def _slips(words: Iterable[Word], document: Document) -> Iterable[Problem]:
    """What loads and makes no sense: a name twice, a drawing that is none, a meaning that is no sentence."""
    named: dict[str, Word] = {}
    for at, word in enumerate(words):
        where = f'term "{word.term}"'

        def note(code: str, *path: object, at: int = at, where: str = where, **told: object) -> Problem:
            return problem(MESSAGES, code, where, document.place("glossary", at, *path), **told)

        for name in (one.lower() for one in word.names):
            if name in named:
                yield note("glossary.twice", "term", name=name, term=named[name].term)
            named.setdefault(name, word)
        if word.drawing is not None and word.drawing not in NAMES:
            yield note(
                "glossary.no_drawing", "drawing", name=word.drawing, hint=did_you_mean(word.drawing, NAMES) or ""
            )
        if not word.means.endswith((".", "?", "!")):
            yield note("glossary.not_ended", "means")
