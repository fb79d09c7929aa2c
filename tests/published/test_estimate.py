"""Published and worked values of three-point estimates and of minimum-cost covers, each with its source."""

import hashlib
from itertools import combinations
from math import sqrt
from pathlib import Path

import numpy as np
import pytest

from evaluator.basis.chance import normal_below
from evaluator.estimate.pert import (
    Draws,
    cost,
    exact_variance,
    level,
    order_mean,
    order_sd,
    quantile,
    shape,
)
from evaluator.estimate.planning import highs
from evaluator.estimate.planning.plan import cheapest
from evaluator.estimate.planning.programme import ALWAYS, Programme

# An invented repair order: hours and prices from memory, sums worked out here (no source).
ORDER = (
    (31, 52, 94),  # reglue one seam
    (85, 136, 221),  # plane the fingerboard
    (13, 26, 42),  # lower the nut
    (118, 199, 319),  # new pegs, fitted
    (44, 72, 143),  # new soundpost
    (82, 132, 222),  # new bridge
    (81, 116, 161),  # strings, fitted
    (35, 66, 175),  # clean and polish
    (21, 34, 59),  # shared: bridge and post down and up
    (8, 13, 21),  # shared: glue pot
    (17, 30, 51),  # shared: final regulation
)
LINES = tuple((f"line {i}", cost(*line)) for i, line in enumerate(ORDER))
COSTS = tuple(line for _, line in LINES)


def test_critical_path_of_seven_activities() -> None:
    """Taylor, Introduction to Management Science, project management, example problem: 24 weeks, variance 5, .9633.

    The page was read; the book is named from memory. It rounds z to 1.79; unrounded the chance is .9632.
    """
    path = [cost(*weeks) for weeks in ((5, 8, 17), (3, 5, 7), (4, 6, 8), (3, 4, 5))]
    variance = order_sd([line.sd for line in path], 0.0) ** 2
    assert order_mean(path) == pytest.approx(24.0, abs=1e-9)
    assert variance == pytest.approx(5.0, abs=1e-9)
    assert normal_below((28 - 24) / sqrt(variance)) == pytest.approx(0.9633, abs=3e-4)


def test_critical_path_of_a_construction_company() -> None:
    """Hillier and Lieberman, Introduction to Operations Research, PERT example, from memory: 44, variance 9, .84 by
    47.
    """
    weeks = ((1, 2, 3), (2, 3.5, 8), (6, 9, 18), (1, 4.5, 5), (4, 4, 10), (3, 9, 9), (1, 5.5, 7), (5, 5.5, 9))
    path = [cost(*three) for three in weeks]
    assert order_mean(path) == pytest.approx(44.0, abs=1e-9)
    assert order_sd([line.sd for line in path], 0.0) ** 2 == pytest.approx(9.0, abs=1e-9)
    assert normal_below((47 - 44) / 3) == pytest.approx(0.841, abs=5e-4)


def test_beta_pert_shape_and_quantiles() -> None:
    """Shape formulas of the PERT distribution in the documentation of the R package mc2d; figures by scipy's beta
    law.
    """
    line = cost(40, 60, 140)
    assert shape(line) == pytest.approx((1.8, 4.2), abs=1e-12)
    assert line.mean == pytest.approx(70.0, abs=1e-9)
    assert exact_variance(line) == pytest.approx(300.0, abs=1e-9)
    assert line.sd**2 == pytest.approx(277.78, abs=0.01)
    for share, value in ((0.1, 48.99), (0.5, 67.667), (0.9, 94.533)):
        assert quantile(line, share) == pytest.approx(value, abs=2e-3)


@pytest.mark.parametrize(("correlation", "variance"), [(0.0, 50.0), (0.3, 78.2), (1.0, 144.0)])
def test_variance_of_a_correlated_sum(correlation: float, variance: float) -> None:
    """Var(sum) = sd' R sd; derived."""
    assert order_sd((3, 4, 5), correlation) ** 2 == pytest.approx(variance, abs=1e-9)


@pytest.mark.parametrize(
    ("correlation", "sd", "p80", "p90"),
    [(0.0, 58, 973, 999), (0.3, 101, 1010, 1054), (0.6, 131, 1035, 1092), (1.0, 162, 1061, 1132)],
)
def test_repair_order_by_formula(correlation: float, sd: float, p80: float, p90: float) -> None:
    """Worked out here, inputs from memory: mean 924.5, and the levels by mean + z sd."""
    found = order_sd([line.sd for line in COSTS], correlation)
    mean = order_mean(COSTS)
    assert mean == pytest.approx(924.5, abs=0.05)
    assert found == pytest.approx(sd, abs=0.5)
    assert level(mean, found, 0.8) == pytest.approx(p80, abs=1.0)
    assert level(mean, found, 0.9) == pytest.approx(p90, abs=1.0)
    assert sum(line.likely for line in COSTS) == 876
    assert sum(line.high for line in COSTS) == 1508


