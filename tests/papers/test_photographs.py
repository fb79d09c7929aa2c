"""Photographs stand under their findings' numbers and lead to them; what is gone says so; forty of them stay light."""

import tracemalloc
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
import segno
from PIL import Image

from evaluator.basis.problem import Problem
from evaluator.papers.blocks import Paper, Paragraph
from evaluator.papers.printing.pdf import laid_out, report_pdf
from evaluator.papers.printing.setting import ROOMY
from evaluator.papers.readers import Issued
from evaluator.papers.sections.by_part import by_part
from evaluator.papers.sections.photographs import photographs
from evaluator.result.json_form import read_result
from evaluator.result.model.result import Result
from evaluator.store.photos import keep_photo, small_photo
from tests.papers.cases import FEW, pages_of, snapshot_of, text_of
from tests.papers.conformance import faults

PAGE = "https://records.example/evaluations/3f2a/result"


def picture(width: int = 80, height: int = 60, noise: int = 0) -> bytes:
    out = BytesIO()
    image = Image.effect_noise((width, height), 60) if noise else Image.new("RGB", (width, height), (120, 60, 20))
    image.convert("RGB").save(out, "JPEG", quality=95)
    return out.getvalue()


def with_photos(names: dict[str, tuple[str, ...]]) -> Result:
    result = read_result(snapshot_of(FEW))
    checks = []
    for check in result.checks:
        shown = names.get(check.check, ())
        checks.append(replace(check, observations=tuple(replace(one, photos=shown) for one in check.observations)))
    return replace(result, checks=tuple(checks))


def issued(**more: object) -> Issued:
    return replace(Issued("3f2a", 4, "2026-03-02", False), **more)  # type: ignore[arg-type]


def test_a_photo_has_the_number_of_its_finding_and_leads_to_it() -> None:
    result = with_photos({"purfling": ("a", "gone"), "bridge_carved": ("b",)})
    pdf = report_pdf(result, "buyer", issued=issued(pictures={"a": picture(), "b": picture()}))
    assert not faults(pdf)
    text = text_of(pdf)
    assert text.count("Photographs") == 1 and text.count("The photo is no longer in the records.") == 1
    opened = pikepdf.open(BytesIO(pdf))
    links = [link for page in opened.pages for link in page.obj.get("/Annots", [])]
    assert len(links) == 3 and {str(link.Contents)[:14] for link in links} == {"Go to finding "}


@pytest.mark.parametrize("reader", ["parent", "buyer", "shop"])
def test_a_reason_on_page_one_shows_the_photo_of_what_was_seen(reader: str) -> None:
    result = with_photos({"purfling": ("a",), "bridge_carved": ("gone",)})
    shown = report_pdf(result, reader, issued=issued(pictures={"a": picture()}))
    bare = report_pdf(result, reader, issued=issued())
    assert not faults(shown)
    with pikepdf.open(BytesIO(shown)) as opened, pikepdf.open(BytesIO(bare)) as without:
        first, plain = (set(one.pages[0].obj.Resources.get("/XObject", {})) for one in (opened, without))
        assert len(first) == len(plain) + 1, "one photo, and for what is gone the drawing"
    assert reader != "parent" or len(pages_of(shown)) == 2


@pytest.mark.parametrize("reader", ["buyer", "shop", "customer", "condition"])
def test_every_full_paper_shows_them(reader: str) -> None:
    pdf = report_pdf(with_photos({"purfling": ("a",)}), reader, issued=issued(pictures={"a": picture()}))
    assert "Photographs" in text_of(pdf) and not faults(pdf)


def test_a_code_leads_to_the_newest_version_where_others_reach_it() -> None:
    squares = tuple(tuple(bool(one) for one in row) for row in segno.make(PAGE, error="m").matrix)
    result = read_result(snapshot_of(FEW))
    assert PAGE in text_of(report_pdf(result, "buyer", issued=issued(page=PAGE, squares=squares)))
    parents = report_pdf(result, "parent", issued=issued(page=PAGE, squares=squares))
    assert len(pages_of(parents)) == 2 and PAGE in text_of(parents)
    assert "newest version" not in text_of(report_pdf(result, "buyer", issued=issued()))


def test_a_logo_stands_at_the_head_and_a_broken_one_is_left_out() -> None:
    result = read_result(snapshot_of(FEW))
    plain = report_pdf(result, "buyer", issued=issued())
    shown = report_pdf(result, "buyer", issued=issued(logo=picture()))
    assert not faults(shown) and len(pages_of(shown)) == len(pages_of(plain))
    with pikepdf.open(BytesIO(shown)) as opened, pikepdf.open(BytesIO(plain)) as bare:
        assert len(opened.pages[0].obj.Resources.XObject) == len(bare.pages[0].obj.Resources.XObject) + 1
    assert pages_of(report_pdf(result, "buyer", issued=issued(logo=b"no picture"))) == pages_of(plain)


def test_a_logo_that_is_a_bomb_is_one_sentence(tmp_path: Path) -> None:
    out = BytesIO()
    Image.new("1", (15_000, 15_000)).save(out, "PNG")
    found = keep_photo(tmp_path, out.getvalue())
    assert isinstance(found, Problem) and found.code == "photo.too_many_pixels"
    found = keep_photo(tmp_path, b"x" * 40_000_000)
    assert isinstance(found, Problem) and found.code == "photo.too_large"


@pytest.mark.long
def test_forty_photos_of_twelve_megapixels_stay_under_six_megabytes_and_four_hundred_of_memory(tmp_path: Path) -> None:
    names = []
    for number in range(40):
        name = keep_photo(tmp_path, picture(4000 + number, 3000, noise=1))
        assert isinstance(name, str)
        names.append(name)
    result = with_photos({"purfling": tuple(names[:20]), "bridge_carved": tuple(names[20:])})
    tracemalloc.start()
    pictures = {name: content for name in names if (content := small_photo(tmp_path, name))}
    pdf = report_pdf(result, "buyer", issued=issued(pictures=pictures))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(pdf) < 6_000_000 and peak < 400_000_000
    assert len(pictures) == 40 and text_of(pdf).count("Photographs") == 1


def test_the_heading_of_photographs_and_of_the_map_never_stands_alone() -> None:
    result = with_photos({"purfling": ("a",)})
    high = {"a": picture(60, 90)}
    for count in range(28, 40, 4):
        lines = tuple(Paragraph(f"Sentence {i}.") for i in range(count))
        for blocks, under in ((photographs(result, high), "Purfling"), (by_part(result)[:2], "On no one place")):
            pages = pages_of(laid_out(Paper("Test", "", "foot", (*lines, *blocks)), "A4", ROOMY)[0].pdf)
            head = next(page for page in pages if "Photographs" in page or "Part by part" in page)
            assert under in head, (under, count)
