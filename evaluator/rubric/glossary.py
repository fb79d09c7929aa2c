"""The words of the trade with their plain meaning, and where they stand in a text.

Theory: a name is found as a whole word, also with an s behind it; of names that overlap the longest counts. Names that
people say of other things too ("board", "head") are found only where somebody asks for that name.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from ..basis.document import Document
from ..basis.problem import Hints, Message, Messages, Problem, by_place, did_you_mean, problem
from ..drawings.names import NAMES
from .files.mistakes import problems_of
from .files.sources import Sources, read_file

Said = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60)]
Meaning = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200)]
MESSAGES: Messages = {
    "glossary.twice": Message('"{name}" is already a name of "{term}".', "Take one of them away."),
    "glossary.no_drawing": Message('there is no drawing "{name}".', "Take one of evaluator/drawings. {hint}"),
    "glossary.not_ended": Message("the meaning is not a sentence.", "End it with a full stop."),
}


class Written(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class Word(Written):
    """A term of the trade.

    `also`: other names and forms of it; `everyday`: names that mean other things too. A name in both lists, or the term
    itself among the everyday ones, is found only when asked for. `drawing`: what shows it, None where nothing does.
    """

    term: Said
    means: Meaning
    also: Annotated[tuple[Said, ...], Field(strict=False)] = ()
    everyday: Annotated[tuple[Said, ...], Field(strict=False)] = ()
    drawing: str | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """All its names, the term first."""
        return tuple(dict.fromkeys((self.term, *self.also, *self.everyday)))

    @property
    def slug(self) -> str:
        """The term as a part of an address."""
        return re.sub(r"[^a-z0-9]+", "-", self.term.lower()).strip("-")


class GlossaryFile(Written):
    """A file of words."""

    glossary: Annotated[tuple[Word, ...], Field(strict=False)]


def glossary_schema() -> dict[str, object]:
    """The JSON Schema of a glossary file (draft 2020-12), for editors."""
    schema = GlossaryFile.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "Glossary file"}


class Glossary:
    """The words, to be found by name and in texts."""

    def __init__(self, words: Sequence[Word]) -> None:
        self.words = tuple(words)
        self._by_name: Mapping[str, Word] = {name.lower(): word for word in words for name in word.names}

    @cached_property
    def by_letter(self) -> tuple[tuple[str, tuple[Word, ...]], ...]:
        """The words in the order of the alphabet, by their first letter."""
        ordered = sorted(self.words, key=lambda word: word.term.lower())
        letters = dict.fromkeys(word.term[0].upper() for word in ordered)
        return tuple((one, tuple(word for word in ordered if word.term[0].upper() == one)) for one in letters)

    def called(self, name: str) -> Word | None:
        """The word of this name: "peg holes, bushings" is told by its first half, or by the longest name in it."""
        text = name.lower().strip()
        for one in (text, text.partition(",")[0]):
            for form in (one, one.removesuffix("s")):
                if form in self._by_name:
                    return self._by_name[form]
        found = max(self._all_names.finditer(text), key=lambda match: len(match.group(1)), default=None)
        return None if found is None else self._by_name[found.group(1).lower()]

    def parted(self, text: str) -> Iterator[tuple[str, Word | None]]:
        """The text in pieces, in order: those that name a word with that word, the rest with None."""
        at = 0
        for match in self._plain_names.finditer(text):
            if match.start() > at:
                yield text[at : match.start()], None
            yield match.group(0), self._by_name[match.group(1).lower()]
            at = match.end()
        if at < len(text):
            yield text[at:], None

    @cached_property
    def _all_names(self) -> re.Pattern[str]:
        return _pattern(self._by_name)

    @cached_property
    def _plain_names(self) -> re.Pattern[str]:
        return _pattern(name.lower() for word in self.words for name in word.names if name not in word.everyday)


def _pattern(names: Iterator[str] | Mapping[str, Word]) -> re.Pattern[str]:
    longest_first = sorted(names, key=lambda name: (-len(name), name))
    return re.compile(
        rf"(?<![\w-])({'|'.join(map(re.escape, longest_first)) or '(?!)'})(?:s|es)?(?![\w-])", re.IGNORECASE
    )


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
