"""A ceiling moves by the customer's own hand alone, and her answer is dated in her own time."""

from decimal import Decimal

from evaluator.store.quotes import more_of
from evaluator.web.quoting.family import joint_of
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page
from tests.web.quoting.steps import kept_of, link_of
from tests.web.quoting.test_second_quotes import ask_for_more


def agreed_with(client: Client, quote: str, path: str, ceiling: str) -> str:
    """What is needed agreed with this ceiling, and more asked; the review of the second quote."""
    review = client.send(client.send(client.get(path), {"go": "required"}), {"go": "review"})
    client.send(review, {"by": "Mother of Anna", "ceiling": ceiling, "go": "send"})
    return quote


def second_review(client: Client, service: Service, quote: str) -> Page:
    ask_for_more(client, quote)
    path = link_of(client, more_of(service.engine, kept_of(service, quote).quote.number)[-1].id)
    return client.send(client.send(client.get(path), {"go": "required"}), {"go": "review"})


def together(client: Client, service: Service, quote: str) -> tuple[Decimal, Decimal]:
    """(agreed, ceiling) of first and second quotes."""
    with client.app.test_request_context():
        found = joint_of(kept_of(service, quote))
    assert found is not None
    return found.agreed.amount, found.ceiling.amount


def test_where_there_is_room_the_ceiling_stays(client: Client, service: Service, quote: str, path: str) -> None:
    agreed_with(client, quote, path, "5000")
    review = second_review(client, service, quote)
    assert review.form()["ceiling"] == "5000.00"
    assert "only you can move it" in review.text
    client.send(review, {"by": "Mother of Anna", "go": "send"})
    assert together(client, service, quote)[1] == Decimal(5000)


def test_where_there_is_none_it_is_asked_for_and_nothing_is_filled_in(
    client: Client, service: Service, quote: str, path: str
) -> None:
    first = client.send(client.send(client.get(path), {"go": "required"}), {"go": "review"})
    total = first.heading.split()[0].lstrip("$")
    agreed_with(client, quote, path, total)
    review = second_review(client, service, quote)
    assert review.form()["ceiling"] == ""
    told = client.send(review, {"by": "Mother of Anna", "go": "send"}, 422)
    assert "Write the most that holds from now on for all of it." in told.text
    low = client.send(told, {"ceiling": total, "by": "Mother of Anna", "go": "send"}, 422)
    assert "above the ceiling of" in low.text
    client.send(low, {"ceiling": "4321", "by": "Mother of Anna", "go": "send"})
    agreed, ceiling = together(client, service, quote)
    assert ceiling == Decimal(4321) and agreed < ceiling


def test_a_spoken_yes_to_more_moves_no_ceiling_either(client: Client, service: Service, quote: str, path: str) -> None:
    agreed_with(client, quote, path, "5000")
    ask_for_more(client, quote)
    more = more_of(service.engine, kept_of(service, quote).quote.number)[-1]
    link_of(client, more.id)
    page = client.get(f"/quotes/{more.id}")
    client.send(page, {"by": "Mother", "noted_by": "J.", "go": "note"}, action="/spoken")
    assert together(client, service, quote)[1] == Decimal(5000)


def test_her_answer_is_dated_in_her_own_time(client: Client, service: Service, quote: str, path: str) -> None:
    review = client.send(client.send(client.get(path), {"go": "required"}), {"go": "review"})
    client.send(review, {"by": "Mother of Anna", "offset": "-330", "go": "send"})
    assert kept_of(service, quote).chain[-1].at.isoformat() == "2026-03-03T23:36:07-05:30"


def test_a_strange_offset_is_passed_over(client: Client, service: Service, quote: str, path: str) -> None:
    review = client.send(client.send(client.get(path), {"go": "required"}), {"go": "review"})
    client.send(review, {"by": "Mother of Anna", "offset": "9e9", "go": "send"})
    assert kept_of(service, quote).chain[-1].at.isoformat() == "2026-03-04T05:06:07+00:00"