@pytest.mark.parametrize("seed", range(5))
def test_repair_order_by_draws(seed: int) -> None:
    """Worked out here with 200,000 draws of another program: 80 % level 1,020 and 90 % level 1,073 at 0.3."""
    order = Draws(0.3, seed, 4000).total(LINES)
    assert np.quantile(order, 0.8) == pytest.approx(1020, rel=0.01)
    assert np.quantile(order, 0.9) == pytest.approx(1073, rel=0.015)
    assert order.std() == pytest.approx(112, rel=0.04)
    assert order.min() > 535
    assert order.max() < 1508


@pytest.mark.parametrize(("correlation", "sd", "p80"), [(0.0, 64, 979), (0.6, 145, 1051)])
def test_repair_order_by_draws_at_other_correlations(correlation: float, sd: float, p80: float) -> None:
    order = Draws(correlation, 1, 100_000).total(LINES)
    assert order.std() == pytest.approx(sd, rel=0.015)
    assert np.quantile(order, 0.8) == pytest.approx(p80, rel=0.005)


def covering(prices: list[int], rows: list[list[int]]) -> Programme:
    """A set-covering problem with columns counted from 1."""
    clauses = tuple((ALWAYS, frozenset(column - 1 for column in row)) for row in rows)
    return Programme(tuple(str(i + 1) for i in range(len(prices))), tuple(prices), clauses)


def test_kilroy_county() -> None:
    """Winston, Operations Research, Kilroy County fire stations: two stations, in 2 and 4 (optimum from memory)."""
    rows = [[1, 2], [1, 2, 6], [3, 4], [3, 4, 5], [4, 5, 6], [2, 5, 6]]
    found = cheapest(covering([1] * 6, rows))
    assert found is not None
    assert found.proven
    assert found.chosen == {1, 3}


def test_sixteen_districts() -> None:
    """Open optimization or-examples, fire-station-covering notebook (figure of MIT 15.053): three stations."""
    text = (
        "1 2 4 5|1 2 3 5 6|2 3 6 7|1 4 5 8 10 11|1 2 4 5 6 8|2 3 5 6 7 8 9|3 6 7 9 13|4 5 6 7 8 9 10 11 12|"
        "6 8 9 11 12 13|4 10 11 14|4 8 9 10 11 12 14 15|8 9 11 12 13 14 15 16|7 9 12 13 15 16|10 11 12 14 15|"
        "11 12 13 14 15 16|12 13 15 16"
    )
    rows = [[int(word) for word in row.split()] for row in text.split("|")]
    found = cheapest(covering([1] * 16, rows))
    assert found is not None
    assert found.proven
    assert len(found.chosen) == 3


@pytest.mark.parametrize(("dimensions", "triples", "least"), [(2, 12, 5), (3, 117, 18)])
def test_steiner_triples(dimensions: int, triples: int, least: int) -> None:
    """Fulkerson, Nemhauser and Trotter 1974, problems A9 and A27, from memory: 5 and 18.

    Built as the lines of the affine space over three elements; agrees with its largest sets without a line, 4 and 9.
    """
    points = [tuple(i // 3**d % 3 for d in range(dimensions)) for i in range(3**dimensions)]
    rows = [
        [a + 1, b + 1, c + 1]
        for a, b, c in combinations(range(len(points)), 3)
        if all((x + y + z) % 3 == 0 for x, y, z in zip(points[a], points[b], points[c], strict=True))
    ]
    assert len(rows) == triples
    found = cheapest(covering([1] * len(points), rows), seconds=120.0)
    assert found is not None
    assert found.proven
    assert len(found.chosen) == least


def test_library_cover_of_200_rows() -> None:
    """OR-Library (Beasley 1987), set-covering problem scp41: 429 (optimum from memory; another solver proves it
    too).
    """
    path = Path(__file__).parent / "scp41.txt"
    text = path.read_bytes()
    assert hashlib.sha256(text).hexdigest() == "9dd62789540e1adecc38fe767b1d30f2018b37d4b925a4e8fdd9bd3f53c36899"
    numbers = iter(int(word) for word in text.split())
    rows, columns = next(numbers), next(numbers)
    prices = [next(numbers) for _ in range(columns)]
    covers = [[next(numbers) for _ in range(next(numbers))] for _ in range(rows)]
    programme = covering(prices, covers)
    found = highs.solve(programme)
    assert found is not None
    assert found.proven
    assert not programme.broken(found.chosen)
    assert programme.cost(found.chosen) == 429
