"""Acceptability of ranks recomputed with a general decision-analysis library (pymcdm) as oracle.

The library sums weighted columns and ranks rows; it knows nothing of views. The score itself is held against it in
`test_score`.
"""

import numpy as np
import pytest

from evaluator.assessment.scoring.opinions import draw_shares, rank_acceptability

SHARES = {"workmanship": 0.25, "soundness": 0.3, "playability": 0.25, "tone": 0.2}


def as_it_is(column: np.ndarray, cost: bool = False) -> np.ndarray:
    """No rescaling: values are already between 0 and 1."""
    return column


def weighted_sum(values: np.ndarray, weights: np.ndarray) -> np.ndarray:
    from pymcdm.methods import WSM  # slow to load

    return np.asarray(WSM(normalization_function=as_it_is)(values, weights, np.ones(values.shape[1])))


@pytest.mark.parametrize("concentration", [None, 40.0])
def test_rank_acceptability(concentration: float | None) -> None:
    """Five candidates, four domains, 2,000 views: the library sums and ranks each view, and the ranks are counted."""
    from pymcdm.helpers import rrankdata

    values = np.random.default_rng(11).uniform(0, 1, (5, 4))
    weights = draw_shares(list(SHARES.values()), 2000, 7, concentration)
    counted = np.zeros((5, 5))
    for view in weights:
        for candidate, rank in enumerate(rrankdata(weighted_sum(values, view))):
            counted[candidate, int(rank) - 1] += 1
    assert rank_acceptability(values, weights) == pytest.approx(counted / 2000)
