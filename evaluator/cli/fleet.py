"""A fleet from the command line: its table, its papers, how far it is, and what could not be read."""

import contextlib
import sys
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import IO, TYPE_CHECKING

import click

from ..basis.frozen import dataclass
from ..basis.problem import Problem
from .files import MistakesError, Sales, fail, judge_from

if TYPE_CHECKING:
    from ..fleet.judging import Judge
    from ..fleet.running import Judged, Wanted
    from ..fleet.sources import Source

By = tuple[str | None, int, tuple[str, ...], Sales]


@dataclass(frozen=True, slots=True)
class Spread:
    """Where a fleet is judged: so many processes of this computer (None: as many as it has cores), or a cluster."""

    workers: int | None = None
    cluster: str | None = None


def table_of(files: Sequence[str], output: str, spread: Spread, by: By) -> None:
    """Write a line for each instrument of these files and folders; exit 1 where some could not be read."""
    from ..fleet.rows import COLUMNS, csv_line
    from ..fleet.running import Wanted

    judge = _judge(by)
    with _opened(output) as out:
        out.write(csv_line(COLUMNS))
        bad = []
        for one in _judged(files, judge, Wanted(), spread, output):
            out.write(csv_line(asdict(one.row).values()))
            out.flush()
            bad += _bad(one)
    _told(bad)


def papers_of(files: Sequence[str], folder: str, wanted: tuple[str, str, str], spread: Spread, by: By) -> None:
    """Write the paper of each instrument into a folder; exit 1 where some could not be read."""
    from ..fleet.rows import paper_name
    from ..fleet.running import Wanted

    judge, place = _judge(by), Path(folder)
    try:
        place.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        fail("file.unwritable", folder, f"cannot be made: {error.strerror}.", "Name a folder for the papers.")
    bad: list[Problem] = []
    taken: set[str] = set()
    for one in _judged(files, judge, Wanted(*wanted), spread, folder):
        bad += _bad(one)
        if one.pdf:
            _write(place / paper_name(one.row.file, taken), one.pdf)
    click.echo(f"Wrote {len(taken)} {'paper' if len(taken) == 1 else 'papers'} into {folder}", err=True)
    _told(bad)


def _write(path: Path, content: bytes) -> None:
    try:
        path.write_bytes(content)
    except OSError as error:
        fail("file.unwritable", str(path), f"cannot be written: {error.strerror}.", "Name a folder for the papers.")


def _judge(by: By) -> "Judge":
    shop, seed, overlays, sales = by
    return judge_from(shop, seed, overlays, sales)


def _judged(files: Sequence[str], judge: "Judge", wanted: "Wanted", spread: Spread, output: str) -> "Iterator[Judged]":
    """The fleet as it is judged, with its progress on standard error where somebody watches."""
    from ..fleet.running import cluster, judge_fleet, processes

    pool = cluster(spread.cluster) if spread.cluster else processes(spread.workers or 0)
    if isinstance(pool, Problem):
        raise MistakesError([pool])
    count = sum(1 for _ in _sources(files, output))
    with click.progressbar(length=count, label=f"Judging {count}", file=sys.stderr, show_pos=True) as bar:
        for one in judge_fleet(_sources(files, output), judge, wanted, pool):
            yield one
            bar.update(1)


def _sources(files: Sequence[str], output: str) -> "Iterator[Source]":
    """The instruments of the files; what was written before into a folder of them is none."""
    from ..fleet.sources import from_paths

    return (one for one in from_paths(files) if one.name != output)


def _bad(one: "Judged") -> list[Problem]:
    return [_named(one.row.file, problem) for problem in one.problems[:3]]


def _named(file: str, problem: Problem) -> Problem:
    """The problem with the file that it is in, where it does not say so by itself."""
    if problem.place is not None or problem.where.startswith(file):
        return problem
    return Problem(problem.code, f"{file}: {problem.where}".rstrip(": "), problem.what, problem.what_to_do)


def _told(bad: list[Problem]) -> None:
    if bad:
        raise MistakesError(bad)


@contextlib.contextmanager
def _opened(output: str) -> Iterator[IO[str]]:
    if output == "-":
        yield sys.stdout
        return
    try:
        file = Path(output).open("w", encoding="utf-8", newline="")  # noqa: SIM115
    except OSError as error:
        fail("file.unwritable", output, f"cannot be written: {error.strerror}.", "Choose another place for the table.")
    with file:
        yield file
    click.echo(f"Wrote {output}", err=True)
