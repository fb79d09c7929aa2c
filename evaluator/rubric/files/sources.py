"""What has been read of a rubric's files: every entry by kind and id, where it stands, and every mistake so far.

A file with mistakes still gives its sound entries, and the ids of the others are remembered, so that one mistake
neither hides another nor makes false ones.
"""

import copy
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from ...basis.document import Data, Document, parse_document
from ...basis.problem import Hints, Message, Messages, Place, Problem, problem
from ...basis.record import as_object
from ..file import RubricFile
from ..written.kinds import Written
from ..written.surroundings import StandardTable
from .amounts import hours_read
from .mistakes import LISTS, problems_of
from .renamed import with_todays_names

MESSAGES: Messages = {
    "file.unreadable": Message("the file cannot be read: {reason}.", "Check the name and the path."),
    "file.old_name": Message(
        '"{id}" is a name of before.', 'It is understood; write "{now}" when you next can. The reason: {why}'
    ),
    "file.gone_name": Message('"{id}" is no longer asked.', "Take it out when you next can. The reason: {why}"),
    "file.double_id": Message("this {kind} is already written at {first}.", "Give one of them another name."),
}
Steps = tuple[object, ...]
MOST_MENDS = 5  # what is wrong inside an outcome may first take the key, then the outcome, then all outcomes
KINDS = tuple(kind for kind, _, _ in LISTS)
WORD_FOR = {kind: word for kind, _, word in LISTS}


@dataclass(slots=True)
class Sources:
    """Filled while files are read. `layers` are the texts behind an entry, the latest opinion last."""

    documents: dict[str, Document] = field(default_factory=dict)
    # By kind and id; Any: each kind has a class of its own, which whoever asks for the kind knows.
    entries: dict[str, dict[str, Any]] = field(default_factory=lambda: {kind: {} for kind in KINDS})
    broken: set[tuple[str, str]] = field(default_factory=set)
    dropped: set[tuple[str, str]] = field(default_factory=set)
    layers: dict[tuple[str, str], list[tuple[Document, tuple[object, ...]]]] = field(default_factory=dict)
    rows: dict[int, tuple[Document, tuple[object, ...]]] = field(default_factory=dict)
    opinion_of: dict[str, str] = field(default_factory=dict)
    named: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    unreadable: bool = False
    old_names: list[Problem] = field(default_factory=list)

    def old_name(self, identity: str, place: Place | None, outcome: str = "") -> None:
        """Remember that a name of before was used, of a check or of its outcome: it is understood, and told."""
        entry = self.entries["renamed"][identity]
        now = ".".join(one for one in entry.today(outcome) if one) if outcome else entry.now
        code = "file.old_name" if now else "file.gone_name"
        words = {"id": outcome or identity, "now": now, "why": entry.why}
        self.old_names.append(problem(MESSAGES, code, "", place, **words))

    hints: Hints = field(default_factory=Hints)
    slips: Hints = field(default_factory=lambda: Hints(1_000))  # words of sources, most of them rightly their own

    def note(self, messages: Messages, code: str, where: str, place: Place | None, **words: object) -> None:
        self.problems.append(problem(messages, code, where, place, **words))

    def place(self, kind: str, identity: str, *path: object, key: bool = False) -> Place | None:
        """Where a part of an entry stands: in the latest layer that says it, else in the one that said it first."""
        layers = self.layers.get((kind, identity), [])
        if kind == "standards" and len(path) > 1 and path[0] == "rows" and identity in self.entries[kind]:
            row = self.entries[kind][identity].rows[path[1]]
            layers, path = [self.rows[id(row)]], path[2:]
        for document, base in reversed(layers):
            if _exists(document, (*base, *path)):
                return document.place(*base, *path, key=key)
        return layers[0][0].place(*layers[0][1], *path, key=key) if layers else None

    def names(self, kind: str) -> list[str]:
        """Every id of a kind that was written."""
        return [*self.entries[kind], *(name for one, name in self.broken if one == kind)]

    def is_there(self, kind: str, identity: str) -> bool:
        """Whether the id was written anywhere, even in an entry with mistakes or for another family."""
        return identity in self.entries[kind] or (kind, identity) in self.broken

    def is_known(self, kind: str, identity: str) -> bool:
        """Whether the id may be named: it is there, or was dropped on purpose."""
        return self.is_there(kind, identity) or (kind, identity) in self.dropped

    def add(self, kind: str, identity: str, entry: Written, document: Document, path: tuple[object, ...]) -> None:
        self.entries[kind][identity] = entry
        self.layers[kind, identity] = [(document, path)]
        if isinstance(entry, StandardTable):
            self.add_rows(entry, document, path)

    def add_rows(self, table: StandardTable, document: Document, path: tuple[object, ...]) -> None:
        """Remember where the rows of a table stand; a table may get rows from several files."""
        for at, row in enumerate(table.rows):
            self.rows[id(row)] = (document, (*path, "rows", at))

    def quote(self, place: Place | None) -> str:
        """The line of text at a place, or the empty string."""
        document = self.documents.get(place.file) if place else None
        return document.line(place.line) if document and place else ""


