"""Papers: every fact is on them, names and marks print as typed, faces are embedded, and no page is left to chance."""

import re
import subprocess
from collections.abc import Iterator
from io import BytesIO
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from pypdf import PdfReader

from evaluator.figures.rules import score_rule
from evaluator.papers import blocks as b
from evaluator.papers.printing.fonts import OTHERS, drawable, register, undrawable
from evaluator.papers.printing.pdf import MARGIN, NEARLY_EMPTY, draw, laid_out, report_pdf
from evaluator.papers.printing.setting import COLOURS, ROOMY
from evaluator.papers.story import READERS
from evaluator.result.json_form import read_result, to_json
from evaluator.store.folders import rubrics_folder
from evaluator.wording.answer.verdict import words_of
from evaluator.wording.words import believed, title
from tests.laws import sampled
from tests.papers.cases import (
    BOW,
    FEW,
    content,
    evaluation_of,
    full_snapshot,
    length_of,
    pages_of,
    paper_of,
    rubric,
    shop,
    snapshot_of,
    text_of,
)
from tests.papers.conformance import faults

EXAMPLES = sorted((rubrics_folder() / "examples").glob("*.yaml"))
FULL = tuple(reader for reader in READERS if reader not in ("parent", "condition"))
FAMILIES = ("violin", "viola", "cello", "bow")
NAMES = "Łukasz Żółć, Dvořák Žižka, Παπαδόπουλος Ωμέγα, Иванов Щёлоков, Þór Ñandú Çelik"
AS_TYPED = '<b>bold</b> &amp; <img src=x> <font color="red">'


RUNNING_LINES = 4  # at the head of each page's text: the title, the page's number on two, the reader


def running_text(pdf: bytes) -> str:
    """All text as one reads on from page to page, without what each page repeats."""
    return " ".join("\n".join(page.splitlines()[RUNNING_LINES:]) for page in pages_of(pdf))


