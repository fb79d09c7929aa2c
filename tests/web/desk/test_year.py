"""The year on its page: what was finished, looked at again, offered and is in stock; its CSV and its paper."""

import csv
import io

from pypdf import PdfReader

from evaluator.result.json_form import result_json
from evaluator.store.evaluations import create, find, finish
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.desk.test_offers import offered

START = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
LENGTHS = {"body_length": {"reading": "371 mm"}, "string_length": {"reading": "340 mm"}}


def finished(service: Service, answers: dict[str, dict[str, str]], made_from: str | None = None) -> str:
    identity = create(service.engine, "violin", {"start": START, "answers": answers}, NOW, made_from)
    kept = find(service.engine, identity)
    assert kept is not None
    found = service.result(kept)
    finish(service.engine, identity, kept.version, result_json(found), found.rubric.hash, NOW)
    return identity


def test_a_year_of_two_looks(client: Client, service: Service) -> None:
    first = finished(service, LENGTHS)
    finished(service, {**LENGTHS, "purfling": {"outcome": "painted"}, "top_crack": {"outcome": "none"}}, first)
    page = client.get("/year")
    assert page.heading == "The year 2026 in figures"
    assert "2 instruments were finished" in page.text
    assert "fails most" in page.text
    assert "Brier score" in page.text
    rows = list(csv.reader(io.StringIO(client.http.get("/year/standards.csv?year=2026").get_data(as_text=True))))
    body = next(row for row in rows if row[0].lower().startswith("body length"))
    assert body[1:] == ["2", "2", "100%"]
    by_family = list(csv.reader(io.StringIO(client.http.get("/year/standards_by_family.csv").get_data(as_text=True))))
    assert by_family[1][:2] == ["violin", "2"]
    foretold = list(csv.reader(io.StringIO(client.http.get("/year/foretold.csv").get_data(as_text=True))))
    assert sum(int(row[1]) for row in foretold[1:]) >= 2


def test_the_paper_holds_every_section(client: Client, service: Service) -> None:
    finished(service, LENGTHS)
    page = client.send(offered(client, service), {"way": "cash"}, action="/accept")
    assert "/stock/" in page.path
    with client.http.get("/year.pdf?year=2026") as response:
        text = " ".join(" ".join(one.extract_text() for one in PdfReader(io.BytesIO(response.data)).pages).split())
    for words in (
        "Which standards fail most",
        "Hours by job",
        "Open work",
        "Our stock",
        "How offers ended",
        "foretold",
    ):
        assert words in text
    assert "1 offer, 1 accepted" in text


def test_a_year_in_which_nothing_was_done_says_so(client: Client) -> None:
    page = client.get("/year?year=1999")
    assert "0 instruments were finished" in page.text
    assert "No reading was held to a standard" in page.text
    assert client.get("/year?year=next", 404).heading
    assert client.http.get("/year/nothing.csv").status_code == 404
