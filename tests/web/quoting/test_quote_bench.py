"""The bench's side: the work order from begin to done, hours as they were, and what stops the work."""

import re

import pytest

from evaluator.web.quoting.view import typed_hours
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.quoting.steps import agree, amounts, kept_of, link_of, made, yes_to_all


def test_from_the_evaluation_to_work_that_is_done(client: Client, service: Service, finished: str) -> None:
    identity = made(client, finished, about="For the parents")
    assert "draft" in client.get(f"/quotes/{identity}").heading
    path = link_of(client, identity)
    assert path not in client.get(f"/quotes/{identity}").text, "the link shows once"
    page = client.get(path)
    chosen = client.send(page, {"go": "required"})
    review = client.send(chosen, {"go": "review"})
    total = amounts(review.heading)[0]
    closed = client.send(review, {"by": "Mother of Anna", "go": "send"})
    assert closed.heading == "You have agreed. The workshop will begin."
    kept = kept_of(service, identity)
    assert (kept.quote.state, kept.chain[-1].by, kept.chain[-1].total.amount) == ("agreed", "Mother of Anna", total)
    work = client.send(client.get(f"/quotes/{identity}/work"), action="/begin")
    fields = {name: "1,5" for name in work.form("/work") if name.startswith("h-")}
    assert fields
    first = next(iter(fields))
    half = client.send(work, {first: "1,5", "go": "done"}, 422, "/work")
    assert "No hours are noted for" in half.text
    stored = kept_of(service, identity).work
    assert stored is not None
    assert [task.hours for task in stored.tasks if f"h-{task.job}" == first] == [1.5]
    done = client.send(half, {**fields, "go": "done"}, action="/work")
    assert done.heading == "The work is done."
    assert "Next service about 4 September 2026" in done.text
    assert re.search(r"1 done ?, own 1:30 ?; they count for 17 of 100", client.get("/hours").text)
    assert client.get(path).heading == "The work is done."


def test_an_extra_beyond_the_ceiling_stops_and_asks(client: Client, service: Service, quote: str, path: str) -> None:
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    total = str(amounts(review.heading)[0])
    client.send(review, {"by": "Anna", "ceiling": total, "go": "send"})
    assert "Stop, keep it safe, and send a second quote for the extra." in client.get(f"/quotes/{quote}/work").text


def test_work_cannot_begin_before_a_yes(client: Client, service: Service, quote: str, path: str) -> None:
    token = client.token()
    page = client.post(f"/quotes/{quote}/begin", {"csrf_token": token}, 409)
    assert "it is offered and cannot become in work." in page.text
    assert kept_of(service, quote).work is None


def test_hours_that_cannot_be_read_are_told_and_kept_in_the_field(client: Client, path: str, quote: str) -> None:
    agree(client, path)
    work = client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    name = next(name for name in work.form("/work") if name.startswith("h-"))
    again = client.send(work, {name: "a while", "go": "note"}, 422, "/work")
    assert '"a while" is no number of hours.' in again.text
    assert again.form("/work")[name] == "a while"


@pytest.mark.parametrize("typed", ["0", "-1", "x", "nan", "inf", "501"])
def test_no_hours(typed: str) -> None:
    assert getattr(typed_hours(typed, "Job"), "code", None) in {"hours.not_a_time", "hours.outside", "hours.nothing"}
