"""What keeping costs at a shop: its own figures first, then its list of work with what usually comes with a job."""

import pytest

from evaluator.choosing.ownership import usual_prices
from tests.estimate.small import job_of, rubric_of, shop_of
from tests.known import OWNING

STRINGS = job_of("strings_set", (0.4, 0.4, 0.4), parts=[{"part": "set"}])
PEGS = job_of("pegs_dress", (1, 1, 1))
FULL = job_of(
    "maintenance_visit_heavy",
    (2, 2, 2),
    forces=[
        {"job": "pegs_dress", "chance": 0.5, "when": "If they slip.", "known": "When turned."},
        {"job": "strings_set", "chance": 0.6, "when": "If old.", "known": "When played."},
    ],
)
VIOLIN = rubric_of((STRINGS, PEGS, FULL), {}, parts={"set": (30, 30, 30)})
BOW = rubric_of((job_of("bow_rehair", (1, 1, 1), families=["bow"]),), {}, family="bow")


def test_prices_come_from_the_list_of_work() -> None:
    found = usual_prices(VIOLIN, BOW, shop_of(), OWNING.habits, "student", 900)
    assert found.string_set == pytest.approx(0.4 * 85 + 30)
    assert found.rehair == pytest.approx(85)
    assert found.full_service == pytest.approx(2 * 85 + 0.5 * 85)  # strings are counted by themselves
    assert (found.light_service, found.value, found.repair_reserve) == (0, 900, 40)


def test_the_shops_own_figures_go_first() -> None:
    shop = shop_of(keeping={"string_set": {"violin": 50}, "rehair": 60, "full_service": {"violin": 150}, "reserve": {}})
    found = usual_prices(VIOLIN, BOW, shop, OWNING.habits, "student")
    assert (found.string_set, found.rehair, found.full_service, found.repair_reserve) == (50, 60, 150, 0)
