"""What was worked out once and is wanted again: kept by what it follows from, safe between threads.

Two threads that want the same thing at once get the one that the first of them makes. A key must hold everything that
the thing follows from; then nothing is ever stale, and a lost entry costs time only.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from threading import Lock
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Made = TypeVar("Made")


class Remembered(Generic[Key, Made]):
    """The last things that were asked for, at most so many; the one that was longest not asked for goes first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._made: OrderedDict[Key, Future[Made]] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._made)

    def of(self, key: Key, make: Callable[[], Made]) -> Made:
        """The thing of this key, made by `make` where it is not there; what `make` raises, all who wait get."""
        found, first = self._place(key)
        if first:
            self._fill(key, found, make)
        return found.result()

    def ahead(self, key: Key, make: Callable[[], Made]) -> None:
        """Make the thing of this key where nobody has asked for it yet; never waits for another who makes it."""
        found, first = self._place(key)
        if first:
            self._fill(key, found, make)

    def _place(self, key: Key) -> "tuple[Future[Made], bool]":
        """Where the thing of this key comes to stand, and whether it is still to be made."""
        with self._lock:
            found = self._made.get(key)
            if found is not None:
                self._made.move_to_end(key)
                return found, False
            found = self._made[key] = Future()
            if len(self._made) > self._most:
                self._made.popitem(last=False)
            return found, True

    def _fill(self, key: Key, found: Future[Made], make: Callable[[], Made]) -> None:
        try:
            found.set_result(make())
        except BaseException as failed:
            with self._lock:
                if self._made.get(key) is found:
                    del self._made[key]
            found.set_exception(failed)

    def clear(self) -> None:
        """Forget everything."""
        with self._lock:
            self._made.clear()
