"""Worlds in groups, worked by hand: what lies between them, what a look shows of it, and what it is worth."""

import numpy as np
import pytest

from evaluator.assessment.looking.telling import (
    Grouping,
    Groups,
    as_seen,
    chance_to_turn,
    explained_variance,
    groups_of,
    share_shown,
    steadied,
    value_of_look,
)

HALF = (0.5, 0.5)


def grouped(group: list[int], values: list[float]) -> Groups:
    found = np.array(values)
    return groups_of(Grouping.of(np.array(group, dtype=np.int16)), found, float(found.mean()), float(found.var()))


def test_worlds_are_grouped_and_a_group_that_is_empty_is_left_out() -> None:
    by = Grouping.of(np.array([0, 2, 2, 0, 2], dtype=np.int16))
    assert (by.counts, by.share) == ((2, 0, 3), (0.4, 0.6))
    found = grouped([0, 2, 2, 0, 2], [1.0, 4.0, 5.0, 3.0, 6.0])
    assert found.means == (2.0, 5.0)
    assert (found.whole, found.count) == (pytest.approx(3.8), 5)
    # Of the variance of 2.96 the means explain 0.4 * 1.8^2 + 0.6 * 1.2^2 = 2.16.
    assert found.within == pytest.approx(2.96 - 2.16)


def test_what_groups_explain_is_less_what_chance_would() -> None:
    """2.16 less 0.8 * (2 - 1) / (5 - 2)."""
    assert explained_variance(grouped([0, 2, 2, 0, 2], [1.0, 4.0, 5.0, 3.0, 6.0])) == pytest.approx(2.16 - 0.8 / 3)
    assert explained_variance(grouped([1, 1, 1], [1.0, 2.0, 9.0])) == 0.0, "one group tells nothing"
    assert explained_variance(grouped([0, 1, 0, 1], [1.0, 1.0, 3.0, 3.0])) == 0.0, "nor do two alike"
    assert explained_variance(grouped([0, 1], [1.0, 3.0])) == pytest.approx(1.0), "one world in each"


def test_means_are_pulled_back_by_their_own_error() -> None:
    """The two are 1.8 off with an error of 0.8 / 2, so 1 - 0.4 / 3.24 of it stays; the three 1.2 with 0.8 / 3."""
    low, high = steadied(grouped([0, 2, 2, 0, 2], [1.0, 4.0, 5.0, 3.0, 6.0]))
    assert low == pytest.approx(3.8 - 1.8 * (1 - 0.4 / 3.24))
    assert high == pytest.approx(3.8 + 1.2 * (1 - 0.8 / 3 / 1.44))
    noisy = grouped([0, 0, 1, 1], [0.0, 10.0, 1.0, 10.0])
    assert steadied(noisy) == pytest.approx((noisy.whole, noisy.whole))
    assert steadied(grouped([0, 0, 1, 1], [2.0] * 4)) == (2.0, 2.0)


def test_a_look_shows_the_truth_or_one_by_chance() -> None:
    """Seen at 0.6 each comes up as often as it is there, and then the mean is 0.6 its own and 0.4 the whole."""
    seen, known = as_seen((0.2, 0.8), (10.0, 5.0), (0.6, 0.6))
    assert seen == pytest.approx((0.2, 0.8))
    assert known == pytest.approx((0.6 * 10 + 0.4 * 6, 0.6 * 5 + 0.4 * 6))
    assert as_seen(HALF, (1.0, 3.0), (1.0, 1.0)) == (HALF, (1.0, 3.0))
    assert as_seen(HALF, (1.0, 3.0), (0.0, 0.0)) == (HALF, (2.0, 2.0))


def test_what_hides_is_taken_for_what_does_not() -> None:
    """A crack in half of them shows one time in two, its absence always. The quarter that is missed shows either by
    chance: none comes up with 0.5 and half of that quarter, a crack with 0.25 and the other half."""
    seen, known = as_seen(HALF, (10.0, 2.0), (1.0, 0.5))
    assert seen == pytest.approx((0.5 * 1.25, 0.5 * 0.75))
    assert known == pytest.approx(((10 + 0.25 * 2) / 1.25, (0.5 * 2 + 0.25 * 2) / 0.75))
    assert sum(seen) == pytest.approx(1.0)


def test_of_the_variance_a_look_shows_the_square_of_its_reliability() -> None:
    for sure in (0.0, 0.5, 0.9, 1.0):
        assert share_shown((0.2, 0.8), (10.0, 5.0), (sure, sure)) == pytest.approx(sure**2)
    assert share_shown(HALF, (3.0, 3.0), (0.5, 0.7)) == pytest.approx(0.25), "where nothing differs, by the worst shown"


@pytest.mark.parametrize(
    ("means", "reliability", "worth", "turns"),
    [
        ((-40.0, 100.0), 1.0, 20.0, 0.5),  # bought by all it gains 30; who looks leaves half and gains 50 on the mean
        ((-100.0, 40.0), 1.0, 20.0, 0.5),  # left by all it gains nothing; who looks buys half
        ((-40.0, 100.0), 0.5, 2.5, 0.5),  # shown half the time the bad one is at -5
        ((-40.0, 100.0), 0.4, 0.0, 0.5),
        ((10.0, 100.0), 1.0, 0.0, 0.0),
        ((-10.0, -100.0), 1.0, 0.0, 0.0),
        ((0.0, 100.0), 1.0, 0.0, 0.0),  # what gains nothing is bought like what gains
    ],
)
def test_a_look_is_worth_what_it_keeps_one_from(
    means: tuple[float, float], reliability: float, worth: float, turns: float
) -> None:
    assert value_of_look(HALF, means, reliability) == pytest.approx(worth)
    assert chance_to_turn(HALF, means) == turns
