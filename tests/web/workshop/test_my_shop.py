"""My shop in the browser: set, checked as a file is, taken out and put in, and never lost between two tabs."""

import io

import pytest
from pypdf import PdfReader

from evaluator.store.workshop.figures import figures_at, newest_version
from evaluator.web.app import create_app
from evaluator.web.service import Service
from evaluator.web.workshop.sections import sections
from tests.web.conftest import Client


def upload(client: Client, text: str, status: int = 200) -> str:
    token = client.get("/shop").form()["csrf_token"]
    sent = {"csrf_token": token, "file": (io.BytesIO(text.encode()), "shop.yaml")}
    return client.post("/shop/upload", sent, status).text


def test_own_rates_count_in_every_price_from_then_on(client: Client, service: Service) -> None:
    page = client.get("/shop/rates")
    assert "Default, from memory: $85, between $60 and $120." in page.text
    saved = client.send(page, {"rates.set_up.likely": "68,50", "minimum_charge": "35"}, action="/shop/rates")
    assert "Saved" in saved.text
    assert service.shop.rates["set_up"].high == 68.5
    assert service.shop.minimum_charge == 35
    assert not service.shop.is_default
    assert saved.form()["rates.set_up.likely"] == "68.5" or saved.form()["rates.set_up.likely"] == "68,50"
    assert "the hourly rate for repair" in client.get("/shop").text


def test_a_mistake_stands_beside_its_field_and_nothing_is_lost(client: Client, service: Service) -> None:
    sent = {"rates.set_up.likely": "lots", "rates.repair.low": "90", "rates.repair.likely": "80", "rush_share": "400"}
    page = client.send(client.get("/shop/rates"), sent, 422, action="/shop/rates")
    for name in ("rates.set_up", "rates.repair", "rush_share"):
        assert page.tree.find("p", id=f"wrong-{name}"), name
    assert page.form()["rates.set_up.likely"] == "lots"
    assert newest_version(service.engine) == 0


def test_euros_want_an_exchange_beside_the_currency(client: Client, service: Service) -> None:
    page = client.send(client.get("/shop/terms"), {"currency": "EUR"}, 422, action="/shop/terms")
    assert "Write exchange" in page.tree.find("p", id="wrong-currency")[0].text
    client.send(page, {"exchange": "0.92", "tax.labour": "19", "prices_shown": "gross"}, action="/shop/terms")
    assert (service.shop.currency, service.shop.tax.labour, service.shop.prices_shown) == ("EUR", 0.19, "gross")
    assert service.shop.rates["set_up"].likely == pytest.approx(85 * 0.92, abs=0.01)


def test_what_goes_out_comes_in_again_as_it_was(client: Client, service: Service) -> None:
    client.send(client.get("/shop/who"), {"shop": "Bench and Bow", "address": "1 Hill Lane\nOldtown"}, action="/who")
    terms = {"deposits.0.from_total": "300", "deposits.0.share": "30", "exclusions": "Colour.\nDry air."}
    client.send(client.get("/shop/terms"), terms, action="/terms")
    before, text = service.shop, client.http.get("/shop/figures.yaml").get_data(as_text=True)
    upload(client, "extends: default\nshop: Another\n")
    assert service.shop.shop == "Another"
    upload(client, text)
    assert service.shop == before
    assert (before.address, before.exclusions) == (("1 Hill Lane", "Oldtown"), ("Colour.", "Dry air."))
    assert [(str(one.from_total), one.share) for one in before.deposits] == [("300.0", 0.3)] or before.deposits


def test_a_file_with_mistakes_is_told_with_its_lines_and_changes_nothing(client: Client, service: Service) -> None:
    told = upload(client, "extends: default\nshop: X\nrats: 3\njob_prices: {bridge_nwe: 5}\n", 422)
    assert 'Line 3: Unknown key "rats". Did you mean "rates"?' in told
    assert newest_version(service.engine) == 0


def test_two_tabs_on_different_fields_lose_nothing(client: Client, service: Service) -> None:
    first, second = client.get("/shop/rates"), client.get("/shop/rates")
    client.send(first, {"rates.set_up.likely": "68"}, action="/rates")
    client.send(second, {"rates.repair.likely": "72"}, action="/rates")
    assert (service.shop.rates["set_up"].likely, service.shop.rates["repair"].likely) == (68, 72)


def test_two_tabs_on_one_field_show_both(client: Client, service: Service) -> None:
    first, second = client.get("/shop/rates"), client.get("/shop/rates")
    client.send(first, {"rates.set_up.likely": "68"}, action="/rates")
    page = client.send(second, {"rates.set_up.likely": "72"}, 409, action="/rates")
    assert "Saved meanwhile: 68." in page.text
    assert page.form()["rates.set_up.likely"] == "72"
    client.send(page, action="/rates")
    assert service.shop.rates["set_up"].likely == 72


def test_another_process_follows_and_every_version_stays(client: Client, service: Service) -> None:
    other = Service(service.engine, service.shop, now=service.now, _rubrics=service._rubrics)
    elsewhere = Client(create_app(other, "a key for tests"))
    client.send(client.get("/shop/rates"), {"rates.set_up.likely": "68"}, action="/rates")
    client.send(client.get("/shop/rates"), {"rates.set_up.likely": "70"}, action="/rates")
    elsewhere.get("/")
    assert other.shop.rates["set_up"].likely == 70
    kept = figures_at(service.engine, 1)
    assert kept is not None and "68" in kept.text


def test_an_emptied_field_is_the_defaults_again(client: Client, service: Service) -> None:
    client.send(client.get("/shop/rates"), {"minimum_charge": "35"}, action="/rates")
    client.send(client.get("/shop/rates"), {"minimum_charge": ""}, action="/rates")
    assert service.shop.minimum_charge == 30


def test_every_section_is_sound_and_saves_as_it_stands(client: Client, service: Service) -> None:
    with client.app.test_request_context():
        names = list(sections())
    for name in names:
        client.send(client.get(f"/shop/{name}"), action=f"/shop/{name}")
    assert client.get("/shop/moon", 404).heading == "There is no such page"
    assert service.shop.rates["set_up"].likely == 85


def picture() -> bytes:
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (300, 120), "#8A3B1E").save(out, "PNG")
    return out.getvalue()


def images_in(content: bytes) -> int:
    return sum(len(page.images) for page in PdfReader(io.BytesIO(content)).pages)


def test_a_logo_stands_on_quotes_and_comes_off_again(client: Client, service: Service, quote: str) -> None:
    paper = f"/quotes/{quote}/quote.pdf"
    assert images_in(client.http.get(paper).data) == 0
    token = client.get("/shop").form()["csrf_token"]
    client.post("/shop/logo", {"csrf_token": token, "photo": (io.BytesIO(picture()), "logo.png")})
    assert images_in(client.http.get(paper).data) == 1
    told = client.post("/shop/logo", {"csrf_token": token, "photo": (io.BytesIO(b"no picture"), "x.png")}, 422)
    assert "not a photo" in told.text
    client.post("/shop/logo", {"csrf_token": token, "go": "off"})
    assert images_in(client.http.get(paper).data) == 0
