"""More work found at the bench: a second quote on a link of its own, answered alone, beside the first that stays."""

import json
import re
from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from evaluator.quoting.answers import standing
from evaluator.store.quotes import KeptQuote, more_of
from evaluator.web.app import create_app
from evaluator.web.service import Service
from evaluator.wording.quotes import cents, shown
from tests.web.conftest import Client
from tests.web.page import Page
from tests.web.quoting.steps import LATER, agree, amounts, kept_of, link_of, made, yes_to_all

FOUND = "The nut proved too low to be cut again."


def ask_for_more(client: Client, identity: str, status: int = 200, **typed: str) -> Page:
    """Choose a job of the list and say what was found."""
    page = client.get(f"/quotes/{identity}/more")
    return client.send(page, {"found": FOUND, "job": "nut_new", **typed}, status, "/more")


def second_of(service: Service) -> KeptQuote:
    found = more_of(service.engine, "2026-0001")
    assert found, "no second quote is kept"
    return found[-1]


def paper_of(client: Client, address: str) -> str:
    """The text of a paper, white space folded."""
    pages = PdfReader(BytesIO(client.http.get(address).data)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


@pytest.fixture
def agreed(client: Client, quote: str, path: str) -> str:
    """A quote of which what is needed was agreed."""
    chosen = client.send(client.get(path), {"go": "required"})
    client.send(client.send(chosen, {"go": "review"}), {"by": "Mother of Anna", "go": "send"})
    return quote


def test_from_the_bench_to_a_second_yes(client: Client, service: Service, agreed: str) -> None:
    before = kept_of(service, agreed)
    client.send(client.get(f"/quotes/{agreed}/work"), action="/begin")
    draft = ask_for_more(client, agreed)
    assert "which stays as it was agreed." in draft.text
    second = second_of(service)
    assert (second.quote.number, second.quote.about) == ("2026-0001/1", FOUND)
    path = link_of(client, second.id)
    assert "Still asked:" in client.get(f"/quotes/{agreed}/work").text
    page = client.get(path)
    assert (page.heading, FOUND in page.text) == ("More was found. Shall we do it?", True)
    review = client.send(client.send(page, {"go": "required"}), {"go": "review"})
    extra = amounts(review.heading)[0]
    assert f"{before.chain[0].total.amount + extra:,.2f} together" in review.text
    closed = client.send(review, {"by": "Mother of Anna", "go": "send"})
    assert closed.heading == "You have agreed. It is done along with the other work."
    work = client.get(f"/quotes/{agreed}/work")
    assert "Agreed in quote 2026-0001/1." in work.text
    assert "h-nut_new" in work.form("/work")
    assert (before.chain[0].total.amount + extra) in amounts(work.text)
    after = kept_of(service, agreed)
    assert (after.quote.lines, after.chain, after.quote.fingerprint()) == (
        before.quote.lines, before.chain, before.quote.fingerprint(),
    )  # fmt: skip
    assert kept_of(service, second.id).quote.state == "work_begun"


def test_its_price_leaves_out_what_the_first_pays(client: Client, service: Service, agreed: str) -> None:
    shared = {line.job for line in kept_of(service, agreed).quote.lines if line.shared and line.group == "required"}
    ask_for_more(client, agreed)
    second = second_of(service).quote
    assert shared
    assert not {line.job for line in second.lines} & shared
    data = json.loads(client.http.get(f"/quotes/{second_of(service).id}/quote.json").data)
    assert (data["belongs_to"], data["number"]) == ("2026-0001", "2026-0001/1")
    found = {name: Decimal(one["total"]["amount"]) for name, one in data["totals"].items()}
    assert found["required"] == found["everything"] > 0


def test_a_no_leaves_the_first_as_it_was(client: Client, service: Service, agreed: str) -> None:
    ask_for_more(client, agreed)
    path = link_of(client, second_of(service).id)
    page = client.get(path)
    review = client.send(page, {**dict.fromkeys(yes_to_all(page), "no"), "go": "review"})
    closed = client.send(review, {"by": "Mother of Anna", "go": "send"})
    assert closed.heading == "You have declined. Only what was agreed before is done."
    work = client.get(f"/quotes/{agreed}/work")
    assert "Declined. No work is done." in work.text
    assert "nut_new" not in work.source.split("<form")[-1]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"found": "  "}, "nothing says what was found. Write it for the customer in one sentence."),
        ({"job": ""}, "“” is no work that has a price here. Choose from the list."),
        ({"job": "gold_plating"}, "“gold_plating” is no work that has a price here. Choose from the list."),
    ],
)
def test_what_is_missing_is_told_and_the_rest_stays(
    client: Client, service: Service, agreed: str, typed: dict[str, str], sentence: str
) -> None:
    page = ask_for_more(client, agreed, 422, **typed)
    assert sentence in page.text
    assert page.form("/more")["found"] == typed.get("found", FOUND)
    assert more_of(service.engine, "2026-0001") == ()


def test_one_waits_at_a_time_until_it_is_withdrawn(client: Client, service: Service, agreed: str) -> None:
    ask_for_more(client, agreed)
    first = second_of(service)
    path = link_of(client, first.id)
    assert "quote 2026-0001/1: it still waits for an answer." in ask_for_more(client, agreed, 409).text.replace(
        "Q", "q"
    )
    gone = client.send(client.get(f"/quotes/{first.id}"), action="/withdraw")
    assert gone.heading == "Withdrawn. Nobody is asked any more."
    assert client.get(path).heading == "The workshop has withdrawn this quote. Nothing is asked of you."
    ask_for_more(client, agreed)
    assert second_of(service).quote.number == "2026-0001/2"


