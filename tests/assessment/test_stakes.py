"""What buying gains in each world: the share of a price that is left, what a point of the score is worth, dear work."""

from dataclasses import replace

import numpy as np
import pytest

from evaluator.assessment.looking.information import Gain, Groups, Stakes, net_of_buying, ranked, steadied
from evaluator.assessment.scoring.draws import assess
from tests.assessment.small import case_of, check_of, rubric_of

STOP = {"say": "A forged label", "class": "disqualifying", "inherent": True}
SOUND = {"say": "As it should be", "class": "sound"}
RUBRIC = rubric_of(check_of("label", outcomes={"good": SOUND, "forged": STOP}), check_of("seam"))
CASE = case_of(RUBRIC)
FOUND = assess(RUBRIC, CASE, draws=200)


def net(stakes: Stakes, score_after: list[float] | None = None) -> np.ndarray:
    worlds = FOUND.worlds
    if score_after is not None:
        worlds = replace(worlds, score_after=np.resize(np.array(score_after), worlds.count))
    return net_of_buying(RUBRIC, CASE, replace(FOUND, worlds=worlds), stakes)


def shown(check: str) -> np.ndarray:
    return FOUND.worlds.outcome[:, FOUND.worlds.checks.index(check)]


def test_three_tenths_of_the_price_are_left_where_something_disqualifies() -> None:
    """Judged, no source: seven tenths of what was paid are lost."""
    forged = shown("label") == 1
    assert 0 < forged.sum() < len(forged)
    found = net(Stakes(500.0, 520.0, {}), [80.0])
    assert found[forged] == pytest.approx(-0.7 * 500.0)
    assert found[~forged] == pytest.approx(20.0)


def test_a_point_of_the_score_moves_the_price_by_a_hundredth() -> None:
    """Judged, no source; the mean of the scores is 80, so five points more are a twentieth of 520 more."""
    found = net(Stakes(500.0, 520.0, {}), [75.0, 85.0])[shown("label") == 0]
    assert set(np.round(found, 6)) == {20.0 - 26.0, 20.0 + 26.0}
    assert net(Stakes(500.0, -40.0, {}), [75.0, 85.0])[shown("label") == 0] == pytest.approx(-540.0)


def test_work_counts_by_what_it_costs_beyond_its_mean() -> None:
    found = net(Stakes(500.0, 520.0, {("seam", "poor"): 100.0}), [80.0])
    poor, fine = shown("seam") == 1, shown("label") == 0
    assert found[poor & fine] == pytest.approx(20.0 - 100.0 * (1 - poor.mean()))
    assert found[~poor & fine] == pytest.approx(20.0 + 100.0 * poor.mean())


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
