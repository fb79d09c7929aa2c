"""A shop file that cannot be meant is refused; what is left out has a default; planning loads no heavy library."""

import subprocess
import sys
from typing import Any

import pytest
from pydantic import ValidationError

from evaluator.rubric.shop import Shop
from tests.estimate.small import RATES, shop_of, three


@pytest.mark.parametrize(
    "keys",
    [
        {"rates": {key: three(*value) for key, value in RATES.items()} | {"set_up": three(-1, 85, 120)}},
        {"rates": {"set_up": three(60, 85, 120)}},
        {"rates": {key: three(*value) for key, value in RATES.items()} | {"set_up": three(85, 60, 120)}},
        {"currency": "dollars"},
        {"currency": ["USD", "EUR"]},
        {"tax": {"labour": 1.3}},
        {"tax": {"labour": True}},
        {"tax": {"parts": -0.1}},
        {"minimum_charge": "-5"},
        {"minimum_charge": "5.001"},
        {"validity_days": 0},
        {"labour_correlation": 1.5},
        {"labour_correlation": float("nan")},
        {"family_factor": {"violin": 0.0}},
        {"family_factor": {"guitar": 1.0}},
        {"price_guide": {"violin": {"student": []}}},
        {"guide": {"prices": {"violin": {"factory": three(3, 2, 1)}}}},
        {"guide": {"private_share": {"factory": three(0.5, 0.6, 1.2)}}},
        {"guide": {"private_share": {"factory": three(0.7, 0.6, 0.8)}}},
        {"guide": {"unseen": {"factory": {"nothing_seen": 10, "seen_in_hand": 20, "answered_for": 0}}}},
        {"guide": {"lasting": {"crack": {"factory": 1.5}}}},
        {"guide": {"sizes": {"violin": {"3/4": 0.0}}}},
        {"raets": {}},
    ],
)
def test_a_shop_that_cannot_be_meant(keys: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        shop_of(**keys)


def test_defaults() -> None:
    shop = shop_of(guide={"prices": {"violin": {"factory": three(1, 2, 3)}}})
    assert isinstance(shop, Shop)
    assert (shop.labour_correlation, shop.validity_days, shop.buying.margin) == (0.3, 30, 0.4)


def test_planning_and_deciding_load_no_solver_library() -> None:
    """scipy alone would cost ten times what a whole estimate does; it is loaded only when an order outgrows the
    search.
    """
    code = (
        "import sys\n"
        "import evaluator.valuation.deciding.decide\n"
        "from tests.estimate.small import *\n"
        "from evaluator.estimate.estimate import estimate\n"
        "r = rubric_of((job_of('a'),), {'x': ('a',)})\n"
        "assert estimate(r, case_of(r), assessment_of(r, finding_of(r, 'x')), shop_of()).mean > 0\n"
        "print([name for name in sys.modules if name.split('.')[0] == 'scipy'])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
