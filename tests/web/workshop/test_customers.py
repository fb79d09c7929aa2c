"""Customers and instruments: found again, never lost between two tabs, their timeline, and looks that know the last."""

import pytest

from evaluator.papers.printing.pdf import report_pdf
from evaluator.result.json_form import result_json
from evaluator.store.evaluations import create, find, finish
from evaluator.store.workshop.customers import find_customer, find_instrument, search
from evaluator.store.workshop.texts import covering_of, keep_covering
from evaluator.store.workshop.timeline import belongs_to, put_to
from evaluator.web.service import Service
from tests.papers.cases import text_of
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import kept_of, link_of
from tests.web.workshop.test_bills import done, given

PHONE = "0171 555 01 23"


@pytest.fixture
def anna(client: Client) -> str:
    """The id of a customer."""
    page = client.send(client.get("/customers"), {"name": "Anna Example", "telephone": PHONE}, action="/customers/new")
    return page.path.split("/")[2]


@pytest.fixture
def violin(client: Client, anna: str) -> str:
    """The id of her violin."""
    typed = {"name": "Red violin", "family": "violin", "size": "4/4", "serial": "No. 417", "hours_a_week": "10"}
    page = client.send(client.get(f"/customers/{anna}"), typed, action="/instruments")
    return page.path.split("/")[2]


def test_found_again_by_any_word(client: Client, service: Service, violin: str) -> None:
    for words in ("anna", "555 01", "417", "red exam"):
        assert "Anna Example" in client.get(f"/customers?q={words}").text, words
    assert "Nobody is found" in client.get("/customers?q=berta").text
    assert [one.name for _, things in search(service.engine, "anna") for one in things] == ["Red violin"]


def test_two_tabs_at_one_card_lose_nothing(client: Client, service: Service, anna: str) -> None:
    path = f"/customers/{anna}"
    first, second = client.get(path), client.get(path)
    client.send(first, {"email": "anna@example.org"}, action="/change")
    client.send(second, {"language": "French"}, action="/change")
    kept = find_customer(service.engine, anna)
    assert kept is not None
    assert (kept.record["email"], kept.record["language"]) == ("anna@example.org", "French")
    clash = client.send(second, {"email": "other@example.org"}, 409, action="/change")
    assert "somebody else changed email meanwhile" in clash.text and "other@example.org" in clash.source
    client.send(clash, action="/change")
    kept = find_customer(service.engine, anna)
    assert kept is not None and kept.record["email"] == "other@example.org"


@pytest.mark.parametrize("typed", [{"name": " "}, {"hours_a_week": "much"}, {"hours_a_week": "-3"}])
def test_a_mistake_on_a_card_is_told_and_nothing_is_lost(
    client: Client, service: Service, violin: str, typed: dict[str, str]
) -> None:
    before = find_instrument(service.engine, violin)
    page = client.send(client.get(f"/instruments/{violin}"), {"label": "Oldtown", **typed}, 422, action="/change")
    assert "Oldtown" in page.source
    assert find_instrument(service.engine, violin) == before


def test_the_timeline_holds_looks_quotes_bills_and_notes(
    client: Client, service: Service, violin: str, quote: str, finished: str
) -> None:
    page = client.get(f"/evaluations/{finished}/instrument")
    client.send(page, {}, action="/instrument/put")
    put_to(service.engine, finished, violin)
    done(client, service, quote)
    given(client, quote)
    client.send(
        client.get(f"/instruments/{violin}"), {"text": "New strings, elsewhere", "on": "2026-02-01"}, action="/notes"
    )
    text = client.get(f"/instruments/{violin}").text
    for what in ("Looked at: Anna's violin", "Quote 2026-0001", "Bill B2026-0001", "New strings, elsewhere"):
        assert what in text, what
    assert "Next service about 22 July 2026" in text, "200 hours at ten a week"
    assert (
        "is no day"
        in client.send(client.get(f"/instruments/{violin}"), {"text": "x", "on": "soon"}, 422, action="/notes").text
    )


