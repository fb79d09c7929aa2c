"""Thousands of spoilt files through every door, by hand: `python -m tests.hostile.mutated 10000 [KIND ...] [--from N]`.

None may hang, take more than five seconds of a processor, or end in a traceback. What does is kept in `found/` beside
this file, where the usual tests try it again for good.
"""

import faulthandler
import hashlib
import signal
import sys
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import process_time
from types import FrameType

import click

from tests.hostile.doors import DOORS, spoilt_for

FOUND = Path(__file__).parent / "found"
MOST_S = 5.0  # of a processor
HANGS_S = 300  # of the clock: what waits for ever is stopped with a traceback


class TooSlowError(Exception):
    pass


@dataclass(frozen=True)
class Count:
    """Of one kind: how many were tried, were used as they were, and the longest time in seconds; what went wrong."""

    tried: int
    used: int
    longest_s: float
    wrong: tuple[str, ...]


@contextmanager
def in_time(seconds: float = MOST_S) -> Iterator[None]:
    """Raises TooSlowError where the block takes longer, in processor time."""

    def late(_signal: int, _frame: FrameType | None) -> None:
        raise TooSlowError(f"more than {seconds} s")

    signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


def tried(kind: str, numbers: range, keep: Path | None = None) -> Count:
    """The files with these numbers through the door of a kind; what goes wrong is kept in a folder."""
    used, longest, wrong = 0, 0.0, []
    with tempfile.TemporaryDirectory() as name:
        for number in numbers:
            content = spoilt_for(kind, number)
            faulthandler.dump_traceback_later(HANGS_S, exit=True)
            began = process_time()
            try:
                with in_time():
                    used += not DOORS[kind](content, Path(name))
            except Exception as error:
                last = traceback.extract_tb(error.__traceback__)[-1]
                wrong.append(
                    f"{kind} {number}: {type(error).__name__}: {str(error)[:100]} ({last.name}, {last.lineno})"
                )
                if keep is not None:
                    _keep(keep / kind, content)
            longest = max(longest, process_time() - began)
    faulthandler.cancel_dump_traceback_later()
    return Count(len(numbers), used, longest, tuple(wrong))


def _keep(folder: Path, content: bytes) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{hashlib.sha256(content).hexdigest()[:12]}.txt").write_bytes(content)


@click.command()
@click.argument("count", type=int)
@click.argument("kinds", nargs=-1, type=click.Choice(list(DOORS)))
@click.option("--from", "first", default=0, help="The number of the first file.")
def main(count: int, kinds: tuple[str, ...], first: int) -> None:
    """Try COUNT spoilt files of each kind."""
    bad = 0
    for kind in kinds or tuple(DOORS):
        found = tried(kind, range(first, first + count), FOUND)
        for line in found.wrong:
            click.echo(line)
        told = f"{kind}: {found.tried:,} tried, {found.used:,} used, the longest {found.longest_s:.2f} s"
        click.echo(f"{told}, {len(found.wrong)} wrong")
        bad += len(found.wrong)
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
