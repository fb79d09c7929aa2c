"""From rubrics/bench.yaml to its measures: every mistake at once, with file, line and column."""

from collections.abc import Iterator
from pathlib import Path

from ...basis.documents.document import Document
from ...basis.problem import Message, Messages, Problem, by_place, problem
from ...basis.units import UNITS
from ..facts import read_facts
from .model import Bench

MESSAGES: Messages = {
    "bench.twice": Message("{name} stands twice.", "Give each its own name."),
    "bench.unit": Message('"{unit}" is no unit that is known.', "Write mm for a length, g for a weight."),
}


def load_bench(path: Path) -> tuple[Bench | None, tuple[Problem, ...]]:
    """The measures of a file, or every mistake in it."""
    bench, _, problems = read_bench(path)
    return bench, problems


def read_bench(path: Path) -> tuple[Bench | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The same with the text that it is read from."""
    bench, documents, problems = read_facts(path, Bench)
    if bench is None:
        return None, documents, problems
    slips = by_place(_slips(bench, documents[0]))
    return (None if slips else bench), documents, slips


def _slips(bench: Bench, document: Document) -> Iterator[Problem]:
    """What loads and makes no sense: a name or a place that stands twice, a unit that nobody knows."""
    names: set[str] = set()
    for at, one in enumerate(bench.bench):
        where = f'measure "{one.measure}"'
        if one.measure in names:
            place = document.place("bench", at, "measure")
            yield problem(MESSAGES, "bench.twice", where, place, name=one.measure)
        names.add(one.measure)
        if one.unit not in UNITS:
            yield problem(MESSAGES, "bench.unit", where, document.place("bench", at, "unit"), unit=one.unit)
        for place_at, words in enumerate(one.places):
            if words in one.places[:place_at]:
                yield problem(
                    MESSAGES, "bench.twice", where, document.place("bench", at, "places", place_at), name=words
                )
