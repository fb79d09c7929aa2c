"""The mixture of price laws against a general statistics library, and its laws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.stats import lognorm

from evaluator.valuation.worth.mixture import Law, Mixture, law_of

LAWS = (law_of(0.2, 100, 180, 300), law_of(0.5, 350, 750, 1500), law_of(0.3, 1400, 2500, 4500))
SHARES = st.lists(st.floats(0.01, 1.0), min_size=3, max_size=3)


def oracle(laws: tuple[Law, ...], price: float) -> float:
    shares = np.array([law.share for law in laws])
    below = [float(lognorm.cdf(price, s=law.log_sd, scale=math.exp(law.log_mean))) for law in laws]
    return float(shares @ below / shares.sum())


@pytest.mark.parametrize("price", [50, 180, 333, 750, 1999, 6000])
def test_below_agrees_with_scipy(price: float) -> None:
    assert Mixture(LAWS).below(price) == pytest.approx(oracle(LAWS, price), abs=1e-12)


@pytest.mark.parametrize("share", [0.05, 0.1, 0.35, 0.5, 0.9])
def test_quantile_agrees_with_a_root_finder_over_scipy(share: float) -> None:
    wanted = brentq(lambda price: oracle(LAWS, price) - share, 1.0, 1e6, xtol=1e-9)
    assert Mixture(LAWS).quantile(share) == pytest.approx(wanted, rel=1e-9)


def test_the_middle_is_the_median_whatever_the_shares_sum_to() -> None:
    found = Mixture(LAWS)
    assert oracle(LAWS, found.middle) == pytest.approx(0.5)
    assert Mixture(tuple(Law(law.share * 3, law.log_mean, law.log_sd) for law in LAWS)).middle == pytest.approx(
        found.middle
    )


def test_near_limits_hold_nine_of_ten() -> None:
    one = Mixture((law_of(1.0, 350, 724.57, 1500),))
    assert one.below(1500) - one.below(350) == pytest.approx(0.9, abs=1e-5)
    low, high = one.band()
    assert one.below(high) - one.below(low) == pytest.approx(0.8)


def test_a_dear_tail_does_not_carry_the_middle() -> None:
    """One chance in twenty of a maker's hand: a plain mean would more than double a factory violin."""
    found = Mixture((law_of(0.95, 350, 750, 1500), law_of(0.05, 8000, 16000, 32000), law_of(0.0, 1, 2, 3)))
    assert 750 < found.middle < 850


@given(SHARES, st.floats(0.0, 0.9))
def test_more_share_of_a_dearer_class_never_lowers_anything(shares: list[float], moved: float) -> None:
    less = Mixture(tuple(Law(s, law.log_mean, law.log_sd) for s, law in zip(shares, LAWS, strict=True)))
    move = shares[0] * moved
    new = (shares[0] - move, shares[1] + move, shares[2])
    more = Mixture(tuple(Law(s, law.log_mean, law.log_sd) for s, law in zip(new, LAWS, strict=True)))
    assert more.middle >= less.middle * (1 - 1e-12)
    # Between an outfit and a factory violin the laws never cross where anybody looks.
    assert more.quantile(0.35) >= less.quantile(0.35) * (1 - 1e-9)


@given(st.floats(0.1, 10))
def test_scaling(by: float) -> None:
    one = Mixture(LAWS)
    assert one.scaled(by).quantile(0.3) == pytest.approx(by * one.quantile(0.3))
    assert one.scaled(by).below(by * 700.0) == pytest.approx(one.below(700.0), abs=1e-9)


@pytest.mark.parametrize("price", [0.0, -1.0])
def test_nothing_is_worth_less_than_nothing(price: float) -> None:
    assert Mixture(LAWS).below(price) == 0.0
    assert Mixture(LAWS).below(1e-300) == 0.0
    assert Mixture(LAWS).below(1e300) == 1.0
