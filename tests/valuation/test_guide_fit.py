"""A guide fitted from sales: it finds the one that the sales were drawn from, within the ranges that it states."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from math import exp, log

import numpy as np
import pytest
from scipy import stats

from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.guide import Guide
from evaluator.rubric.shop import Shop
from evaluator.rubric.written.kinds import Family, ThreePoint
from evaluator.store.folders import rubrics_folder
from evaluator.valuation.evidence.guide_fit import (
    OWN,
    SHARED,
    Figure,
    FittedClass,
    FittedGuide,
    adopted,
    class_of,
    fitted_guide,
)
from evaluator.valuation.sales.comparables import KINDS, Comparable
from evaluator.valuation.worth.mixture import law_of

ON = date(2026, 3, 1)
SHARES = {"outfit": 0.2, "factory": 0.35, "workshop": 0.25, "fine_workshop": 0.12, "maker": 0.08}


@cache
def default() -> Shop:
    shop, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert shop is not None, problems
    return shop


def other_guide(random: np.random.Generator) -> Guide:
    """A shop's true guide: a fifth off in all, a seventh in each class, prices closer or farther apart than usual."""
    guide = default().guide
    shared = random.normal(0, 0.2)

    def other(price: ThreePoint) -> ThreePoint:
        likely = price.likely * exp(shared + random.normal(0, 0.15))
        wider = random.uniform(0.7, 1.2)
        low, high = (likely * (limit / price.likely) ** wider for limit in (price.low, price.high))
        return ThreePoint(low=low, likely=likely, high=high)

    prices = {family: {name: other(price) for name, price in each.items()} for family, each in guide.prices.items()}
    return guide.model_copy(update={"prices": prices})


def one_sale(random: np.random.Generator, true: Guide, number: int) -> Comparable:
    """One sale as a book holds it: of any kind, size, day and condition, from a bell about what its class brings."""
    shop, family = default(), random.choice(["violin", "cello"], p=[0.65, 0.35])
    making = random.choice(list(SHARES), p=list(SHARES.values()))
    size = random.choice(["4/4", "3/4", "1/2"], p=[0.7, 0.2, 0.1])
    kind = KINDS[random.choice(4, p=[0.7, 0.15, 0.05, 0.1])]
    price = true.price(family, str(size), str(making))
    assert price is not None
    law = law_of(1.0, price.low, price.likely, price.high)
    days = int(random.integers(0, 1500))
    left = float(random.choice([1.0, 0.9, 0.7], p=[0.7, 0.2, 0.1]))
    since = 0.0 if kind == "listing" else days / 365.25
    ready = float(np.exp(random.normal(law.log_mean, law.log_sd)))
    paid = ready * left / (shop.sales.level[kind] * (1 + shop.sales.yearly_change * since))
    told = {"making": str(making)} if random.random() < 0.8 else {"made": true.made_like[str(making)] + 2.0}
    return Comparable(
        f"no. {number}", ON - timedelta(days=days), kind, paid, "USD", retention=left, family=str(family),
        size=str(size), **told,  # type: ignore[arg-type]
    )  # fmt: skip


def simulated(seed: int, count: int = 300) -> tuple[Guide, list[Comparable]]:
    random = np.random.default_rng(seed)
    true = other_guide(random)
    return true, [one_sale(random, true, number) for number in range(count)]


def fit(sales: list[Comparable], family: Family = "violin", shop: Shop | None = None) -> FittedGuide:
    found = fitted_guide(sales, family, default().guide, shop or default(), ON)
    assert found is not None
    return found


def recovered(seed: int) -> bool:
    true, sales = simulated(seed)
    return all(
        figure.low <= wanted <= figure.high
        for family in ("violin", "cello")
        for one in fit(sales, family).classes  # type: ignore[arg-type]
        for figure, wanted in zip(
            (one.low, one.likely, one.high),
            (getattr(true.prices[family][one.making], name) for name in ("low", "likely", "high")),  # type: ignore[index]
            strict=True,
        )
    )


