"""What a quote says of money: lines, tax and totals add up, and page and JSON say the same."""

import json
from decimal import Decimal
from typing import Any

import pytest

from evaluator.web.quoting.view import typed_amount
from tests.web.conftest import Client
from tests.web.quoting.steps import amounts, yes_to_all

BEFORE_TAX = {"Work", "Parts"}


def test_lines_labour_and_tax_make_the_total_on_page_and_json(client: Client, quote: str, path: str) -> None:
    data = json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)
    for name, found in data["totals"].items():
        value = {key: Decimal(one["amount"]) for key, one in found.items()}
        keys = ("labour", "parts", "rush", "minimum", "tax", "rounding")
        assert sum(value[key] for key in keys) == value["total"], name
        assert value["tax"] == value["labour_tax"] + value["parts_tax"] > 0
    page = client.get(path)
    for typed in ({**yes_to_all(page)}, dict.fromkeys(list(yes_to_all(page))[:3], "yes")):
        review = client.send(page, {**typed, "go": "review"})
        table = next(one for one in review.tree.find("table") if "sums" in one.attributes["class"])
        figures = [amounts(row.text)[-1] for row in table.find("tr") if amounts(row.text)]
        assert sum(figures[:-1]) == figures[-1] == amounts(review.heading)[0]
        lines = [one.find("span")[-1].text for one in review.tree.find("ul", _class="answered")[0].find("li")]
        labour_and_parts = sum(figure for row, figure in zip(_names(table), figures, strict=True) if row in BEFORE_TAX)
        assert sum(amounts(line)[0] for line in lines if line) == labour_and_parts


def _names(table: Any) -> list[str]:
    return [row.find("td")[0].text for row in table.find("tr") if row.find("td")]


def test_everything_on_page_is_what_the_json_says(client: Client, quote: str, path: str) -> None:
    data = json.loads(client.http.get(f"/quotes/{quote}/quote.json").data)
    page = client.get(path)
    review = client.send(page, {**yes_to_all(page), "go": "review"})
    assert amounts(review.heading)[0] == Decimal(data["totals"]["everything"]["total"]["amount"])
    buttons = [one.text for one in page.tree.find("button") if amounts(one.text)]
    shown = {name: Decimal(one["total"]["amount"]) for name, one in data["totals"].items()}
    assert [amounts(text)[0] for text in buttons] == sorted(set(shown.values()))  # two that agree are one choice


@pytest.mark.parametrize(
    ("typed", "amount"),
    [
        ("250", "250.00"),
        ("250,5", "250.50"),
        ("1,250", "1250.00"),
        ("1.250,50", "1250.50"),
        ("$ 1,250.50", "1250.50"),
        ("250.00 USD", "250.00"),
        ("0", "0.00"),
    ],
)
def test_amounts_as_people_type_them(typed: str, amount: str) -> None:
    found = typed_amount(typed, "USD")
    assert str(getattr(found, "amount", found)) == amount


@pytest.mark.parametrize("typed", ["-5", "abc", "1-2", "9" * 20, ".", "12 EUR", "٣", "1e9", "5-", "1450.000"])
def test_no_amounts(typed: str) -> None:
    assert str(getattr(typed_amount(typed, "USD"), "code", None)).startswith("money.")
