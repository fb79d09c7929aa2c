"""Styles and scripts travel packed to who takes that; pages, which hold secrets, never do."""

import gzip

from tests.web.conftest import Client

PACKED = {"Accept-Encoding": "gzip"}


def test_a_style_sheet_is_packed_and_reads_back(client: Client) -> None:
    with client.http.get("/static/app.css") as plain, client.http.get("/static/app.css", headers=PACKED) as packed:
        assert packed.headers["Content-Encoding"] == "gzip"
        assert "Accept-Encoding" in packed.headers["Vary"] and "Accept-Encoding" in plain.headers["Vary"]
        assert "Content-Encoding" not in plain.headers
        assert gzip.decompress(packed.data) == plain.data
        assert len(packed.data) < len(plain.data) / 2
        assert packed.content_length == len(packed.data)


def test_a_page_is_never_packed(client: Client) -> None:
    with client.http.get("/", headers=PACKED) as page:
        assert "Content-Encoding" not in page.headers
