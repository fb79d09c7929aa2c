"""Weighted sums and acceptability of ranks recomputed with a general decision-analysis library (pymcdm) as oracle.

The library sums weighted columns and ranks rows; it knows nothing of checks, worths or views.
"""

import numpy as np
import pytest

from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.opinions import draw_shares, rank_acceptability
from tests.assessment.small import case_of, check_of, rubric_of

SHARES = {"workmanship": 0.25, "soundness": 0.3, "playability": 0.25, "tone": 0.2}


def as_it_is(column: np.ndarray, cost: bool = False) -> np.ndarray:
    """No rescaling: worths are already between 0 and 1."""
    return column


def weighted_sum(values: np.ndarray, weights: np.ndarray) -> np.ndarray:
    from pymcdm.methods import WSM  # slow to load

    return np.asarray(WSM(normalization_function=as_it_is)(values, weights, np.ones(values.shape[1])))


def test_the_score_is_a_weighted_sum() -> None:
    """Three instruments, four domains, seen surely: the library's weighted sum of the worths times 100."""
    worth = np.array([[1.0, 0.25, 1.0, 0.75], [0.25, 1.0, 0.75, 0.75], [0.75, 0.75, 0.25, 1.0]])
    names = {1.0: "good", 0.75: "fair", 0.25: "poor"}
    outcomes = {
        "good": {"say": "Good", "class": "sound"},
        "fair": {"say": "Fair", "class": "acceptable"},
        "poor": {"say": "Poor", "class": "fault", "inherent": True},
    }
    checks = [
        check_of(f"check_{d}", evidence_of={d: 2.0}, seen_by={"in_person": 1.0}, outcomes=outcomes) for d in SHARES
    ]
    rubric = rubric_of(*checks, shares=SHARES)
    ours = [
        assess(
            rubric, case_of(rubric, {f"check_{d}": names[w] for d, w in zip(SHARES, row, strict=True)})
        ).score.expected
        for row in worth.tolist()
    ]
    assert ours == pytest.approx((100 * weighted_sum(worth, np.array(list(SHARES.values())))).tolist())


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
