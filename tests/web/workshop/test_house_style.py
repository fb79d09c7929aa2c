"""The workshop's papers: a picture of its signature where it signs, and a sheet that shows how they look."""

from io import BytesIO

import pikepdf
import pytest
from PIL import Image

from tests.papers.cases import text_of
from tests.papers.conformance import faults
from tests.web.conftest import Client


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
