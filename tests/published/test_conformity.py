"""Probabilities of conformity against JCGM 106:2012 (The role of measurement uncertainty in conformity assessment)."""

import math

import numpy as np
import pytest

from evaluator.assessment.believing.conformity import conformity, conformity_probability, statement_of, with_prior
from evaluator.basis.chance import normal_below, normal_density, normal_quantile
from evaluator.rubric.rubric import Limits
from tests.assessment.small import check_of, rubric_of


@pytest.mark.parametrize(
    ("low", "high", "value", "u", "published", "tolerance", "source"),
    [
        (None, -5.40, -5.47, 0.05, 0.92, 0.005, "JCGM 106, 7.3, one upper limit (Zener voltage); from memory"),
        (12.5, 16.3, 13.6, 1.8, 0.66, 0.005, "JCGM 106, 7.4 example, kinematic viscosity; result from memory"),
        (None, 0.0, 0.0, 1.0, 0.5, 1e-12, "on the limit: one half, by symmetry (derived)"),
        (None, 2.0, 0.0, 1.0, 0.977, 0.0005, "guard band of 2 u: at most 2.3 % risk, JCGM 106, 8.3.3.2; from memory"),
    ],
)
def test_published_probabilities(
    low: float | None, high: float | None, value: float, u: float, published: float, tolerance: float, source: str
) -> None:
    assert conformity_probability(low, high, value, u) == pytest.approx(published, abs=tolerance), source


def test_a_resistor_with_what_is_known_of_its_making() -> None:
    """Normal prior joined to a normal reading (JCGM 106, annex A form; numbers derived, checked by numerical Bayes)."""
    mean, u = with_prior(1500.0, 0.12, 1500.15, 0.04)
    assert (mean, u) == pytest.approx((1500.135, 0.0379473), abs=1e-6)
    assert conformity_probability(1499.8, 1500.2, mean, u) == pytest.approx(0.9566346, abs=1e-6)
    assert conformity_probability(1499.8, 1500.2, 1500.15, 0.04) == pytest.approx(0.8943502, abs=1e-6)


def test_the_risks_of_a_guarded_batch_of_resistors() -> None:
    """JCGM 106, 9.5 (precision resistors): R_C about 0.01, R_P about 0.07; inputs read, rounded results from memory.

    The probability for one item, weighed with the law of the process and summed over what is accepted or refused.
    """
    process, u = 0.12, 0.04
    low, high, low_accept, high_accept = -0.2, 0.2, -0.18, 0.18
    true = np.linspace(-0.9, 0.9, 18001)
    weight = np.array([normal_density(x / process) / process for x in true.tolist()]) * (true[1] - true[0])
    accept = np.array([conformity_probability(low_accept, high_accept, x, u) for x in true.tolist()])
    inside = (true > low) & (true < high)
    assert (weight * accept)[~inside].sum() == pytest.approx(0.0098783, abs=2e-5)
    assert (weight * (1 - accept))[inside].sum() == pytest.approx(0.0690265, abs=2e-5)
    assert conformity_probability(low, high, 0.0, process) == pytest.approx(0.9044193, abs=5e-7)


@pytest.mark.parametrize(("level", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)])
def test_guard_bands(level: float, z: float) -> None:
    """JCGM 106, 8.3.2, factors of the one-sided guard band; from memory, as in any table of the normal law."""
    assert normal_quantile(level) == pytest.approx(z, abs=0.0051)
    assert conformity_probability(None, 430.0, 430.0 - normal_quantile(level) * 2.0, 2.0) == pytest.approx(level)


@pytest.mark.parametrize(
    ("probability", "statement"),
    [
        (1.0, "meets"), (0.95, "meets"), (0.9499, "probably"), (0.75, "probably"), (0.7499, "cannot_tell"),
        (0.2501, "cannot_tell"), (0.25, "probably_not"), (0.0501, "probably_not"), (0.05, "does_not"),
        (0.0, "does_not"),
    ],
)  # fmt: skip
def test_five_statements(probability: float, statement: str) -> None:
    assert statement_of(probability) == statement


def test_the_normal_law_far_out() -> None:
    """Phi(-8) = 6.22096e-16 (tables of the normal law; scipy.stats.norm agrees)."""
    assert normal_below(-8.0) == pytest.approx(6.22096057e-16, rel=1e-8)
    assert normal_quantile(0.975) == pytest.approx(1.959963985, abs=1e-9)
    assert math.isclose(normal_quantile(normal_below(-6.5)), -6.5, rel_tol=1e-9)
    with pytest.raises(ValueError):
        normal_quantile(1.0)


def test_a_prior_is_joined_where_there_is_one() -> None:
    rubric = rubric_of(check_of("length", measure={"quantity": "length", "unit": "mm"}, standard={"high": 10.0}))
    limits = Limits(1499.8, 1500.2, None, "mm", "high", ())
    alone = conformity(rubric, "length", limits, 1500.15, 0.04, None)
    joined = conformity(rubric, "length", limits, 1500.15, 0.04, None, prior=(1500.0, 0.12))
    assert (alone.probability, alone.statement) == (pytest.approx(0.8943502, abs=1e-6), "probably")
    assert (joined.probability, joined.statement) == (pytest.approx(0.9566346, abs=1e-6), "meets")
