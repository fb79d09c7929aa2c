"""Every route answers with a sound page; the way from the first page to the paper works with plain posts alone."""

import json

import pytest
from flask import url_for

from evaluator.store.evaluations import find, newest
from evaluator.web.people.doors import BY_TOKEN
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from tests.web.conftest import Client, both, check_headers

# An example of every argument that a route takes; a route with a new one fails here until it has its example.
ARGUMENTS = {
    "family": "violin",
    "filename": "app.css",
    "token": "no-such-token",
    "key": "000000000000",
    "number": 0,
    "check": "string_length",
    "to": "decline",
    "section": "found",
    "part": "bridge",
    "side": "view_front",
}
# There is none of these here: each must tell so; their own tests make one.
NAMES = {
    "year": "standards",
    "pages": "bridge",
    "calculators": "pitch",
    "quote_link": "no-such-photo",
    "sheets": "purfling",
    "photos": "0" * 64,
    "my_shop": "rates",
}
NOT_HERE = (
    "/offers/",
    "/stock/",
    "/c/",
    "/bills/",
    "/payments/",
    "/customers/",
    "/instruments/",
    "/fleet/000",
    "/quotes/",
    "/q/no-such-token",
    "/sales/0",
    "/photos/",
    "/g/",
)
KINDS = {
    "js": "text/javascript",
    "yaml": "application/yaml",
    "zip": "application/zip",
    "json": "application/problem+json",
    "svg": "image/svg+xml",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


def addresses(client: Client, method: str, identity: str) -> list[str]:
    """One address for every page that answers to `method`; operations for programs have tests of their own."""
    found = []
    for app, rule in ((one, rule) for one in both(client.app) for rule in one.url_map.iter_rules()):
        if method in (rule.methods or set()) and rule.endpoint.partition(".")[0] not in BY_TOKEN:
            known = {**ARGUMENTS, "identity": identity, "name": NAMES.get(rule.endpoint.split(".")[0])}
            with app.test_request_context():
                found.append(url_for(rule.endpoint, **{name: known[name] for name in rule.arguments}))
    return found


def test_every_route_answers_with_a_sound_page_or_says_what_it_is(client: Client, draft: str) -> None:
    paths = addresses(client, "GET", draft)
    assert len(paths) > 10
    for path in paths:
        with client.http.get(path, follow_redirects=True) as response:
            assert response.status_code in ({404} if path.startswith(NOT_HERE) else {200, 422}), path
            check_headers(response)
            if response.mimetype == "text/html":
                client.get(path, response.status_code)
            else:
                kind = "json" if path == "/health" else path.rpartition(".")[2]
                assert response.mimetype in {f"application/{kind}", f"text/{kind}", KINDS.get(kind)}, path


def test_no_route_takes_a_form_without_the_token_of_its_page(client: Client, service: Service, draft: str) -> None:
    before = newest(service.engine)
    for path in addresses(client, "POST", draft):
        page = client.post(path, {"title": "x", "q-bridge_fitted_feet": "gaps"}, 400)
        assert "too old" in page.heading, path
    assert newest(service.engine) == before


def test_every_route_tells_an_unknown_evaluation_kindly(client: Client) -> None:
    for path in addresses(client, "GET", "000000000000"):
        if "000000000000" in path:
            assert client.get(path, 404).heading == "There is no such page"


@pytest.mark.parametrize("path", ["/new/ukulele", "/new/../violin", "/x", "/evaluations/{id}/parts/moon"])
def test_an_unknown_page_is_told_kindly(client: Client, draft: str, path: str) -> None:
    assert client.get(path.format(id=draft), 404).heading == "There is no such page"


def test_every_family_and_every_part_is_sound(client: Client, service: Service) -> None:
    for family in service.families():
        page = client.send(client.get(f"/new/{family}"), {"title": f"A {family}", "go": "parts"})
        seen = []
        while "/parts/" in page.path:
            seen.append(page.path)
            page = client.send(page)
        assert page.path.endswith("/result")
        assert len(seen) == len(set(seen)) > 3


def test_every_demo_evaluation_has_a_sound_result(client: Client, service: Service) -> None:
    count = load_demo(service)
    assert count >= 3
    front = client.get("/")
    links = [a.attributes["href"] for a in front.tree.find("a") if a.attributes["href"].endswith("/result")]
    assert len(links) == count
    for link in links:
        assert client.get(link).text
    assert load_demo(service) == 0, "a second start must not double the demo"


def test_from_the_first_page_to_the_paper_without_javascript(client: Client, service: Service) -> None:
    start = client.get("/new/violin")
    page = client.send(start, {"title": "Corner shop", "asking": "780", "ready_value": "1200", "looker": "luthier"})
    identity = page.path.split("/")[2]
    page = client.get(f"/evaluations/{identity}/parts/whole")
    page = client.send(page, {"r-weight_without_chin_rest": "436,5", "go": "bridge"})
    page = client.send(page, {"q-bridge_fitted_feet": "gaps", "n-bridge_fitted_feet": "bass side", "go": "result"})
    assert page.path.endswith("/result")
    kept = find(service.engine, identity)
    assert kept is not None
    assert kept.typed["answers"]["bridge_fitted_feet"] == {"outcome": "gaps", "note": "bass side"}
    finished = client.send(page, action="/finish")
    assert "Finished on" in finished.text
    assert client.http.get(f"/evaluations/{identity}/report.pdf").data.startswith(b"%PDF-")
    assert json.loads(client.http.get(f"/evaluations/{identity}/result.json").data)["title"] == "Corner shop"