def test_a_customer_with_open_work_is_not_erased_and_then_is(
    client: Client, service: Service, anna: str, violin: str, quote: str, finished: str
) -> None:
    put_to(service.engine, finished, violin)
    keep_covering(service.engine, finished, "Dear Anna Example", 1, "2026-03-03T09:00:00+00:00", "")
    link_of(client, quote)
    told = client.send(client.get(f"/customers/{anna}"), action="/erase", status=409)
    assert "is offered" in told.text
    client.send(client.get(f"/quotes/{quote}"), action="/withdraw")
    client.send(client.get(f"/customers/{anna}"), action="/erase")
    assert find_customer(service.engine, anna) is None
    assert covering_of(service.engine, finished) is None
    assert "Anna Example" not in client.get("/customers").text
    kept = find_instrument(service.engine, violin)
    assert kept is not None and kept.customer is None
    assert client.get(f"/customers/{anna}", 404)
    assert kept_of(service, quote).quote.state == "withdrawn"


def test_a_new_instrument_of_a_customer_takes_an_evaluation(
    client: Client, service: Service, anna: str, finished: str
) -> None:
    page = client.get(f"/evaluations/{finished}/instrument?q=anna")
    shown = client.send(page, {}, action="/instrument/put")
    found = belongs_to(service.engine, finished)
    assert shown.path == f"/instruments/{found}"


def test_looking_from_its_card_types_nothing_twice(client: Client, service: Service, violin: str) -> None:
    page = client.send(client.get(f"/instruments/{violin}"), action="/look")
    assert page.form()["title"] == "Red violin"
    identity = page.path.split("/")[2]
    assert belongs_to(service.engine, identity) == violin


def test_another_look_takes_old_answers_as_old_and_shows_what_changed(
    client: Client, service: Service, violin: str
) -> None:
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
    answers = {"weight_without_chin_rest": {"reading": "430", "unit": "g"}, "purfling": {"outcome": "inlaid"}}
    before = create(service.engine, "violin", {"start": start, "answers": answers}, NOW.replace("2026", "2025"))
    put_to(service.engine, before, violin)
    kept = find(service.engine, before)
    assert kept is not None
    finish(service.engine, before, 1, result_json(service.result(kept)), "hash", NOW.replace("2026", "2025"))
    page = client.send(client.get(f"/evaluations/{before}/result"), action="/again")
    now = page.path.split("/")[2]
    assert page.heading == "2 answers of 4 March 2025 to confirm."
    assert belongs_to(service.engine, now) == violin
    fresh = find(service.engine, now)
    assert fresh is not None and fresh.typed["answers"] == {}, "an old answer counts for nothing yet"
    page = client.post(f"/evaluations/{now}/again/confirm", {**page.form("/confirm"), "check": ["purfling"]})
    fresh = find(service.engine, now)
    assert fresh is not None and set(fresh.typed["answers"]) == {"purfling"}
    part = client.get(f"/evaluations/{now}/parts/whole")
    client.send(part, {"r-weight_without_chin_rest": "436,5", "go": "result"})
    page = client.get(f"/evaluations/{now}/again")
    assert "430 g on 4 March 2025, now 436.5 g" in page.text and "up 6.5 g in 12 months" in page.text
    assert "up 6.5 g" in client.get(f"/instruments/{violin}").text


def test_a_telephone_number_is_printed_on_no_paper(client: Client, service: Service, finished: str) -> None:
    start = {
        "title": "Red violin",
        "size": "4/4",
        "style": "classical",
        "tier": "student",
        "about": f"Call {PHONE}, or a.b@example.org",
    }
    made = create(service.engine, "violin", {"start": start, "answers": {"purfling": {"outcome": "inlaid"}}}, NOW)
    kept = find(service.engine, made)
    assert kept is not None
    for reader in ("buyer", "shop", "customer"):
        printed = text_of(report_pdf(service.result(kept), reader))
        assert "555" not in printed and "example.org" not in printed, reader
