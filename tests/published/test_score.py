"""The score against the published weighted product model and a library of multi-criteria methods.

E. Triantaphyllou, Multi-Criteria Decision Making Methods: A Comparative Study, 2000, section 2.2.2, example of the
weighted product model (figures from memory): three alternatives, four criteria, weights 0.20, 0.15, 0.40 and 0.25; the
ratios of the alternatives are R(A1/A2) = 1.007, R(A1/A3) = 1.067 and R(A2/A3) = 1.059.
"""

import numpy as np
import pytest

from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.rubric import Rubric
from tests.assessment.small import case_of, check_of, rubric_of

ALTERNATIVES = np.array([[25.0, 20, 15, 30], [10, 30, 20, 30], [30, 10, 30, 10]])
WEIGHTS = np.array([0.20, 0.15, 0.40, 0.25])
PUBLISHED = {(0, 1): 1.007, (0, 2): 1.067, (1, 2): 1.059}
DOMAINS = ("workmanship", "soundness", "playability", "tone")


def _rubric() -> Rubric:
    """Four domains, each seen surely by one check of ten outcomes, outcome i leaving i tenths of it."""
    outcomes = {
        f"left_{i}": {"say": f"{i} tenths", "class": "fault" if i < 10 else "sound", "bite": 1 - i / 10}
        | ({} if i < 10 else {"bite": None})
        for i in range(1, 11)
    }
    checks = [
        check_of(f"it_{name}", outcomes=outcomes, evidence_of={name: 3.0}, weight=0.01, seen_by={"in_person": 1.0})
        for name in DOMAINS
    ]
    return rubric_of(*checks, shares=dict(zip(DOMAINS, WEIGHTS.tolist(), strict=True)))


RUBRIC = _rubric()


def score(tenths: list[int]) -> float:
    answers = {f"it_{name}": f"left_{tenth}" for name, tenth in zip(DOMAINS, tenths, strict=True)}
    return assess(RUBRIC, case_of(RUBRIC, answers), draws=100).score.expected


@pytest.mark.parametrize(("one", "other"), list(PUBLISHED))
def test_ratios_of_the_weighted_product_model(one: int, other: int) -> None:
    """Figures of 10 to 30 as 3 to 10 tenths: the ratio does not hang on the unit (25 and 15 stand as the nearest)."""
    exact = np.prod((ALTERNATIVES[one] / ALTERNATIVES[other]) ** WEIGHTS)
    assert exact == pytest.approx(PUBLISHED[one, other], abs=6e-4)
    # Whole tenths that keep the ratios of the example's columns where they can: 10, 20, 30 as 3, 6, 9.
    rows = {10.0: 3, 20.0: 6, 30.0: 9, 25.0: 8, 15.0: 5}
    ours = [score([rows[x] for x in ALTERNATIVES[i]]) for i in (one, other)]
    tenths = [np.array([rows[x] for x in ALTERNATIVES[i]]) for i in (one, other)]
    assert ours[0] / ours[1] == pytest.approx(np.prod((tenths[0] / tenths[1]) ** WEIGHTS))


def test_the_order_of_many_alternatives_is_that_of_the_library() -> None:
    import pymcdm  # loads a drawing library for a second, in every worker that only collects

    random = np.random.default_rng(5)
    rows = random.integers(1, 11, (12, 4))
    theirs = pymcdm.methods.WPM()(rows / 10, WEIGHTS, np.ones(4))
    ours = np.array([score(row.tolist()) for row in rows])
    assert np.argsort(ours).tolist() == np.argsort(theirs).tolist()
    assert ours / ours.sum() == pytest.approx(np.prod(rows**WEIGHTS, axis=1) / np.prod(rows**WEIGHTS, axis=1).sum())
