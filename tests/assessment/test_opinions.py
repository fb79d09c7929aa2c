"""Other weights: what stands in other views, and which weight would turn it."""

import numpy as np
import pytest

from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.opinions import (
    band,
    draw_shares,
    share_of_views,
    views_of,
)
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

SURE = {"in_person": 1.0}
OUTCOMES = {"good": SOUND, "poor": FAULT | {"bite": 0.6}}
RUBRIC = rubric_of(
    check_of("made", seen_by=SURE, outcomes=OUTCOMES, evidence_of={"workmanship": 3.0}),
    check_of("edges", seen_by=SURE, outcomes=OUTCOMES, evidence_of={"workmanship": 3.0}),
    check_of("plays", seen_by=SURE, outcomes=OUTCOMES, evidence_of={"playability": 3.0}),
    check_of("sounds", seen_by=SURE, outcomes=OUTCOMES, evidence_of={"tone": 3.0}),
)
EVEN = {"made": "good", "edges": "good", "plays": "good", "sounds": "good"}
MIXED = {"made": "poor", "edges": "good", "plays": "good", "sounds": "poor"}


def test_where_all_is_alike_no_weight_matters() -> None:
    case = case_of(RUBRIC, EVEN)
    found = assess(RUBRIC, case)
    views = views_of(RUBRIC, case, found, whole_simplex=True)
    assert np.allclose(views.score, 100.0)
    assert share_of_views(views, found) == 1.0


def test_views_lie_around_the_rubrics_own() -> None:
    case = case_of(RUBRIC, MIXED)
    found = assess(RUBRIC, case)
    views = views_of(RUBRIC, case, found, seed=5, views=20_000)
    shares = dict(zip(views.domains, views.shares.mean(axis=0), strict=True))
    # 0.2, 0.3 and 0.1 of the rubric's shares, stretched to sum to 1.
    assert [shares[d] for d in ("workmanship", "playability", "tone")] == pytest.approx(
        [1 / 3, 1 / 2, 1 / 6], abs=0.005
    )
    assert views.score.mean() == pytest.approx(found.score.expected, abs=1.0)
    assert 1.0 < views.score.std() < 15.0
    wide = views_of(RUBRIC, case, found, seed=5, views=20_000, whole_simplex=True)
    assert wide.score.std() > views.score.std()
    assert wide.shares.mean(axis=0) == pytest.approx([1 / 3] * 3, abs=0.01)


def test_a_domain_without_a_share_stays_without_one() -> None:
    drawn = draw_shares([0.7, 0.0, 0.3], 500, 1)
    assert (drawn[:, 1] == 0).all()
    assert drawn.sum(axis=1) == pytest.approx(np.ones(500))


def test_a_verdict_of_ones_own_is_judged_in_every_view() -> None:
    case = case_of(RUBRIC, MIXED)
    found = assess(RUBRIC, case)
    exact = found.score_after.expected
    near = share_of_views(views_of(RUBRIC, case, found), found, judge=lambda _, after: after >= exact - 1e-9)
    sure = share_of_views(views_of(RUBRIC, case, found), found, judge=lambda _, after: after >= 1.0)
    assert 0.3 < near < 0.7
    assert sure == 1.0


def test_without_a_domain_every_view_is_the_middle() -> None:
    rubric = rubric_of(check_of("fun", evidence_of={}))
    case = case_of(rubric, {"fun": "good"})
    found = assess(rubric, case)
    views = views_of(rubric, case, found, views=7)
    assert (views.domains, views.shares.shape) == ((), (7, 0))
    assert views.score.tolist() == views.score_after.tolist() == [50.0] * 7
    assert share_of_views(views, found) == 1.0


def test_bands_begin_at_their_limits() -> None:
    """Below 50, from 50, from 70 and from 85 on; it is the score after the work that counts."""
    after = np.array([0.0, 49.9, 50.0, 69.9, 70.0, 84.9, 85.0, 100.0])
    assert band(np.zeros(8), after).tolist() == [0, 0, 1, 1, 2, 2, 3, 3]


def test_weights_spread_about_the_rubrics_own_as_a_dirichlet_law_says() -> None:
    """A share s at a concentration of c has the standard deviation sqrt(s (1 - s) / (c + 1))."""
    drawn = draw_shares([0.5, 1.5], 40_000, 3, 40.0)
    assert drawn.mean(axis=0) == pytest.approx([0.25, 0.75], abs=0.003)
    assert drawn.std(axis=0) == pytest.approx([(0.25 * 0.75 / 41) ** 0.5] * 2, rel=0.03)