def test_three_hundred_sales_give_back_the_guide_that_they_came_from_in_nine_of_ten_books() -> None:
    """Every one of thirty figures, near-limits and likely prices, in its stated range."""
    assert sum(recovered(seed) for seed in range(10)) >= 9


def test_the_ranges_are_narrow_enough_to_say_something() -> None:
    """A class with forty sales is known to a quarter, and better than the guide before (which is a third off)."""
    for seed in range(5):
        for one in fit(simulated(seed)[1]).classes:
            if one.count >= 40:
                assert one.likely.high / one.likely.value < 1.25


def test_one_sale_a_hundred_times_too_high_moves_nothing() -> None:
    for seed in range(5):
        sales = simulated(seed)[1]
        strange = replace(sales[seed], price=100 * sales[seed].price, name="strange")
        before, after = fit(sales), fit([*sales, strange])
        assert [one.price for one in after.classes] == [one.price for one in before.classes]
        assert sum(one.far for one in after.classes) - sum(one.far for one in before.classes) in (0, 1)


def test_one_written_a_hundred_times_too_high_is_as_if_it_were_not_there() -> None:
    sales = simulated(3)[1]
    for place in range(0, 60, 2):
        rest = [*sales[:place], *sales[place + 1 :]]
        wrong = fit([*rest, replace(sales[place], price=100 * sales[place].price)])
        assert [one.price for one in wrong.classes] == [one.price for one in fit(rest).classes]


def test_one_alone_a_hundred_times_too_high_is_told_from_the_guide() -> None:
    found = {one.making: one for one in fit([sale("maker", 1_600_000)]).classes}
    assert (found["maker"].far, found["maker"].count) == (1, 0)
    assert found["maker"].likely.value == pytest.approx(16_000, rel=0.01)


def sale(making: str, price: float, **keys: object) -> Comparable:
    base: dict = {"name": f"{making} {price}", "sold_on": ON, "kind": "dealer_sale", "price": price, "currency": "USD"}
    return Comparable(**(base | {"family": "violin", "size": "4/4", "making": making} | keys))


def test_without_sales_it_is_the_first_guide() -> None:
    for one in fit([]).classes:
        before = default().guide.prices["violin"][one.making]
        assert one.price.likely == pytest.approx(before.likely, rel=0.006)
        assert (one.price.low, one.price.high) == pytest.approx((before.low, before.high), rel=0.006)
        assert one.likely.low < before.likely < one.likely.high


def test_one_class_moves_the_others_as_the_normal_law_says() -> None:
    """The closed form against scipy's normal law, conditioned by brute force on a fine grid of two classes."""
    shop, guide = default(), default().guide
    two = guide.model_copy(
        update={"prices": {"violin": {k: guide.prices["violin"][k] for k in ("factory", "workshop")}}}
    )
    sales = [sale("factory", price) for price in (900.0, 1000.0, 1150.0, 1250.0, 1020.0)]
    found = fitted_guide(sales, "violin", two, shop, ON)
    assert found is not None
    width = law_of(1.0, 350, 750, 1500).log_sd
    logs = np.log([one.price for one in sales])
    variance = (4 * width**2 + 4 * logs.var(ddof=1) * 1.0) / 8 / 5
    grid = np.linspace(-1.2, 1.2, 601)
    a, b = np.meshgrid(grid, grid, indexing="ij")
    before = stats.multivariate_normal(cov=SHARED**2 + OWN**2 * np.eye(2)).pdf(np.dstack((a, b)))
    after = before * stats.norm.pdf(logs.mean(), log(750) + a, np.sqrt(variance))
    means = ((after * a).sum() / after.sum(), (after * b).sum() / after.sum())
    wanted = (750 * exp(means[0]), 2500 * exp(means[1]))
    assert [one.likely.value for one in found.classes] == pytest.approx(wanted, rel=0.007)
    assert found.classes[1].count == 0
    assert found.classes[1].likely.value > 2500


