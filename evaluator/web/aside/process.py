"""Processes beside the service, in which figures are worked out and papers drawn: pages stay quick meanwhile.

One Python process computes one thing at a time, whatever its threads; half a second of drawing would hold up every page
that others open. A process beside is started when there is work for it. Until the first one stands ready, and where one
fails, the work is done here: nobody notices more than a slower page. They are given frozen data, give some back, and
open no database.
"""

import gc
import logging
import os
import pickle
import signal
from collections import OrderedDict, deque
from collections.abc import Callable, Hashable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from functools import partial
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Condition, Thread
from typing import Protocol, TypeVar, cast

log = logging.getLogger(__name__)
Made = TypeVar("Made")
LONGEST_S = 60  # a work that takes longer is given up, with its process
ENDING_S = 5
AGAIN_S = 5  # before a process is started anew that has failed
KINDER = 5  # pages go first where the processors are busy (nice)
COLLECTED = (5_000, 20, 20)  # new objects before the youngest are gone through, then the older ones
MOST_AHEAD = 64  # errands that nobody waits for


class Run(Protocol):
    """Has a work done, and gives what it gave. A work is a function of a module with its arguments (a `partial`)."""

    def __call__(self, work: Callable[[], Made]) -> Made: ...


Errand = Callable[[Run], None]


class GoneError(Exception):
    """A process beside did not answer."""


@dataclass(slots=True)
class _Asked:
    """A work that somebody waits for; a `long` one leaves a process to the others."""

    work: Callable[[], object]
    long: bool
    answer: "Future[object]" = field(default_factory=Future)


class Aside:
    """At most so many processes beside the service, and what waits for them: first what somebody waits for."""

    def __init__(self, warm: Callable[[], None], most: int = 2) -> None:
        """`warm`: what a process does first, so that its first work finds all that it needs."""
        self._warm, self._most = warm, most
        self._turn = Condition()
        self._asked: deque[_Asked] = deque()
        self._ahead: OrderedDict[Hashable, Errand] = OrderedDict()
        self._threads: list[Thread] = []
        self._ready = self._idle = self._long = 0
        self._ended = False

    def begin(self) -> None:
        """Start a process where none is; comes back at once."""
        with self._turn:
            if not self._threads:
                self._one_more()

    def ask(self, work: Callable[[], Made], long: bool = False) -> Made:
        """What the work gives; done here while no process stands ready, or where it fails."""
        asked = _Asked(work, long)
        with self._turn:
            self._one_more()
            ready = self._ready > 0 and not self._ended
            if ready:
                self._asked.append(asked)
                self._turn.notify()
        if ready:
            with suppress(Exception):  # what failed there fails here again, where it is told with its place
                return cast(Made, asked.answer.result())
        return work()

    def ahead(self, name: Hashable, errand: Errand) -> None:
        """Do this once nobody waits for anything else; a later errand of this name takes its place."""
        with self._turn:
            self._one_more()
            self._ahead[name] = errand
            if len(self._ahead) > MOST_AHEAD:
                self._ahead.popitem(last=False)
            self._turn.notify()

    def end(self) -> None:
        """Let the processes go; what is asked from now on is made here."""
        with self._turn:
            self._ended = True
            self._turn.notify_all()
        for one in self._threads:
            one.join(ENDING_S)

    def _one_more(self) -> None:
        """Start another process where none is idle."""
        if not self._ended and self._idle == 0 and self._ready == len(self._threads) < self._most:
            self._threads.append(Thread(target=self._serve, name="aside", daemon=True))
            self._threads[-1].start()

    def _serve(self) -> None:
        while not self._ended:
            try:
                with self._process() as line:
                    while (job := self._next()) is not None:
                        self._do(line, job)
            except (OSError, EOFError, GoneError) as failed:
                log.warning("a process beside the service ended: %s", type(failed).__name__)
                with self._turn:
                    self._turn.wait_for(lambda: self._ended, AGAIN_S)

    @contextmanager
    def _process(self) -> Iterator[Connection]:
        """The line to a process that stands ready."""
        here, there = get_context("spawn").Pipe()
        process = get_context("spawn").Process(target=_work, args=(there, self._warm), daemon=True)
        process.start()
        there.close()
        try:
            if not here.poll(LONGEST_S) or here.recv() is not True:
                raise GoneError
            self._counted(1)
            try:
                yield here
            finally:
                self._counted(-1)
        finally:
            here.close()
            process.join(1)
            process.kill()

    def _counted(self, change: int) -> None:
        with self._turn:
            self._ready += change
            while self._asked and not self._ready:
                self._asked.popleft().answer.set_exception(GoneError())

    def _next(self) -> _Asked | Errand | None:
        """What to do next; None at the end."""
        with self._turn:
            self._idle += 1
            try:
                while not self._ended:
                    fit = next(
                        (one for one in self._asked if not one.long or self._long < max(1, self._most - 1)), None
                    )
                    if fit is not None:
                        self._asked.remove(fit)
                        self._long += fit.long
                        return fit
                    if self._ahead:
                        return self._ahead.popitem(last=False)[1]
                    self._turn.wait()
                return None
            finally:
                self._idle -= 1

    def _do(self, line: Connection, job: _Asked | Errand) -> None:
        if isinstance(job, _Asked):
            try:
                job.answer.set_result(_sent(line, job.work))
            except Exception as failed:
                job.answer.set_exception(failed)
                if isinstance(failed, GoneError):
                    raise
            finally:
                with self._turn:
                    self._long -= job.long
            return
        try:
            job(partial(_sent, line))
        except GoneError:
            raise
        except Exception as failed:  # nobody waits for it; whoever asks for it meets the fault again, and is told
            log.warning("not made ahead: %s", type(failed).__name__)


def settle() -> None:
    """Have the collector of garbage pass over what stays for good, and go through the rest less often: else it halts
    a large service for a third of a second, several times a minute.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(*COLLECTED)


def _sent(line: Connection, work: Callable[[], Made]) -> Made:
    """What the process gives, or raises."""
    packed = pickle.dumps(work, pickle.HIGHEST_PROTOCOL)
    try:
        line.send_bytes(packed)
        if not line.poll(LONGEST_S):
            raise GoneError
        value, wrong = line.recv()
    except (OSError, EOFError) as failed:
        raise GoneError from failed
    if wrong is not None:
        raise wrong
    return cast(Made, value)


def _work(line: Connection, warm: Callable[[], None]) -> None:
    """The process: one work after another, until the service has gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl+C is for the service; the line's end is for us
    with suppress(OSError):
        os.nice(KINDER)
    warm()
    settle()
    with suppress(EOFError, OSError):
        line.send(True)
        while True:
            work = pickle.loads(line.recv_bytes())
            try:
                line.send((work(), None))
            except Exception as failed:
                line.send((None, failed))
