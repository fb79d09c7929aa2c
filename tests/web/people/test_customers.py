"""The customers' application: it knows no page of the shop, leads to none, and shares no cookie with it."""

import pytest
from flask import url_for
from werkzeug.routing import BuildError

from evaluator.web.app import create_app
from evaluator.web.people.doors import limiter
from evaluator.web.people.house import CUSTOMERS, LOCAL, House
from evaluator.web.service import Service
from tests.web.conftest import Client, both
from tests.web.quoting.conftest import finished, path, quote, reached
from tests.web.quoting.steps import agree

__all__ = ["finished", "path", "quote", "reached"]
THEIRS = {
    "static", "quote_link.ask", "quote_link.answered", "quote_link.paper", "quote_link.done_paper", "quote_link.photo",
    "understood.read",
}  # fmt: skip


def test_it_has_these_pages_and_can_name_none_of_the_shops(client: Client) -> None:
    shop, customers = both(client.app)
    assert {rule.endpoint for rule in customers.url_map.iter_rules()} == THEIRS
    assert all(rule.rule.startswith(f"{CUSTOMERS}/") for rule in customers.url_map.iter_rules())
    assert not any(rule.rule.startswith(CUSTOMERS + "/") for rule in shop.url_map.iter_rules())
    assert not set(customers.blueprints) & set(shop.blueprints) - {"understood"}
    with customers.test_request_context(), pytest.raises(BuildError):
        url_for("pages.front")


def test_what_it_shows_leads_to_itself_alone(client: Client, path: str) -> None:
    pages = [client.get(path), client.get("/q/none", 404), client.get(path + "/nowhere", 404)]
    agree(client, path)
    pages.append(client.get(path))
    for page in pages:
        named = [one.attributes for kind in ("a", "link", "script", "img", "form") for one in page.tree.find(kind)]
        leads = [str(one[key]) for one in named for key in ("href", "src", "action", "data-at") if one.get(key)]
        assert leads and all(one.startswith((f"{CUSTOMERS}/", "#")) for one in leads), page.path
    with client.http.get("/q/static/quote.css") as style:
        assert style.status_code == 200
    assert (
        client.http.get("/q/understood.json?kind=money&text=1,450").json
        == client.http.get("/understood.json?kind=money&text=1,450").json
    )


def test_a_page_of_the_shop_is_none_of_its_pages_whoever_asks(client: Client, path: str) -> None:
    for asked in ("/q/evaluations", "/q/customers", "/q/", "/q", f"{path}/../../customers", "/q//customers"):
        assert client.http.get(asked, follow_redirects=True).status_code == 404, asked
    customers = both(client.app)[1].test_client()
    for asked in ("/", "/customers", "/evaluations", "/sign-in", "/api/1/evaluations"):
        assert customers.get(asked).status_code == 404, asked


def test_its_cookie_is_its_own_and_goes_to_no_page_of_the_shop(client: Client, path: str) -> None:
    other = client.app.test_client()
    told = other.get(path).headers["Set-Cookie"]
    assert told.startswith("customer=") and f"Path={CUSTOMERS}" in told and "HttpOnly" in told
    shop, customers = both(client.app)
    assert shop.secret_key != customers.secret_key


def test_a_foreign_host_and_many_guesses_are_refused(service: Service, path: str) -> None:
    service.house = House(open_=False, hosts=LOCAL | {"records.example"}, address="https://records.example")
    limiter.reset()
    closed = create_app(service, "a key for tests").test_client()
    assert closed.get(path).status_code == 200, "no account is needed"
    assert closed.get(path, headers={"Host": "evil.example"}).status_code == 400
    answers = [closed.get(f"/q/guess{number}").status_code for number in range(21)]
    assert answers == [404] * 20 + [429]
    limiter.reset()