def _exists(document: Document, path: tuple[object, ...]) -> bool:
    spot = document.spot
    for step in path:
        inner = spot.child(step)
        if inner is None:
            return False
        spot = inner
    return True


@lru_cache(maxsize=128)
def _parsed(content: bytes, shown: str) -> tuple[Document | None, tuple[Problem, ...]]:
    """An overlay is tried on the same forty files again and again; nobody changes what was parsed."""
    return parse_document(content, shown)


def read_file(path: Path, shown: str, sources: Sources) -> Document | None:
    """The parsed document at a path, called `shown` in messages; its mistakes go to `sources`."""
    try:
        content = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "no such file").lower()
        sources.note(MESSAGES, "file.unreadable", "", Place(shown), reason=reason)
        sources.unreadable = True
        return None
    document, problems = _parsed(content, shown)
    sources.problems += problems
    if document is None:
        sources.unreadable = True
    else:
        sources.documents[shown] = document
    return document


def read_written(
    document: Document, sources: Sources, names: Mapping[str, str] | None = None
) -> tuple[RubricFile, dict[str, list[int]]]:
    """The file as far as it is sound, and for each list the positions that its entries have in the text.

    `names`: the ids of today for jobs of before.
    """
    positions = {kind: list(range(_length(document.data.get(kind)))) for kind in KINDS}
    data, wrong = hours_read(document)
    data = {**as_object(with_todays_names(data, names))} if names else data
    sources.problems += wrong
    try:
        return RubricFile.model_validate(data), positions
    except ValidationError as error:

        def locate(path: tuple[str | int | float, ...], key: bool) -> Place:
            return document.place(*path, key=key)

        sources.problems += problems_of(error, data, locate, RubricFile, sources.hints)
        bad: set[Steps] = {tuple(one["loc"][:2]) for one in error.errors()}
    rest: dict[object, object] = {}
    bad_keys = {one[0] for one in bad}
    for kind, value in data.items():
        if kind in KINDS and isinstance(value, list):
            sources.broken |= {(kind, found) for at in positions[kind] if (found := _broken_id(kind, value, at, bad))}
            kept = {at: _mended(kind, value[at]) if (kind, at) in bad else value[at] for at in positions[kind]}
            positions[kind] = [at for at in kept if kept[at] is not None]
            rest[kind] = [kept[at] for at in positions[kind]]
        elif kind not in bad_keys:
            rest[kind] = value
    return RubricFile.model_validate(rest), positions


def _length(value: object) -> int:
    return len(value) if isinstance(value, list) else 0


def _broken_id(kind: str, values: list[object], at: int, bad: set[Steps]) -> str | None:
    key = next(key for name, key, _ in LISTS if name == kind)
    entry = values[at]
    found = entry.get(key) if isinstance(entry, dict) and (kind, at) in bad else None
    return found if isinstance(found, str) else None


def _mended(kind: str, entry: object) -> object:
    """A broken entry without what is wrong in it, so that the rest of it is looked at too; None if nothing stands."""
    here = copy.deepcopy(entry)
    for _ in range(MOST_MENDS):
        try:
            RubricFile.model_validate({kind: [here]})
        except ValidationError as error:
            gone: set[Steps] = set()
            if not all(_take_out(here, one["loc"][2:], gone) for one in error.errors()):
                return None
        else:
            return here
    return None


def _take_out(entry: object, path: Steps, gone: set[Steps]) -> bool:
    """Delete the innermost key on a path that exists; False when that would be the entry itself.

    A key that is missing takes with it what should hold it. `gone` are the paths deleted in this round.
    """
    here = entry
    walked: Steps = ()
    holders: list[tuple[Data, object, Steps]] = []
    for step in path:
        if (*walked, step) in gone:
            return True
        if isinstance(here, dict) and step in here:
            walked = (*walked, step)
            holders.append((here, step, walked))
            here = here[step]
        elif isinstance(here, list) and isinstance(step, int) and step < len(here):
            walked = (*walked, step)
            here = here[step]
    if not holders:
        return False
    holder, key, at = holders[-1]
    del holder[key]
    gone.add(at)
    return True


def entries_of(
    written: RubricFile, positions: dict[str, list[int]]
) -> Iterator[tuple[str, str, Written, tuple[object, ...]]]:
    """Kind, id, entry and path of everything that a file lists."""
    for kind, key, _ in LISTS:
        for at, entry in zip(positions[kind], getattr(written, kind), strict=True):
            yield kind, getattr(entry, key), entry, (kind, at)


def take(written: RubricFile, positions: dict[str, list[int]], document: Document, sources: Sources) -> None:
    """Add a file's entries; a second entry of one kind and id is a mistake."""
    sources.named |= written.sources
    for kind, identity, entry, path in entries_of(written, positions):
        if identity in sources.entries[kind]:
            key = next(key for name, key, _ in LISTS if name == kind)
            first = sources.place(kind, identity, key)
            place, word = document.place(*path, key), WORD_FOR[kind]
            sources.note(MESSAGES, "file.double_id", f'{word} "{identity}"', place, kind=word, id=identity, first=first)
            continue
        sources.add(kind, identity, entry, document, path)
