"""The workshop's papers: a picture of its signature where it signs, and a sheet that shows how they look."""

import re
from io import BytesIO

import pikepdf
import pytest
from PIL import Image

from evaluator.store.workshop.bills import newest_bills
from evaluator.web.service import Service
from tests.papers.cases import text_of
from tests.papers.conformance import faults
from tests.web.conftest import Client
from tests.web.quoting.steps import kept_of
from tests.web.workshop.test_bills import done, given


def picture() -> bytes:
    out = BytesIO()
    Image.new("RGB", (60, 20), "navy").save(out, "PNG")
    return out.getvalue()


def pictures_in(pdf: bytes) -> int:
    with pikepdf.open(BytesIO(pdf)) as opened:
        return sum(one.get("/Subtype") == "/Image" for one in opened.objects if isinstance(one, pikepdf.Stream))


def send(client: Client, where: str, content: bytes, **more: str) -> int:
    token = client.get("/shop").form()["csrf_token"]
    sent = {"csrf_token": token, "photo": (BytesIO(content), "mine.png"), **more}
    answered = client.http.post(where, data=sent, content_type="multipart/form-data")
    answered.request.environ["wsgi.input"].close()  # what is refused unread is held in a file of the test's own
    return int(answered.status_code)


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_sheet_shows_head_logo_and_signature(client: Client, size: str) -> None:
    address = f"/shop/preview.pdf?paper={size}"
    plain = client.http.get(address).data
    assert pictures_in(plain) == 0 and "It is no quote." in text_of(plain)
    assert send(client, "/shop/logo", picture()) == send(client, "/shop/signature", picture()) == 302
    shown = client.http.get(address).data
    assert pictures_in(shown) >= 1 and not faults(shown)
    assert send(client, "/shop/signature", b"", go="off") == send(client, "/shop/logo", b"", go="off") == 302
    assert pictures_in(client.http.get(address).data) == 0
    assert client.http.get("/shop/preview.pdf?paper=A5").status_code == 404


def test_what_is_no_picture_is_told_in_a_sentence(client: Client) -> None:
    assert send(client, "/shop/signature", b"no picture at all") == 422


def test_every_paper_of_the_workshop_wears_it(client: Client, service: Service, quote: str) -> None:
    done(client, service, quote)
    client.send(client.get("/shop/who"), {"shop": "Bench and Bow", "address": "1 Hill Lane"})
    client.send(client.get("/shop/terms"), {"conditions": "We keep old parts for you."})
    given(client, quote)
    page = client.send(client.get(f"/quotes/{quote}/bill"), {"amount": "50"}, action="/payments")
    receipt = re.search(r"/payments/\w+/receipt\.pdf", page.source)
    assert receipt is not None
    bill = newest_bills(service.engine)[0][0].id
    evaluation = kept_of(service, quote).evaluation
    papers = [f"/quotes/{quote}/{name}.pdf" for name in ("quote", "work", "after")]
    papers += [f"/bills/{bill}/bill.pdf", receipt.group(), f"/evaluations/{evaluation}/report.pdf"]
    plain = {path: pictures_in(client.http.get(path).data) for path in papers}
    assert send(client, "/shop/logo", picture()) == 302
    for path in papers:
        content = client.http.get(path).data
        assert pictures_in(content) == plain[path] + 1, path
        assert not faults(content), path


def test_a_signature_of_40_mb_is_one_sentence(client: Client) -> None:
    assert send(client, "/shop/signature", b"\x89PNG" + bytes(40_000_000)) in (413, 422)


def test_papers_of_an_order_name_the_evaluation_they_rest_on(client: Client, service: Service, quote: str) -> None:
    done(client, service, quote)
    named = f"evaluation {kept_of(service, quote).evaluation}, version"
    for name in ("quote", "work", "after"):
        assert named in text_of(client.http.get(f"/quotes/{quote}/{name}.pdf").data), name
