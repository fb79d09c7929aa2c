"""The service as a process: what it says where it cannot start, and that it ends without losing what it took in."""

import os
import re
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

COMMAND = [sys.executable, "-m", "evaluator"]
EXAMPLE = "rubrics/examples/good_body_raw_set_up.yaml"
Start = Callable[..., "subprocess.Popen[str]"]


@pytest.fixture
def start() -> Iterator[Start]:
    """Starts a service on a free port; `address` of it is on its first line."""
    started = []

    def begin(*options: str) -> "subprocess.Popen[str]":
        started.append(
            subprocess.Popen([*COMMAND, "serve", "--port", "0", *options], stderr=subprocess.PIPE, text=True)
        )
        return started[-1]

    yield begin
    for one in started:
        if one.poll() is None:
            one.kill()
        one.communicate()


def address_of(process: "subprocess.Popen[str]") -> str:
    assert process.stderr is not None
    line = process.stderr.readline()
    assert line.startswith("Open http"), line
    return line.split()[1]


def refused(*options: str) -> str:
    done = subprocess.run([*COMMAND, "serve", *options], capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 1, done.stderr
    assert "Traceback" not in done.stderr and done.stderr.count("\n") == 1
    return done.stderr


def test_what_keeps_it_from_starting_is_one_sentence(tmp_path: Path) -> None:
    data = str(tmp_path / "records")
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert "another program listens there" in refused("--data", data, "--port", str(taken.getsockname()[1]))
    assert "no such address" in refused("--data", data, "--host", "no.such.host.invalid")
    assert "no such address" in refused("--data", data, "--host", "192.0.2.1")
    file = tmp_path / "file"
    file.write_text("a file")
    assert str(file) in refused("--data", str(file))
    (tmp_path / "random").mkdir()
    (tmp_path / "random" / "evaluations.sqlite").write_bytes(os.urandom(9000))
    assert "damaged" in refused("--data", str(tmp_path / "random"))


def test_told_to_end_it_answers_what_it_took_in_and_leaves_one_file(start: Start, tmp_path: Path) -> None:
    process = start("--data", str(tmp_path / "records"), "--demo")
    address = address_of(process)
    with urllib.request.urlopen(address) as front:
        page = front.read().decode()
    found = re.search(r"/evaluations/[0-9a-f]{12}", page)
    assert found is not None
    paper = f"{found[0]}/result"
    host, port = address.removeprefix("http://").strip("/").split(":")
    with socket.create_connection((host, int(port)), timeout=60) as connection:
        connection.sendall(f"GET {paper} HTTP/1.1\r\nHost: {host}:{port}\r\nConnection: close\r\n\r\n".encode())
        time.sleep(0.3)  # until it was taken in; the page itself takes longer
        process.send_signal(signal.SIGTERM)
        answer = b""
        while piece := connection.recv(65536):
            answer += piece
    assert answer.startswith(b"HTTP/1.1 200") and answer.rstrip().endswith(b"</html>")
    assert process.wait(30) == 0
    left = sorted(one.name for one in (tmp_path / "records").iterdir() if one.is_file())
    assert left == ["demo.sqlite", "secret-key"]
    with sqlite3.connect(tmp_path / "records" / "demo.sqlite") as database:
        assert database.execute("SELECT count(*) FROM evaluations").fetchone()[0] > 5
    database.close()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("command", [["score", EXAMPLE], ["score", EXAMPLE, "--json"], ["calc", "--json"]])
def test_output_that_cannot_be_written_is_told(command: list[str]) -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run([*COMMAND, *command], stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 1
    assert done.stderr.startswith("standard output: it cannot be written: no space left on device.")
    assert "Traceback" not in done.stderr and "Exception" not in done.stderr


def test_behind_a_proxy_it_is_no_open_house(start: Start, tmp_path: Path) -> None:
    """On this computer's own address, but known outside by another: whoever comes by the proxy has to sign in."""
    options = ("--data", str(tmp_path), "--address", "https://records.example", "--proxy", "127.0.0.1")
    process = start(*options)
    assert address_of(process) == "https://records.example/"
    port = next(iter(_listening(process.pid)))
    request = urllib.request.Request(f"http://127.0.0.1:{port}/", headers={"Host": "records.example"})
    with urllib.request.build_opener(_Stay()).open(request) as reply:
        assert reply.status == 302 and "/sign-in" in reply.headers["Location"]
    with urllib.request.urlopen(f"http://127.0.0.1:{port}/health") as reply:
        assert reply.status == 200


class _Stay(urllib.request.HTTPRedirectHandler):
    """Leaves a redirect as it is."""

    def http_error_302(self, req, fp, code, msg, headers):  # type: ignore[no-untyped-def]
        return fp


def _listening(pid: int) -> set[int]:
    """The ports on which a process listens, from Linux's own tables."""
    names = [os.readlink(one) for one in Path(f"/proc/{pid}/fd").iterdir() if one.is_symlink()]
    own = {name[8:-1] for name in names if name.startswith("socket:[")}
    rows = [line.split() for line in Path("/proc/net/tcp").read_text().splitlines()[1:]]
    return {int(row[1].split(":")[1], 16) for row in rows if row[3] == "0A" and row[9] in own}
