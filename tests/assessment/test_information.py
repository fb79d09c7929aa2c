"""Which looks are worth having, and how far a group of worlds may stand out before it counts."""

import pytest

from evaluator.assessment.looking.groups import Groups, steadied
from evaluator.assessment.looking.information import Gain, ranked


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
