"""Prices that workshops have posted, each with its source, beside what the default shop asks by its hours and rates.

The pages were read in excerpt; most are undated. A posted price is one shop's: it must lie within what shops may ask by
our list (shortest hours at the lowest rate to longest at the highest), and usual prices near the mean of our order.
"""

from functools import cache

import pytest

from evaluator.estimate.extras import Paid, addition
from evaluator.estimate.model import Cost
from evaluator.estimate.planning.plan import Planner
from evaluator.estimate.price import PriceList
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.written.kinds import Family
from evaluator.store.folders import rubrics_folder
from tests.known import shipped


@cache
def prices_for(family: Family) -> Planner:
    rubric = shipped(family)
    shop, more = load_shop(rubrics_folder() / "shop.yaml")
    assert shop is not None, more
    return Planner(PriceList(rubric, shop))


def trade_range(prices: PriceList, name: str) -> tuple[float, float] | None:
    """What shops may ask for the job: shortest hours, lowest rate and plainest part to longest, highest and best."""
    job = prices.rubric.jobs[name]
    plain, select = (PriceList(prices.rubric, prices.shop, grade).job(name) for grade in ("plain", "select"))
    if plain is None or select is None:
        return None
    rate, factor = prices.shop.rates[job.skill], job.family.get(prices.rubric.family, 1.0)
    low = job.hours.low * factor * rate.low + sum(part.low for part in plain.used)
    return low, job.hours.high * factor * rate.high + sum(part.high for part in select.used)


def whole_order(family: Family, job: str) -> Cost:
    """The job with all that it surely brings and the shared labour, on an order of its own."""
    return addition(prices_for(family), Paid(frozenset(), frozenset()), job).cost


@pytest.mark.parametrize(
    ("family", "job", "low", "high"),
    [
        ("violin", "bridge_new", 55, 55),  # kellerstrings.com, policy on violin-shaped objects, undated
        ("violin", "soundpost_new", 35, 40),  # the same: 40; jaboweb.net, the fiddle-repairman's workshop: 35
        ("violin", "soundpost_reset", 20, 20),  # kellerstrings.com, the same page
        ("violin", "pegs_new_set", 90, 90),  # the same page
        ("bow", "bow_rehair", 60, 90),  # wyattviolin.com, trade-in page, undated
        ("bow", "bow_rehair", 60, 120),  # violinspiel.de, a teacher's page of 2010, in euros
        ("bow", "bow_tip_plate", 110, 170),  # wyattviolin.com, the same page
        ("bow", "bow_winding_grip", 30, 85),  # the same page
    ],
)
def test_a_posted_price_lies_within_the_range_of_the_trade(family: Family, job: str, low: float, high: float) -> None:
    found = trade_range(prices_for(family).prices, job)
    assert found is not None
    assert found[0] <= low
    assert high <= found[1]


@pytest.mark.parametrize(
    ("family", "job", "low", "high"),
    [
        ("violin", "maintenance_visit_heavy", 100, 150),  # ateliergfl.com, upkeep, undated, in euros: 100 to 150
        ("cello", "maintenance_visit_heavy", 200, 300),  # the same page: double for a cello
        ("bow", "bow_rehair", 60, 90),  # wyattviolin.com
        ("bow", "bow_winding_grip", 30, 85),  # wyattviolin.com
        ("violin", "maintenance_visit_light", 25, 75),  # common practice, no source
        ("violin", "setup_basic", 95, 210),  # common practice, no source
        ("violin", "pegbox_rebush_full", 350, 1000),  # common practice, no source
    ],
)
def test_an_order_is_of_the_posted_size(family: Family, job: str, low: float, high: float) -> None:
    assert low <= whole_order(family, job).mean <= high


def test_making_a_cheap_violin_playable_costs_what_is_posted() -> None:
    """kellerstrings.com, policy on violin-shaped objects, undated: pegs 90, strings 29, bridge 55, tailpiece 26, post
    40, together 240. Ours is of this size at the low end, with plain parts.
    """
    ranges = [
        trade_range(prices_for("violin").prices, job)
        for job in ("pegs_new_set", "strings_set", "bridge_new", "tailpiece_replace", "soundpost_new")
    ]
    assert all(found is not None for found in ranges)
    least, most = (sum(found[end] for found in ranges if found) for end in (0, 1))
    assert least == pytest.approx(240, rel=0.1)
    assert most > 240


def test_a_new_bridge_at_45_to_60_is_within_the_range_of_the_trade() -> None:
    """Common practice, no source: a new bridge fitted for 45 to 60, at the low end of what shops ask."""
    found = trade_range(prices_for("violin").prices, "bridge_new")
    assert found is not None
    assert found[0] <= 45
    assert found[1] >= 60


def test_a_board_planed_with_new_strings_costs_what_is_posted() -> None:
    """cauer.com, trade-back policy, undated: planing and strings 90 to 240, on a cello 200 to 400."""
    for family, low, high in (("violin", 90.0, 240.0), ("cello", 200.0, 400.0)):
        planing, strings = (trade_range(prices_for(family).prices, job) for job in ("fingerboard_plane", "strings_set"))
        assert planing is not None
        assert strings is not None
        assert planing[0] + strings[0] <= low * 1.1
        assert planing[1] + strings[1] >= high
