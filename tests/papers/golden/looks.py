"""What is kept of a paper: its words page by page, the outline of its tags, and how dark each spot of a page is.

A page at 50 dpi in grey is told as squares of eight pixels, each one of sixteen darknesses: about a kilobyte, in which
a line that moved, a figure that is gone or a table that ran over shows, and another version's smoothing does not.
"""

import base64
import json
import re
import subprocess
import tempfile
import zlib
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from tests.papers.cases import pages_of
from tests.papers.conformance import Element, Opened

KEPT = Path(__file__).parent / "kept"
DPI, SQUARE, LEVELS = 50, 8, 16
# Of rubric and shop, hence of every word there, and the program's: both change where the paper stays.
HASH, VERSION = re.compile(r"\([0-9a-f]{12}\)"), re.compile(r"program \d+\.\d+\.\d+")
MOST_OFF = 0.01  # of a page's squares may differ by more than a darkness and a half


def told(paper: bytes) -> dict[str, Any]:
    """What is kept of a paper."""
    return {
        "pages": [VERSION.sub("program …", HASH.sub("(…)", page)).splitlines() for page in pages_of(paper)],
        "tags": _outline(Opened(paper).top),
        "darkness": [_packed(page) for page in darkness(paper)],
    }


def _outline(element: Element, depth: int = 0) -> list[str]:
    """A line an element, what is equal and follows each other on one: '  TR x 12'."""
    lines: list[str] = []
    for kid in element.kids:
        lines += ["\n".join(_outline(kid, depth + 1))]
    found: list[tuple[str, int]] = []
    for line in lines:
        if found and found[-1][0] == line:
            found[-1] = (line, found[-1][1] + 1)
        else:
            found.append((line, 1))
    head = f"{' ' * depth}{element.kind}"
    rows = [line if count == 1 else line.replace("\n", f" x {count}\n", 1) if "\n" in line else f"{line} x {count}"
            for line, count in found]  # fmt: skip
    return "\n".join([head, *rows]).splitlines()


def darkness(paper: bytes) -> list[np.ndarray[Any, Any]]:
    """For each page, the darkness of its squares (0 white to 15 black)."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "paper.pdf"
        path.write_bytes(paper)
        subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", str(path), f"{folder}/page"], check=True)
        return [_squares(Image.open(BytesIO(one.read_bytes()))) for one in sorted(Path(folder).glob("page*.pgm"))]


def _squares(image: Image.Image) -> np.ndarray[Any, Any]:
    grey = 255.0 - np.asarray(image, dtype=float)
    rows, columns = (size // SQUARE for size in grey.shape)
    blocks = grey[: rows * SQUARE, : columns * SQUARE].reshape(rows, SQUARE, columns, SQUARE)
    return np.minimum(LEVELS - 1, blocks.mean(axis=(1, 3)) * LEVELS / 128.0)  # text is seldom half black


def _packed(squares: np.ndarray[Any, Any]) -> str:
    levels = np.rint(squares).astype(np.uint8)
    return f"{levels.shape[0]}x{levels.shape[1]}:" + base64.b85encode(zlib.compress(levels.tobytes(), 9)).decode()


def unpacked(text: str) -> np.ndarray[Any, Any]:
    shape, _, content = text.partition(":")
    rows, columns = (int(one) for one in shape.split("x"))
    return np.frombuffer(zlib.decompress(base64.b85decode(content)), np.uint8).reshape(rows, columns)


def other_pages(kept: list[str], now: list[np.ndarray[Any, Any]]) -> list[int]:
    """The pages (from 1) that look otherwise than what was kept."""
    pairs = zip(map(unpacked, kept), now, strict=True)
    return [
        place
        for place, (before, after) in enumerate(pairs, 1)
        if before.shape != after.shape or (np.abs(before - after) > 1.5).mean() > MOST_OFF
    ]


def read(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((KEPT / f"{name}.json").read_text("utf-8"))
    return found


def keep(name: str, paper: bytes) -> None:
    text = json.dumps(told(paper), ensure_ascii=False, indent=0)
    (KEPT / f"{name}.json").write_text(f"{text}\n", "utf-8")
