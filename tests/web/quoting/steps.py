"""The steps that tests of quotes take: made, offered, answered, agreed; and amounts read off a page."""

import re
from decimal import Decimal

from evaluator.store.quotes import KeptQuote, find_quote
from evaluator.web.service import Service
from tests.web.conftest import Client
from tests.web.page import Page

LATER = "2026-09-04T05:06:07+00:00"


def made(client: Client, evaluation: str, **typed: str) -> str:
    """Make a draft; its id."""
    page = client.send(client.get(f"/evaluations/{evaluation}/quotes"), typed)
    return page.path.split("/")[2]


def link_of(client: Client, identity: str) -> str:
    """Offer the draft; the path of its private link."""
    page = client.send(client.get(f"/quotes/{identity}"), action="/offer")
    found = re.search(r"/q/[\w-]+", page.text)
    assert found is not None
    return found.group()


def kept_of(service: Service, identity: str) -> KeptQuote:
    kept = find_quote(service.engine, identity)
    assert kept is not None
    return kept


def yes_to_all(page: Page) -> dict[str, str]:
    names = (one.attributes["name"] for one in page.tree.find("input", type="radio"))
    return dict.fromkeys(names, "yes")


def amounts(text: str) -> list[Decimal]:
    return [Decimal((sign + one).replace(",", "")) for sign, one in re.findall(r"(-?)\$([\d,]+\.\d\d)", text)]


def agree(client: Client, path: str, name: str = "Mother of Anna", **typed: str) -> Page:
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    return client.send(review, {"by": name, "go": "send", **typed})
