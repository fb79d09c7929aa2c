"""From the files of facts (owning.yaml, seasons.yaml, bench.yaml) to their records: every mistake, with its place."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import TypeVar, get_args

from pydantic import ValidationError

from ..basis.document import Document
from ..basis.problem import Hints, Message, Messages, Problem, by_place, problem
from ..basis.units import UNITS
from .files.mistakes import problems_of
from .files.sources import Sources, read_file
from .knowledge import Bench, Owning
from .written.kinds import Tier, Written

Facts = TypeVar("Facts", bound=Written)
BENCH: Messages = {
    "bench.twice": Message("{name} stands twice.", "Give each its own name."),
    "bench.unit": Message('"{unit}" is no unit that is known.', "Write mm for a length, g for a weight."),
}
OWNING: Messages = {
    "owning.hours_fall": Message("{hours:g} hours stand after {before:g}.", "Begin with the fewest hours."),
    "owning.wear_falls": Message(
        "more playing wears out less: {key} is below the {before:g} of fewer hours.", "Write no smaller number."
    ),
    "owning.grade_missing": Message("it does not say which strings suit a {tier}.", "Add {tier} under strings."),
    "owning.parts_cross": Message(
        "small_part is {small:g}, not below the large_part of {large:g}.", "Write a smaller share."
    ),
}
MESSAGES: Messages = {**BENCH, **OWNING}
NEVER_LESS = ("string_sets", "rehairs", "full_services")  # light services give way to full ones


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


def load_bench(path: Path) -> tuple[Bench | None, tuple[Problem, ...]]:
    """The measures of a file, or every mistake in it."""
    bench, _, problems = read_bench(path)
    return bench, problems


def read_bench(path: Path) -> tuple[Bench | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The same with the text that it is read from."""
    bench, documents, problems = read_facts(path, Bench)
    if bench is None:
        return None, documents, problems
    slips = by_place(_bench_slips(bench, documents[0]))
    return (None if slips else bench), documents, slips


def _bench_slips(bench: Bench, document: Document) -> Iterator[Problem]:
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


def read_owning(path: Path) -> tuple[Owning | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The facts of a file with the text that they are read from, and every mistake in it."""
    owning, documents, problems = read_facts(path, Owning)
    if owning is None:
        return None, documents, problems
    slips = by_place(_owning_slips(owning, documents[0]))
    return (None if slips else owning), documents, slips


def _owning_slips(owning: Owning, document: Document) -> Iterator[Problem]:
    """What loads and makes no sense: hours or wear that fall, a standard without strings, parts that cross."""

    def note(code: str, *path: object, **told: object) -> Problem:
        return problem(MESSAGES, code, str(path[0]), document.place(*path), **told)

    for at, (fewer, more) in enumerate(pairwise(owning.habits.years), start=1):
        here = ("habits", "years", at)
        if more.hours <= fewer.hours:
            yield note("owning.hours_fall", *here, "hours", hours=more.hours, before=fewer.hours)
        for key in NEVER_LESS:
            if getattr(more, key) < getattr(fewer, key):
                yield note("owning.wear_falls", *here, key, key=key, before=getattr(fewer, key))
    for tier in get_args(Tier):
        if tier not in owning.habits.strings:
            yield note("owning.grade_missing", "habits", "strings", tier=tier)
    small, large = owning.repairing.small_part, owning.repairing.large_part
    if small >= large:
        yield note("owning.parts_cross", "repairing", "small_part", small=small, large=large)
