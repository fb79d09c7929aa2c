"""Hours learnt from own records: between catalogue and record, nearer to the record the more there is of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.estimate.learning import PRIOR_JOBS, learnt
from evaluator.estimate.pert import cost
from evaluator.rubric.model import ThreePoint

CATALOGUE = ThreePoint(low=0.8, likely=1.3, high=2.2)
HOURS = st.lists(st.floats(0.1, 20), min_size=1, max_size=40)


def mean_of(points: ThreePoint) -> float:
    return cost(points.low, points.likely, points.high).mean


def test_without_a_record_the_catalogue_stands() -> None:
    found = learnt(CATALOGUE, [])
    assert (found.blend, found.weight, found.own_mean) == (CATALOGUE, 0.0, None)


def test_conjugate_mean_by_hand() -> None:
    """Five prior jobs of 1.3667 h and five of 2 h: halfway between."""
    found = learnt(CATALOGUE, [1.8, 2.0, 2.2, 1.9, 2.1])
    assert found.weight == 0.5
    assert found.own_mean == pytest.approx(2.0)
    assert mean_of(found.blend) == pytest.approx((mean_of(CATALOGUE) + 2.0) / 2)


@given(HOURS)
def test_the_blend_lies_between_catalogue_and_record(hours: list[float]) -> None:
    found = learnt(CATALOGUE, hours)
    assert found.own_mean is not None
    wanted = (1 - found.weight) * mean_of(CATALOGUE) + found.weight * found.own_mean
    assert found.weight == len(hours) / (PRIOR_JOBS + len(hours))
    assert mean_of(found.blend) >= wanted - 1e-9  # the floor on short hours can only raise it
    assert 0 < found.blend.low <= found.blend.likely <= found.blend.high


def test_records_as_the_catalogue_says_narrow_nothing_away() -> None:
    found = learnt(CATALOGUE, [mean_of(CATALOGUE)] * 20)
    assert mean_of(found.blend) == pytest.approx(mean_of(CATALOGUE))
    assert found.blend.high - found.blend.low < CATALOGUE.high - CATALOGUE.low


def test_hours_without_a_range_learn_one() -> None:
    found = learnt(ThreePoint(low=1, likely=1, high=1), [1.0, 2.0, 3.0])
    assert found.blend.low < found.blend.likely < found.blend.high
