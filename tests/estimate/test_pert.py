"""Three-point laws: limits, moments, correlation, and draws that do not depend on their neighbours."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from evaluator.estimate.pert import Draws, cost, exact_variance, order_sd, quantile, shape, total

POINTS = st.lists(st.floats(0, 1000), min_size=3, max_size=3).map(sorted)


@given(POINTS, st.floats(0.01, 0.99))
def test_quantiles_stay_within_the_limits(points: list[float], share: float) -> None:
    line = cost(*points)
    assert line.low - 1e-9 <= quantile(line, share) <= line.high + 1e-9


@pytest.mark.parametrize("likely", [0.0, 0.05, 0.3, 0.5, 0.9, 1.0])
@pytest.mark.parametrize("share", [0.02, 0.1, 0.5, 0.8, 0.98])
def test_quantiles_are_those_of_the_beta_law(likely: float, share: float) -> None:
    line = cost(0, likely, 1)
    assert quantile(line, share) == pytest.approx(beta(*shape(line)).ppf(share), abs=2e-5)


@pytest.mark.parametrize("points", [(31, 52, 94), (0, 0, 100), (5, 100, 100), (40, 40, 40)])
def test_draws_have_the_mean_and_the_exact_variance(points: tuple[float, float, float]) -> None:
    line = cost(*points)
    drawn = Draws(0.0, 3, 100_000).total([("line", line)])
    assert drawn.mean() == pytest.approx(line.mean, abs=0.02 * line.sd)
    assert drawn.var() == pytest.approx(exact_variance(line), rel=0.02, abs=1e-12)


def test_pairs_have_the_correlation_asked_for() -> None:
    draws = Draws(0.5, 1, 100_000)
    line = cost(10, 20, 30)
    found = np.corrcoef(draws.total([("a", line)]), draws.total([("b", line)]))[0, 1]
    assert found == pytest.approx(0.5, abs=0.02)


def test_a_line_is_drawn_the_same_beside_any_others() -> None:
    """Leaving a line out must never move the others: else a declined line could raise the total."""
    first, second = ("a", cost(10, 20, 60)), ("b", cost(5, 6, 9))
    draws = Draws(0.3, 7, 500)
    assert np.allclose(draws.total([first, second]) - draws.total([second]), draws.total([first]))
    assert np.array_equal(Draws(0.3, 7, 500).total([first]), draws.total([first]))
    assert not np.array_equal(Draws(0.3, 8, 500).total([first]), draws.total([first]))


def test_a_masked_line_costs_only_where_it_happens() -> None:
    mask = np.arange(1000) % 4 == 0
    drawn = Draws(0.3, 1, 1000).total_where([("a", cost(10, 20, 60), mask)])
    assert np.array_equal(drawn > 0, mask)


@given(st.lists(st.floats(0, 100), max_size=8), st.floats(0, 1))
def test_spread_of_a_sum_lies_between_independent_and_joined(deviations: list[float], correlation: float) -> None:
    found = order_sd(deviations, correlation)
    assert order_sd(deviations, 0.0) - 1e-6 <= found <= sum(deviations) + 1e-6


def test_total_adds_every_figure() -> None:
    assert total([cost(1, 2, 3), cost(10, 20, 60)]) == cost(11, 22, 63)
    assert total([]) == cost(0, 0, 0)
