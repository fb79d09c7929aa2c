"""Figures of a result are rounded once, where it is made: scores and money to two decimals, the rest to four."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from evaluator.result.making.decision import known_sales
from evaluator.result.making.result import result_of
from evaluator.valuation.sales.sales_book import SalesBook
from tests.papers.cases import FEW, content, evaluation_of
from tests.valuation.test_sales_book import ON, sale, together

MODEL = "evaluator.result.model"
SHARES = {"chance", "probability", "share", "gross", "grade", "weight_share", "left", "probability_worth_it", "sure"}
MONEY = (f"{MODEL}.work", f"{MODEL}.score", f"{MODEL}.decision")


def figures(record: Any) -> Iterator[tuple[type, str, float]]:
    """Each float of the records of the result, with its record and name; facts are the core's and stay exact."""
    if is_dataclass(record) and type(record).__module__.startswith(MODEL):
        for field in fields(record):
            value = getattr(record, field.name)
            if isinstance(value, float):
                yield type(record), field.name, value
            yield from figures(value)
    elif isinstance(record, dict):
        for value in record.values():
            yield from figures(value)
    elif isinstance(record, tuple | list):
        for value in record:
            yield from figures(value)


def test_no_figure_of_a_result_has_more_than_four_decimals() -> None:
    found = list(figures(result_of(evaluation_of(content(FEW), draws=100))))
    assert len(found) > 300
    assert [one for one in found if one[2] != round(one[2], 4)] == []


def test_money_of_the_plan_is_told_to_the_cent() -> None:
    plan = result_of(evaluation_of(content(FEW), draws=100)).plan
    found = [one for one in figures(plan) if one[1] not in SHARES]
    assert len(found) > 30
    assert [one for one in found if one[2] != round(one[2], 2)] == []


def test_known_sales_are_told_step_by_step() -> None:
    """Three sales with odd figures: each step to the cent, shares to four decimals that add up to 1."""
    keys = {"kind": "auction", "extras": 33.333, "grade": 1.23456, "set_up": 7.777, "note": "Seen", "key": "k1"}
    book = SalesBook((sale(901.119, **keys), sale(1000.0, name="two"), sale(1111.111, name="three")), ON)
    found = known_sales(together(book))
    assert [one for one in figures(found) if one[2] != round(one[2], 4 if one[1] in SHARES else 2)] == []
    first = found.rows[0]
    assert (first.key, first.name, first.kind, first.note, first.sold_on) == (
        "k1",
        "one",
        "auction",
        "Seen",
        "2026-03-01",
    )
    assert first.price == 901.12 and first.start == 867.79
    assert sum(one.weight_share for one in found.rows) == pytest.approx(1.0, abs=2e-4)
    assert found.value is not None and found.low < found.value < found.high
    assert (found.left_out, found.again) == (0, 0)
