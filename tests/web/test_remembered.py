"""What is worked out once and wanted again: by its content, once for all threads, and never a stale one."""

import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import cycle, islice
from threading import Event

import pytest

from evaluator.assessment.observing import case
from evaluator.store.evaluations import create, find
from evaluator.web.remembered import Remembered
from evaluator.web.service import Service
from tests.web.conftest import NOW


@pytest.fixture
def forced_switching() -> Iterator[None]:
    """Threads are switched after every few instructions."""
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    yield
    sys.setswitchinterval(before)


def test_it_makes_each_once_and_forgets_the_one_longest_not_asked_for() -> None:
    made: list[str] = []

    def of(key: str) -> str:
        return kept.of(key, lambda: made.append(key) or key.upper())  # type: ignore[func-returns-value]

    kept: Remembered[str, str] = Remembered(2)
    assert [of(key) for key in "abaca"] == ["A", "B", "A", "C", "A"]
    assert made == ["a", "b", "c"]
    assert of("b") == "B" and made == ["a", "b", "c", "b"]
    assert len(kept) == 2


def test_what_fails_is_told_and_tried_again() -> None:
    kept: Remembered[str, int] = Remembered(2)
    with pytest.raises(ZeroDivisionError):
        kept.of("a", lambda: 1 // 0)
    assert kept.of("a", lambda: 1) == 1


def test_who_comes_meanwhile_waits_for_the_first() -> None:
    kept: Remembered[str, int] = Remembered(2)
    begun, go_on = Event(), Event()

    def slow() -> int:
        begun.set()
        assert go_on.wait(10)
        return 7

    with ThreadPoolExecutor(2) as threads:
        first = threads.submit(kept.of, "a", slow)
        assert begun.wait(10)
        second = threads.submit(kept.of, "a", lambda: 8)
        go_on.set()
        assert (first.result(10), second.result(10)) == (7, 7)


@pytest.mark.usefixtures("forced_switching")
def test_forced_calls_from_eight_threads_raise_nothing() -> None:
    kept: Remembered[int, int] = Remembered(3)

    def ask(first: int) -> bool:
        return all(
            kept.of(key, lambda key=key: key * key) == key * key for key in islice(cycle(range(first, 9)), 5_000)
        )

    with ThreadPoolExecutor(8) as threads:
        assert all(threads.map(ask, range(8)))
    assert len(kept) <= 3


@pytest.mark.usefixtures("forced_switching")
def test_results_asked_for_by_many_threads_are_each_worked_out_once(
    service: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = []
    parse = case.read_observation
    monkeypatch.setattr(case, "read_observation", lambda *args: read.append(args[1]) or parse(*args))
    identities = []
    for outcome in ("painted", "inlaid"):
        answers = {"purfling": {"outcome": outcome}, "bridge_carved": {"outcome": "boxy"}}
        typed = {"start": {"size": "4/4", "tier": "student", "style": "classical"}, "answers": answers}
        identities.append(create(service.engine, "violin", typed, NOW))
    kept = [one for one in (find(service.engine, identity) for identity in identities) if one is not None]
    with ThreadPoolExecutor(6) as threads:
        found = list(threads.map(service.result, [kept[number % 2] for number in range(24)]))
    assert len({id(one) for one in found}) == 2
    assert sorted(read) == ["bridge_carved", "bridge_carved", "purfling", "purfling"], "each answer is parsed once"
