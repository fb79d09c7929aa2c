"""The guide fitted from the book, on its page: shown beside the one that counts, and taken over by hand alone."""

from evaluator.store.known_sales import add_sales
from evaluator.store.workshop.figures import newest_version
from evaluator.web.service import Service
from tests.web.choosing.test_sales import sale
from tests.web.conftest import NOW, Client

PATH = "/shop/guide/from-sales"
FACTORY = [sale(f"no. {place}", 900 + 20 * place, making="factory") for place in range(20)]


def test_without_sales_it_says_what_to_do(client: Client) -> None:
    page = client.get(PATH)
    assert "Put what you sold into the book first" in page.text


def test_it_stands_beside_the_old_one_and_counts_only_once_it_is_taken_over(client: Client, service: Service) -> None:
    add_sales(service.engine, [*FACTORY, sale("unknown", 700, tier="student")], NOW)
    page = client.get(PATH)
    assert "$750" in page.text and "1 sale more cannot count" in page.text
    assert service.shop.guide.prices["violin"]["factory"].likely == 750
    form = page.form(PATH)
    nothing = client.post(PATH, {name: value for name, value in form.items() if name != "take"}, 422)
    assert "Tick the classes" in nothing.text
    taken = client.post(PATH, form | {"take": "violin/factory"})
    assert "Saved" in taken.text
    prices = service.shop.guide.prices["violin"]
    assert 950 < prices["factory"].likely < 1150
    assert prices["maker"].likely == 16_000, "what was not ticked stays"
    assert not service.shop.guide.from_memory
    assert str(round(prices["factory"].likely)) in client.http.get("/shop/figures.yaml").get_data(as_text=True)
    again = client.get(PATH)
    assert f"${prices['factory'].likely:,.0f}" in again.text


def test_another_version_meanwhile_is_told(client: Client, service: Service) -> None:
    add_sales(service.engine, FACTORY, NOW)
    form = client.get(PATH).form(PATH)
    client.send(client.get("/shop/rates"), {"rates.set_up.likely": "68"}, action="/shop/rates")
    version = newest_version(service.engine)
    page = client.post(PATH, form | {"take": "violin/factory"}, 409)
    assert "meanwhile" in page.text and newest_version(service.engine) == version
