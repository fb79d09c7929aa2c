"""Comparable sales on their page: worked out, mistakes by line and column, as CSV and paper, used as ready value."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from evaluator.store.evaluations import find
from evaluator.web.service import Service
from tests.web.conftest import Client

HEAD = "name,sold_on,kind,price,currency,extras,grade,retention,set_up,note\n"
GOOD = (
    HEAD + "Near twin,2025-09-01,dealer_sale,1900,USD,100,1,1,0,\nPlainer one,2025-03-01,auction,700,USD,0,1.2,1,300,\n"
)
BAD = GOOD + "Third,2025-13-01,dealer_sale,lots,USD,,,,,\n"


@pytest.fixture
def path(draft: str) -> str:
    return f"/evaluations/{draft}/sales"


def fields(client: Client, text: str = GOOD, **more: str) -> dict[str, str]:
    return {"csrf_token": client.token(), "sales": text, "retention": "1", **more}


def test_an_empty_page_asks_and_counts_nothing(client: Client, path: str) -> None:
    page = client.get(path)
    assert page.heading == "What were others sold for?" and "Nothing is counted" not in page.text


def test_good_rows_are_weighed_and_shown_step_by_step(client: Client, path: str) -> None:
    page = client.post(path, fields(client))
    assert page.heading.startswith("About $1,") and "when ready to play" in page.heading
    assert "1,155" in page.source  # 700 at auction, times 1.65 to a shop's level
    assert "a check, hardly evidence" in page.text and "median" in page.text
    assert "So few can mislead" in page.text and "not an insurance or legal appraisal" in page.text


def test_what_was_moved_by_more_than_half_is_left_out_with_one_switch(client: Client, path: str) -> None:
    page = client.post(path, fields(client, leave_out="yes"))
    assert "1 left out" in page.text and "Plainer one" not in page.text.split("The sales")[0]


def test_a_bad_row_is_named_and_nothing_is_counted_until_that_is_decided(client: Client, path: str) -> None:
    page = client.post(path, fields(client, BAD), 422)
    assert "Nothing is counted yet" in page.text and "Line 4, column 2" in page.text and "Line 4, column 4" in page.text
    assert "Third,2025-13-01" in page.text  # what was typed stays
    assert "Near twin" in client.post(path, fields(client, BAD, good_only="yes")).text.split("The sales")[0]


def test_one_sale_can_be_typed_field_by_field(client: Client, path: str) -> None:
    typed = {"new_name": 'A "red", old one', "new_sold_on": "2025-10-10", "new_kind": "dealer_sale"}
    typed |= {"new_price": "1500", "new_currency": "USD", "new_note": "with papers"}
    page = client.post(path, fields(client, "", **typed))
    assert 'A "red", old one' in page.text and "from 1 sale" in page.text
    page = client.post(path, fields(client, "name,sold_on,kind,price,currency\nX,2025-01-01,listing,9,USD\n", **typed))
    assert ("from 2 sales" in page.text and "With papers" in page.text) or "With papers" in page.text


def test_the_list_comes_out_as_it_went_in(client: Client, path: str) -> None:
    sent = client.http.post(path, data=fields(client, go="csv"))
    assert sent.mimetype == "text/csv" and sent.get_data(as_text=True) == GOOD


def test_the_table_goes_to_paper(client: Client, path: str) -> None:
    sent = client.http.post(path, data=fields(client, go="pdf"))
    reader = PdfReader(BytesIO(sent.data))
    text = " ".join(reader.pages[0].extract_text().split())
    assert len(reader.pages) == 1 and "Near twin" in text and "insurance or legal appraisal" in text


def test_the_value_can_become_the_ready_value(client: Client, service: Service, draft: str, path: str) -> None:
    page = client.post(path, fields(client, go="use", version="1"))
    kept = find(service.engine, draft)
    assert kept is not None and kept.typed["start"]["ready_value"].isdigit()
    assert page.path.endswith("/result")


@pytest.mark.parametrize("share", ["0", "1.5", "nan", "much"])
def test_a_share_that_is_none_is_told(client: Client, path: str, share: str) -> None:
    assert "is not a share" in client.post(path, fields(client) | {"retention": share}, 422).text


@pytest.mark.parametrize("text", ['"', "name\n", "\x00", 'a,"b\nc', ",\n,"])
def test_any_text_is_told_and_kept(client: Client, path: str, text: str) -> None:
    client.post(path, fields(client, text, new_name="x", new_price="1"), 422)
