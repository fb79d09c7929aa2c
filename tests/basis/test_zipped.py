"""Archives of which bytes were turned: each is told in a sentence at every door that takes one, none is a crash."""

import io
import random
import zipfile
from collections.abc import Callable

import pytest

from evaluator.basis.problem import Problem
from evaluator.exchange.bringing import read_archive
from evaluator.fleet.sources import from_content
from evaluator.valuation.sales.sheets import rows_of

TEXT = "format: 1\nrubric: violin\nobservations: {purfling: painted}\n" * 20
TURNED = 1_500


def packed() -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("one.yaml", TEXT)
        archive.writestr("manifest.json", '{"format": 1, "files": {}}' * 20)
        archive.writestr("content.xml", f"<a>{TEXT}</a>")
    return written.getvalue()


def turned() -> list[bytes]:
    """The archive with one to six bytes turned, by a fixed seed."""
    drawn, whole = random.Random(7), packed()
    found = []
    for _ in range(TURNED):
        content = bytearray(whole)
        for _ in range(drawn.choice((1, 2, 6))):
            content[drawn.randrange(len(content))] = drawn.randrange(256)
        found.append(bytes(content))
    return found


DOORS: dict[str, Callable[[bytes], object]] = {
    "a fleet": lambda content: list(from_content(content, "rack.zip")),
    "an archive": lambda content: read_archive(io.BytesIO(content)),
    "a workbook": lambda content: rows_of(content, "sales.ods"),
}


@pytest.mark.parametrize("door", DOORS)
def test_a_damaged_archive_is_told(door: str) -> None:
    told = [DOORS[door](content) for content in turned()]
    assert len(told) == TURNED  # nothing was raised
    if door != "a fleet":  # of a fleet the sound files go on
        assert all(isinstance(one, Problem) for one in told)
