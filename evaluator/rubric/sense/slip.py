"""A slip: what loads but makes no sense; and how it is put into words and given its place."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from ...basis.problem import Messages, Problem, problem
from ..files.mistakes import where_of
from ..files.sources import WORD_FOR, Sources


class Slip(NamedTuple):
    """`code` of the message, the entry (`kind`, `identity`), the `path` inside it, and the `words` of the message.

    A slip of the whole family has the kind "family" and its path in the family file. `key`: it stands at the key.
    """

    code: str
    kind: str
    identity: str
    path: tuple[object, ...] = ()
    words: Mapping[str, object] = {}
    key: bool = False


def told(slip: Slip, sources: Sources, messages: Messages) -> Problem:
    """The slip in words, at its place in the files that the rubric was read from."""
    if slip.kind == "family":
        document = next(iter(sources.documents.values()), None)
        place = document.place(*slip.path, key=slip.key) if document else None
        where = where_of(document.data, slip.path) if document else ""
    else:
        key = slip.key or not slip.path
        place = sources.place(slip.kind, slip.identity, *slip.path, key=key)
        where = f'{WORD_FOR[slip.kind]} "{slip.identity}"'
        if len(slip.path) > 1 and slip.path[0] == "outcomes":
            where = f'{where}, outcome "{slip.words.get("at", slip.path[1])}"'
    return problem(messages, slip.code, where, place, **slip.words)


def circles(steps: Mapping[str, Iterable[str]]) -> Iterator[tuple[str, ...]]:
    """Each circle of names that lead to each other, once, from its first name in the order of `steps`."""
    told: set[frozenset[str]] = set()
    for start in steps:
        found = _way_back(start, steps)
        if found and frozenset(found) not in told:
            told.add(frozenset(found))
            yield found


def _way_back(start: str, steps: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    """The shortest way from a name back to itself; empty when there is none."""
    ways: list[tuple[str, ...]] = [(start,)]
    seen: set[str] = set()
    while ways:
        way = ways.pop(0)
        for name in steps.get(way[-1], ()):
            if name == start:
                return way
            if name not in seen:
                seen.add(name)
                ways.append((*way, name))
    return ()
