"""Every route answers with a sound page; the way from the first page to the paper works with plain posts alone."""

import json

import pytest

from evaluator.store.evaluations import find
from evaluator.web.serve import load_demo
from evaluator.web.service import Service
from tests.web.conftest import Client, check_headers

# What each route needs to be fetched; a new route fails the test below until it has its line here.
GET = {
    "pages.front": "/",
    "pages.start": "/new/violin",
    "pages.change_start": "/evaluations/{id}/start",
    "pages.evaluation": "/evaluations/{id}",
    "pages.part": "/evaluations/{id}/parts/bridge",
    "results.result": "/evaluations/{id}/result",
    "looking.visit": "/evaluations/{id}/visit",
    "looking.message": "/evaluations/{id}/message",
    "calculators.index": "/calculators",
    "calculators.page": "/calculators/pitch",
}
OTHER = {
    "results.report": ("/evaluations/{id}/report.pdf", "application/pdf"),
    "results.result_json": ("/evaluations/{id}/result.json", "application/json"),
    "calculators.as_json": ("/calculators/pitch.json", "application/json"),
    "static": ("/static/app.css", "text/css"),
}
POST = {
    "pages.start": "/new/violin",
    "pages.change_start": "/evaluations/{id}/start",
    "pages.part": "/evaluations/{id}/parts/bridge",
    "pages.save_part": "/evaluations/{id}/parts/bridge/save",
    "results.finish_evaluation": "/evaluations/{id}/finish",
    "results.again": "/evaluations/{id}/again",
}


def test_every_route_is_listed_here(client: Client) -> None:
    rules = list(client.app.url_map.iter_rules())
    assert {rule.endpoint for rule in rules if "GET" in rule.methods} == {*GET, *OTHER}
    assert {rule.endpoint for rule in rules if "POST" in rule.methods} == set(POST)


@pytest.mark.parametrize("path", GET.values())
def test_a_page_is_sound(client: Client, draft: str, path: str) -> None:
    assert client.get(path.format(id=draft)).heading


@pytest.mark.parametrize(("path", "kind"), OTHER.values())
def test_what_is_not_a_page_says_what_it_is(client: Client, draft: str, path: str, kind: str) -> None:
    with client.http.get(path.format(id=draft)) as response:
        assert (response.status_code, response.mimetype) == (200, kind)
        check_headers(response)


@pytest.mark.parametrize("path", POST.values())
def test_nothing_is_taken_without_the_token_of_the_page(
    client: Client, service: Service, draft: str, path: str
) -> None:
    before = find(service.engine, draft)
    page = client.post(path.format(id=draft), {"q-bridge_fitted_feet": "gaps"}, 400)
    assert "too old" in page.heading
    assert find(service.engine, draft) == before


@pytest.mark.parametrize("path", [path for path in {*GET.values(), *(p for p, _ in OTHER.values())} if "{id}" in path])
def test_an_unknown_evaluation_is_told_kindly(client: Client, path: str) -> None:
    assert client.get(path.format(id="000000000000"), 404).heading == "There is no such page"


@pytest.mark.parametrize("path", ["/new/ukulele", "/new/../violin", "/x", "/evaluations/{id}/parts/moon"])
def test_an_unknown_page_is_told_kindly(client: Client, draft: str, path: str) -> None:
    assert client.get(path.format(id=draft), 404).heading == "There is no such page"


def test_every_family_and_every_part_is_sound(client: Client, service: Service) -> None:
    for family in service.families():
        page = client.send(client.get(f"/new/{family}"), {"title": f"A {family}"})
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
