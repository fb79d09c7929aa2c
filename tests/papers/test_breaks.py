"""Where pages end: a total keeps its last line, the word Caution its first text; headings stand in the outline."""

from io import BytesIO

from pypdf import PdfReader

from evaluator.papers import blocks as b
from evaluator.papers.printing.building import PAPERS
from evaluator.papers.printing.pdf import draw, laid_out, report_pdf
from evaluator.papers.printing.setting import ROOMY
from evaluator.result.json_form import read_result
from tests.papers.cases import FEW, pages_of, snapshot_of

COLUMNS = (b.Column("Work", 0.7), b.Column("About", 0.3, True))


def pages_after(count: int, block: b.Block) -> tuple[str, ...]:
    """The pages of a paper on which this block follows so many lines."""
    lines = tuple(b.Paragraph(f"Sentence {i}.") for i in range(count))
    return pages_of(laid_out(b.Paper("Test", "", "foot", (*lines, block)), "A4", ROOMY)[0].pdf)


def test_a_total_is_never_parted_from_its_last_line() -> None:
    rows = (("First job", "1"), ("Last job", "2"), ("Together", "3"), ("At most", "4"))
    table = b.TableBlock(COLUMNS, rows, totals=2)
    ends = [pages_after(count, table) for count in range(28, 46)]
    assert any(len(pages) > 1 and "Sentence 27" in pages[0] for pages in ends)
    for pages in ends:
        assert any(all(word in page for word in ("Last job", "Together", "At most")) for page in pages)


def test_the_word_caution_never_stands_alone() -> None:
    block = b.CautionBlock(("The first text. " * 20, "The second one. " * 20))
    for count in range(28, 46):
        assert any("Cautions" in page and "The first text." in page for page in pages_after(count, block))


def test_a_heading_never_stands_alone_above_a_paragraph_however_long() -> None:
    for level, room in ((2, 26.0), (1, 30.0)):
        for length in (30, 45):
            after = (b.Heading("The heading", level, room), b.Paragraph("First " + "and more " * length))
            for count in range(38, 44):
                lines = tuple(b.Paragraph(f"Sentence {i}.") for i in range(count))
                pages = pages_of(laid_out(b.Paper("Test", "", "foot", (*lines, *after)), "A4", ROOMY)[0].pdf)
                assert all("First" in page for page in pages if "The heading" in page), (level, length, count)


def test_headings_stand_in_the_outline_in_their_order() -> None:
    found = PdfReader(BytesIO(report_pdf(read_result(snapshot_of(FEW))))).outline
    flat = [one.title for part in found for one in (part if isinstance(part, list) else [part])]
    assert flat[0] == "Violin in a shop window" and flat.index("How good it is") < flat.index("Work and cost")
    began_low = draw(b.Paper("Test", "", "foot", (b.Heading("Low", 2), b.Heading("High"))))
    assert [one.title for one in PdfReader(BytesIO(began_low)).outline] == ["Low", "High"]
    assert set(PAPERS) == {"A4", "Letter"}
