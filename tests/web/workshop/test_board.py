"""The board: where each order stands, what runs out, what falls due, and the same as a calendar behind a link."""

import re

from evaluator.store.workshop.timeline import put_to
from evaluator.web.service import Service
from evaluator.web.workshop.board import columns
from tests.web.conftest import Client
from tests.web.quoting.steps import agree, link_of, made
from tests.web.workshop.test_bills import done
from tests.web.workshop.test_customers import anna, violin

__all__ = ["anna", "violin"]


def where(client: Client) -> dict[str, list[str]]:
    with client.app.test_request_context():
        return {name: [slip.title for slip in slips] for name, slips in columns().items() if slips}


def test_an_order_goes_from_column_to_column(
    client: Client,
    service: Service,
    finished: str,
    violin: str,
) -> None:
    put_to(service.engine, finished, violin)
    assert where(client) == {"asked": ["Anna's violin"]}
    quote = made(client, finished)
    path = link_of(client, quote)
    assert where(client) == {"offered": ["Anna's violin"]}
    text = client.get("/board").text
    assert "Anna Example. Quote 2026-0001. Runs out 3 April 2026" in text
    agree(client, path)
    assert where(client) == {"agreed": ["Anna's violin"]}
    client.send(client.get("/board"), {"ready_by": "2026-03-09", "urgent": "yes"}, action="/marks")
    assert (
        "Urgent." in client.get("/board").text and "Ready by 9 March 2026, within the week" in client.get("/board").text
    )
    client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    assert where(client) == {"bench": ["Anna's violin"]}


def test_ready_and_collected_and_service_due(
    client: Client,
    service: Service,
    quote: str,
    finished: str,
    violin: str,
) -> None:
    put_to(service.engine, finished, violin)
    done(client, service, quote)
    assert where(client) == {"ready": ["Anna's violin"]}
    client.send(client.get("/board"), {"go": "collected"}, action="/marks")
    assert where(client) == {"collected": ["Anna's violin"]}
    service.now = lambda: "2026-07-10T05:06:07+00:00"
    page = client.get("/board")
    assert "Red violin" in page.text and "on 22 July 2026" in page.text
    assert "Dear Anna Example, Red violin is due to be looked over by 22 July 2026" in page.text
    assert where(client) == {}, "what was collected long ago is gone from the board"


def test_a_day_that_cannot_be_read_is_told(client: Client, service: Service, quote: str) -> None:
    agree(client, link_of(client, quote))
    page = client.send(client.get("/board"), {"ready_by": "soon"}, 422, action="/marks")
    assert "“soon” is no day." in page.text


def test_the_calendar_tells_days_and_no_names(
    client: Client,
    service: Service,
    quote: str,
    finished: str,
    violin: str,
) -> None:
    put_to(service.engine, finished, violin)
    link_of(client, quote)
    page = client.send(client.get("/board"), action="/feed")
    found = re.search(r"/c/[\w-]+/days\.ics", page.text)
    assert found is not None
    reply = client.http.get(found.group())
    text = reply.get_data(as_text=True)
    assert (reply.status_code, reply.mimetype) == (200, "text/calendar")
    assert "DTSTART;VALUE=DATE:20260403" in text and "SUMMARY:Offered: Anna's violin" in text
    assert "Example" not in text
    assert text.startswith("BEGIN:VCALENDAR\r\n") and text.endswith("END:VCALENDAR\r\n")
    assert text.count("BEGIN:VEVENT") == text.count("END:VEVENT") == 1
    client.send(client.get("/board"), action="/feed")
    assert client.http.get(found.group()).status_code == 404, "an earlier link opens nothing"
