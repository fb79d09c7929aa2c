"""The tag: a camera reads its square back as the address, and no name stands on it."""

import subprocess
from pathlib import Path

import pytest
import segno

from evaluator.figures.shapes import Box
from evaluator.papers.printing.pdf import draw
from evaluator.papers.shop_story import tag_figure, tag_paper
from tests.papers.cases import text_of

ADDRESS = "http://192.168.1.5:8765/quotes/3a6cdde15509/work"
SQUARES = [[bool(one) for one in row] for row in segno.make(ADDRESS, error="m").matrix]


@pytest.mark.paper
def test_a_camera_reads_its_square(tmp_path: Path) -> None:
    cv2 = pytest.importorskip("cv2")
    path = tmp_path / "tag.pdf"
    path.write_bytes(draw(tag_paper("2026-0003", "Red violin", ["Fit a new bridge"], "2026-03-31", SQUARES)))
    subprocess.run(["pdftoppm", "-r", "150", "-png", "-singlefile", str(path), str(tmp_path / "tag")], check=True)
    read, _, _ = cv2.QRCodeDetector().detectAndDecode(cv2.imread(str(tmp_path / "tag.png")))
    assert read == ADDRESS


def test_it_says_what_it_is_and_by_when() -> None:
    text = text_of(draw(tag_paper("2026-0003", "Red violin", ["Fit a new bridge", "Clean it"], "2026-03-31", SQUARES)))
    for what in ("2026-0003", "Red violin", "2 jobs", "ready by 31 March 2026", "Fit a new bridge"):
        assert what in text, what


def test_the_dark_squares_cover_what_the_code_has() -> None:
    figure = tag_figure("1", "x", 1, None, SQUARES)
    dark = sum(one for row in SQUARES for one in row)
    step = 36.0 / len(SQUARES)
    assert sum(round(box.width / step) for box in figure.shapes if isinstance(box, Box)) == dark
