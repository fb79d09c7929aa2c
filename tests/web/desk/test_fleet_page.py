"""A fleet sent from the browser: judged behind the page, listed, saved as table and papers, kept as evaluations."""

import csv
import io
import zipfile
from dataclasses import replace

import pytest
from openpyxl import load_workbook

from evaluator.fleet.judging import read_source
from evaluator.fleet.sources import from_content
from evaluator.fleet.template import ASKED, TOLD, asked_checks, template
from evaluator.result.model.result import Result
from evaluator.store.evaluations import newest
from evaluator.web.desk import fleet as fleet_pages
from evaluator.web.service import Service
from tests.fleet.fleets import EXAMPLES, zipped
from tests.web.conftest import Client
from tests.web.page import Page

RACK = {"rack/1.yaml": EXAMPLES[0].read_bytes(), "rack/2.yaml": EXAMPLES[4].read_bytes(), "rack/3.yaml": b"\x00\xff"}


def sent(client: Client, content: bytes, name: str, status: int = 200, **more: str) -> Page:
    fields = {"csrf_token": client.token(), "file": (io.BytesIO(content), name), **more}
    return client.post("/fleet", fields, status)


def test_a_zip_is_judged_listed_and_saved(client: Client, service: Service) -> None:
    page = sent(client, zipped(RACK), "rack.zip", papers="shop")
    service.fleets.wait()
    page = client.get(page.path)
    assert page.heading == "2 instruments judged, 1 not read"
    assert "rack.zip/rack/3.yaml this is not a text file" in page.text
    rows = list(csv.DictReader(io.StringIO(client.http.get(f"{page.path}.csv").get_data(as_text=True))))
    assert [bool(row["problem"]) for row in rows] == [False, False, True]
    with zipfile.ZipFile(io.BytesIO(client.http.get(f"{page.path}.zip").data)) as papers:
        assert papers.namelist() == ["1.pdf", "2.pdf"]
        assert papers.read("1.pdf").startswith(b"%PDF-")


def test_what_was_judged_is_kept_once_and_with_the_same_figures(client: Client, service: Service) -> None:
    page = sent(client, zipped(RACK), "rack.zip")
    service.fleets.wait()
    page = client.get(page.path)
    for _ in range(2):
        client.post(f"{page.path}/keep", {"csrf_token": client.token()})
    kept = newest(service.engine)
    assert len(kept) == 2
    fleet = service.fleets.find(page.path.rpartition("/")[2])
    assert fleet is not None
    scores = {row.title: row.score for row in fleet.good}
    assert {one.title: f"{service.result(one).score.expected:.1f}" for one in kept} == scores


OPINION = "extends: violin\nby: Us\nchange:\n  fingerboard_end: {outcomes: {blunt: {worth: 0.0}}, weight: 5}\n"


@pytest.fixture
def with_opinion(client: Client, service: Service) -> Service:
    client.send(client.get("/opinions"), {"text": OPINION, "go": "on"}, action="/opinions")
    assert service.opinions is not None
    return service


def test_a_fleet_is_judged_by_the_opinions_that_are_switched_on(client: Client, with_opinion: Service) -> None:
    with client.app.test_request_context():
        own = fleet_pages.judge()
    (source, *_) = from_content(RACK["rack/2.yaml"], "2.yaml")
    plain, ours = replace(own, overlays=()).result(source), own.result(source)
    assert isinstance(plain, Result)
    assert isinstance(ours, Result)
    assert ours.score != plain.score and ours.rubric.opinions
    page = sent(client, RACK["rack/2.yaml"], "2.yaml")
    with_opinion.fleets.wait()
    fleet = with_opinion.fleets.find(page.path.rpartition("/")[2])
    assert fleet is not None
    assert [row.score for row in fleet.good] == [f"{ours.score.expected:.1f}"]


def test_a_sheet_that_was_filled_in_is_judged(client: Client, service: Service) -> None:
    book = load_workbook(io.BytesIO(client.http.get("/fleet/sheets/violin.xlsx").data))
    leaf = book[ASKED]
    columns = {cell.value: cell.column for cell in leaf[1]}
    for name, value in (("rubric", "violin"), ("title", "R-01"), ("purfling", "painted"), ("body_length (mm)", 355.5)):
        leaf.cell(2, columns[name], value)
    out = io.BytesIO()
    book.save(out)
    page = sent(client, out.getvalue(), "rack.xlsx")
    service.fleets.wait()
    page = client.get(page.path)
    assert page.heading == "1 instrument judged"
    assert "R-01" in page.text


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_the_template_asks_every_check_and_offers_its_answers(service: Service, family: str) -> None:
    rubric = service.rubric(family)
    book = load_workbook(io.BytesIO(template(rubric)))
    told = {row[0]: row[1:] for row in book[TOLD].iter_rows(min_row=2, values_only=True)}
    for check in asked_checks(rubric):
        asks, *answers = told[check.check]
        assert asks == check.ask
        if check.kind == "choice":
            assert [one for one in answers if one] == [*check.outcomes, "cannot_tell"]
    assert len(book[ASKED].data_validations.dataValidation) > 25


def test_every_answer_that_the_template_offers_is_read(service: Service) -> None:
    rubric = service.rubric("violin")
    for check in asked_checks(rubric):
        for outcome in check.outcomes if check.kind == "choice" else ():
            (source,) = from_content(f"rubric,{check.check}\nviolin,{outcome}\n".encode(), "rack.csv")
            found = read_source(source)
            assert found[0] is not None
            assert not source.problems


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"", "", "no file was sent"),
        (b"x", "photo.jpg", "is neither"),
        (b"PK\x03\x04broken", "rack.zip", "damaged"),
        (zipped({f"{i}.yaml": b"0" * 1_900_000 for i in range(30)}), "bomb.zip", "unpacks to more than"),
        (b"title,size\na,4/4\n", "rack.csv", "rack.csv:1:1"),
        (b"rubric,title\n" + b"violin,a\n" * 1001, "rack.csv", "1,001 instruments"),
    ],
    ids=["nothing", "photo", "broken", "bomb", "head", "many"],
)
def test_what_cannot_be_a_fleet_is_told_on_the_page(client: Client, content: bytes, name: str, said: str) -> None:
    assert said in sent(client, content, name, 422).text


def test_a_file_above_the_limit_is_refused(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fleet_pages, "MOST_SHEET", 1_000)
    assert "larger than" in sent(client, b"x" * 1_001, "rack.csv", 422).text
