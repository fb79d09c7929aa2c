"""One price a reader: the same cent for each line and total on draft, phone, paper and JSON, by the shop's own rule."""

import io
import json
import re
from decimal import Decimal
from typing import Any, Literal

import pytest
from pypdf import PdfReader

from evaluator.result.json_form import result_json
from evaluator.rubric.shop import Shop, Tax
from evaluator.store.evaluations import Kept, create, find, finish
from evaluator.web.service import Service
from tests.web.conftest import NOW, Client
from tests.web.quoting.steps import agree, amounts, kept_of, link_of, made


@pytest.fixture(params=["net", "gross"])
def taxed(request: pytest.FixtureRequest, shop: Shop) -> Shop:
    """A shop of two rates of tax that shows its prices without it, or with it."""
    prices: Literal["net", "gross"] = request.param
    return shop.model_copy(update={"tax": Tax(labour=0.19, parts=0.07), "prices_shown": prices, "is_default": False})


def owned(service: Service) -> str:
    """A finished evaluation of somebody's own violin, with work to do."""
    start = {"title": "Anna's violin", "size": "4/4", "style": "classical", "tier": "student", "purpose": "quote"}
    answers = {
        name: {"outcome": outcome}
        for name, outcome in (("open_seams", "one_short"), ("bridge_fitted_feet", "gaps"), ("fingerboard_wear", "felt"))
    }
    identity = create(service.engine, "violin", {"start": start, "answers": answers}, NOW)
    kept = find(service.engine, identity)
    assert kept is not None
    finish(service.engine, identity, 1, result_json(service.result(kept)), "hash", NOW)
    return identity


def paper(client: Client, path: str) -> str:
    reply = client.http.get(path)
    assert reply.mimetype == "application/pdf", path
    return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(reply.get_data())).pages)


def money(amount: Any) -> Decimal:
    return Decimal(amount["amount"] if isinstance(amount, dict) else amount)


def test_the_same_cent_everywhere(client: Client, service: Service, taxed: Shop) -> None:
    evaluation = owned(service)
    proposed = paper(client, f"/evaluations/{evaluation}/report.pdf?for=customer")
    result = service.result(_kept(service, evaluation))
    quote = made(client, evaluation)
    draft = client.get(f"/quotes/{quote}").text
    data = json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)
    link = link_of(client, quote)
    phone = client.get(link).text
    printed = paper(client, f"/quotes/{quote}/quote.pdf")
    total = money(data["totals"]["required"]["total"])
    needed = [one for one in data["lines"] if one["group"] == "required"]
    for told in (draft, phone, printed, proposed):
        seen = set(amounts(told))
        assert total in seen
        assert {money(one["shown_price"]) for one in needed} <= seen
    assert {line.job: line.price for line in result.plan.lines} == {
        one["job"]: money(one["shown_price"]) for one in needed
    }
    bill = result.plan.invoice
    assert bill is not None
    assert bill.total == total
    if taxed.prices_shown == "gross":
        assert sum(money(one["shown_price"]) for one in needed) + bill.rounding == total
    agree(client, link)
    assert kept_of(service, quote).chain[-1].total.amount == total
    work = paper(client, f"/quotes/{quote}/work.pdf")
    assert total in amounts(work)


def test_levels_and_budget_stand_in_the_money_of_the_total(client: Client, service: Service, taxed: Shop) -> None:
    """The level that is the planned work costs what the plan does; no page says that tax is not counted."""
    evaluation = owned(service)
    result = service.result(_kept(service, evaluation))
    page = client.get(f"/evaluations/{evaluation}/budget").text
    bill = result.plan.invoice
    assert bill is not None
    assert f"${bill.total:,.0f}" in page
    assert "with tax" in page
    assert "without tax" not in page
    proposed = paper(client, f"/evaluations/{evaluation}/report.pdf?for=customer")
    assert ("before tax" in proposed) == (taxed.prices_shown == "net")
    assert not re.search(r"tax (is )?not counted|without tax", proposed, re.IGNORECASE)


def test_extras_cost_the_same_on_the_proposal_and_the_quote(client: Client, service: Service, taxed: Shop) -> None:
    evaluation = owned(service)
    proposed = paper(client, f"/evaluations/{evaluation}/report.pdf?for=customer")
    phone = client.get(link_of(client, made(client, evaluation)))
    extras = phone.text.partition("What could come on top")[2]
    shown = [round(one) for one in amounts(extras.partition("Not part of")[0])]
    assert shown
    listed = re.findall(r"\$(\d+)", proposed.partition("Not in the total")[2])
    assert set(map(str, shown)) & set(listed)
    assert set(listed[:1]) <= set(map(str, shown))


def _kept(service: Service, evaluation: str) -> Kept:
    kept = find(service.engine, evaluation)
    assert kept is not None
    return kept
