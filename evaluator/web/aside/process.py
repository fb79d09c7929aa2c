"""Processes beside the service, in which figures are worked out and papers drawn: pages stay quick meanwhile.

One Python process computes one thing at a time, whatever its threads; half a second of drawing would hold up every page
that others open. A process beside is started when there is work for it. Until the first one stands ready, and where one
fails, the work is done here: nobody notices more than a slower page. They are given frozen data, give some back, and
open no database.
"""

import gc
import logging
import os
import signal
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import nullcontext, suppress
from multiprocessing import get_context, parent_process
from threading import BoundedSemaphore, Event, Lock, Thread
from typing import Protocol, TypeVar

log = logging.getLogger(__name__)
Made = TypeVar("Made")
LONGEST_S = 60  # a work that takes longer ends its process
KINDER = 5  # pages go first where the processors are busy (nice)
COLLECTED = (5_000, 20, 20)  # new objects before the youngest are gone through, then the older ones
MOST_AHEAD = 64  # errands that nobody waits for


class Run(Protocol):
    """Has a work done, and gives what it gave. A work is a function of a module with its arguments (a `partial`)."""

    def __call__(self, work: Callable[[], Made]) -> Made: ...


Errand = Callable[[Run], None]


class Aside:
    """At most so many processes beside the service; of what nobody waits for, each is given one at a time."""

    def __init__(self, warm: Callable[[], None], most: int = 2) -> None:
        """`warm`: what a process does first, so that its first work finds all that it needs."""
        self._warm, self._most = warm, most
        self._lock = Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._stands = Event()  # a process stands ready
        self._ended = False
        self._long = BoundedSemaphore(max(1, most - 1))  # a long work leaves a process to the others
        self._ahead: OrderedDict[Hashable, Errand] = OrderedDict()
        self._errands = ThreadPoolExecutor(most, "errands")

    def begin(self) -> None:
        """Start a process where none is; comes back at once."""
        with self._lock:
            if self._pool is None and not self._ended:
                self._pool = pool = ProcessPoolExecutor(self._most, get_context("spawn"), _begin, (self._warm,))
                pool.submit(os.getpid).add_done_callback(lambda first: self._begun(pool, first))

    def ask(self, work: Callable[[], Made], long: bool = False) -> Made:
        """What the work gives; done here while no process stands ready, or where it fails."""
        self.begin()
        pool = self._pool
        if pool is None or not self._stands.is_set():
            return work()
        try:
            with self._long if long else nullcontext():
                return pool.submit(_within, work).result()
        except BrokenProcessPool:
            self._gone(pool)
        except Exception as failed:  # it fails here again, where it is told with its place
            log.debug("not made beside: %s", type(failed).__name__)
        return work()

    def ahead(self, name: Hashable, errand: Errand) -> None:
        """Do this as soon as its turn comes; a later errand of this name takes its place."""
        self.begin()
        with self._lock:
            if self._ended:
                return
            waits = name in self._ahead
            self._ahead[name] = errand
            if len(self._ahead) > MOST_AHEAD:
                self._ahead.popitem(last=False)
            if not waits:
                self._errands.submit(self._one_errand)

    def end(self) -> None:
        """Let the processes go; what is asked from now on is made here."""
        with self._lock:
            self._ended = True
            pool, self._pool = self._pool, None
        self._stands.set()  # nobody waits any longer
        self._errands.shutdown(wait=False, cancel_futures=True)
        if pool is not None:
            pool.shutdown(wait=False, cancel_futures=True)

    def _one_errand(self) -> None:
        stands = self._stands.wait(LONGEST_S)
        with self._lock:
            if not self._ahead or not stands or self._ended:
                return
            _, errand = self._ahead.popitem(last=False)
        try:
            errand(self.ask)
        except Exception as failed:  # nobody waits for it; whoever asks for it meets the fault again, and is told
            log.warning("not made ahead: %s", type(failed).__name__)

    def _begun(self, pool: ProcessPoolExecutor, first: "Future[int]") -> None:
        """The first process of a pool stands ready, or could not be started."""
        if first.cancelled() or first.exception() is not None:
            self._gone(pool)
        else:
            self._stands.set()

    def _gone(self, pool: ProcessPoolExecutor) -> None:
        """A process has ended under its work; the next who asks has others started."""
        with self._lock:
            if self._pool is not pool:
                return
            self._pool = None
            self._stands.clear()
        log.warning("a process beside the service ended")
        pool.shutdown(wait=False)


def settle() -> None:
    """Have the collector of garbage pass over what stays for good, and go through the rest less often: else it halts
    a large service for a third of a second, several times a minute.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(*COLLECTED)


def _begin(warm: Callable[[], None]) -> None:
    """What a process does before its first work."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is for the service, and its end is ours
    Thread(target=_end_with_the_service, daemon=True).start()
    with suppress(OSError, AttributeError):
        os.nice(KINDER)
    warm()
    settle()


def _end_with_the_service() -> None:
    service = parent_process()
    if service is not None:
        service.join()
        os._exit(0)


def _within(work: Callable[[], Made]) -> Made:
    """The work, in a process that ends where it takes too long."""
    alarm = getattr(signal, "alarm", lambda seconds: 0)  # Windows has none
    alarm(LONGEST_S)
    try:
        return work()
    finally:
        alarm(0)
