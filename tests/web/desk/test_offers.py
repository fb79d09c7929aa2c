"""A part exchange through the pages: offered, kept, accepted, marked, sold, and known among the sales."""

from io import BytesIO
from urllib.parse import urlencode

import pytest
from pypdf import PdfReader

from evaluator.store.desk.offers import all_offers, all_stock
from evaluator.store.evaluations import create
from evaluator.store.known_sales import whole_book
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.page import Page

ASKED = {"protected": "none", "owner": "yes", "document": "yes", "ticket": "1500", "new_price": "2000"}


def offered(client: Client, service: Service) -> Page:
    start = {"title": "Red violin", "size": "4/4", "style": "classical", "tier": "student", "looker": "luthier"}
    answers = {"purfling": {"outcome": "painted"}, "bridge_fitted_feet": {"outcome": "gaps"}}
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    path = f"/evaluations/{identity}/trade-in"
    page = client.get(f"{path}?{'&'.join(f'{name}={value}' for name, value in ASKED.items())}")
    return client.send(page, action="/offers")


def test_from_an_offer_to_a_known_sale(client: Client, service: Service) -> None:
    page = offered(client, service)
    assert page.heading == "Offer O2026-0001: waits for an answer"
    assert "Fitted bridge feet" in page.text
    assert "mended before it is sold" in page.text
    (kept,) = all_offers(service.engine)
    cash = kept.letter.way("cash")
    assert cash is not None
    assert cash.to_owner.amount % 10 == 0
    page = client.send(page, {"way": "cash"}, action="/accept")
    assert page.path.startswith("/stock/")
    for action, typed in (
        ("/cost", {"say": "Set-up", "amount": "180,50"}),
        ("/price", {"price": "1,500.00"}),
        ("/sold", {"sold_for": "1400", "sold_on": "4 March 2026"}),
    ):
        page = client.send(page, typed, action=action)
    (item,) = all_stock(service.engine)
    assert item.item.cost.amount == cash.to_owner.amount + 180 + item.item.cost.amount % 1
    assert "Left of it" in page.text
    (sale,) = whole_book(service.engine).sales
    assert (sale.name, sale.price, sale.family) == ("Red violin", 1400.0, "violin")
    assert "Red violin" in client.get("/stock").text
    assert "O2026-0001" in client.get("/offers?find=red").text
    assert "None holds that" in client.get("/offers?find=blue").text


def test_the_letter_has_number_validity_and_findings_and_never_what_the_shop_earns(
    client: Client, service: Service
) -> None:
    page = offered(client, service)
    with client.http.get(f"{page.path}/offer.pdf") as response:
        text = " ".join(" ".join(one.extract_text() for one in PdfReader(BytesIO(response.data)).pages).split())
    for words in ("Offer O2026-0001", "valid until 3 April 2026", "What was found", "Conditions", "Owner, name"):
        assert words in text
    (kept,) = all_offers(service.engine)
    earns = {f"{way.shop_earns.amount:,.0f}" for way in kept.letter.ways if way.shop_earns.amount > 100}
    assert not any(figure in text for figure in earns)
    assert "earn" not in text
    assert "We earn" not in page.text
    assert "We earn" in client.get(f"{page.path}?inside=yes").text


def test_a_tag_is_one_small_page(client: Client, service: Service) -> None:
    page = client.send(offered(client, service), {"way": "cash"}, action="/accept")
    with client.http.get(f"{page.path}/tag.pdf") as response:
        reader = PdfReader(BytesIO(response.data))
    assert len(reader.pages) == 1
    assert round(float(reader.pages[0].mediabox.width)) == round(90 * 72 / 25.4)
    assert "S2026-0001" in reader.pages[0].extract_text()


def test_what_was_declined_is_not_accepted_any_more(client: Client, service: Service) -> None:
    page = offered(client, service)
    accepted = page.form("/accept")
    client.send(page, action="/decline")
    told = client.post(f"{page.path}/accept", {**accepted, "way": "cash"}, 409)
    assert "cannot become accepted" in told.text
    assert all_stock(service.engine) == ()


@pytest.mark.parametrize(
    ("action", "typed", "said"),
    [
        ("/sold", {"sold_for": "1400", "sold_on": "03/04/2062"}, "Enter the day"),
        ("/sold", {"sold_for": "1400", "sold_on": "2062-01-01"}, "lies ahead"),
        ("/sold", {"sold_for": "a lot", "sold_on": "2026-03-04"}, "is not an amount"),
        ("/price", {"price": ""}, "No amount"),
        ("/cost", {"say": "", "amount": "20"}, "Say what it was for"),
        ("/cost", {"say": "Strings", "amount": "1450.000"}, "can be"),
    ],
)
def test_what_cannot_be_is_told_and_stays_typed(
    client: Client, service: Service, action: str, typed: dict[str, str], said: str
) -> None:
    page = client.send(offered(client, service), {"way": "cash"}, action="/accept")
    page = client.send(page, typed, 422, action=action)
    assert said in page.text
    assert all(f'value="{value}"' in page.source for value in typed.values() if value)


def test_two_who_change_one_item_are_told(client: Client, service: Service) -> None:
    page = client.send(offered(client, service), {"way": "cash"}, action="/accept")
    client.send(page, {"price": "1500"}, action="/price")
    assert "Somebody else changed it" in client.send(page, {"price": "1600"}, 409, action="/price").text


def test_a_walk_through_a_rack_goes_on_by_scanning_the_next_tag(client: Client, service: Service) -> None:
    page = client.send(offered(client, service), {"way": "cash"}, action="/accept")
    (kept,) = all_stock(service.engine)
    for scanned in (f"http://127.0.0.1:8765{page.path}", page.path, kept.item.number, kept.item.number.lower()):
        found = client.get(f"/stock?{urlencode({'find': scanned})}")
        assert found.path == page.path, scanned
    assert client.get("/stock?find=/stock/0123456789ab").path == "/stock", "a tag of another house leads nowhere"
    looked = client.send(found, action="/again")
    assert looked.path.endswith("/again") and looked.path != page.path
    assert "The next one on the rack" in page.text
