"""The class of making against general libraries: the whole joint table summed by numpy, isotonic regression by scipy.

The order of shares rests on pool adjacent violators (Barlow, Bartholomew, Bremner and Brunk, Statistical Inference
under Order Restrictions, 1972); scipy.optimize.isotonic_regression solves the same problem.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from evaluator.assessment.believing.making import NEAR, Told, hand_of
from evaluator.rubric.making import Rank, agreed, not_falling

CLASSES = 5


@given(st.lists(st.tuples(st.floats(-5, 5), st.floats(0.01, 5)), min_size=1, max_size=8))
def test_pooling_is_isotonic_regression(pairs: list[tuple[float, float]]) -> None:
    values, weights = zip(*pairs, strict=True)
    ours = not_falling(values, weights, range(len(values)))
    assert ours == pytest.approx(isotonic_regression(values, weights=weights).x, abs=1e-9)


def _random_sign(random: np.random.Generator, group: str) -> Told:
    return Told("check", "outcome", group, tuple(np.log(random.uniform(0.01, 1, CLASSES)).tolist()))


@pytest.mark.parametrize("seed", range(8))
def test_bayes_over_groups_is_the_sum_of_the_whole_joint_table(seed: int) -> None:
    """Every class, and every grade of each of three groups, in one table of 5^4 cells."""
    random = np.random.default_rng(seed)
    prior = random.dirichlet(np.ones(CLASSES))
    signs = [_random_sign(random, "abc"[i % 3]) for i in range(7)]
    steps = np.abs(np.subtract.outer(np.arange(CLASSES), np.arange(CLASSES)))
    kernel = NEAR**steps / (NEAR**steps).sum(axis=1, keepdims=True)
    like = [np.prod([np.exp(one.logs) for one in signs if one.group == group], axis=0) for group in "abc"]
    joint = np.einsum("c,ca,cb,cd,a,b,d->cabd", prior, kernel, kernel, kernel, *like)
    hand = hand_of(tuple(prior.tolist()), "abc", signs)
    assert hand.shares == pytest.approx(joint.sum(axis=(1, 2, 3)) / joint.sum())
    at_a = joint.sum(axis=(2, 3)) / joint.sum(axis=(1, 2, 3))[:, None]
    assert np.array(hand.grades["a"]) == pytest.approx(at_a)


def test_the_bayes_factor_of_one_sign_is_the_ratio_of_its_shares_where_grades_are_classes() -> None:
    """Kass and Raftery, Bayes Factors, 1995: posterior odds are prior odds times the ratio of the likelihoods."""
    prior = (0.6, 0.4)
    sign = Told("check", "outcome", "a", (math.log(0.2), math.log(0.8)))
    hand = hand_of(prior, ("a",), (sign,))
    like = [(0.2 + NEAR * 0.8) / (1 + NEAR), (0.8 + NEAR * 0.2) / (1 + NEAR)]
    assert hand.shares[1] / hand.shares[0] == pytest.approx(prior[1] / prior[0] * like[1] / like[0])


@given(st.lists(st.lists(st.floats(0.001, 1), min_size=4, max_size=4), min_size=2, max_size=5), st.randoms())
def test_shares_made_to_agree_never_let_a_worse_outcome_speak_better(rows: list[list[float]], random: object) -> None:
    order = [Rank(random.randint(0, 3), random.random() < 0.5) for _ in rows]  # type: ignore[attr-defined]
    alike = {one.rank: one.alike for one in order}
    order = [Rank(one.rank, alike[one.rank]) for one in order]
    whole = [sum(column) for column in zip(*rows, strict=True)]
    logs = [[math.log(share / total) for share, total in zip(row, whole, strict=True)] for row in rows]
    found = np.array(agreed(logs, order))
    assert np.exp(found).sum(axis=0) == pytest.approx(1.0)
    steps = np.diff(found, axis=1)
    for one, mine in zip(order, steps, strict=True):
        for other, its in zip(order, steps, strict=True):
            if one.rank < other.rank:
                assert (mine <= its + 1e-9).all()
            if one.rank == other.rank and not one.alike:
                assert mine == pytest.approx(its, abs=1e-9)
