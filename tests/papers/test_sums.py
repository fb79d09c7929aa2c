"""The figures read back from the PDF: lines, shared labour and tax add up to the total, and are those of the JSON."""

import re
from ast import literal_eval
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import product
from typing import Any

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.basis.show import money
from evaluator.papers.printing.pdf import draw
from evaluator.papers.quote_story import quote_paper
from evaluator.quoting.answers import three_totals
from evaluator.quoting.draft import make_quote
from evaluator.quoting.quote import Quote
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.result.json_form import read_result, to_json
from evaluator.rubric.shop import Shop
from evaluator.wording.quotes import GROUP_WORDS, cents, different, sums
from tests.laws import sampled
from tests.papers.cases import BOW, FEW, content, full, paper_of, rubric, shop, text_of

CENTS = re.compile(r"[-−]?\$[\d,]+\.\d\d")
TAXED: dict[str, Any] = {"tax": {"labour": 0.07, "parts": 0.19}}
SHOPS: dict[str, dict[str, Any]] = {
    "as it is": {},
    "taxed": TAXED,
    "whole dollars": TAXED | {"rounding": "whole"},
    "least charge": TAXED | {"minimum_charge": "2500", "rounding": "five_cents"},
}
CASES = {
    "violin": content(FEW),
    "bow": content(BOW),
    "cello": full("cello", "wanting", "4/4", 20),
    "seams": {
        "format": 1,
        "rubric": "violin",
        "instrument": {"size": "4/4", "style": "classical", "tier": "student"},
        "purpose": "quote",
        "observations": {"open_seams": "several", "open_seam_count": 4},
    },
}


def shop_with(changes: Mapping[str, Any]) -> Shop:
    return Shop.model_validate(shop().model_dump(by_alias=True) | dict(changes))


def evaluated(data: Mapping[str, Any], changes: Mapping[str, Any]) -> Evaluation:
    """Worked out once for all tests that ask."""
    return _evaluated(repr(data), repr(changes))


@cache
def _evaluated(typed: str, changed: str) -> Evaluation:
    data, changes = literal_eval(typed), literal_eval(changed)
    judged = rubric(data["rubric"])
    case, problems = read_case(judged, data)
    assert case is not None, problems
    return evaluate(judged, case, shop_with(changes), draws=200)


def amounts(text: str) -> list[Decimal]:
    """Every amount with cents, in reading order; ranges stand in whole units and are none of them."""
    return [Decimal(found.replace("−", "-").replace("$", "").replace(",", "")) for found in CENTS.findall(text)]


def between(text: str, start: str, *ends: str) -> str:
    """From the heading to the first of the headings that follow it."""
    rest = text[text.index(start) + len(start) :]
    return rest[: min((rest.index(end) for end in ends if end in rest), default=len(rest))]


@pytest.mark.parametrize(("case", "shop_is"), sampled(list(product(CASES, SHOPS)), 3))
def test_the_customers_paper_adds_up_to_the_cent(case: str, shop_is: str) -> None:
    changes = SHOPS[shop_is]
    snapshot = to_json(evaluated(CASES[case], changes))
    plan, bill = snapshot["plan"], snapshot["plan"]["invoice"]
    section = between(
        text_of(paper_of(snapshot, "customer")),
        "Work and cost",
        "Not needed, but",
        "Not in the total",
        "How far to go",
    )
    found = amounts(section)
    lines = [Decimal(line["price"]["amount"]) for line in plan["lines"]]
    bill = {name: Decimal(one["amount"]) for name, one in bill.items() if isinstance(one, dict)}
    taxes = [bill[name] for name in ("labour_tax", "parts_tax") if bill[name]]
    rounding = [bill["rounding"]] if bill["rounding"] else []
    total, most = bill["total"], bill["up_to"]
    assert found == [*lines, *taxes, *rounding, total, most]
    assert sum(found[:-2]) == total == found[-2]
    assert most >= total
    assert bool(taxes) == bool(changes)
    shared = [line for line in plan["lines"] if line["shared"]]
    assert sum(lines) == sum(bill[name] for name in ("labour", "parts", "minimum"))
    assert all(Decimal(line["price"]["amount"]) > 0 for line in shared)


