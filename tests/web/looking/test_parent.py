"""A parent reads what was found, with JavaScript and without, and opens the paper: both must say the same."""

import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from evaluator.basis.document import parse_document
from evaluator.exchange.evaluation_file import typed_from
from evaluator.store.evaluations import create
from evaluator.store.folders import rubrics_folder
from evaluator.web.service import Service
from tests.web.conftest import BENCH, NOW, PHONE

pytestmark = [pytest.mark.browser, pytest.mark.paper]


@pytest.fixture
def violin(service: Service) -> str:
    path = rubrics_folder() / "examples" / "good_body_raw_set_up.yaml"
    document, problems = parse_document(path.read_bytes(), path.name)
    assert document is not None, problems
    return create(service.engine, "violin", typed_from(document.data), NOW)


def words_of(pdf: Path) -> str:
    """The text of a paper, white space folded."""
    drawn = subprocess.run(["pdftotext", str(pdf), "-"], check=True, capture_output=True, text=True)
    return " ".join(drawn.stdout.split())


def unfold(tab: Tab, title: str, *, script: bool) -> None:
    """Open a section of the result where it stands, or as the page that its line leads to."""
    place = tab.locator(".folded summary") if script else tab.locator(".folded a")
    place.filter(has_text=title).first.click()


@pytest.mark.parametrize(("size", "script"), [(BENCH, True), (PHONE, False)])
def test_a_parent_reads_the_result_and_opens_the_paper(
    open_tab: Callable[..., Tab], violin: str, tmp_path: Path, size: tuple[int, int], script: bool
) -> None:
    tab = open_tab(size, script=script)
    tab.goto("/")
    tab.get_by_role("link", name="Good body, raw set-up").click()
    sentence = tab.locator("h1")
    expect(sentence).to_be_in_viewport()
    expect(tab.locator(".seen li").first).to_be_in_viewport()
    tab.screenshot(path=tmp_path / "first_sight.png")

    result = tab.url
    unfold(tab, "What was found", script=script)
    finding = tab.locator(".findings details").first
    expect(finding.locator(".inside")).to_be_hidden()
    finding.locator("summary").click()
    expect(finding.locator(".inside")).to_contain_text("Cured by")
    finding.screenshot(path=tmp_path / "finding.png")
    tab.goto(result)
    unfold(tab, "Work and cost", script=script)
    expect(tab.locator("tfoot").first).to_be_visible()
    money = [text.strip() for text in tab.locator("tfoot").first.locator("td.figure").all_inner_texts()]
    tab.goto(result)

    tab.get_by_role("button", name="Finish", exact=True).click()
    expect(tab.get_by_text("Finished on")).to_be_visible()
    paper = tab.get_by_role("link", name="In two pages").first
    answer = tab.request.get(paper.get_attribute("href") or "")
    assert answer.headers["content-type"] == "application/pdf"
    pdf = tmp_path / "paper.pdf"
    pdf.write_bytes(answer.body())
    told = words_of(pdf)
    assert "Good body, raw set-up" in told
    assert " ".join(sentence.inner_text().split()) in told
    assert money[0] in told and money[-1] in told, "page and paper must name the same mean and the same upper price"
    first = tmp_path / "page"
    subprocess.run(["pdftoppm", "-png", "-r", "50", "-f", "1", "-l", "1", "-singlefile", pdf, first], check=True)
    grey = Image.open(first.with_suffix(".png")).convert("L")
    dark = sum(grey.histogram()[:128]) / (grey.width * grey.height)
    assert 0.005 < dark < 0.3, "the first page carries print and is not black"