def test_a_sale_is_of_the_class_that_it_says_or_that_is_made_so_well() -> None:
    guide = default().guide
    assert class_of(sale("maker", 1, made=10.0), guide) == "maker"
    assert class_of(sale("", 1, made=66.0), guide) == "workshop"
    assert class_of(sale("", 1), guide) is None
    assert fit([sale("", 900), sale("", 900, made=40.0), sale("factory", 900, currency="EUR")]).unclear == 1


def test_bow_and_case_stay_where_the_guide_holds_them() -> None:
    with_case, without = fit([sale("factory", 900, extras=150.0)]), fit([sale("factory", 900)])
    assert with_case == without
    assert fit([sale("maker", 16_000, extras=3000.0)]) != fit([sale("maker", 16_000)])


def test_bow_and_case_stay_in_the_price_of_a_class_that_is_sold_with_them_and_come_off_others() -> None:
    for making, stays in (("factory", True), ("maker", False)):
        bare = [
            Comparable(f"{number}", ON, "dealer_sale", 900.0, "USD", family="violin", size="4/4", making=making)
            for number in range(5)
        ]
        with_case = [replace(one, extras=300.0) for one in bare]
        same = fit(bare) == fit(with_case)
        assert same == stays
        apart = default().guide.model_copy(update={"with_bow_and_case": ()})
        assert fitted_guide(bare, "violin", apart, default(), ON) == fit(bare)


def test_bow_and_case_stay_in_the_price_of_a_class_that_is_sold_with_them() -> None:
    """An outfit's guide price holds them; of a maker's violin they are taken off first."""
    shop = default()
    assert "outfit" in shop.guide.with_bow_and_case and "maker" not in shop.guide.with_bow_and_case

    def fitted(making: str, price: float, extras: float) -> FittedGuide | None:
        names = ("a", "b", "c", "d")
        keys = {"currency": shop.currency, "extras": extras, "family": "violin", "size": "4/4", "making": making}
        sales = [Comparable(name, ON, "dealer_sale", price, **keys) for name in names]  # type: ignore[arg-type]
        return fitted_guide(sales, "violin", shop.guide, shop, ON)

    likely = shop.guide.prices["violin"]["outfit"].likely
    assert fitted("outfit", likely, likely / 4) == fitted("outfit", likely, 0.0)
    dear = shop.guide.prices["violin"]["maker"].likely
    assert fitted("maker", dear + 500, 500) == fitted("maker", dear, 0.0) != fitted("maker", dear + 500, 0.0)


def fitted_class(making: str, count: int) -> FittedClass:
    low, likely, high = (Figure(price, price * 0.9, price * 1.1) for price in (400.0, 800.0, 1600.0))
    return FittedClass(making, low, likely, high, count, 0)


def test_what_is_taken_over_is_what_was_chosen_or_what_has_sales_enough() -> None:
    violin = FittedGuide("violin", (fitted_class("factory", 5), fitted_class("maker", 4)), 2)
    cello = FittedGuide("cello", (fitted_class("factory", 0),), 0)
    prices = {"low": 400.0, "likely": 800.0, "high": 1600.0}
    assert violin.count == 9
    assert adopted((violin, cello), 5) == {"violin": {"factory": prices}}
    assert adopted((violin, cello), 4) == {"violin": {"factory": prices, "maker": prices}}
    chosen = frozenset({("violin", "maker"), ("cello", "factory")})
    assert adopted((violin, cello), 5, chosen) == {"violin": {"maker": prices}, "cello": {"factory": prices}}
    assert adopted((violin, cello), 5, frozenset()) == {}


def test_a_family_that_the_first_guide_does_not_price_is_not_fitted() -> None:
    shop = default()
    without = shop.guide.model_copy(update={"prices": {"cello": shop.guide.prices["cello"]}})
    assert fitted_guide((), "violin", without, shop, ON) is None
    found = fitted_guide((), "violin", shop.guide, shop, ON)
    assert found is not None and (found.count, found.unclear) == (0, 0)
