"""Scores of drawn worlds: weighted means by domain, and their mean by shares."""

import numpy as np
import pytest

from evaluator.assessment.score import Weights, scores


def test_scores_are_the_weighted_means_of_every_world() -> None:
    """Against the matrix product, on weights with holes in them."""
    random = np.random.default_rng(3)
    by_domain = random.random((4, 30)) * (random.random((4, 30)) < 0.4)
    by_domain[:, 0] += 0.1
    by_domain /= by_domain.sum(axis=1)[:, None]
    shares = np.array([0.4, 0.3, 0.3, 0.0])
    weights = Weights(("workmanship", "soundness", "tone", "resale"), by_domain, shares, shares @ by_domain)
    worth = random.random((30, 500))
    domains, whole = scores(weights, worth)
    assert domains == pytest.approx(100.0 * by_domain @ worth, abs=1e-11)
    assert whole == pytest.approx(100.0 * weights.total @ worth, abs=1e-11)


def test_without_any_weight_there_is_no_domain() -> None:
    none = Weights((), np.zeros((0, 2)), np.zeros(0), np.zeros(2))
    domains, whole = scores(none, np.ones((2, 5)))
    assert domains.shape == (0, 5)
    assert whole.tolist() == [0.0] * 5
