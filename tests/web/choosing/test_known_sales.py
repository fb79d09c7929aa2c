"""The page of known sales: added, corrected, removed; a list in and out; nothing half imported."""

from io import BytesIO

import pytest

from evaluator.store.known_sales import whole_book
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page

HEAD = "name,sold_on,kind,price,currency,family,size,tier\n"
NEAR = "Near twin,2025-09-01,dealer_sale,1900,USD,violin,4/4,student\n"
GOOD = HEAD + NEAR + "Plain,2025-03-01,auction,700,USD,viola,405 mm,student\n"
BAD = GOOD + "Third,2025-13-01,dealer_sale,lots,USD,violin,4/5,student\n"
NEW = {"name": 'A "red", old one', "sold_on": "2025-10-10", "kind": "dealer_sale", "price": "1,500", "family": "violin"}
NEW |= {"size": "4/4", "tier": "student"}


def names(service: Service) -> set[str]:
    return {one.name for one in whole_book(service.engine).sales}


def send_list(client: Client, text: str, status: int = 200, go: str = "good", **more: str) -> str:
    return client.post("/sales", {"csrf_token": client.token(), "list": text, "go": go, **more}, status).text


def test_one_is_added_corrected_and_taken_out(client: Client, service: Service) -> None:
    page = client.send(client.get("/sales/new"), NEW | {"made": "62"})
    assert 'A "red", old one, $1,500' in page.text and "Violin, 4/4, student" in page.text
    key = whole_book(service.engine).sales[0].key
    edit = client.get(f"/sales/{key}")
    assert 'value="62"' in edit.source and 'value="1500"' in edit.source
    assert "$1,450" in client.send(edit, {"price": "1450"}, action=f"/sales/{key}").text
    assert "Somebody else corrected it" in client.send(edit, {"price": "1"}, 422, f"/sales/{key}").text
    assert "None yet" in client.send(client.get(f"/sales/{key}"), action=f"/sales/{key}/remove").text
    assert names(service) == set()
    client.get(f"/sales/{key}", 404)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"price": "lots"}, "not an amount"),
        ({"name": ""}, "Fill it in"),
        ({"sold_on": "10/11/2025"}, "can be 10 November 2025 or 11 October 2025"),
        ({"sold_on": "2031-01-01"}, "after the day of valuation"),
        ({"size": "4/5"}, "not a size of a violin"),
        ({"family": "", "size": "4/4"}, "Choose one."),
        ({"tier": ""}, "Choose one."),
        ({"made": "101"}, "outside 0 to 100"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_field_and_kept(
    client: Client, service: Service, typed: dict[str, str], said: str
) -> None:
    page = client.send(client.get("/sales/new"), NEW | typed, 422)
    assert said in page.text and "Not saved yet" in page.text
    assert all(f'value="{text}"' in page.source for text in typed.values() if text)
    assert names(service) == set()


def test_every_mistake_is_told_at_once(client: Client) -> None:
    typed = {"name": "", "price": "lots", "sold_on": "31 Smarch 2026", "tier": ""}
    text = client.send(client.get("/sales/new"), NEW | typed, 422).text
    said = (
        "Fill it in.",
        '"lots" is not an amount. Enter an amount',
        '"31 Smarch 2026" is not a date',
        "Choose one.",
    )
    assert all(sentence in text for sentence in said)


def test_a_day_may_be_written_as_the_pages_show_it_and_cents_are_kept(client: Client) -> None:
    page = client.send(client.get("/sales/new"), NEW | {"sold_on": "14 march 2025", "price": "1,650.50"})
    assert "$1,650.50" in page.text and "14 March 2025" in page.text


def test_a_bad_cell_is_named_once_and_an_empty_list_can_be_had(client: Client) -> None:
    page = client.get("/sales")
    assert "An empty list to fill in" in page.text
    rows = "name,sold_on,kind,price,currency,family,size,tier\nOne,2026-02-30,Sold at auction,9x,USD,violin,4/4,student"
    text = client.send(page, {"list": rows}, 422, "/sales").text
    assert 'Line 2, column 2 (sold_on): "2026-02-30" is not a date.' in text
    assert 'Line 2, column 4 (price): "9x" is not an amount. Enter an amount' in text and "kind of sale" not in text


def test_a_list_goes_in_and_comes_out_and_never_twice(client: Client, service: Service) -> None:
    assert "2 sales put into the book" in send_list(client, GOOD)
    out = client.http.get("/sales.csv").get_data(as_text=True)
    assert "0 sales put into the book. 2 stood there already" in send_list(client, out)
    assert names(service) == {"Near twin", "Plain"}


def test_a_bad_row_is_named_and_nothing_goes_in_until_that_is_decided(client: Client, service: Service) -> None:
    text = send_list(client, BAD, 422, go="")
    assert "Line 4, column 2" in text and "Line 4, column 4" in text and "Line 4, column 7" in text
    assert "Third,2025-13-01" in text and "2 rows are understood" in text and names(service) == set()
    assert "2 sales put into the book" in send_list(client, BAD)
    assert names(service) == {"Near twin", "Plain"}


def test_a_file_is_shown_row_by_row_and_put_in_by_one_press_and_taken_back(client: Client, service: Service) -> None:
    sheet = "Item;Date sold;Channel;Sold for;Category;Size;Level;Shelf\n"
    sheet += "Geige Müller;03/31/2024;shop;1.800;Geige;4/4;student;A1\n" * 2
    sheet += "".join(f"One {i};03/04/2024;auction;$1,{i}50.00;violin;4/4;student;\n" for i in range(1, 5))
    sheet += "Slip;03/05/2024;auction;19.000;violin;4/4;student;\n"
    file = (BytesIO(sheet.encode("cp1252")), "sales.csv")
    page = client.post("/sales", {"csrf_token": client.token(), "file": file})
    assert page.heading == "7 rows are understood." and names(service) == set()
    for said in (
        "1.800 read as 1,800.00 USD", "31 March 2024, from 03/31/2024", "4 March 2024, from 03/04/2024",
        "taken to be in USD", "with the month first", "Kept in the note: Shelf", "It is the same as line 2",
        "19.000 read as 19,000.00 USD", "It costs more than 5 times the middle one",
    ):  # fmt: skip
        assert said in page.text, said
    page = client.send(page, {"go": "good"}) if "go" in page.form("/sales") else send_again(client, page.form("/sales"))
    assert "6 sales put into the book. 1 stood there already." in page.text
    assert "Geige Müller" in names(service) and "Take back the last list (6 sales)" in page.text
    page = client.send(page, action="/sales/undo")
    assert "6 sales taken out of the book again." in page.text and names(service) == set()


def send_again(client: Client, fields: dict[str, str]) -> Page:
    return client.post("/sales", fields | {"go": "good"})


def test_a_corrected_sale_stays_when_its_list_is_taken_back(client: Client, service: Service) -> None:
    send_list(client, GOOD)
    key = next(one.key for one in whole_book(service.engine).sales if one.name == "Plain")
    client.send(client.get(f"/sales/{key}"), {"price": "750"}, action=f"/sales/{key}")
    page = client.get("/sales")
    assert "1 sale taken out" in client.send(page, action="/sales/undo").text and names(service) == {"Plain"}


def test_what_the_days_mean_is_asked_and_then_read(client: Client, service: Service) -> None:
    sheet = HEAD + NEAR.replace("2025-09-01", "03/04/2025")
    text = send_list(client, sheet, 422, go="")
    assert "can be 3 April 2025 or 4 March 2025" in text and "which stands first?" in text
    assert "1 sale put" in send_list(client, sheet, order="month")
    assert whole_book(service.engine).sales[0].sold_on.isoformat() == "2025-03-04"


def test_five_thousand_bad_rows_list_fifty(client: Client, service: Service) -> None:
    page = client.post("/sales", {"csrf_token": client.token(), "list": HEAD + "x,y,z,p,q,r,s,t\n" * 5_000}, 422)
    assert page.text.count("Line 2, column") == 6 and "And " in page.text and "more." in page.text
    assert len(page.source) < 250_000


def test_the_switch_holds_for_every_instrument(client: Client, service: Service) -> None:
    send_list(client, GOOD)
    page = client.send(client.get("/sales"), {"leave_out": "yes"}, action="/sales/switch")
    assert whole_book(service.engine).leave_out_much and "checked" in page.source


def test_one_family_alone_can_be_shown(client: Client) -> None:
    send_list(client, GOOD + "Big,2025-03-01,auction,700,USD,cello,4/4,student\n")
    assert "Big" in client.get("/sales?family=cello").text and "Near twin" not in client.get("/sales?family=cello").text


@pytest.mark.parametrize("text", ['"', "name\n", "\x00", 'a,"b\nc', ",\n,"])
def test_any_list_is_told_and_kept(client: Client, service: Service, text: str) -> None:
    send_list(client, text, 422)
    assert names(service) == set()


def test_what_led_here_is_gone_back_to(client: Client, draft: str) -> None:
    page = client.get(f"/sales/new?family=violin&size=4/4&tier=student&back={draft}")
    assert 'value="4/4"' in page.source
    assert client.send(page, NEW).path == f"/evaluations/{draft}/sales"
    assert client.send(client.get("/sales/new?back=//elsewhere"), NEW | {"name": "x"}).path == "/sales"
