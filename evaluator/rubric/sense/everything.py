"""What is wrong with a rubric, loaded or not: the mistakes of its files and what loads but makes no sense, by place.

`load` tells whether a file can be read; this tells whether a luthier would nod. It looks at the sound part of a rubric
even when other parts are broken, so that everything is told at once.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from ...basis.problem import Place, Problem, by_place
from ..files.load import Reading, family_names, read_rubric
from ..files.sources import Sources
from ..rubric import Rubric
from .checks import check_slips
from .fitting import fitting_slips
from .jobs import job_slips
from .limits.standards import standard_slips
from .looks import likeness_slips, safety_slips
from .making import making_slips
from .messages import CATALOGUE
from .slip import told
from .whole import unused_slips, whole_slips


@dataclass(frozen=True, slots=True)
class Told:
    """Problems in reading order, and for each place that has one its line of text."""

    problems: tuple[Problem, ...]
    lines: dict[Place, str]

    def text(self) -> str:
        """Each problem on its line, with the line of the file under it and a mark below the column."""
        return "\n".join(_with_quote(one, self.lines.get(one.place) if one.place else None) for one in self.problems)


def _with_quote(one: Problem, line: str | None) -> str:
    if not line or one.place is None:
        return str(one)
    start = max(0, one.place.column - 60)  # a long line is shown round its mark
    shown = line[start : start + 100]
    return f"{one}\n    {shown}\n    {' ' * (one.place.column - 1 - start)}^"


def check_rubric(root: Path, name: str, overlays: Sequence[Path] = ()) -> Told:
    """All that is wrong with one family's rubric and the overlays on it."""
    return check_reading(read_rubric(root, name, overlays))


def check_folder(root: Path) -> Told:
    """All that is wrong with the rubrics of a folder, each mistake once however many families share the file."""
    readings = [read_rubric(root, name) for name in family_names(root)]
    problems = [one for found in readings for one in (*found.sources.problems, *_sense(found))]
    if all(not found.sources.problems for found in readings):
        problems += _unused(readings)
    return _told(readings, problems)


def check_reading(found: Reading) -> Told:
    """All that is wrong with a rubric that was read already."""
    return _told([found], [*found.sources.problems, *_sense(found)])


def sense_problems(rubric: Rubric, sources: Sources) -> tuple[Problem, ...]:
    """What makes no sense in a rubric, at its places."""
    complete = not sources.broken and not sources.unreadable
    slips = (
        *check_slips(rubric),
        *safety_slips(rubric),
        *likeness_slips(rubric),
        *standard_slips(rubric),
        *job_slips(rubric, complete=complete),
        *(fitting_slips(rubric) if complete else ()),
        *(making_slips(rubric) if complete else ()),
        *(whole_slips(rubric) if complete else ()),
    )
    sound = (slip for slip in slips if (slip.kind, slip.identity) not in sources.broken)
    return by_place(told(slip, sources, CATALOGUE) for slip in sound)


def _sense(found: Reading) -> tuple[Problem, ...]:
    if found.rubric is None:
        return ()
    return by_place((*found.sources.old_names, *sense_problems(found.rubric, found.sources)))


def _unused(readings: Sequence[Reading]) -> Iterator[Problem]:
    """What every family that could use it leaves unused."""
    unused = [set(_problems_of_unused(found)) for found in readings]
    for one in set().union(*unused):
        file = one.place.file if one.place else ""
        if all(
            one in mine or file not in found.sources.documents for mine, found in zip(unused, readings, strict=True)
        ):
            yield one


def _problems_of_unused(found: Reading) -> Iterator[Problem]:
    if found.rubric is not None:
        for slip in unused_slips(found.rubric):
            yield told(slip, found.sources, CATALOGUE)


def _told(readings: Sequence[Reading], problems: Iterable[Problem]) -> Told:
    """Each problem once; of mistakes that several families share, all places are in the same files."""
    unique = by_place(dict.fromkeys(problems))
    lines = {}
    for one in unique:
        if one.place:
            lines[one.place] = next((line for found in readings if (line := found.sources.quote(one.place))), "")
    return Told(unique, lines)
