"""Fleets that were sent from the browser, judged one after another behind the pages, and kept while they are looked at.

A server has threads, so processes are started anew and not forked from it. What was judged lives in memory until six
newer ones have come; it can be saved as a table, as papers, or as evaluations of the service.
"""

import logging
import os
import secrets
import tempfile
import weakref
import zipfile
from collections import OrderedDict
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from ...fleet.judging import Judge
from ...fleet.rows import Row, paper_name
from ...fleet.running import Judged, Wanted, alone, judge_fleet, processes
from ...fleet.sources import Source

log = logging.getLogger(__name__)
MOST_KEPT = 6
MOST_INSTRUMENTS = 1_000
FEW = 4  # so few are judged sooner than processes are started


@dataclass(slots=True, weakref_slot=True)
class Fleet:
    """One fleet on its way. `rows` grows while it is judged; `papers`: a ZIP of them, once it is `done`."""

    key: str
    name: str
    sources: tuple[Source, ...]
    wanted: Wanted
    rows: list[Row] = field(default_factory=list)
    papers: Path | None = None
    done: bool = False
    failed: bool = False
    kept: bool = False

    @property
    def good(self) -> list[Row]:
        return [row for row in self.rows if not row.problem]

    @property
    def bad(self) -> list[Row]:
        return [row for row in self.rows if row.problem]


class Fleets:
    """The fleets of one service; one is judged at a time, so that the pages stay quick."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Fleet] = OrderedDict()
        self._lock = Lock()
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="fleet")

    def begin(self, name: str, sources: tuple[Source, ...], judge: Judge, wanted: Wanted) -> Fleet:
        """Take a fleet in; it is judged when those before it are."""
        fleet = Fleet(secrets.token_hex(6), name, sources, wanted)
        with self._lock:
            self._kept[fleet.key] = fleet
            while len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        self._worker.submit(_judge, fleet, judge)
        return fleet

    def find(self, key: str) -> Fleet | None:
        with self._lock:
            return self._kept.get(key)

    def wait(self) -> None:
        """Until all that was taken in is judged."""
        self._worker.submit(int).result()


def _judge(fleet: Fleet, judge: Judge) -> None:
    try:
        if fleet.wanted.reader:
            _with_papers(fleet, judge)
        else:
            for one in _judged(fleet, judge):
                fleet.rows.append(one.row)
    except Exception:
        fleet.failed = True
        log.exception("a fleet broke off after %d", len(fleet.rows))
    finally:
        fleet.done = True


def _with_papers(fleet: Fleet, judge: Judge) -> None:
    """The papers go into a file as they come; it is taken away with the fleet."""
    handle, name = tempfile.mkstemp(suffix=".zip", prefix="fleet-")
    os.close(handle)
    path = Path(name)
    weakref.finalize(fleet, path.unlink, missing_ok=True)
    taken: set[str] = set()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as archive:
        for one in _judged(fleet, judge):
            fleet.rows.append(one.row)
            if one.pdf:
                archive.writestr(paper_name(one.row.file, taken), one.pdf)
    fleet.papers = path


def _judged(fleet: Fleet, judge: Judge) -> Iterator[Judged]:
    return judge_fleet(fleet.sources, judge, fleet.wanted, _pool(len(fleet.sources)))


def _pool(count: int) -> Callable[[], AbstractContextManager[Executor]]:
    return alone if count <= FEW else processes(start="spawn")
