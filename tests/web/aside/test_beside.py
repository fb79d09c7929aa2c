"""Processes beside the service: they give what would be made here, and where they cannot, it is made here."""

import gc
import os
import pickle
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from threading import Event

import pytest

from evaluator.result.evaluation import evaluate
from evaluator.result.making.result import result_of
from evaluator.store.evaluations import find
from evaluator.web.aside import process, works
from evaluator.web.aside.process import Aside, Made
from evaluator.web.service import Service
from tests.web.conftest import Client

LONG_S = 30
nothing = gc.enable  # what a process does first here


def until(true: Callable[[], bool]) -> None:
    end = time.monotonic() + LONG_S
    while not true():
        assert time.monotonic() < end, "it never came to be"
        time.sleep(0.01)


@pytest.fixture(scope="module")
def aside() -> Iterator[Aside]:
    made = Aside(nothing, most=1)
    assert made.ask(os.getpid) == os.getpid(), "made here until a process stands ready"
    until(lambda: made.ask(os.getpid) != os.getpid())
    yield made
    made.end()
    assert made.ask(os.getpid) == os.getpid()


def test_it_is_made_in_another_process_and_a_mistake_is_met_here(aside: Aside) -> None:
    other = aside.ask(os.getpid)
    assert other != os.getpid()
    assert aside.ask(partial(int, "7")) == 7
    with pytest.raises(ValueError, match="x") as met:
        aside.ask(partial(int, "x"))
    assert "ask" in {entry.name for entry in met.traceback}
    assert aside.ask(partial(len, (lambda: 0, 1))) == 2, "what cannot be sent is made here"
    assert aside.ask(os.getpid) == other, "it goes on"


def test_what_nobody_waits_for_is_made_once_for_each_name(aside: Aside) -> None:
    made: list[str] = []
    held, first = Event(), Event()

    def hold(run: process.Run) -> None:
        first.set()
        held.wait(LONG_S)

    aside.ahead("first", hold)
    first.wait(LONG_S)
    for text in ("old", "new"):
        aside.ahead("one", lambda run, text=text: made.append(run(partial(str.upper, text))))
    aside.ahead("wrong", lambda run: run(partial(int, "x")))
    held.set()
    until(lambda: aside.ask(os.getpid) != os.getpid() and len(made) == 1)
    assert made == ["NEW"]


def test_a_process_that_dies_is_followed_by_another(aside: Aside) -> None:
    other = aside.ask(os.getpid)
    with ThreadPoolExecutor(1) as threads:
        slept = threads.submit(aside.ask, partial(time.sleep, 0.3))
        os.kill(other, signal.SIGKILL)
        assert slept.result(LONG_S) is None, "whoever waited got it made here"
    until(lambda: aside.ask(os.getpid) not in (os.getpid(), other))


def test_no_process_outlives_a_service_that_is_killed() -> None:
    program = (
        "import os, time\n"
        "from evaluator.web.aside.process import Aside\n"
        "from tests.web.aside.test_beside import nothing\n"
        "if __name__ == '__main__':\n"
        "    made = Aside(nothing, most=1)\n"
        "    while (other := made.ask(os.getpid)) == os.getpid(): time.sleep(0.01)\n"
        "    print(other, flush=True)\n"
        "    time.sleep(60)\n"
    )
    served = subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, text=True)
    assert served.stdout is not None
    other = int(served.stdout.readline())
    served.kill()
    served.wait(LONG_S)
    until(lambda: not running(other))


def running(number: int) -> bool:
    try:
        status = Path(f"/proc/{number}/stat").read_text("ascii")
    except FileNotFoundError:
        return False
    return status.rsplit(")", 1)[1].split()[0] != "Z"


def test_a_result_made_beside_is_the_one_made_here(service: Service, draft: str) -> None:
    kept = find(service.engine, draft)
    assert kept is not None
    rubric, case, book = service.rubric(kept.rubric), service.read(kept).case, service.book(kept)
    packed = works.reckon(kept.rubric, (), rubric.hash, case, service.shop, book)
    assert packed is not None
    assert pickle.loads(packed) == result_of(evaluate(rubric, case, service.shop, book=book))
    assert works.reckon(kept.rubric, (), "another", case, service.shop, book) is None


class Held(Aside):
    """Does what is asked here, once it is let; notes what."""

    def __init__(self) -> None:
        super().__init__(nothing)
        self.may, self.began = Event(), Event()
        self.done: list[str] = []

    def ask(self, work: Callable[[], Made], long: bool = False) -> Made:
        self.began.set()
        assert self.may.wait(LONG_S)
        assert isinstance(work, partial)
        self.done.append(work.func.__name__)
        return work()

    def ahead(self, name: object, errand: process.Errand) -> None:
        errand(self.ask)


def test_pages_answer_while_a_paper_is_drawn_and_it_is_drawn_once(client: Client, service: Service, draft: str) -> None:
    client.get(f"/evaluations/{draft}/result")
    service.aside = beside = Held()
    path = f"/evaluations/{draft}/report.pdf"
    with ThreadPoolExecutor(2) as threads:
        drawn = [threads.submit(lambda: client.app.test_client().get(path)) for _ in range(2)]
        assert beside.began.wait(LONG_S)
        client.get("/")
        assert not any(one.done() for one in drawn)
        beside.may.set()
        papers = {one.result(LONG_S).data for one in drawn}
    assert len(papers) == 1 and next(iter(papers)).startswith(b"%PDF")
    assert client.app.test_client().get(path).data in papers
    assert beside.done == ["report"]


def test_the_result_is_worked_out_when_the_answer_is_kept(client: Client, service: Service, draft: str) -> None:
    service.aside = beside = Held()
    beside.may.set()
    page = client.get(f"/evaluations/{draft}/parts/bridge")
    client.send(page, {"n-bridge_fitted_feet": "both feet", "q-bridge_fitted_feet": "gaps"})
    assert beside.done == ["reckon"]
    client.get(f"/evaluations/{draft}/result")
    assert beside.done == ["reckon"], "the page found it ready"
