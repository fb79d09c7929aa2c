"""Closed forms against brute force: draws of the thing itself, written apart from the code under test."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaluator.assessment.believing.beliefs import Held, Left
from evaluator.assessment.believing.worth import worth_at, worth_moments
from evaluator.assessment.scoring.biting import Drawn, Floats
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.known import know
from evaluator.assessment.scoring.worlds import drawn, drawn_making
from evaluator.basis.chance import generator
from evaluator.rubric.rubric import Rubric
from tests.assessment.random_cases import answers, rubrics
from tests.assessment.small import case_of
from tests.laws import USUAL, tried

DRAWS = 1_000_000 if settings().max_examples > USUAL else 200_000  # a million in the long run
ROOT = math.sqrt(DRAWS)
MIDDLING = st.floats(0.1, 0.95)


def error_of(share: float, draws: int) -> float:
    """Five standard errors of a frequency, and a little for what so many draws may never meet."""
    return 5 * math.sqrt(max(share * (1 - share), 1e-6) / draws) + 1e-5


def worths_of(held: Held, left: Left, row: Drawn) -> tuple[Floats, Floats]:
    """Worth in every world as it stands and after the work: along the reading, else that of the outcome."""
    if row.worth is not None and row.after is not None:
        return row.worth, row.after
    shown = np.full(row.outcome.shape, held.rest == 0.0) if row.shown is None else row.shown
    own_after, shown_after = held.worths_after(left)
    pairs = ((held.term.worth, held.shown_worth), (own_after, shown_after))
    now, then = (np.where(shown, np.array(seen)[row.outcome], np.array(own)[row.outcome]) for own, seen in pairs)
    return now, then


@tried(25)
@given(
    st.lists(st.tuples(st.floats(0, 100), st.floats(0, 1)), min_size=1, max_size=6, unique_by=lambda p: round(p[0])),
    st.floats(-20, 120),
    st.floats(0.1, 40),
    st.floats(-10, 60),
    st.integers(0, 2**32 - 1),
)
def test_the_worth_of_a_reading(
    points: list[tuple[float, float]], mean: float, sd: float, low: float, seed: int
) -> None:
    points = sorted(points)
    draws = np.random.default_rng(seed).normal(mean, sd, DRAWS)
    worth = np.interp(draws, *np.array(points).T)
    high = low + 30
    inside = (draws > low) & (draws < high)
    whole = worth_moments(points, mean, sd)
    part = worth_moments(points, mean, sd, low, high)
    assert whole.share == pytest.approx(1.0)
    assert whole.mean == pytest.approx(worth.mean(), abs=5 * worth.std() / ROOT + 1e-5)
    assert whole.variance == pytest.approx(worth.var(), abs=5 * (worth**2).std() / ROOT * 2 + 1e-5)
    assert part.share == pytest.approx(inside.mean(), abs=error_of(part.share, DRAWS))
    assert part.first == pytest.approx((worth * inside).mean(), abs=5 * (worth * inside).std() / ROOT + 1e-5)
    assert worth_at(points, mean) == pytest.approx(float(np.interp(mean, *np.array(points).T)))


@tried(10)
@given(st.data())
def test_the_worlds_have_the_frequencies_of_the_beliefs(data: st.DataObject) -> None:
    rubric, seed = data.draw(rubrics()), data.draw(st.integers(0, 99))
    case = case_of(rubric, data.draw(answers(rubric)))
    found = assess(rubric, case, seed=seed, draws=DRAWS)
    worlds = found.worlds
    known, random = know(rubric, case), generator(seed)
    rows = drawn(known, drawn_making(known.hand, random, DRAWS), random, DRAWS)
    checks = zip(found.beliefs.items(), known.held, known.left, rows, strict=True)
    for (name, belief), held, left, row in checks:
        worth, after = worths_of(held, left, row)
        for index, share in enumerate(belief.probability.values()):
            assert worlds.has(name, index).mean() == pytest.approx(share, abs=error_of(share, DRAWS))
        assert worth.mean() == pytest.approx(belief.worth, abs=5 * belief.worth_sd / ROOT + 1e-6)
        assert worth.std() == pytest.approx(belief.worth_sd, abs=0.005)
        assert after.mean() == pytest.approx(belief.worth_after, abs=5 * after.std() / ROOT + 1e-6)
    assert worlds.score.mean() == pytest.approx(found.score.expected, abs=5 * worlds.score.std() / ROOT + 1e-6)
    after = worlds.score_after
    assert after.mean() == pytest.approx(found.score_after.expected, abs=5 * after.std() / ROOT + 1e-6)


@tried(25)
@given(st.data())
def test_causes_agree_with_playing_the_whole_story_and_keeping_what_was_seen(data: st.DataObject) -> None:
    """Draw the cause, then each check, then what its channel shows; keep the stories that show what was answered."""
    rubric = data.draw(rubrics(MIDDLING, by_class=True, measured=False))
    drawn = data.draw(answers(rubric, often=True))
    answered = {k: v for k, v in drawn.items() if v["outcome"] != "cannot_tell"}
    story = Story(rubric, answered, np.random.default_rng(data.draw(st.integers(0, 2**32 - 1))))
    found = assess(rubric, case_of(rubric, answered), draws=100)
    kept = int(story.kept.sum())
    if kept < 2000:
        return
    for name, cause in found.causes.items():
        share = story.bad[name][story.kept].mean()
        assert cause.probability == pytest.approx(share, abs=error_of(cause.probability, kept))
    for name, belief in found.beliefs.items():
        if name not in answered:
            shown = np.bincount(story.true[name][story.kept], minlength=len(belief.probability)) / kept
            for share, frequency in zip(belief.probability.values(), shown, strict=True):
                assert share == pytest.approx(frequency, abs=error_of(share, kept))


# Shares of the classes in either state, as the rubric's defaults say: written out again, apart from the code.
GOOD = {"sound": 0.80, "acceptable": 0.15, "fault": 0.05, "disqualifying": 0.001}
BAD = {"sound": 0.15, "acceptable": 0.20, "fault": 0.60, "disqualifying": 0.02}
OWN_PRIOR = 0.15


class Story:
    """Instruments with the given looks."""

    def __init__(self, rubric: Rubric, answered: dict[str, Any], random: np.random.Generator) -> None:
        self.random = random
        self.bad = {name: random.random(DRAWS) < cause.prior_at({}, None) for name, cause in rubric.causes.items()}
        self.true: dict[str, np.ndarray] = {}
        self.kept = np.ones(DRAWS, dtype=bool)
        for name, check in rubric.checks.items():
            prior = rubric.causes[check.cause].prior_at({}, None) if check.cause else OWN_PRIOR
            bad = self.bad[check.cause] if check.cause else random.random(DRAWS) < OWN_PRIOR
            classes = [outcome.class_ for outcome in check.outcomes.values()]
            good_law, bad_law = (np.array([law[one] for one in classes]) for law in (GOOD, BAD))
            good_law, bad_law = good_law / good_law.sum(), bad_law / bad_law.sum()
            self.true[name] = np.where(bad, self.draw(bad_law), self.draw(good_law))
            if name in answered:
                reliability = check.seen_by[answered[name]["seen_by"]]
                odd = self.draw(prior * bad_law + (1 - prior) * good_law)
                shown = np.where(random.random(DRAWS) < reliability, self.true[name], odd)
                self.kept &= shown == list(check.outcomes).index(answered[name]["outcome"])

    def draw(self, law: np.ndarray) -> np.ndarray:
        return np.searchsorted(np.cumsum(law)[:-1], self.random.random(DRAWS))
