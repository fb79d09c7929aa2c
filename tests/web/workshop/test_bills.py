"""A bill from the order to the receipt: given once, refused where it passes what was agreed, taken back by a credit."""

import re
from io import BytesIO

import pikepdf

from evaluator.store.workshop.bills import newest_bills
from evaluator.web.service import Service
from evaluator.wording.quotes import cents
from tests.papers.cases import text_of
from tests.papers.conformance import faults
from tests.web.conftest import Client
from tests.web.page import Page
from tests.web.quoting.steps import agree, kept_of, link_of


def done(client: Client, service: Service, quote: str) -> str:
    """The order with all agreed and its work done."""
    agree(client, link_of(client, quote))
    client.send(client.get(f"/quotes/{quote}/work"), action="/begin")
    order = kept_of(service, quote).work
    assert order is not None
    hours = {f"h-{task.job}": "0,5" for task in order.tasks}
    client.send(client.get(f"/quotes/{quote}/work"), {**hours, "go": "done"}, action="/work")
    assert kept_of(service, quote).quote.state == "done"
    return quote


def given(client: Client, quote: str, **typed: str) -> Page:
    sent = {"buyer": "Mother of Anna\n2 Mill Road\nOldtown", **typed}
    looked = client.send(client.get(f"/quotes/{quote}/bill"), {**sent, "go": "look"}, action="/bill")
    return client.send(looked, {"go": "give"}, action="/bill")


def test_from_the_order_to_the_receipt_and_back(client: Client, service: Service, quote: str) -> None:
    done(client, service, quote)
    agreed = kept_of(service, quote).chain[-1].total
    page = client.send(client.get(f"/quotes/{quote}/bill"), {"amount": "50", "how": "card"}, action="/payments")
    assert "receipt R2026-0001" in page.text
    bill = given(client, quote)
    assert bill.heading.startswith(cents(agreed)) and "left to pay" in bill.heading
    kept = newest_bills(service.engine)[0][0]
    assert (kept.bill.number, kept.bill.total) == ("B2026-0001", agreed)
    paper = client.http.get(f"/bills/{kept.id}/bill.pdf").data
    receipt = re.search(r"/payments/\w+/receipt\.pdf", page.source)
    assert receipt is not None
    for printed in (paper, client.http.get(receipt.group()).data):
        assert f"evaluation {kept_of(service, quote).evaluation}, version" in text_of(printed)
    told = client.send(bill, {"reason": ""}, 422, action="/credit")
    assert "nothing says why" in told.text
    note = client.send(bill, {"reason": "The name was wrong"}, action="/credit")
    assert "taken back" in note.heading and "B2026-0002" in note.text
    assert "The name was wrong" in note.text
    assert client.send(bill, {"reason": "Again"}, 409, action="/credit")
    assert given(client, quote).text.count("B2026-0003")
    assert "Credit note B2026-0002" in client.get("/bills").text


def test_a_bill_is_given_once_by_two_tabs(client: Client, service: Service, quote: str) -> None:
    done(client, service, quote)
    typed = {"buyer": "Mother of Anna", "go": "look"}
    tabs = [client.send(client.get(f"/quotes/{quote}/bill"), typed, action="/bill") for _ in range(2)]
    client.send(tabs[0], {"go": "give"}, action="/bill")
    second = client.send(tabs[1], {"go": "give"}, 409, action="/bill")
    assert "It has bill B2026-0001 already" in second.text or "has bill B2026-0001" in second.text
    assert len(newest_bills(service.engine)[0]) == 1


def test_more_than_was_agreed_is_refused_and_nothing_typed_is_lost(
    client: Client, service: Service, quote: str
) -> None:
    done(client, service, quote)
    sent = {"buyer": "Mother of Anna", "say-0": "Found more", "labour-0": "900"}
    page = client.send(client.get(f"/quotes/{quote}/bill"), {**sent, "go": "give"}, 422, action="/bill")
    assert "the most that was agreed" in page.text
    assert page.form("/bill")["say-0"] == "Found more" and "Mother of Anna" in page.form("/bill")["buyer"]
    less = client.send(page, {"labour-0": "-10", "go": "give"}, action="/bill")
    total = newest_bills(service.engine)[0][0].bill.total
    assert total < kept_of(service, quote).chain[-1].total and cents(total) in less.text


def test_no_bill_before_the_work_is_done(client: Client, service: Service, quote: str) -> None:
    page = client.get(f"/quotes/{quote}/bill")
    assert "What was paid so far" in page.heading
    sent = {"csrf_token": page.form("/payments")["csrf_token"], "buyer": "A", "go": "give"}
    assert "its work is not done" in client.post(f"/quotes/{quote}/bill", sent, 422).text
    wrong = client.send(page, {"amount": "-5", "on": "soon"}, 422, action="/payments")
    assert "is no day" in wrong.text and wrong.form("/payments")["on"] == "soon"
    assert newest_bills(service.engine) == ((), None)


def test_a_bill_for_a_school_carries_itself_as_xml_once_nothing_lacks(
    client: Client, service: Service, quote: str
) -> None:
    done(client, service, quote)
    page = client.send(client.get("/shop/terms"), {"bill_form": "xml", "no_tax_because": "Small business"})
    typed = {"buyer": "Hill School\n2 Mill Road", "reference": "R-12", "order": "PO-7", "country": "at", "go": "look"}
    looked = client.send(client.get(f"/quotes/{quote}/bill"), typed, action="/bill")
    assert "The shop: no country is set" in looked.text and looked.form("/bill")["reference"] == "R-12"
    page = client.get("/shop/who")
    assert "Only a bill as XML asks for it" in page.text
    client.send(page, {"shop": "Bench", "address": "1 Hill Lane", "country": "DE", "tax_number": "DE123456789"})
    looked = client.send(client.get(f"/quotes/{quote}/bill"), typed, action="/bill")
    assert "no country is set" not in looked.text
    bill = client.send(looked, {"go": "give"}, action="/bill")
    assert "factur-x.xml" in bill.text
    paper = client.http.get(f"/bills/{newest_bills(service.engine)[0][0].id}/bill.pdf").data
    with pikepdf.open(BytesIO(paper)) as opened:
        xml = bytes(opened.attachments["factur-x.xml"].get_file().read_bytes())
    assert not faults(paper)
    for said in (b"Hill School", b"R-12", b"PO-7", b">AT<", b">DE<", b"B2026-0001"):
        assert said in xml
