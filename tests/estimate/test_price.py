"""Prices of jobs, parts and shared labour: factors, the shop's own prices, minimum, further units."""

from typing import Any

import pytest

from evaluator.estimate.price import Price, PriceList
from tests.estimate.small import job_of, rubric_of, shared_of, shop_of

HOURS = (1.0, 2.0, 4.0)


def price_of(on: str = "violin", units: int = 1, shop: dict[str, Any] | None = None, **job: Any) -> Price | None:
    keys = {"families": ["violin", "cello"]} | job
    rubric = rubric_of((job_of("one", HOURS, **keys),), {}, parts={"blank": (10, 20, 40)}, family=on)
    return PriceList(rubric, shop_of(**(shop or {}))).job("one", units)


def whole(price: Price | None) -> tuple[float, float, float]:
    assert price is not None
    cost = price.whole
    assert (price.labour.low + price.parts.low, price.labour.high + price.parts.high) == pytest.approx(
        (cost.low, cost.high)
    )
    return cost.low, cost.likely, cost.high


@pytest.mark.parametrize(
    ("keys", "wanted"),
    [
        ({}, (85, 170, 340)),
        ({"skill": "repair"}, (100, 200, 400)),
        ({"parts": [{"part": "blank"}]}, (95, 190, 380)),
        ({"parts": [{"part": "blank", "count": 4}]}, (125, 250, 500)),
        ({"parts": [{"part": "blank", "grade": "select"}]}, (95, 190, 380)),
        ({"on": "cello", "family": {"cello": 1.5}}, (127.5, 255, 510)),
        ({"shop": {"family_factor": {"violin": 2.0}}}, (170, 340, 680)),
        ({"shop": {"job_prices": {"one": (50, 60, 70)}}}, (50, 60, 70)),
        ({"shop": {"job_prices": {"one": (50, 60, 70)}}, "parts": [{"part": "blank"}]}, (50, 60, 70)),
        ({"shop": {"part_prices": {"blank": (1, 2, 3)}}, "parts": [{"part": "blank"}]}, (86, 172, 343)),
        ({"minimum": 200.0}, (200, 200, 340)),
        ({"minimum": 200.0, "parts": [{"part": "blank"}]}, (200, 200, 380)),
        ({"units": 3, "further_unit": 0.5}, (170, 340, 680)),
        ({"units": 3}, (255, 510, 1020)),
        ({"units": 2, "further_unit": 0.5, "parts": [{"part": "blank"}]}, (147.5, 295, 590)),
    ],
)
def test_price_of_a_job(keys: dict[str, Any], wanted: tuple[float, float, float]) -> None:
    assert whole(price_of(**keys)) == pytest.approx(wanted)


def test_a_job_without_a_price_is_none() -> None:
    assert price_of("violin", families=["cello"]) is None
    assert price_of(parts=[{"part": "unknown"}]) is None


def test_shared_labour_has_its_own_rate_and_factor() -> None:
    rubric = rubric_of((), {}, (shared_of("open", (3, 5, 9), skill="repair", family={"cello": 1.7}),), family="cello")
    price = PriceList(rubric, shop_of()).shared("open")
    assert price.whole.likely == pytest.approx(5 * 1.7 * 100)
    assert price.hours_likely == pytest.approx(8.5)


def test_a_plain_grade_falls_back_on_what_is_listed() -> None:
    rubric = rubric_of((job_of("one", HOURS, parts=[{"part": "blank"}]),), {}, parts={"blank": (10, 20, 40)})
    price = PriceList(rubric, shop_of(), "plain").job("one")
    assert price is not None
    assert price.used[0].likely == 20


def test_a_part_is_told_by_the_name_that_the_list_gives_it() -> None:
    """And where only the shop has a price for it, by its own."""
    parts = [{"part": "bass_bar", "count": 2}, {"part": "own_glue"}]
    rubric = rubric_of((job_of("one", HOURS, parts=parts),), {}, parts={"bass_bar": (10, 20, 40)})
    price = PriceList(rubric, shop_of(part_prices={"own_glue": (1, 2, 3)})).job("one", 3)
    assert price is not None
    told = [(one.part, one.say, one.count, one.low, one.likely, one.high) for one in price.used]
    assert told == [("bass_bar", "bass_bar", 6, 60, 120, 240), ("own_glue", "own glue", 3, 3, 6, 9)]
