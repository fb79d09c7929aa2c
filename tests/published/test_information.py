"""The value of a look against published decisions under uncertainty.

The two choices of each case are put as "buy" (pay less the other choice's pay) and "leave" (0), and the cases are
laid out as exact proportions of worlds, so that nothing is left to chance.
"""

import math

import numpy as np
import pytest

from evaluator.assessment.looking.telling import (
    Grouping,
    Groups,
    explained_variance,
    groups_of,
    steadied,
    value_of_look,
)
from evaluator.basis.chance import normal_below, normal_density, normal_quantile


def worlds_of(
    prior: float, likelihood: tuple[float, float], gain: tuple[float, float], size: int
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(state, signal, net) of `size` worlds: state 0 with the prior, a good signal by state with the likelihood."""
    rows: list[tuple[int, int, float]] = []
    for state, share in enumerate((prior, 1.0 - prior)):
        worlds = round(size * share)
        good = round(worlds * likelihood[state])
        rows += [(state, int(i >= good), gain[state]) for i in range(worlds)]
    state, signal, net = zip(*rows, strict=True)
    return np.array(state, dtype=np.int16), np.array(signal, dtype=np.int16), np.array(net)


def exact_means(group: np.ndarray, net: np.ndarray) -> tuple[list[float], list[float]]:
    """Shares and means of the groups, of worlds that are exact and so need no allowance for chance."""
    counts = np.bincount(group)
    return (counts / len(net)).tolist(), (np.bincount(group, weights=net) / counts).tolist()


@pytest.mark.parametrize(
    ("prior", "likelihood", "gain", "look", "all_known", "source"),
    [
        (
            0.25, (0.6, 0.2), (700 - 90, -100 - 90), 53.0, 142.5,
            "Hillier and Lieberman, Introduction to Operations Research, ch. 15, drill or sell with a survey; "
            "inputs read, 53 and 142.5 from memory",
        ),
        (
            0.4, (0.75, 1 / 3), (600, -200), 20.0, 120.0,
            "Samuelson and Marks, Managerial Economics, ch. 13, seismic test; read",
        ),
    ],
)  # fmt: skip
def test_published_values(
    prior: float, likelihood: tuple[float, float], gain: tuple[float, float], look: float, all_known: float, source: str
) -> None:
    state, signal, net = worlds_of(prior, likelihood, gain, 6000)
    assert value_of_look(*exact_means(signal, net), 1.0) == pytest.approx(look, abs=1e-9), source
    assert value_of_look(*exact_means(state, net), 1.0) == pytest.approx(all_known, abs=1e-9), source


def test_a_look_that_cannot_turn_the_decision_is_worth_nothing() -> None:
    _, signal, net = worlds_of(0.25, (0.6, 0.2), (700, 650), 400)
    assert value_of_look(*exact_means(signal, net), 1.0) == pytest.approx(0.0, abs=1e-9)


def test_a_look_is_worth_less_through_a_worse_channel_and_never_more_than_knowing_all() -> None:
    state, signal, net = worlds_of(0.25, (0.6, 0.2), (610, -190), 400)
    values = [value_of_look(*exact_means(signal, net), share) for share in (0.0, 0.3, 0.6, 1.0)]
    assert values == sorted(values)
    assert values[0] == 0.0
    assert values[-1] <= value_of_look(*exact_means(state, net), 1.0)


def test_normal_gain_agrees_with_the_unit_loss_integral() -> None:
    """EVSI = k s L(|m - b| / s), s = s0^2 / sqrt(s0^2 + u^2), L(z) = phi(z) - z Phi(-z) (Raiffa, Schlaifer 1961).

    With m = 0.4, s0 = 1, b = 0, k = 10, u = 0.8: 1.515224 (derived; numerical integration agrees). The table of L
    from memory.
    """

    def loss(z: float) -> float:
        return normal_density(z) - z * normal_below(-z)

    for z, published in ((0.0, 0.3989), (0.5, 0.1978), (1.0, 0.08332), (1.5, 0.02931), (2.0, 0.008491)):
        assert loss(z) == pytest.approx(published, abs=6e-5)
    spread = 1.0 / math.sqrt(1.0 + 0.8**2)
    closed = 10.0 * spread * loss(0.4 / spread)
    assert closed == pytest.approx(1.515224, abs=1e-6)
    # The mean after the look is normal with that spread; laid out in 400 equal slices of 50 worlds each.
    slices = np.array([normal_quantile((i + 0.5) / 400) for i in range(400)])
    group = np.repeat(np.arange(400), 50).astype(np.int16)
    net = 10.0 * (0.4 + spread * slices)[group]
    assert value_of_look(*exact_means(group, net), 1.0) == pytest.approx(closed, rel=2e-3)


def grouped(group: np.ndarray, values: np.ndarray) -> Groups:
    return groups_of(Grouping.of(group), values, float(values.mean()), float(values.var()))


def test_variance_explained_by_groups() -> None:
    """Law of total variance on a hand-made case: groups at 0 and 10, half each, spread within 1 (derived)."""
    within = np.tile([-1.0, 1.0], 1000)
    group = np.repeat([0, 1], 1000).astype(np.int16)
    values = 10.0 * group + within
    assert explained_variance(grouped(group, values)) == pytest.approx(25.0 - 1.0 / 1998)
    shuffled = np.tile([0, 1], 1000).astype(np.int16)
    assert explained_variance(grouped(shuffled, 10.0 * group)) == 0.0
    assert explained_variance(grouped(np.zeros(2000, dtype=np.int16), values)) == 0.0


def test_groups_made_by_chance_are_worth_nothing() -> None:
    """Checks that have nothing to do with the decision: their groups differ by chance alone (20 in 4,000 worlds)."""
    random = np.random.default_rng(4)
    net = random.normal(0.0, 100.0, 4000)
    unrelated = [grouped(one.astype(np.int16), net) for one in random.integers(0, 3, (20, 4000))]
    found = [value_of_look(one.share, steadied(one), 1.0) for one in unrelated]
    naive = [value_of_look(one.share, one.means, 1.0) for one in unrelated]
    assert sum(found) < 0.5 * sum(naive)
    related = grouped((net > 50).astype(np.int16), net)
    exact = value_of_look(related.share, related.means, 1.0)
    assert value_of_look(related.share, steadied(related), 1.0) == pytest.approx(exact, rel=0.01)
