"""What a repair leaves of the value: which faults count, that they multiply, that no matter counts twice."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.valuation.worth.answers import answers_of
from evaluator.valuation.worth.guide import lasting_faults
from evaluator.valuation.worth.lasting import LastingFault, accident, lasting_of, retained
from tests.valuation.made import FACTORY, RUBRIC, assessed, case_with, shop_with

SHARES = st.floats(0.05, 0.9)


def fault(check: str, left: float, **keys: Any) -> LastingFault:
    base: dict[str, Any] = {"outcome": "mended", "say": "Mended", "left": {"any": left}, "probability": 1.0}
    return LastingFault(**({"check": check, "matter": check} | base | keys))


def left(*faults: LastingFault) -> float:
    return lasting_of(faults, ("any",)).left["any"]


def test_independent_losses_multiply() -> None:
    """0.97 x 0.92 x 0.90 = 0.803 (worked out here)."""
    assert left(fault("wing", 0.97), fault("top", 0.92), fault("neck", 0.90)) == pytest.approx(0.803, abs=5e-4)


def test_faults_of_one_accident_count_together() -> None:
    three = [fault(name, share, accident="fall") for name, share in (("wing", 0.94), ("top", 0.88), ("rib", 0.97))]
    assert left(*three) == pytest.approx(1 - 0.15)


def test_an_accident_is_its_worst_and_a_third_of_the_rest_and_never_more_than_all() -> None:
    """Worked by hand: 0.3 and a third of 0.21; nine tenths twice would be 1.2."""
    assert accident([0.12, 0.3, 0.09]) == pytest.approx(0.37)
    assert accident([0.3]) == 0.3
    assert accident([]) == 0.0
    assert accident([0.9, 0.9]) == 1.0
    assert retained([]) == 1.0


def test_a_matter_counts_once_and_what_points_at_it_not_again() -> None:
    assert left(fault("one", 0.8, matter="crack"), fault("two", 0.9, matter="crack")) == pytest.approx(0.8)
    patch = fault("patch", 0.8, points_to=("post",))
    assert left(patch) == pytest.approx(0.8)
    assert left(patch, fault("post", 0.55)) == pytest.approx(0.55)
    assert left(patch, fault("post", 0.9)) == pytest.approx(0.9 * 0.9)  # the larger of the two, in two steps


def test_a_doubtful_fault_takes_its_share_of_the_loss() -> None:
    assert left(fault("top", 0.8, probability=0.5)) == pytest.approx(0.9)


def test_a_class_has_its_own_loss_and_over_the_classes_it_is_a_geometric_mean() -> None:
    case = case_with({"post_crack": "patched", "wing": "mended"})
    answers = answers_of(RUBRIC, case, assessed(case, FACTORY))
    found = lasting_faults(shop_with().guide, RUBRIC, answers, ("factory", "maker"))
    assert found.left["factory"] == pytest.approx(0.35 * 0.94)
    assert found.left["maker"] == pytest.approx(0.55 * 0.97)
    assert [one.check for one in found.faults] == ["post_crack", "wing"]
    half = found.left_of({"factory": 0.5, "maker": 0.5})
    assert half == pytest.approx((0.35 * 0.94 * 0.55 * 0.97) ** 0.5)


@given(st.lists(SHARES, min_size=1, max_size=5), st.floats(0, 0.09))
def test_a_graver_fault_never_leaves_more(losses: list[float], more: float) -> None:
    worse = [min(0.99, losses[0] + more), *losses[1:]]
    assert retained(worse) <= retained(losses) + 1e-12
    assert accident(worse) >= accident(losses) - 1e-12
    assert accident(losses) >= max(losses)
    faults = [fault(f"f{at}", 1 - one, accident="fall" if at % 2 else None) for at, one in enumerate(losses)]
    graver = [fault("f0", 1 - worse[0]), *faults[1:]]
    assert 0 < left(*graver) <= left(*faults) + 1e-12
