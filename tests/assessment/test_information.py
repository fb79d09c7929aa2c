"""Which looks are worth having, and how far a group of worlds may stand out before it counts."""

import numpy as np
import pytest

from evaluator.assessment.looking.information import Gain, ranked
from evaluator.assessment.looking.telling import Groups, steadied, told_by


def gain(check: str, money: float = 0.0, points: float = 0.0, minutes: float = 1.0) -> Gain:
    return Gain(check, minutes, money, points, 0.0)


def test_looks_that_bring_something_are_ranked_by_the_minute() -> None:
    """Money first, however little; variance decides where there is none."""
    found = ranked(
        [
            gain("nothing"),
            gain("long", 6.0, minutes=4.0),
            gain("little", 0.5),
            gain("doubt", points=0.5),
            gain("two", 2.0),
        ]
    )
    assert [one.check for one in found] == ["two", "long", "little", "doubt"]


def test_a_group_is_pulled_back_towards_the_whole_and_never_past_it() -> None:
    """Derived: noise of 4 / (0.25 x 100) beside 2 squared leaves 0.96 of the distance, beside 0.1 squared nothing."""
    found = steadied(Groups((0.25, 0.25, 0.5), (12.0, 8.0, 10.1), 10.0, 4.0, 100))
    assert found == pytest.approx((11.92, 8.08, 10.0))


def test_columns_that_have_nothing_to_do_with_a_value_tell_its_mean() -> None:
    """Derived: two columns of halves that cross, so that the first explains nothing of what the second is."""
    shown, value = np.array([[0.0], [0.0], [1.0], [1.0]]), np.array([0.0, 1.0, 0.0, 1.0])
    assert told_by(shown, value) == pytest.approx([0.5] * 4)
    assert told_by(np.ones((4, 1)), value) == pytest.approx([0.5] * 4)
