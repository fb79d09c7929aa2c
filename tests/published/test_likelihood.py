"""What signs do to the probability of a cause, against published cases of Bayes' rule."""

import pytest

from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.rubric import Rubric
from tests.assessment.small import case_of, check_of, rubric_of


def sign(name: str, if_bad: dict[str, float], if_good: dict[str, float], reliability: float = 1.0) -> dict[str, object]:
    """A check whose outcomes have these probabilities in each state of the cause."""
    outcomes = {
        key: {"say": key, "class": "acceptable", "if_bad": if_bad[key], "if_good": if_good[key]} for key in if_bad
    }
    return check_of(name, cause="illness", outcomes=outcomes, seen_by={"in_person": reliability})


def with_prior(prior: float, *checks: dict[str, object]) -> Rubric:
    cause = {"cause": "illness", "say": "ill", "if_not": "well", "about": "condition", "prior": prior}
    return rubric_of(*checks, causes=(cause,))


def posterior(rubric: Rubric, answers: dict[str, str]) -> float:
    return assess(rubric, case_of(rubric, answers), draws=100).causes["illness"].probability


@pytest.mark.parametrize(
    ("prior", "hit", "false_alarm", "published", "tolerance", "source"),
    [
        (0.01, 0.8, 0.1, 0.075, 0.0005, "Rice, Mathematical Statistics and Data Analysis, 3rd ed., mammogram; read"),
        (0.01, 0.8, 0.096, 0.078, 0.0005, "Eddy 1982, as restated by Gigerenzer and Hoffrage 1995; from memory"),
        (0.001, 1.0, 0.05, 0.02, 0.0005, "Casscells, Schoenberger and Graboys, N Engl J Med 1978: 2 %; from memory"),
    ],
)
def test_one_positive_test(
    prior: float, hit: float, false_alarm: float, published: float, tolerance: float, source: str
) -> None:
    test = sign("test", {"yes": hit, "no": 1 - hit}, {"yes": false_alarm, "no": 1 - false_alarm})
    assert posterior(with_prior(prior, test), {"test": "yes"}) == pytest.approx(published, abs=tolerance), source


SE_1, SP_1, SE_2, SP_2 = 0.8, 0.9, 0.75, 0.95


def test_two_signs_that_are_independent_given_the_cause() -> None:
    """Likelihood ratio 8 x 15 = 120; prior 0.1 gives 0.9302 (derived)."""
    first = sign("first", {"yes": SE_1, "no": 1 - SE_1}, {"yes": 1 - SP_1, "no": SP_1})
    second = sign("second", {"yes": SE_2, "no": 1 - SE_2}, {"yes": 1 - SP_2, "no": SP_2})
    rubric = with_prior(0.1, first, second)
    assert posterior(rubric, {"first": "yes", "second": "yes"}) == pytest.approx(0.9302, abs=5e-5)
    # A sign that fails to show is evidence too: (1 - Se) / Sp.
    odds = (0.1 / 0.9) * (1 - SE_1) / SP_1
    assert posterior(rubric, {"first": "no"}) == pytest.approx(odds / (1 + odds), abs=1e-9)


def test_two_signs_that_hang_together_are_one_check() -> None:
    """Half the largest covariance (parametrised as in Vacek, Biometrics 41, 1985, 959; numbers constructed).

    The likelihood ratio of both falls from 120 to 24.545, the posterior from 0.930 to 0.732. A rubric writes such a
    pair as one check with their joint outcomes.
    """

    def joint(first: float, second: float) -> dict[str, float]:
        shared = 0.5 * min(first * (1 - second), second * (1 - first))
        return {
            "both": first * second + shared,
            "one": first + second - 2 * (first * second + shared),
            "none": (1 - first) * (1 - second) + shared,
        }

    bad, good = joint(SE_1, SE_2), joint(1 - SP_1, 1 - SP_2)
    assert bad["both"] / good["both"] == pytest.approx(24.545455, abs=1e-5)
    assert posterior(with_prior(0.1, sign("pair", bad, good)), {"pair": "both"}) == pytest.approx(0.7317, abs=5e-5)


def test_signs_of_one_cause_saturate() -> None:
    """Two cheap signs tell nearly as much as five, and a clean one moves it back (derived)."""
    cheap = [sign(f"sign_{i}", {"yes": 0.6, "no": 0.4}, {"yes": 0.05, "no": 0.95}, 0.95) for i in range(5)]
    inside = sign("inside", {"sham": 0.7, "solid": 0.3}, {"sham": 0.01, "solid": 0.99}, 0.95)
    rubric = with_prior(0.4, *cheap, inside)
    none, two, five = (posterior(rubric, {f"sign_{i}": "yes" for i in range(n)}) for n in (0, 2, 5))
    assert (five - two) < 0.1 * (two - none)
    two_and_solid = {"sign_0": "yes", "sign_1": "yes", "inside": "solid"}
    assert posterior(rubric, two_and_solid) < two
