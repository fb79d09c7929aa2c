"""Papers are tagged and kept: by our own reading of the clauses, by a checker, and read back as an evaluation."""

import json
import subprocess
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from evaluator.basis.problem import Problem
from evaluator.fleet.judging import kept_result
from evaluator.papers import blocks as b
from evaluator.papers.printing.pdf import draw, report_pdf
from evaluator.papers.printing.tagged.enclosed import fingerprint
from evaluator.papers.printing.tagged.finishing import srgb_profile
from evaluator.papers.readers import TITLES, Issued
from evaluator.papers.story import CARRYING, carried
from evaluator.result.json_form import read_result
from evaluator.wording.answer.verdict import with_words
from tests.papers.cases import BOW, FEW, full_snapshot, snapshot_of
from tests.papers.conformance import RULES, Opened, faults

ISSUED = Issued("3f2a", 4, "2026-03-02", draft=False)


@pytest.mark.parametrize("reader", list(TITLES))
def test_every_paper_keeps_every_rule(reader: str) -> None:
    assert len(RULES) >= 25
    for text in (FEW, BOW):
        assert not faults(report_pdf(read_result(snapshot_of(text)), reader, issued=ISSUED))


def test_the_longest_paper_keeps_every_rule() -> None:
    assert not faults(report_pdf(read_result(full_snapshot("violin", "wanting", "4/4"))))


def test_every_block_keeps_every_rule() -> None:
    photo = BytesIO()
    from PIL import Image

    Image.new("RGB", (40, 30), "white").save(photo, "JPEG")
    blocks = (
        b.Heading("A heading of the second level", 2),
        b.Listing(("one", "two " * 60), numbered=True),
        b.CautionBlock(("Wear glasses.", "Mind the lamp.")),
        b.TakenLook(1, "Does it lean?", "tilt", "It pulls.", ("Look along it.",), ("yes", "no"), "mm", ()),
        b.Signature(("Place and date", "Name")),
        b.TableBlock((b.Column("What", 0.7), b.Column("How much", 0.3, figures=True)), (("a", "1"),) * 90, totals=1),
    )
    assert not faults(draw(b.Paper("Blocks", "", "Test", blocks)))


def _without(*path: str) -> Callable[[pikepdf.Pdf], None]:
    def spoil(pdf: pikepdf.Pdf) -> None:
        held = pdf.Root
        for key in path[:-1]:
            held = held[key]
        del held[path[-1]]

    return spoil


def _retag(old: str, new: str) -> Callable[[pikepdf.Pdf], None]:
    def spoil(pdf: pikepdf.Pdf) -> None:
        for one in pdf.objects:
            if isinstance(one, pikepdf.Dictionary) and one.get("/S") == pikepdf.Name(old):
                one.S = pikepdf.Name(new)

    return spoil


def _redrawn(find: bytes, put: bytes) -> Callable[[pikepdf.Pdf], None]:
    def spoil(pdf: pikepdf.Pdf) -> None:
        page = pdf.pages[0].obj
        page.Contents = pikepdf.Stream(pdf, page.Contents.read_bytes().replace(find, put, 1))

    return spoil


def _unnamed_figures(pdf: pikepdf.Pdf) -> None:
    for one in pdf.objects:
        if isinstance(one, pikepdf.Dictionary) and one.get("/S") == pikepdf.Name.Figure:
            one.Alt = pikepdf.String("")


def _encoded(pdf: pikepdf.Pdf) -> None:
    for one in pdf.objects:
        if isinstance(one, pikepdf.Dictionary) and one.get("/Subtype") == pikepdf.Name.TrueType:
            one.Encoding = pikepdf.Name.WinAnsiEncoding


SPOILED = (
    ("UA 6.2", lambda pdf: pdf.Root.MarkInfo.__setattr__("Marked", False)),
    ("UA 7.1: everything", _redrawn(b"BDC", b"BDC EMC")),
    ("UA 7.1: every mark", _redrawn(b"MCID 1", b"MCID 2")),
    ("UA 7.1: standard", _retag("/Div", "/Box")),
    ("UA 7.2: a language", _without("/Lang")),
    ("UA 7.2: lists and", _retag("/LI", "/P")),
    ("UA 7.3", _unnamed_figures),
    ("UA 7.4", _retag("/H1", "/H3")),
    ("UA 7.5", _retag("/TH", "/TD")),
    ("UA 7.18", lambda pdf: pdf.pages[0].obj.__delitem__("/Tabs")),
    ("UA 7.21.4", _encoded),
    ("A 6.2.3", lambda pdf: pdf.Root.OutputIntents[0].__setattr__("S", pikepdf.Name.GTS_PDFX)),
    ("A 6.2.4", _redrawn(b"BDC", b"BDC 0 0 0 1 k")),
    ("A 6.5", lambda pdf: pdf.Root.__setattr__("AA", pikepdf.Dictionary())),
    ("A 6.6.2.3", lambda pdf: pdf.trailer.Info.__setattr__("Title", pikepdf.String("Another"))),
    ("A 6.8", _without("/AF")),
)


