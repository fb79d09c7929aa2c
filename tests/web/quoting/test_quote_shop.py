"""The shop's side: a quote from a finished evaluation, a spoken yes, and a record that cannot be changed unseen."""

import json
from dataclasses import replace
from decimal import Decimal

import pytest
from sqlalchemy import Connection, select, text, update

from evaluator.quoting.answers import three_totals
from evaluator.rubric.shop import Shop
from evaluator.store.engine import writing
from evaluator.store.evaluations import create, find, save_answers
from evaluator.store.quotes import quotes_of
from evaluator.store.schema import consents
from evaluator.store.schema import quotes as offers
from evaluator.web.app import create_app
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import agree, kept_of


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"by": ""}, "nobody is named."),
        ({"noted_by": ""}, "a spoken yes needs the name of who noted it."),
        ({"at": "yesterday"}, "When: “yesterday” is no day and time."),
        ({"at": "2026-03-05 10:00"}, "When: that time has not come yet."),
        ({"at": "2026-03-01 10:00"}, "When: that was before the quote was made."),
        ({"ceiling": "3"}, "above the ceiling of $3.00."),
    ],
)
def test_a_spoken_yes_needs_who_when_and_how(
    client: Client, service: Service, quote: str, path: str, typed: dict[str, str], sentence: str
) -> None:
    before = kept_of(service, quote)
    page = client.get(f"/quotes/{quote}")
    filled = {"by": "Mother of Anna", "noted_by": "J. at the bench", "go": "note", **typed}
    again = client.send(page, filled, 422, "/spoken")
    assert sentence in again.text
    assert typed.items() <= again.form("/spoken").items()
    assert kept_of(service, quote) == before


def test_a_spoken_yes_is_noted(client: Client, service: Service, quote: str, path: str) -> None:
    page = client.get(f"/quotes/{quote}")
    typed = {"by": "Mother of Anna", "noted_by": "J.", "at": "2026-03-04 04:30", "how": "spoken", "go": "note"}
    assert client.send(page, typed, action="/spoken").heading == "Agreed. The work can begin."
    one = kept_of(service, quote).chain[-1]
    assert (one.by, one.noted_by, one.how, one.at.isoformat()) == (
        "Mother of Anna", "J.", "spoken", "2026-03-04T04:30:00+00:00",
    )  # fmt: skip
    assert client.get(path).heading == "You have agreed. The workshop will begin."


def unguard(connection: Connection, guard: str, table: str) -> None:
    """Take away what the tables refuse, as somebody could who has the database."""
    there = "" if connection.dialect.name == "sqlite" else f" ON {table}"
    connection.execute(text(f"DROP TRIGGER {guard}{there}"))


def test_an_altered_record_shows_and_stops_the_work(client: Client, service: Service, quote: str, path: str) -> None:
    agree(client, path)
    work = client.get(f"/quotes/{quote}/work")
    with writing(service.engine) as connection:
        unguard(connection, "consents_stay", "consents")
        record = connection.execute(select(consents.c.record)).scalar_one()
        connection.execute(update(consents).values(record=json.loads(json.dumps(record).replace("Mother", "Father"))))
    assert "The record was changed" in client.get(f"/quotes/{quote}").text
    assert "changed after it was given" in client.send(work, status=422, action="/begin").text
    assert json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)["first_altered"] == 0
    assert kept_of(service, quote).quote.state == "agreed"


def test_a_quote_changed_behind_the_tables_back_shows_too(
    client: Client, service: Service, quote: str, path: str
) -> None:
    agree(client, path)
    work = client.get(f"/quotes/{quote}/work")
    with writing(service.engine) as connection:
        unguard(connection, "quotes_offered_stay", "quotes")
        record = connection.execute(select(offers.c.record)).scalar_one()
        forged = json.loads(json.dumps(record).replace("Lower the nut", "Fit a gold nut"))
        connection.execute(update(offers).values(record=forged))
    assert "The record was changed" in client.get(f"/quotes/{quote}").text
    assert "or the quote itself, was changed after it was given" in client.send(work, status=422, action="/begin").text
    assert json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)["first_altered"] == 0


def test_an_open_evaluation_is_finished_with_its_quote(client: Client, service: Service, finished: str) -> None:
    kept = find(service.engine, finished)
    assert kept is not None
    identity = create(service.engine, "violin", kept.typed, NOW)
    page = client.get(f"/evaluations/{identity}/quotes")
    assert "it is finished first" in page.text
    quote = client.send(page, {"about": "For Anna"})
    assert quote.heading == "This is a draft. Nobody has been asked yet."
    after = find(service.engine, identity)
    assert after is not None
    assert (after.state, after.version) == ("finished", 2)


def test_without_work_the_evaluation_stays_open(client: Client, service: Service, draft: str) -> None:
    page = client.send(client.get(f"/evaluations/{draft}/quotes"), status=422)
    assert "nothing that was seen needs work. Look further, or write a report instead." in page.text
    kept = find(service.engine, draft)
    assert kept is not None
    assert kept.state == "draft"


def test_an_evaluation_that_changed_meanwhile_is_not_finished(client: Client, service: Service, finished: str) -> None:
    kept = find(service.engine, finished)
    assert kept is not None
    identity = create(service.engine, "violin", kept.typed, NOW)
    page = client.get(f"/evaluations/{identity}/quotes")
    save_answers(service.engine, identity, 1, {"purfling": {"outcome": "painted", "note": "seen again"}}, NOW)
    client.send(page, status=409)
    after = find(service.engine, identity)
    assert after is not None
    assert after.state == "draft"
    assert quotes_of(service.engine, identity) == ()


def test_a_quote_needs_a_finished_evaluation_and_keeps_the_figures_of_then(
    client: Client, service: Service, draft: str, finished: str, taxed: Shop
) -> None:
    token = client.token()
    page = client.post(f"/evaluations/{draft}/quotes", {"csrf_token": token}, 422)
    assert "Red violin: it is not finished." in page.text
    dearer = replace(service, shop=taxed.model_copy(update={"minimum_charge": Decimal(31)}))
    other = Client(create_app(dearer, "a key for tests"))
    other.send(other.get(f"/evaluations/{finished}/quotes"))
    made = quotes_of(service.engine, finished)[-1].quote
    client.send(client.get(f"/evaluations/{finished}/quotes"))
    again = quotes_of(service.engine, finished)[-1].quote
    assert (made.lines, made.terms, made.ceiling) == (again.lines, again.terms, again.ceiling)
    kept = find(service.engine, finished)
    assert kept is not None
    bill = service.result(kept).plan.invoice
    assert bill is not None and three_totals(made)["required"].total.amount == bill.total
