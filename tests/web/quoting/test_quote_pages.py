"""Every page, paper and form of a quote: sound in every state, and nothing taken without the token of the page."""

import re
from typing import Any

import pytest

from evaluator.web.service import Service
from tests.web.conftest import Client, both, check_headers
from tests.web.quoting.steps import agree, kept_of

GET = (
    "/evaluations/{evaluation}/quotes",
    "/quotes/{id}",
    "/quotes/{id}/work",
    "/quotes/{id}/more",
    "/quotes/{id}/after",
    "/q/{token}",
    "/hours",
)


OTHER = {
    "/quotes/{id}/quote.pdf": "application/pdf",
    "/quotes/{id}/work.pdf": "application/pdf",
    "/quotes/{id}/quote.json": "application/json",
    "/q/{token}/quote.pdf": "application/pdf",
    "/quotes/{id}/service.ics": "text/calendar",
    "/quotes/{id}/after.pdf": "application/pdf",
    "/q/{token}/done.pdf": "application/pdf",
}


POST = (
    "/evaluations/{evaluation}/quotes",
    "/quotes/{id}/offer",
    "/quotes/{id}/spoken",
    "/quotes/{id}/begin",
    "/quotes/{id}/work",
    "/quotes/{id}/parts",
    "/quotes/{id}/more",
    "/quotes/{id}/withdraw",
    "/quotes/{id}/again",
    "/q/{token}",
)


PHOTO = "/q/{token}/photos/{name}.jpg"  # of a quote whose findings have one: test_photos_of_findings.py
LISTED = {"quotes", "quote_link", "bench", "second_quotes", "after", "own_hours"}


def test_every_route_of_a_quote_is_listed_here(client: Client) -> None:
    every = [rule for app in both(client.app) for rule in app.url_map.iter_rules()]
    mine = [rule for rule in every if rule.endpoint.split(".")[0] in LISTED]
    place = {"identity": "{id}", "token": "{token}", "name": "{name}"}

    def plain(rule: Any) -> str:
        path = rule.rule.replace("/evaluations/<identity>", "/evaluations/{evaluation}")
        return re.sub(r"<(\w+)>", lambda found: place[found.group(1)], path)

    assert {plain(rule) for rule in mine if "GET" in rule.methods} == {*GET, *OTHER, PHOTO}
    assert {plain(rule) for rule in mine if "POST" in rule.methods} == set(POST)


def test_every_page_and_paper_is_sound_in_every_state(client: Client, quote: str, finished: str, path: str) -> None:
    names = {"id": quote, "evaluation": finished, "token": path.removeprefix("/q/")}
    for step in ("offered", "agreed"):
        if step == "agreed":
            agree(client, path)
        for one in GET:
            assert client.get(one.format(**names)).heading
        for one, kind in OTHER.items():
            if one.endswith(("after.pdf", "done.pdf")) or (step == "offered" and one.endswith("work.pdf")):
                continue
            for size in ("A4", "Letter"):
                with client.http.get(one.format(**names), query_string={"paper": size}) as response:
                    assert (response.status_code, response.mimetype) == (200, kind)
                    check_headers(response)


@pytest.mark.parametrize("one", POST)
def test_nothing_is_taken_without_the_token_of_the_page(
    client: Client, service: Service, quote: str, finished: str, path: str, one: str
) -> None:
    before = kept_of(service, quote)
    address = one.format(id=quote, evaluation=finished, token=path.removeprefix("/q/"))
    assert "too old" in client.post(address, {"go": "send"}, 400).heading
    assert kept_of(service, quote) == before


@pytest.mark.parametrize("one", [*GET[:-1], *OTHER])
def test_what_is_not_there_is_told(client: Client, one: str) -> None:
    assert client.get(one.format(id="0" * 12, evaluation="0" * 12, token="x"), 404).heading == "There is no such page"
