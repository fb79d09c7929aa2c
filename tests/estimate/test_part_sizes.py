"""A part price by size: its own, or so many times the full one; for our own rubrics small sizes cost no more."""

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.estimate.price import PriceList, for_size
from evaluator.result.evaluation import evaluate
from evaluator.rubric.files.load import family_names
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.shop import Shop
from evaluator.rubric.written.kinds import Family
from evaluator.store.folders import rubrics_folder
from tests.known import shipped


def default_shop() -> Shop:
    shop, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert shop is not None, problems
    return shop


@pytest.mark.parametrize(
    ("part", "grade", "size", "likely"),
    [
        ("strings_set", "plain", "4/4", 28),
        ("strings_set", "plain", "7/8", 28),
        ("strings_set", "plain", "1/2", 24),
        ("strings_set", "good", "1/16", 45),
        ("strings_set", "select", "1/4", 45),  # no select strings are made so small: the nearest grade
        ("bridge_blank", "good", "3/4", 15.4),  # seven tenths of 22
        ("soundpost_stick", "good", "1/4", 4),  # the same stick for all
    ],
)
def test_a_part_of_a_violin_by_size(part: str, grade: str, size: str, likely: float) -> None:
    price = PriceList(for_size(shipped("violin"), size), default_shop()).part(part, grade)  # type: ignore[arg-type]
    assert price is not None
    assert price.likely == pytest.approx(likely)


@pytest.mark.parametrize("name", family_names(rubrics_folder()))
def test_no_part_of_a_small_size_costs_more_than_of_a_full_one(name: str) -> None:
    rubric = shipped(name)
    for size in rubric.sizes:
        small = for_size(rubric, size)
        assert for_size(small, size) == small
        for part, price in small.part_prices.items():
            for grade, three in price.prices.get(rubric.family, {}).items():
                full = rubric.part_prices[part].prices[rubric.family][grade]
                assert three.low <= full.low and three.likely <= full.likely and three.high <= full.high, (part, size)


@pytest.mark.parametrize(("family", "small", "full"), [("violin", "1/2", "4/4"), ("cello", "1/2", "4/4")])
def test_a_childs_strings_cost_less_in_an_evaluation(family: Family, small: str, full: str) -> None:
    rubric, shop = shipped(family), default_shop()
    price = {}
    for size in (small, full):
        content = {
            "format": 1,
            "rubric": family,
            "instrument": {"size": size, "style": "classical", "tier": "student"},
            "purpose": "quote",
            "observations": {"string_age": "damaged"},
        }
        case, problems = read_case(rubric, content)
        assert case is not None, problems
        work = evaluate(rubric, case, shop, draws=200).estimate
        price[size] = next(line.cost.mean for line in (*work.lines, *work.optional) if line.job == "strings_set")
    assert price[small] < 0.8 * price[full]