@pytest.mark.parametrize(("clause", "spoil"), SPOILED, ids=[clause for clause, _ in SPOILED])
def test_what_is_spoiled_is_found(clause: str, spoil: Callable[[pikepdf.Pdf], None], paper: bytes) -> None:
    pdf = pikepdf.open(BytesIO(paper))
    spoil(pdf)
    out = BytesIO()
    pdf.save(out)
    assert any(name.startswith(clause) for name in _told(out.getvalue()))


def _told(content: bytes) -> dict[str, object]:
    """The faults; a rule that cannot even read what it looks at has found one too."""
    opened, found = Opened(content), {}
    for clause, rule in RULES.items():
        try:
            wrong = rule(opened)
        except (AttributeError, KeyError, IndexError, TypeError, ValueError) as error:
            wrong = error
        if wrong:
            found[clause] = wrong
    return found


def test_another_checker_finds_nothing_in_it(tmp_path: Path, paper: bytes) -> None:
    import pdfua

    path = tmp_path / "paper.pdf"
    path.write_bytes(paper)
    report = pdfua.validate(path)
    assert not report.findings


@pytest.mark.paper
def test_a_reader_hears_heads_and_rows_in_order(tmp_path: Path, paper: bytes) -> None:
    path = tmp_path / "paper.pdf"
    path.write_bytes(paper)
    told = subprocess.run(["pdfinfo", "-struct-text", str(path)], capture_output=True, check=True, text=True)
    assert told.stderr == ""
    lines = [line.strip() for line in told.stdout.splitlines()]
    assert lines[:3] == ["Document", "H1 (block)", '"Violin in a shop window"']
    table = lines.index("Table (block)")
    assert lines[table + 1 : table + 3] == ["THead", "TR"] and lines[table + 3].startswith("TH")


def test_words_at_the_end_of_a_line_do_not_run_into_the_next() -> None:
    words = "one two three four five six seven eight nine ten eleven twelve " * 4
    opened = Opened(draw(b.Paper("Words", "", "Test", (b.Paragraph(words),))))
    drawn = b"".join(
        bytes(operands[0])
        for operands, operator in pikepdf.parse_content_stream(opened.pdf.pages[0])
        if str(operator) in ("Tj", "'")
    )
    assert words.strip().encode() in drawn


@pytest.fixture(scope="module")
def paper() -> bytes:
    return report_pdf(read_result(snapshot_of(FEW)), issued=ISSUED)


@pytest.mark.parametrize("reader", list(TITLES))
def test_a_paper_is_read_back_as_its_evaluation_or_says_that_it_carries_none(reader: str) -> None:
    result = read_result(snapshot_of(FEW))
    found = kept_result(report_pdf(result, reader, issued=ISSUED), "paper.pdf")
    if reader in CARRYING:
        assert found == with_words(result)
    else:
        assert isinstance(found, Problem) and found.code == "paper.empty"


def _with_file(content: bytes, paper: bytes, keywords: str) -> bytes:
    pdf = pikepdf.open(BytesIO(paper))
    pdf.Root.AF[0].EF.F.write(content)
    pdf.trailer.Info.Keywords = pikepdf.String(keywords)
    out = BytesIO()
    pdf.save(out)
    return out.getvalue()


def test_what_is_no_paper_of_ours_is_told_in_a_sentence(paper: bytes) -> None:
    other = carried(read_result(snapshot_of(BOW)))
    bomb = b" " * 6_000_000
    nothing = json.dumps({"program": "1", "verdict": 1, "checks": 2}).encode()
    wrong = {
        "paper.broken": paper[: len(paper) // 3],
        "paper.other": _with_file(other, paper, fingerprint(carried(read_result(snapshot_of(FEW))))),
        "paper.too_large": _with_file(bomb, paper, fingerprint(bomb)),
        "fleet.broken_result": _with_file(nothing, paper, fingerprint(nothing)),
    }
    for code, content in wrong.items():
        found = kept_result(content, "paper.pdf")
        assert isinstance(found, Problem) and found.code == code
        assert "paper.pdf" in str(found)


def test_days_are_those_of_the_evaluation_and_none_where_none_is_known(paper: bytes) -> None:
    assert str(Opened(paper).pdf.trailer.Info.CreationDate) == "D:20260302000000+00'00'"
    unknown = Opened(report_pdf(read_result(snapshot_of(FEW))))
    assert "/CreationDate" not in unknown.pdf.trailer.Info and unknown.said("xmp:CreateDate") is None


def test_the_profile_of_colours_is_the_same_at_any_time() -> None:
    first = srgb_profile()
    srgb_profile.cache_clear()
    assert srgb_profile() == first and zlib.crc32(first)
