"""Makes the two pictures of the README, .pictures/result.png and .pictures/report.png: `python tests/pictures.py`.

The result page is shown as a browser draws it at 1280 px, the paper as poppler draws its first page, both of the
example with a good body and a raw set-up. Needs Chromium and pdftoppm; an argument names another example.
"""

import subprocess
import sys
import tempfile
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from evaluator.basis.document import parse_document
from evaluator.exchange.evaluation_file import typed_from
from evaluator.papers.printing.pdf import report_pdf
from evaluator.rubric.files.shop_file import load_shop
from evaluator.store.engine import open_database
from evaluator.store.evaluations import create, find
from evaluator.store.folders import rubrics_folder
from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.serving import serving
from tests.web.conftest import CHROMIUM, QUIET

FOLDER = Path(__file__).parent.parent / ".pictures"
EXAMPLE = "good_body_raw_set_up"
WIDTH_PX, HEIGHT_PX = 1280, 1240
PAPER_DPI = 90
COLOURS = 256  # a palette keeps a picture of text small; the pages have a dozen colours and their blends
MOST_BYTES = 300_000


def main() -> None:
    example = sys.argv[1] if len(sys.argv) > 1 else EXAMPLE
    with tempfile.TemporaryDirectory() as folder:
        service, identity = _service_with(example, Path(folder))
        kept = find(service.engine, identity)
        assert kept is not None
        pictures = {
            "result.png": _page(service, f"/evaluations/{identity}/result"),
            "report.png": _paper(report_pdf(service.result(kept), reader="buyer"), Path(folder)),
        }
        service.engine.dispose()
    FOLDER.mkdir(exist_ok=True)
    for name, content in pictures.items():
        _write(FOLDER / name, content)


def _service_with(example: str, folder: Path) -> tuple[Service, str]:
    """A service on a database of its own that holds one example, and the id of that."""
    shop, problems = load_shop(rubrics_folder() / "shop.yaml")
    path = rubrics_folder() / "examples" / f"{example}.yaml"
    document, more = parse_document(path.read_bytes(), path.name)
    if shop is None or document is None:
        sys.exit("\n".join(str(problem) for problem in (*problems, *more)))
    service = Service(open_database(folder / "pictures.sqlite"), shop)
    return service, create(service.engine, str(document.data["rubric"]), typed_from(document.data), service.now())


def _page(service: Service, path: str) -> bytes:
    """The top of a page as a browser draws it."""
    with serving(create_app(service)) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(QUIET))
        page = browser.new_page(viewport={"width": WIDTH_PX, "height": HEIGHT_PX}, color_scheme="light")
        page.goto(f"{address}{path}")
        content = page.screenshot()
        browser.close()
    return content


def _paper(pdf: bytes, folder: Path) -> bytes:
    """The first page of a paper."""
    (folder / "report.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-png", "-f", "1", "-l", "1", "-singlefile", "-r", str(PAPER_DPI)]
    subprocess.run([*command, str(folder / "report.pdf"), str(folder / "report")], check=True)
    return (folder / "report.png").read_bytes()


def _write(path: Path, content: bytes) -> None:
    image = (
        Image.open(BytesIO(content))
        .convert("RGB")
        .quantize(COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
    )
    image.save(path, optimize=True)
    size = path.stat().st_size
    if size > MOST_BYTES:
        sys.exit(f"{path.name} has {size} bytes; at most {MOST_BYTES} belong in the project.")
    sys.stderr.write(f"{path.name}: {image.width} x {image.height} px, {size} bytes\n")


if __name__ == "__main__":
    main()
