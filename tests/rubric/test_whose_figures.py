"""Whose a shop's figures are: its own stay its own, the default's are named, and other money is converted."""

from pathlib import Path

import pytest

from evaluator.estimate.price import PriceList
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder
from evaluator.wording.answer.source import borrowed_line, is_borrowed
from tests.known import shipped

DEFAULT = rubrics_folder() / "shop.yaml"


def shop_of(folder: Path, text: str) -> Shop:
    path = folder / "mine.yaml"
    path.write_text(f"extends: default\nshop: Bench and Bow\n{text}\n", encoding="utf-8")
    shop, problems = load_shop(path, DEFAULT)
    assert shop is not None, problems
    return shop


def test_own_figures_are_never_the_defaults_from_memory(tmp_path: Path) -> None:
    shop = shop_of(tmp_path, "rates: {set_up: 68}\ntax: {labour: 19 %}")
    assert not shop.is_default
    assert not is_borrowed(shop.borrowed, "rates.set_up")
    assert is_borrowed(shop.borrowed, "rates.repair")
    assert is_borrowed(shop.borrowed, "tax.parts") and not is_borrowed(shop.borrowed, "tax.labour")
    assert "the hourly rate for repair" in borrowed_line(shop.borrowed)
    assert "set-up" not in borrowed_line(shop.borrowed)


def test_one_rate_for_all_is_all_of_them(tmp_path: Path) -> None:
    assert not is_borrowed(shop_of(tmp_path, "rates: 68").borrowed, "rates")


def test_the_default_shop_says_so_as_a_whole() -> None:
    shop, _ = load_shop(DEFAULT, DEFAULT)
    assert shop is not None
    assert (shop.is_default, shop.borrowed) == (True, ())


def test_nobody_asks_for_a_deposit_without_saying_so(tmp_path: Path) -> None:
    assert shop_of(tmp_path, "rates: 68").deposits == ()
    assert len(shop_of(tmp_path, "deposits: [{from_total: 200, share: 30 %}]").deposits) == 1


@pytest.mark.parametrize(("text", "memory"), [("", True), ("guide: {prices: {violin: {outfit: 150}}}", False)])
def test_a_guide_of_ones_own_is_not_from_memory(tmp_path: Path, text: str, memory: bool) -> None:
    assert shop_of(tmp_path, text).guide.from_memory is memory


def test_dollars_of_the_default_are_converted_and_never_given_another_sign(tmp_path: Path) -> None:
    default, _ = load_shop(DEFAULT, DEFAULT)
    shop = shop_of(tmp_path, "currency: EUR\nexchange: 0.5\nrates: {set_up: 68}")
    assert default is not None
    assert shop.rates["set_up"].likely == 68, "what the workshop says itself is in its own money"
    assert shop.rates["repair"].likely == default.rates["repair"].likely / 2
    assert shop.minimum_charge == default.minimum_charge / 2
    assert shop.guide.prices["violin"]["factory"].likely == default.guide.prices["violin"]["factory"].likely / 2
    assert shop.guide.unseen["factory"].nothing_seen == default.guide.unseen["factory"].nothing_seen / 2
    assert shop.guide.sizes == default.guide.sizes, "a factor is no money"


def test_parts_of_the_built_in_list_are_converted_too(tmp_path: Path) -> None:
    rubric = shipped("violin")
    default, _ = load_shop(DEFAULT, DEFAULT)
    assert default is not None
    shop = shop_of(tmp_path, "currency: EUR\nexchange: 0.5\npart_prices: {bridge_blank: 11}")
    here, there = PriceList(rubric, shop), PriceList(rubric, default)
    for part in rubric.part_prices:
        own, listed = here.part(part), there.part(part)
        if own is None or listed is None:
            assert own is listed
        else:
            assert own.likely == (11 if part == "bridge_blank" else pytest.approx(listed.likely / 2, abs=0.01))


def test_other_money_without_an_exchange_is_asked_back(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text("extends: default\nshop: Mine\ncurrency: EUR\nrates: 68\n", encoding="utf-8")
    shop, problems = load_shop(path, DEFAULT)
    assert shop is None
    assert [str(one) for one in problems] == [
        f"{path}:3:11 its prices are in EUR, and the figures that it extends are in USD. "
        "Write exchange: what one USD is in EUR, for example exchange: 0.92."
    ]


def test_one_class_that_a_workshop_priced_leaves_the_others_from_memory(tmp_path: Path) -> None:
    shop = shop_of(tmp_path, "guide: {prices: {violin: {factory: 900}}}")
    assert "guide.prices.violin.factory" not in shop.borrowed
    assert {"guide.prices.violin.maker", "guide.prices.cello.factory"} <= set(shop.borrowed)
    assert shop.guide.prices["violin"]["factory"].likely == 900
