"""A fleet judged on all cores, one instrument after another as they come, through an executor of `concurrent.futures`.

Few tasks are under way at a time, so that memory does not grow with the fleet. The first instrument is judged here: it
reads the rubric and the libraries once, and processes that are forked have them from the start. A cluster is any
executor that takes a function and its arguments.
"""

import gc
import os
import pickle
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from functools import lru_cache
from multiprocessing import get_context
from typing import ParamSpec, TypeVar

from ..basis.problem import Message, Messages, Problem, problem
from ..result.model.result import Result
from .judging import Judge
from .rows import Row, bad_row, row_of
from .sources import Source

CONNECTED_IN = "10s"  # a cluster that has not answered by then is not there
AHEAD = 4  # tasks under way for each worker: enough that none waits, few enough to hold in memory
MESSAGES: Messages = {
    "fleet.no_cluster": Message(
        "no cluster answers at {address}: {why}.", "Start one there, or leave --cluster out to use this computer."
    ),
    "fleet.no_dask": Message(
        "the library for clusters is not installed.", "Install it with pip install 'bowed-evaluator[cluster]'."
    ),
    "fleet.bug": Message(
        "the program failed on it ({kind}); the others went on.", "Score it alone to see where, and tell us."
    ),
}


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is made of each instrument beside its line: the paper for a reader, on which size; none without a reader.

    `day`: ISO, named by a paper where no look has one.
    """

    reader: str = ""
    paper: str = "A4"
    day: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """What came of one instrument: its line, its paper where one was wanted, or what is wrong with it."""

    row: Row
    pdf: bytes = b""
    problems: tuple[Problem, ...] = ()


def judge_fleet(
    sources: Iterable[Source], judge: Judge, wanted: Wanted, open_pool: Callable[[], AbstractContextManager[Executor]]
) -> Iterator[Judged]:
    """Every instrument judged, in the order of the sources; the pool is opened once there is a second one."""
    packed = pickle.dumps((judge, wanted))
    waiting = iter(sources)
    for source in waiting:
        if source.problems:
            yield _wrong(source, source.problems)
            continue
        yield judged(packed, source)
        break
    second = next(waiting, None)
    if second is None:
        return
    with open_pool() as pool:
        yield from _spread(pool, packed, second, waiting)


def _spread(pool: Executor, packed: bytes, first: Source, rest: Iterator[Source]) -> Iterator[Judged]:
    under_way: deque[tuple[Source, Future[Judged]]] = deque()
    for source in _and(first, rest):
        under_way.append((source, pool.submit(judged, packed, source)))
        if len(under_way) >= AHEAD * workers_of(pool):
            yield _answer(*under_way.popleft())
    while under_way:
        yield _answer(*under_way.popleft())


def _and(first: Source, rest: Iterator[Source]) -> Iterator[Source]:
    yield first
    yield from rest


def _answer(source: Source, future: "Future[Judged]") -> Judged:
    try:
        return future.result()
    except (OSError, RuntimeError, pickle.PickleError) as failed:  # a worker died, or could not send its answer
        return _failed(source, failed)


def judged(packed: bytes, source: Source) -> Judged:
    """One instrument judged; a fault of the program is told as its line, so that the fleet goes on."""
    judge, wanted = _unpacked(packed)
    try:
        result = judge.result(source)
        if isinstance(result, tuple):
            return _wrong(source, result)
        return Judged(row_of(source.name, result), _paper(result, wanted))
    except Exception as failed:
        return _failed(source, failed)


def _paper(result: Result, wanted: Wanted) -> bytes:
    if not wanted.reader:
        return b""
    from ..papers.printing.pdf import report_pdf
    from ..papers.story import issued_from_file

    return report_pdf(result, reader=wanted.reader, paper=wanted.paper, issued=issued_from_file(result, wanted.day))


def _wrong(source: Source, problems: tuple[Problem, ...]) -> Judged:
    return Judged(bad_row(source.name, problems), problems=problems)


def _failed(source: Source, failed: BaseException) -> Judged:
    return _wrong(source, (problem(MESSAGES, "fleet.bug", source.name, kind=type(failed).__name__),))


@lru_cache(maxsize=2)
def _unpacked(packed: bytes) -> tuple[Judge, Wanted]:
    found: tuple[Judge, Wanted] = pickle.loads(packed)
    return found


def cores() -> int:
    """The processors that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0)) or 1
    return os.cpu_count() or 1


def workers_of(pool: Executor) -> int:
    found = getattr(pool, "_max_workers", None)
    return found if isinstance(found, int) and found > 0 else 4 * cores()


Given = ParamSpec("Given")
Made = TypeVar("Made")


class _Alone(Executor):
    """Does what it is given at once, in this process."""

    _max_workers = 1

    def submit(self, function: "Callable[Given, Made]", /, *args: Given.args, **named: Given.kwargs) -> "Future[Made]":
        future: Future[Made] = Future()
        future.set_result(function(*args, **named))
        return future


def alone() -> AbstractContextManager[Executor]:
    """Judges here, without other processes: sooner for a few."""
    return _Alone()


def processes(count: int = 0, start: str = "") -> Callable[[], AbstractContextManager[Executor]]:
    """Opens a pool of processes on this computer: as many as it has processors, or `count`.

    `start` is the way of starting them: "fork" where nothing else runs in this process (they then have what is read
    already), "spawn" from a server with threads.
    """

    @contextmanager
    def opened() -> Iterator[Executor]:
        gc.collect()
        gc.freeze()  # so that what forked processes share stays shared
        way = get_context(start or ("fork" if hasattr(os, "fork") else "spawn"))
        pool = ProcessPoolExecutor(count or cores(), mp_context=way, initializer=_begin)
        try:
            yield pool
        finally:
            pool.shutdown(cancel_futures=True)
            gc.unfreeze()

    return opened


def _begin() -> None:
    """In a new worker: rings of what was judged are to go, whatever the process that started it does about them."""
    gc.enable()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def cluster(address: str) -> Callable[[], AbstractContextManager[Executor]] | Problem:
    """Opens the Dask cluster at an address as an executor, or why it cannot be used."""
    try:
        from distributed import Client
    except ImportError:
        return problem(MESSAGES, "fleet.no_dask")
    try:
        client = Client(address, timeout=CONNECTED_IN, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as failed:
        why = str(failed).splitlines()[0].rstrip(".") if str(failed) else type(failed).__name__
        return problem(MESSAGES, "fleet.no_cluster", "--cluster", address=address, why=why)

    @contextmanager
    def opened() -> Iterator[Executor]:
        with client, client.get_executor(pure=False) as pool:  # type: ignore[no-untyped-call]
            yield pool

    return opened
