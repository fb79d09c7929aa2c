"""What papers cost: tags next to nothing, and three hundred of them no more memory than one."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

import evaluator.papers.printing.pdf as printing
from evaluator.papers.printing.pdf import report_pdf
from evaluator.papers.printing.tagged.canvas import TaggedCanvas
from evaluator.papers.printing.tagged.finishing import Drawn
from evaluator.papers.printing.tagged.metadata import About
from evaluator.papers.printing.tagged.tree import Node
from evaluator.result.json_form import read_result
from tests.papers.cases import FEW, snapshot_of

pytestmark = pytest.mark.long
PAGE_BYTES = 4096


def best(reader: str) -> float:
    """The least processor time of eight, in seconds."""
    result, found = read_result(snapshot_of(FEW)), []
    for _ in range(8):
        before = time.process_time()
        report_pdf(result, reader)
        found.append(time.process_time() - before)
    return min(found)


@pytest.mark.parametrize("reader", ["buyer", "parent", "shop"])
def test_tags_and_file_take_at_most_half_as_long_again(reader: str, monkeypatch: pytest.MonkeyPatch) -> None:
    full = best(reader)

    @contextmanager
    def untagged(_canvas: TaggedCanvas, _node: Node | None) -> Iterator[None]:
        yield

    def unfinished(drawn: Drawn, _about: About, _attached: bytes = b"") -> bytes:
        return drawn.pdf

    monkeypatch.setattr(printing, "finished", unfinished)
    monkeypatch.setattr(TaggedCanvas, "tagged", untagged)
    assert full < 1.5 * best(reader)


def memory() -> int:
    """What the process holds now, in bytes."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * PAGE_BYTES


def test_three_hundred_papers_leave_nothing_behind() -> None:
    result = read_result(snapshot_of(FEW))
    for _ in range(10):
        report_pdf(result)
    first = memory()
    for _ in range(300):
        report_pdf(result)
    assert memory() < 1.2 * first
