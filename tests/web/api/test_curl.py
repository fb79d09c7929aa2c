"""The small program in another language: shell and curl against the running service, as DEVELOPERS.md shows it."""

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from evaluator.store.evaluations import newest
from evaluator.web.service import Service
from tests.serving import serving
from tests.web.api.conftest import Program
from tests.web.conftest import Client

PROGRAM = Path(__file__).parent / "program.sh"
pytestmark = pytest.mark.curl


@pytest.fixture
def address(client: Client) -> Iterator[str]:
    with serving(client.app, threads=2) as found:
        yield found


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(["sh", str(PROGRAM), *arguments], capture_output=True, text=True, timeout=60, check=False)


def test_it_creates_answers_reads_and_gets_a_paper_and_a_quote(
    program: Program, service: Service, address: str, tmp_path: Path
) -> None:
    told = run(address, program.token, str(tmp_path))
    assert told.returncode == 0, told.stdout + told.stderr
    said = dict(line.split(": ", 1) for line in told.stdout.splitlines())
    assert said["quote"] == "2026-0001"
    assert re.fullmatch(r"[0-9]+\.[0-9]{2}", said["total"])
    assert said["advice"] and "/q/" in said["link"]
    assert all((tmp_path / name).read_bytes().startswith(b"%PDF-") for name in ("paper.pdf", "quote.pdf"))
    again = run(address, program.token, str(tmp_path))
    assert again.returncode != 0, "its answers were made on a version that is gone"
    assert len(newest(service.engine)) == 1, "sent twice under one key it is made once"


def test_without_a_token_it_is_told_why(address: str, tmp_path: Path) -> None:
    told = run(address, "none", str(tmp_path))
    assert told.returncode != 0 and not told.stdout
    assert '"status":401' in told.stderr.replace(" ", "")
    assert not list(tmp_path.glob("*.pdf"))