def test_an_answer_to_what_was_withdrawn_counts_for_nothing(client: Client, service: Service, agreed: str) -> None:
    ask_for_more(client, agreed)
    second = second_of(service)
    path = link_of(client, second.id)
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    client.send(client.get(f"/quotes/{second.id}"), action="/withdraw")
    assert "has withdrawn this quote" in client.send(review, {"by": "Anna", "go": "send"}, 409).heading
    assert kept_of(service, second.id).chain == ()


def test_the_work_is_not_done_while_the_customer_is_asked(client: Client, service: Service, agreed: str) -> None:
    work = client.send(client.get(f"/quotes/{agreed}/work"), action="/begin")
    ask_for_more(client, agreed)
    link_of(client, second_of(service).id)
    hours = {name: "1" for name in work.form("/work") if name.startswith("h-")}
    told = client.send(client.get(f"/quotes/{agreed}/work"), {**hours, "go": "done"}, 422, "/work")
    assert "2026-0001/1: it still waits for an answer. Wait for it, or withdraw it; then go on." in told.text
    assert kept_of(service, agreed).quote.state == "work_begun"


def test_more_is_asked_only_of_a_quote_that_is_agreed(client: Client, service: Service, quote: str) -> None:
    assert client.get(f"/quotes/{quote}/more").path == f"/quotes/{quote}"
    fields = {"csrf_token": client.token(), "job": "nut_new", "found": FOUND}
    assert (
        "it is a draft. More work is added to a quote that is agreed"
        in client.post(f"/quotes/{quote}/more", fields, 422).text
    )
    assert more_of(service.engine, "2026-0001") == ()


def test_a_second_link_that_has_run_out_says_so(client: Client, service: Service, agreed: str) -> None:
    ask_for_more(client, agreed)
    path = link_of(client, second_of(service).id)
    late = Client(create_app(replace(service, now=lambda: LATER), "a key for tests"))
    assert "Ask the workshop for a new one; prices may have changed." in late.get(path).heading


def test_a_newer_first_quote_closes_the_second(client: Client, service: Service, agreed: str, finished: str) -> None:
    ask_for_more(client, agreed)
    path = link_of(client, second_of(service).id)
    link_of(client, made(client, finished, about="changed"))
    assert "was replaced by a newer one" in client.get(path).heading


def test_work_that_may_be_replaced_is_held_back_until_the_answer(client: Client, service: Service, agreed: str) -> None:
    assert "bridge_new" in {line.job for line in kept_of(service, agreed).quote.lines}
    draft = ask_for_more(client, agreed, job="bridge_recut")
    assert "No longer charged: fit a new bridge" in draft.text
    path = link_of(client, second_of(service).id)
    said = "Do not begin it: quote 2026-0001/1 may take its place."
    assert said in client.get(f"/quotes/{agreed}/work").text
    assert said in paper_of(client, f"/quotes/{agreed}/work.pdf")
    page = client.get(path)
    assert "What was agreed first is done instead." in page.text
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    client.send(review, {"by": "Mother of Anna", "go": "send"})
    work = client.get(f"/quotes/{agreed}/work")
    assert said not in work.text
    assert "Agreed, and no longer needed Fit a new bridge" in work.text
    assert "h-bridge_new" not in client.send(work, action="/begin").form("/work")


def test_the_shop_may_note_a_spoken_yes_to_it(client: Client, service: Service, agreed: str) -> None:
    ask_for_more(client, agreed)
    second = second_of(service)
    link_of(client, second.id)
    page = client.get(f"/quotes/{second.id}")
    typed = {"by": "Mother of Anna", "noted_by": "J.", "how": "spoken", "go": "note"}
    assert client.send(page, typed, action="/spoken").heading == "Agreed. It is done along with the other work."
    agree_again = kept_of(service, second.id).chain[-1]
    assert (agree_again.how, agree_again.noted_by) == ("spoken", "J.")
    assert client.get(f"/quotes/{second.id}/work").path == f"/quotes/{agreed}/work"


def test_papers_say_both(client: Client, service: Service, agreed: str) -> None:
    ask_for_more(client, agreed)
    second = second_of(service)
    agree(client, link_of(client, second.id))
    text = {
        name: paper_of(client, address)
        for name, address in (
            ("first", f"/quotes/{agreed}/quote.pdf"),
            ("second", f"/quotes/{second.id}/quote.pdf"),
            ("work", f"/quotes/{agreed}/work.pdf"),
        )
    }
    assert all("Agreed together" in one and "2026-0001/1" in one for one in text.values())
    assert "It adds to quote 2026-0001" in text["second"]
    assert "Agreed in quote 2026-0001/1." in text["work"]


def test_an_open_quote_has_boxes_and_a_slip_and_an_agreed_one_only_what_was_agreed(
    client: Client, service: Service, quote: str, path: str
) -> None:
    before = paper_of(client, f"/quotes/{quote}/quote.pdf")
    assert before.count("yes no later") >= 2 and "To send back" in before
    chosen = client.send(client.get(path), {"go": "required"})
    client.send(client.send(chosen, {"go": "review"}), {"by": "Mother of Anna", "go": "send"})
    kept = kept_of(service, quote)
    answers = dict(kept.chain[-1].answers)
    stands = {line.job for line in standing(kept.quote, answers)}
    refused = [line for line in kept.quote.lines if line.job not in stands]
    after = paper_of(client, f"/quotes/{quote}/quote.pdf")
    assert refused and "no signature is missing" in after and "To send back" not in after
    for line in refused:
        assert cents(shown(kept.quote, line)) not in after.partition("What was answered")[0]
    assert "Left when it is ready:" in after


def test_a_work_order_has_findings_measures_and_room_for_results(client: Client, agreed: str) -> None:
    text = paper_of(client, f"/quotes/{agreed}/work.pdf")
    assert "As found Target Result" in text and re.search(r"For findings? \d", text)