def squeezed(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("paper", sampled(["A4", "Letter"], 2))
@pytest.mark.parametrize("reader", ["buyer", "shop", "customer"])
@pytest.mark.parametrize("text", [FEW, BOW], ids=["violin", "bow"])
def test_every_full_paper_has_its_facts_on_two_to_five_pages(text: str, reader: str, paper: str) -> None:
    snapshot = snapshot_of(text)
    pdf = paper_of(snapshot, reader, paper)
    found = squeezed(running_text(pdf))
    assert 2 <= len(pages_of(pdf)) <= 5
    for item in believed(read_result(snapshot)):
        assert squeezed(title(item)) in found
    for line in snapshot["plan"]["lines"]:
        assert squeezed(line["say"]) in found
    for caution in snapshot["cautions"]:
        assert squeezed(caution) in found
    assert "Notlookedat" in found and "Placeanddate" in found
    advised = squeezed(words_of(read_result(snapshot)).sentence) in found
    assert advised == (reader != "customer")


@pytest.mark.parametrize("text", [FEW, BOW], ids=["violin", "bow"])
def test_the_sources_of_the_standards_stand_in_the_annex(text: str) -> None:
    snapshot = snapshot_of(text)
    found = squeezed(running_text(paper_of(snapshot, "annex")))
    for item in snapshot["conformity"].values():
        for source in item["sources"]:
            assert squeezed(source).casefold() in found.casefold()


@pytest.mark.parametrize(("paper", "path"), sampled(list(product(("A4", "Letter"), EXAMPLES)), 5))
def test_a_parents_paper_has_two_pages_and_a_buyers_at_most_seven(paper: str, path: Path) -> None:
    snapshot = snapshot_of(path.read_text(encoding="utf-8"))
    assert length_of(paper_of(snapshot, "parent", paper)) == 2
    assert 2 <= length_of(paper_of(snapshot, "buyer", paper)) <= 7


@pytest.mark.parametrize(
    ("kind", "readings", "most"),
    sampled([("sound", 20, 5), ("sound", 99, 5), ("wanting", 20, 12), ("wanting", 99, 12)], 2),
)
def test_a_buyers_paper_stays_short_when_everything_was_looked_at(kind: str, readings: int, most: int) -> None:
    assert 2 <= length_of(paper_of(full_snapshot("violin", kind, "4/4", readings))) <= most


@pytest.mark.parametrize(("name", "size"), sampled([("cello", "4/4"), ("viola", "405 mm"), ("bow", "violin 4/4")], 2))
@pytest.mark.parametrize("reader", list(READERS))
def test_every_family_and_reader_gets_a_paper(name: str, size: str, reader: str) -> None:
    assert length_of(paper_of(full_snapshot(name, "wanting", size), reader)) >= 2


def test_equal_snapshots_give_equal_bytes_and_other_readers_others() -> None:
    first, again = report_pdf(read_result(snapshot_of(FEW))), report_pdf(read_result(snapshot_of(FEW)))
    assert first == again
    assert first != report_pdf(read_result(snapshot_of(FEW)), "shop")


def test_every_face_is_embedded() -> None:
    faces = set()
    for page in PdfReader(BytesIO(paper_of(full_snapshot("violin", "wanting", "4/4")))).pages:
        for font in page["/Resources"]["/Font"].values():
            described = font.get_object()
            if "/FontDescriptor" not in described:
                # ReportLab names its initial font on every page; nothing is drawn with it.
                assert described["/BaseFont"] == "/Helvetica"
                continue
            faces.add(re.sub(r"^/[A-Z]{6}\+", "", described["/BaseFont"]))
            assert "/FontFile2" in described["/FontDescriptor"].get_object()
    assert {"SourceSansPro-Regular", "SourceSerifPro-Regular"} <= faces


def test_nothing_is_drawn_with_a_face_that_is_not_embedded() -> None:
    for page in PdfReader(BytesIO(paper_of(snapshot_of(FEW)))).pages:
        used: set[str] = set()
        now = [""]

        def visit(operator: Any, operands: Any, _cm: Any, _tm: Any, used: Any = used, now: Any = now) -> None:
            if operator == b"Tf":
                now[0] = str(operands[0])
            elif operator in (b"Tj", b"TJ", b"'") and any(str(part) for part in operands):
                used.add(now[0])

        page.extract_text(visitor_operand_before=visit)
        fonts = page["/Resources"]["/Font"]
        for name in used & set(fonts):
            assert "/FontDescriptor" in fonts[name].get_object(), f"{name} draws text"


@pytest.mark.parametrize("typed", [NAMES, AS_TYPED], ids=["names", "marks"])
@pytest.mark.parametrize("reader", list(READERS))
def test_what_a_user_typed_prints_as_typed(typed: str, reader: str) -> None:
    data = content(FEW)
    data |= {"title": typed, "instrument": data["instrument"] | {"about": f"Label: {typed}"}}
    snapshot = to_json(evaluation_of(data))
    found = text_of(paper_of(snapshot, reader))
    assert found.count(typed) >= 3  # the heading, the line below it, and the foot
    assert f"Label: {typed}" in found


def test_a_workshop_stands_at_the_head_of_its_papers() -> None:
    snapshot = snapshot_of(FEW)
    own = snapshot | {"shop": snapshot["shop"] | {"is_default": False, "name": "Štěpán & <i>Söhne</i>"}}
    assert all("Štěpán & <i>Söhne</i>" in page for page in pages_of(paper_of(own)))
    assert "Default workshop" not in pages_of(paper_of(snapshot))[0]


def strings(value: object) -> Iterator[str]:
    """Every string below a value of models, mappings and sequences."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from strings(key)
            yield from strings(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from strings(inner)
    elif hasattr(value, "model_dump"):
        yield from strings(value.model_dump())


@pytest.mark.parametrize("name", FAMILIES)
def test_every_letter_of_a_rubric_can_be_drawn(name: str) -> None:
    here = rubric(name)
    tables = (here.parts, here.checks, here.jobs, here.causes, here.cautions, here.sources, here.shared_labour)
    texts = [text for table in tables for text in strings(dict(table))] + list(strings(shop()))
    missing = {char for text in texts for char in text if char not in drawable(char)}
    assert len(texts) > 300 and not missing - {"\n"}


def test_what_no_face_holds_is_marked_and_control_letters_vanish() -> None:
    assert drawable("अ a\tb\x00c") == "? a b c"
    assert undrawable("अعא, a♭?") == ("अ", "ع", "א")


def test_signs_of_notes_are_drawn_or_said() -> None:
    told = text_of(draw(b.Paper("Notes", "", "B♭", (b.Paragraph("It wolfs on F♯ and B♭."),))))
    assert "It wolfs on F♯ and B♭." in told or "It wolfs on F sharp and B flat." in told


def test_scripts_of_the_registrys_face_are_drawn_wherever_it_runs() -> None:
    told = ("ვიოლინო", "ջութակ", "ไวโอลิน", "đàn vĩ cầm", "Əli")
    paper = draw(b.Paper("Scripts", "ვიოლინო", "ไวโอลิน", tuple(b.Paragraph(text) for text in told)))
    assert all(text in text_of(paper) for text in told) and undrawable("".join(told)) == ()
    assert not faults(paper)
    assert b"FiraGO" not in draw(b.Paper("Violin", "", "Violin", (b.Paragraph("Violin"),)))


@pytest.mark.skipif(not OTHERS["Far-Eastern"].exists(), reason="fonts-droid-fallback is not here")
def test_other_scripts_are_drawn_with_a_face_that_is_opened_only_then() -> None:
    pdf = draw(b.Paper("提琴", "バイオリン店", "二胡", (b.Paragraph("小提琴 and more", "strong"), b.Lead("提琴"))))
    text = text_of(pdf)
    for said in ("小提琴 and more", "バイオリン店", "二胡"):
        assert said in text
    assert not faults(pdf)
    assert b"Droid" not in draw(b.Paper("Violin", "", "Violin", (b.Paragraph("Violin"),)))


@pytest.mark.parametrize(
    "letters",
    [
        "ąćęłńóśźżĄĆĘŁŃÓŚŹŻ",
        "áčďéěíňóřšťúůýžÁČĎÉĚÍŇÓŘŠŤÚŮÝŽ",
        "αβγδεζηθικλμνξοπρσςτυφχψωάέήίόύώΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ",
        "абвгдеёжзийклмнопрстуфхцчшщъыьэюяАБВГДЕЁЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯіїєґ",
        "äöüßåæøñçşğıőűțș",
    ],
    ids=["Polish", "Czech", "Greek", "Cyrillic", "others"],
)
def test_the_letters_of_europe_can_be_drawn(letters: str) -> None:
    assert drawable(letters) == letters
    assert {ord(letter) for letter in letters} <= register()


def test_a_cell_longer_than_a_page_and_an_endless_word_do_not_stop_the_paper() -> None:
    long = "This was said at length. " * 400
    table = b.TableBlock((b.Column("What", 0.5), b.Column("How much", 0.5, True)), ((long, "1"), ("end", "2")))
    beside = b.Together((b.Heading("Head"), b.Paragraph("x" * 4000), b.Together((b.Paragraph(long),))))
    pages = pages_of(draw(b.Paper("Test", "", "foot", (table, beside, b.CautionBlock((long,))))))
    assert len(pages) > 3
    figure = score_rule((50, 40, 60), (70, 60, 80), 48)
    assert "end" in text_of(draw(b.Paper("Test", "", "foot", (b.Beside(figure, (table,)),))))
    assert "end" in " ".join(pages)


def test_a_heading_never_ends_a_page() -> None:
    heads = {"Work and cost", "Measured", "What was found", "Not looked at", "How sure this is", "Not in the total"}
    everything = tuple(full_snapshot("violin", kind, "4/4") for kind in ("wanting", "sound"))
    for snapshot in (snapshot_of(FEW), *everything):
        for reader in FULL:
            for page in pages_of(paper_of(snapshot, reader)):
                lines = [line.strip() for line in page.splitlines() if line.strip()]
                feet = [line for line in lines if line.startswith("page ") or line == snapshot["title"]]
                body = [line for line in lines if line not in feet and not line.isdigit()]
                assert body[-1] not in heads


def test_the_signature_never_stands_alone() -> None:
    for snapshot in (snapshot_of(FEW), snapshot_of(BOW), full_snapshot("violin", "wanting", "4/4")):
        for reader in FULL:
            last = pages_of(paper_of(snapshot, reader))[-1]
            assert "Place and date" in last and "ask a qualified appraiser" in " ".join(last.split())


@pytest.mark.parametrize("path", sampled(EXAMPLES, 3), ids=lambda path: path.stem)
def test_the_last_page_tells_more_than_cautions(path: Path) -> None:
    snapshot = snapshot_of(path.read_text(encoding="utf-8"))
    for reader in FULL:
        last = squeezed(pages_of(paper_of(snapshot, reader))[-1])
        assert "Howsurethisis" in last and "Placeanddate" in last


def test_a_paper_is_set_tighter_where_that_saves_a_nearly_empty_page() -> None:
    saved = 0
    for count in range(40, 60):
        paper = b.Paper("Test", "", "foot", tuple(b.Paragraph(f"Sentence {i}.") for i in range(count)))
        drawn = pages_of(draw(paper))
        roomy, end = laid_out(paper, "A4", ROOMY)
        assert end.pages == len(pages_of(roomy.pdf))
        if end.filled >= NEARLY_EMPTY or end.pages == 1:
            assert drawn == pages_of(roomy.pdf)
        saved += len(drawn) < end.pages
        assert f"Sentence {count - 1}." in drawn[-1]
    assert saved > 1


@pytest.fixture(scope="module")
def first_page(tmp_path_factory: pytest.TempPathFactory) -> Image.Image:
    """Page one of the buyer's paper as the eye sees it, 100 dots to the inch."""
    folder = tmp_path_factory.mktemp("pages")
    (folder / "paper.pdf").write_bytes(paper_of(snapshot_of(FEW)))
    subprocess.run(["pdftoppm", "-r", "100", "-png", str(folder / "paper.pdf"), str(folder / "page")], check=True)
    return Image.open(sorted(Path(folder).glob("page*1.png"))[0]).convert("RGB")


def near(page: Image.Image, role: Any) -> NDArray[np.bool_]:
    """Which pixels, by row and column, have nearly this colour."""
    colour = COLOURS[role]
    wanted = np.array((colour.red, colour.green, colour.blue)) * 255
    found: NDArray[np.bool_] = (np.abs(np.asarray(page) - wanted) < 24).all(axis=2)
    return found


@pytest.mark.paper
def test_the_rules_of_score_and_price_are_on_page_one(first_page: Image.Image) -> None:
    ink_rows = np.flatnonzero(near(first_page, "ink").mean(axis=1) > 0.6).tolist()
    rules = [y for i, y in enumerate(ink_rows) if i == 0 or y - ink_rows[i - 1] > 20]
    assert len(rules) >= 2  # the edges of two rules run over most of the page
    accent = near(first_page, "accent").sum()
    assert accent > 100  # the mark after the work, and what is asked


@pytest.mark.paper
def test_the_margins_are_empty(first_page: Image.Image) -> None:
    width, height = first_page.size
    edge = int(MARGIN / 72 * 100) - 4
    for box in ((0, 0, edge, height), (width - edge, 0, width, height)):
        assert first_page.crop(box).getextrema() == ((255, 255),) * 3