@pytest.mark.parametrize("data", CASES.values(), ids=CASES)
def test_what_is_only_recommended_has_its_price_from_the_json(data: dict[str, Any]) -> None:
    snapshot = to_json(evaluated(data, TAXED))
    text = text_of(paper_of(snapshot, "customer"))
    wanted = [Decimal(line["price"]["amount"]) for line in snapshot["optional"]]
    if wanted:
        assert amounts(between(text, "Also worth doing", "Not in the total", "How far to go", "Caution")) == wanted


@pytest.mark.parametrize("reader", ["buyer", "shop"])
def test_lines_in_whole_dollars_add_up_but_for_their_rounding(reader: str) -> None:
    snapshot = to_json(evaluated(CASES["violin"], {}))
    section = between(text_of(paper_of(snapshot, reader)), "Work and cost", "In four of five")
    lines = [round(float(line["mean"]["amount"])) for line in snapshot["plan"]["lines"]]
    total = round(float(snapshot["plan"]["mean"]["amount"]))
    shown = [int(one.replace(",", "")) for one in re.findall(r"\$([\d,]+)(?!\.?\d)", section)]
    assert shown[2 : 3 * len(lines) : 3] == lines  # each line: from, to, about
    assert shown[-1] == total
    assert abs(sum(lines) - total) <= len(lines) / 2


@pytest.mark.parametrize(("case", "shop_is"), sampled(list(product(CASES, SHOPS)), 3))
def test_the_quote_adds_up_to_the_cent_and_to_the_estimate(case: str, shop_is: str) -> None:
    found = evaluated(CASES[case], SHOPS[shop_is])
    snapshot = to_json(found)
    quote = make_quote(found.rubric, found.shop, found.estimate, "Q-12", date(2026, 3, 2))
    assert isinstance(quote, Quote)
    text = text_of(draw(quote_paper(quote, read_result(snapshot), ())))
    lines = amounts(between(text, "Price", "What it comes to"))
    printed = [line.price.amount for group in GROUP_WORDS for line in quote.lines if line.group == group]
    assert lines[: len(printed)] == printed
    table = between(text, "What it comes to", "Work beyond")
    totals = three_totals(quote)
    shown = [totals[name] for name in different(totals)]
    columns = [[*sums(quote, one), ("Total", cents(one.total))] for one in shown]
    labels = dict.fromkeys(say for column in columns for say, _ in column if say != "Total")
    wanted = [amount for label in (*labels, "Total") for column in columns for say, amount in column if say == label]
    assert amounts(table) == amounts(" ".join(wanted))
    for column in columns:
        *parts, total = amounts(" ".join(amount for _, amount in column))
        assert sum(parts) == total
    assert totals["required"].total.amount == Decimal(snapshot["plan"]["invoice"]["total"]["amount"])
    by_job = {line.job: line.price.amount for line in quote.lines}
    for line in (*snapshot["plan"]["lines"], *snapshot["optional"]):
        if line["job"] in by_job:
            assert Decimal(line["price"]["amount"]) == by_job[line["job"]]


@pytest.mark.parametrize("changes", SHOPS.values(), ids=SHOPS)
def test_the_customers_paper_begins_with_what_is_to_be_paid(changes: dict[str, Any]) -> None:
    snapshot = to_json(evaluated(CASES["violin"], changes))
    bill, currency = snapshot["plan"]["invoice"], snapshot["plan"]["currency"]
    text = text_of(paper_of(snapshot, "customer"))
    lead = f"About {money(round(float(bill['total']['amount'])), currency)} of work brings it up to the standard."
    assert lead in text
    assert text.index(lead) < text.index("What was found")
    assert f"stays below {money(round(float(bill['up_to']['amount'])), currency)}" in text
