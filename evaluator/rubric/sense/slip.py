"""A slip: what loads but makes no sense, before it is put into words and given its place."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple


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
