"""Prices, shares and hours in shop files and overlays as a person writes them: read, or told at their place."""

from pathlib import Path

import pytest

from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder

BUILT_IN = rubrics_folder() / "shop.yaml"


def shop_of(folder: Path, text: str) -> Shop | tuple[str, ...]:
    path = folder / "shop.yaml"
    path.write_text(f"extends: default\n{text}\n", encoding="utf-8")
    shop, problems = load_shop(path, BUILT_IN)
    return tuple(str(one).removeprefix(f"{folder}/") for one in problems) if shop is None else shop


@pytest.mark.parametrize(
    ("text", "rate"),
    [
        ("rates: 68", (68, 68, 68)),
        ('rates: "68,50"', (68.5, 68.5, 68.5)),
        ("rates: {set_up: 68, repair: 100, restoration: 120}", (68, 68, 68)),
        ("rates: {set_up: $68.50}", (68.5, 68.5, 68.5)),
        ('rates: {set_up: {low: 60, likely: "1.450,00 USD", high: "$2,000"}}', (60, 1450, 2000)),
        ("rates: {set_up: {low: 60.50, likely: 70, high: 80}}", (60.5, 70, 80)),
    ],
)
def test_rates(tmp_path: Path, text: str, rate: tuple[float, ...]) -> None:
    shop = shop_of(tmp_path, text)
    assert isinstance(shop, Shop), shop
    assert (shop.rates["set_up"].low, shop.rates["set_up"].likely, shop.rates["set_up"].high) == rate
    if text.startswith('rates: "') or text == "rates: 68":
        assert len(set(shop.rates.values())) == 1, "one figure stands for every skill"


def test_the_other_figures_of_a_shop(tmp_path: Path) -> None:
    shop = shop_of(
        tmp_path,
        "currency: EUR\nexchange: 0.92\nminimum_charge: 1.450,50 €\nrush_share: 25 %\nservice_every_hours: 200 h\n"
        'deposits: [{from_total: "1 450", share: 50 %}]\nbuying: {margin: "0,4", bench_cost_per_hour: "48,50"}\n'
        'job_prices: {bridge_new: "120,-"}\nkeeping: {rehair: "1.075", full_service: {violin: EUR 140}}',
    )
    assert isinstance(shop, Shop), shop
    assert (str(shop.minimum_charge), str(shop.deposits[0].from_total), shop.deposits[0].share) == (
        "1450.5",
        "1450.0",
        0.5,
    )
    assert (shop.rush_share, shop.service_every_hours, shop.buying.margin) == (0.25, 200, 0.4)
    assert (shop.buying.bench_cost_per_hour, shop.job_prices["bridge_new"].high) == (48.5, 120)
    assert (shop.keeping.rehair, shop.keeping.full_service["violin"]) == (1075, 140)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("minimum_charge: 1.450", 'shop.yaml:2:17 minimum_charge: "1.450" can be 1,450.00 USD or 1.45 USD. '
         "Write 1450 or 1.45, whichever is meant."),
        ("rates: {set_up: {low: ten, likely: 70, high: 80}}",
         'shop.yaml:2:23 rates.set_up.low: "ten" is not an amount. '
         "Enter an amount, for example 780 or 780.50."),
        ("job_prices: {bridge_new: 120 €}",
         'shop.yaml:2:26 job_prices.bridge_new: "120 €" is in another currency; USD is '
         "asked for here. Convert it, and enter it in USD."),
        ('buying: {margin: "40"}', 'shop.yaml:2:18 buying.margin: "40" is more than the whole, which is 1. '
         "Write 40 % or 0.4."),
        ("service_every_hours: 8 days",
         'shop.yaml:2:22 service_every_hours: "8 days" is in days, and a day at work has '
         "no fixed length. Enter hours, for example 8."),
        ("rates: true", "shop.yaml:2:8 true stands where keys with values should be. Write key: value under it."),
        ("minimum_charge: -5", "shop.yaml:2:17 -5 is too small. Write a number of at least 0."),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told_once_at_its_place(tmp_path: Path, text: str, told: str) -> None:
    assert shop_of(tmp_path, text) == (told,)


def test_the_hours_of_an_overlay(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text(
        "extends: violin\nchange:\n  bridge_new: {hours: {low: 1:15, likely: 90 min, high: '2,5'}}\n", encoding="utf-8"
    )
    rubric, problems = load_rubric(rubrics_folder(), "violin", [path])
    assert rubric is not None, problems
    hours = rubric.jobs["bridge_new"].hours
    assert (hours.low, hours.likely, hours.high) == (1.25, 1.5, 2.5)
    path.write_text("extends: violin\nchange: {bridge_new: {hours: {low: 1:75}}}\n", encoding="utf-8")
    _, problems = load_rubric(rubrics_folder(), "violin", [path])
    assert [str(one).removeprefix(f"{tmp_path}/") for one in problems] == [
        'mine.yaml:2:36 change.bridge_new.hours.low: "1:75" has more than 59 minutes. '
        "Enter hours, for example 1:30 or 90 min."
    ]
