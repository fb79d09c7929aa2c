"""A running service: fifty people at once, two hundred idle connections, a result page over a static page.

The service is the one that `evaluator serve` starts, on the database that it takes by itself, as a process of its own.
"""

import http.client
import json
import re
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import median, quantiles
from time import perf_counter
from urllib.parse import urlencode

USERS, SECONDS, ALONE = 50, 120, 60
IDLE, TRIES = 200, 40
THINKS_S = 1.0  # on the mean, between two pages
Row = tuple[str, float, float]


@dataclass
class Person:
    """Somebody with one instrument: reads four times as often as an answer is sent; what was accepted is noted."""

    port: int
    number: int
    took: list[float] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    sent: dict[str, str] = field(default_factory=dict)
    path: str = ""
    token: str = ""

    def begin(self) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        self.cookie = ""
        self.token = _token(self.ask("GET", "/new/violin"))
        typed = {"title": f"Violin {self.number}", "size": "4/4", "style": "classical", "tier": "student"}
        typed |= {"looker": "student", "currency": "USD", "seen_by": "in_person", "minutes": "10", "purpose": "buying"}
        self.path = self.ask("POST", "/new/violin", typed | {"age": "", "strings": "", "go": "parts"})
        assert self.path.startswith("/evaluations/"), "the first page was refused"
        self.path = re.sub(r"/parts/.*", "", self.path)
        self.took.clear()

    def ask(self, method: str, path: str, fields: dict[str, str] | None = None) -> str:
        """The page, or where it leads to."""
        body = urlencode(fields | {"csrf_token": self.token}) if fields else None
        head = {"Cookie": self.cookie, "Content-Type": "application/x-www-form-urlencoded"}
        began = perf_counter()
        self.connection.request(method, path, body, head)
        answer = self.connection.getresponse()
        text = answer.read().decode("utf-8", "replace")
        self.took.append(perf_counter() - began)
        self.cookie = (answer.headers.get("Set-Cookie") or self.cookie).split(";")[0]
        if answer.status >= 400:
            self.wrong.append(f"{method} {path}: {answer.status}")
        return answer.headers.get("Location") or text

    def work(self, seconds: float, pause: "Pause") -> None:
        chance, until = Random(self.number), perf_counter() + seconds
        reads = ("/", f"{self.path}/result", f"{self.path}/parts/bridge", "/evaluations")
        step = 0
        while perf_counter() < until:
            try:
                if step % 5 == 4:
                    note = f"note {step} of {self.number}"
                    fields = {"n-bridge_fitted_feet": note, "q-bridge_fitted_feet": "gaps"}
                    page = {"writer": f"page of {self.number}", "version": "1"}
                    self.ask("POST", f"{self.path}/parts/bridge", fields | page)
                    self.sent["bridge_fitted_feet"] = note
                else:
                    self.ask("GET", reads[step % 4])
            except OSError as error:
                self.wrong.append(repr(error))
            step += 1
            pause.wait(chance.expovariate(1 / THINKS_S))


class Pause:
    """People think between two pages."""

    def wait(self, seconds: float) -> None:
        from threading import Event

        Event().wait(min(seconds, 5.0))


def crowd() -> Iterator[Row]:
    """Fifty at once for two minutes over one alone; then whether all that was accepted is there."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as port:
        alone = Person(port, 0)
        alone.begin()
        alone.work(ALONE, Pause())
        people = [Person(port, number) for number in range(1, USERS + 1)]
        for one in people:
            one.begin()
        with ThreadPoolExecutor(USERS) as threads:
            list(threads.map(lambda one: one.work(SECONDS, Pause()), people))
        took = [seconds for one in people for seconds in one.took]
        yield (
            f"{USERS} people for {SECONDS} s: 95th percentile over one's median",
            _p95(took) / median(alone.took),
            10,
        )
        yield "errors among them", sum(len(one.wrong) for one in people), 0
        lost = [one for one in people if one.sent and not _is_kept(one)]
        yield "answers lost", len(lost), 0


def _p95(took: list[float]) -> float:
    return quantiles(took, n=20)[-1]


def _is_kept(one: Person) -> bool:
    return one.sent["bridge_fitted_feet"] in one.ask("GET", f"{one.path}/parts/bridge")


def idle() -> Iterator[Row]:
    """A new client while two hundred connections are held without a word, over its median without them."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as port:
        before = median(_new_client(port) for _ in range(TRIES))
        held = [socket.create_connection(("127.0.0.1", port)) for _ in range(IDLE)]
        during = median(_new_client(port) for _ in range(TRIES))
        for one in held:
            one.close()
        yield f"a new client beside {IDLE} idle connections", during / before, 10


def kept_page() -> Iterator[Row]:
    """The page of a finished result, asked for again, over a static page of the same bytes."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), "--demo") as port:
        one = Person(port, 0)
        one.connection, one.cookie = http.client.HTTPConnection("127.0.0.1", port), ""
        front = one.ask("GET", "/")
        found = re.search(r"/evaluations/[0-9a-f]+/result", front)
        assert found is not None
        page = one.ask("GET", found.group())
        version = re.search(r'name="version" value="(\d+)"', page)
        one.token = _token(page)
        one.ask("POST", found.group().replace("/result", "/finish"), {"version": version.group(1) if version else "1"})
        size = len(one.ask("GET", found.group()).encode())
        with _static(Path(folder), size) as other:
            took: tuple[list[float], list[float]] = [], []
            plain = http.client.HTTPConnection("127.0.0.1", other)
            for _ in range(200):
                one.took.clear()
                one.ask("GET", found.group())
                took[0].append(one.took[0])
                began = perf_counter()
                plain.request("GET", "/page")
                plain.getresponse().read()
                took[1].append(perf_counter() - began)
        yield "a kept result's page over a static page of its bytes", median(took[0]) / median(took[1]), 3


@contextmanager
def _static(folder: Path, size: int) -> Iterator[int]:
    """The smallest page of the same framework and server: so many bytes, and nothing else done."""
    program = (
        "import sys, flask, waitress\n"
        "app = flask.Flask('x'); text = 'x' * int(sys.argv[1])\n"
        "app.add_url_rule('/page', view_func=lambda: text)\n"
        "server = waitress.create_server(app, host='127.0.0.1', port=0)\n"
        "print(server.effective_port, flush=True); server.run()\n"
    )
    process = subprocess.Popen([sys.executable, "-c", program, str(size)], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    yield int(process.stdout.readline())
    process.terminate()
    process.wait(30)


@contextmanager
def served(folder: Path, *more: str) -> Iterator[int]:
    command = [sys.executable, "-c", "from evaluator.cli.main import main; main()", "serve", "--port", "0"]
    where = more or ("--data", str(folder / "records"))
    process = subprocess.Popen([*command, *where], stderr=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2])
    assert process.stderr is not None
    for line in process.stderr:
        found = re.search(r"http://[^:]+:(\d+)/", line)
        if found:
            break
    else:
        raise RuntimeError("the service did not start")
    yield int(found.group(1))
    process.terminate()
    process.wait(60)


def _new_client(port: int) -> float:
    began = perf_counter()
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("GET", "/health")
    json.loads(connection.getresponse().read())
    connection.close()
    return perf_counter() - began


def _token(page: str) -> str:
    found = re.search(r'name="csrf-token" content="([^"]+)"', page)
    assert found is not None, page[:300]
    return found.group(1)
