"""The normal law against scipy, and the seeded generator."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from evaluator.basis.chance import generator, normal_below, normal_density, normal_quantile, normal_within, quantile

REAL = st.floats(-30, 30)


@given(REAL)
def test_density_and_probability(z: float) -> None:
    assert normal_density(z) == pytest.approx(stats.norm.pdf(z), rel=1e-12, abs=1e-300)
    assert normal_below(z) == pytest.approx(stats.norm.cdf(z), rel=1e-10, abs=1e-300)


@given(st.floats(1e-12, 1 - 1e-12))
def test_quantile(p: float) -> None:
    assert normal_quantile(p) == pytest.approx(stats.norm.ppf(p), rel=1e-9, abs=1e-11)


@given(REAL, st.floats(0, 20), REAL, st.floats(0.01, 20))
def test_probability_between(low: float, width: float, mean: float, sd: float) -> None:
    law = stats.norm(mean, sd)
    assert normal_within(low, low + width, mean, sd) == pytest.approx(law.cdf(low + width) - law.cdf(low), abs=1e-12)
    assert normal_within(low, None, mean, sd) == pytest.approx(law.sf(low), abs=1e-12)
    assert normal_within(None, low, mean, sd) == pytest.approx(law.cdf(low), abs=1e-12)


@pytest.mark.parametrize(
    ("low", "high", "value", "expected"),
    [(1.0, 2.0, 1.0, 1.0), (1.0, 2.0, 2.0, 1.0), (1.0, 2.0, 2.1, 0.0), (None, 2.0, -5.0, 1.0), (None, None, 0.0, 1.0)],
)
def test_an_exact_value(low: float | None, high: float | None, value: float, expected: float) -> None:
    assert normal_within(low, high, value, 0.0) == expected


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, math.nan])
def test_no_quantile_outside(p: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        normal_quantile(p)


def test_the_generator_repeats_itself() -> None:
    assert generator(7).random(5).tolist() == generator(7).random(5).tolist()
    assert generator(7).random(5).tolist() != generator(8).random(5).tolist()


@given(
    st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=60),
    st.one_of(st.floats(0, 1), st.sampled_from([0.05, 0.5, 0.8])),
)
def test_a_quantile_is_numpys_to_the_last_digit(values: list[float], share: float) -> None:
    assert quantile(np.array(values), share) == np.quantile(values, share)


@pytest.mark.parametrize("share", [0.05, 0.5, 0.8, 0.95])
def test_a_quantile_of_many_draws_is_numpys(share: float) -> None:
    drawn = generator(7).gamma(3.0, 100.0, 4000)
    assert quantile(drawn, share) == np.quantile(drawn, share)
