"""What hides: that there is a crack is nearly sure where it is seen; that none is seen says little. Exact Bayes.

The channel: a true outcome k shows with probability a_k, and else one drawn from what is usual before the look.
"""

import numpy as np
import pytest

from evaluator.assessment.observing.relevance import reliability, shows
from evaluator.assessment.scoring.draws import assess
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

HIDING = {"there": 0.6, "not_there": 0.97, "to_luthier": 0.9}
CRACKS = {
    "none": SOUND | {"if_good": 0.97, "if_bad": 0.3},
    "mended": {"say": "Mended", "class": "acceptable", "if_good": 0.02, "if_bad": 0.3},
    "open": FAULT | {"if_good": 0.01, "if_bad": 0.4},
}
FALL = {"cause": "fall", "say": "It fell", "if_not": "It never fell", "about": "condition", "prior": 0.2}
OTHER = {"cause": "other", "say": "It was wet", "if_not": "It was dry", "about": "condition", "prior": 0.3}
RUBRIC = rubric_of(
    check_of("crack", outcomes=CRACKS, seen_by={"in_person": HIDING, "photos": {"there": 0.2, "not_there": 0.9}}),
    check_of("rib", cause="fall", outcomes=CRACKS, seen_by={"in_person": HIDING}),
    check_of("edge", cause="fall", seen_by={"in_person": 0.8}),
    causes=(FALL, OTHER),
)
NAMES = tuple(CRACKS)
OWN = 0.15  # a check without a cause is in its bad state so often


def mixture(bad: float) -> np.ndarray:
    good_of = np.array([one["if_good"] for one in CRACKS.values()])
    bad_of = np.array([one["if_bad"] for one in CRACKS.values()])
    return bad * bad_of / bad_of.sum() + (1 - bad) * good_of / good_of.sum()


def channel(q: np.ndarray, shown: np.ndarray) -> np.ndarray:
    """P(seen o | true k): a row for each k, summing to 1."""
    return np.diag(shown) + (1 - shown)[:, None] * q[None, :]


@pytest.mark.parametrize("seen", NAMES)
@pytest.mark.parametrize(("looker", "there"), [("student", 0.6), ("luthier", 0.9)])
def test_one_look_is_bayes_by_the_table(seen: str, looker: str, there: float) -> None:
    prior = {"student": OWN, "luthier": OWN}[looker]
    q = mixture(prior)
    table = channel(q, np.array([0.97, there, there]))
    assert table.sum(axis=1) == pytest.approx(np.ones(3))
    joint = q * table[:, NAMES.index(seen)]
    found = assess(RUBRIC, case_of(RUBRIC, {"crack": seen}, looker=looker)).beliefs["crack"].probability
    assert list(found.values()) == pytest.approx((joint / joint.sum()).tolist(), abs=1e-12)


@pytest.mark.parametrize(("first", "second"), [("none", "none"), ("none", "open"), ("open", "mended")])
def test_two_looks_are_bayes_by_the_table(first: str, second: str) -> None:
    q = mixture(OWN)
    near, far = channel(q, np.array([0.97, 0.6, 0.6])), channel(q, np.array([0.9, 0.2, 0.2]))
    joint = q * near[:, NAMES.index(first)] * far[:, NAMES.index(second)]
    case = case_of(RUBRIC, {"crack": [first, {"outcome": second, "seen_by": "photos"}]})
    found = assess(RUBRIC, case).beliefs["crack"].probability
    assert list(found.values()) == pytest.approx((joint / joint.sum()).tolist(), abs=1e-9)


@pytest.mark.parametrize("seen", NAMES)
def test_a_cause_is_moved_by_what_hides_as_the_table_says(seen: str) -> None:
    q = mixture(0.2)
    like = channel(q, np.array([0.97, 0.6, 0.6]))[:, NAMES.index(seen)]
    bad, good = float(mixture(1.0) @ like), float(mixture(0.0) @ like)
    expected = 0.2 * bad / (0.2 * bad + 0.8 * good)
    found = assess(RUBRIC, case_of(RUBRIC, {"rib": seen})).causes["fall"].probability
    assert found == pytest.approx(expected, abs=1e-12)


def test_a_crack_that_is_seen_is_nearly_sure_and_none_seen_says_little() -> None:
    before = assess(RUBRIC, case_of(RUBRIC)).beliefs["crack"].probability["open"]
    seen = assess(RUBRIC, case_of(RUBRIC, {"crack": "open"})).beliefs["crack"].probability["open"]
    photo = {"crack": {"outcome": "none", "seen_by": "photos"}}
    missed = assess(RUBRIC, case_of(RUBRIC, photo)).beliefs["crack"].probability["open"]
    near = assess(RUBRIC, case_of(RUBRIC, {"crack": "none"})).beliefs["crack"].probability["open"]
    assert seen > 0.9
    assert 0.7 * before < missed < before
    assert near < 0.5 * before


def test_the_worlds_show_each_outcome_as_often_as_is_believed() -> None:
    case = case_of(RUBRIC, {"crack": "none", "rib": "mended", "edge": "poor"})
    found = assess(RUBRIC, case, draws=200_000)
    for name in ("crack", "rib"):
        for at, (outcome, share) in enumerate(found.beliefs[name].probability.items()):
            drawn = float(found.worlds.has(name, at).mean())
            assert drawn == pytest.approx(share, abs=4 * np.sqrt(share * (1 - share) / 200_000) + 1e-4), outcome


def test_who_looks_decides_how_much_is_missed() -> None:
    check = RUBRIC.checks["crack"]
    assert shows(check, "in_person") == (0.97, 0.6, 0.6)
    assert shows(check, "in_person", "luthier") == (0.97, 0.9, 0.9)
    assert shows(check, "recording") == (0.2, 0.2, 0.2)
    assert reliability(check, "in_person", "luthier") == 0.9
