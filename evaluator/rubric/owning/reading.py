"""From rubrics/owning.yaml to its facts: every mistake at once, with file, line and column."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import get_args

from ...basis.documents.document import Document
from ...basis.problem import Message, Messages, Problem, by_place, problem
from ..facts import read_facts
from ..written.kinds import Tier
from .model import Owning

MESSAGES: Messages = {
    "owning.hours_fall": Message("{hours:g} hours stand after {before:g}.", "Begin with the fewest hours."),
    "owning.wear_falls": Message(
        "more playing wears out less: {key} is below the {before:g} of fewer hours.", "Write no smaller number."
    ),
    "owning.grade_missing": Message("it does not say which strings suit a {tier}.", "Add {tier} under strings."),
    "owning.parts_cross": Message(
        "small_part is {small:g}, not below the large_part of {large:g}.", "Write a smaller share."
    ),
}
NEVER_LESS = ("string_sets", "rehairs", "full_services")  # light services give way to full ones


def read_owning(path: Path) -> tuple[Owning | None, tuple[Document, ...], tuple[Problem, ...]]:
    """The facts of a file with the text that they are read from, and every mistake in it."""
    owning, documents, problems = read_facts(path, Owning)
    if owning is None:
        return None, documents, problems
    slips = by_place(_slips(owning, documents[0]))
    return (None if slips else owning), documents, slips


def _slips(owning: Owning, document: Document) -> Iterator[Problem]:
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
