"""Standard uncertainties against published examples (JCGM 100:2008, GUM; JCGM 101:2008, its supplement 1)."""

import math
from collections.abc import Mapping

import pytest

from evaluator.assessment.observing.uncertainty import (
    in_quadrature,
    pooled,
    propagated,
    reading_uncertainty,
    rectangular,
    resolution,
    standard_error,
)
from evaluator.rubric.written.surroundings import Tool

# GUM 4.4.3, table 1: twenty temperatures in degrees Celsius. From memory.
TEMPERATURES = (
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
    100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
)  # fmt: skip


@pytest.mark.parametrize(
    ("found", "published", "tolerance", "source"),
    [
        (rectangular(0.40e-6), 0.23e-6, 0.002e-6, "GUM 4.3.7 example 2, copper; from memory"),
        (rectangular(4.0), 2.3, 0.05, "GUM 4.4.5, temperature between 96 and 104; from memory"),
        (resolution(1.0), 0.29, 0.0014, "GUM F.2.2.1, 0.29 of a step; from memory"),
        (sum(TEMPERATURES) / 20, 100.14, 0.01, "GUM 4.4.3, mean 100.145, given as 100.14; from memory"),
        (standard_error(TEMPERATURES) * math.sqrt(20), 1.49, 0.005, "GUM 4.4.3, s = 1.489; from memory"),
        (standard_error(TEMPERATURES), 0.33, 0.005, "GUM 4.4.3, s of the mean 0.333; from memory"),
        (in_quadrature(1.0, 1.0, 1.0, 1.0), 2.0, 1e-12, "GUM S1 9.2.2, four normal terms; from memory"),
    ],
)
def test_published_values(found: float, published: float, tolerance: float, source: str) -> None:
    assert found == pytest.approx(published, abs=tolerance), source


def test_ten_resistors_against_one_standard_share_its_error() -> None:
    """GUM 5.2.2 example: ten resistors of 1000 ohm, each +- 0.1 ohm against the same standard: 1 ohm, not 0.32."""
    series = propagated(lambda v: 10.0 * v["standard"], {"standard": 1000.0}, {"standard": 0.1})
    assert series is not None
    assert series == pytest.approx((10_000.0, 1.0))
    apart = propagated(lambda v: sum(v.values()), {str(i): 1000.0 for i in range(10)}, {str(i): 0.1 for i in range(10)})
    assert apart is not None
    assert apart[1] == pytest.approx(0.32, abs=0.005)


def test_repeats_with_one_tool_do_not_make_its_error_smaller() -> None:
    """GUM 5.2.2 again: the error of the rule is in every reading."""
    rule = Tool(tool="rule", say="A rule", unit="mm", half_width=0.5, step=0.0)
    assert reading_uncertainty([328.0] * 10, "mm", rule) == pytest.approx(reading_uncertainty([328.0], "mm", rule))
    assert reading_uncertainty([328.0], "mm", rule) == pytest.approx(0.5 / math.sqrt(3))
    inch = Tool(tool="inch_rule", say="A rule", unit="in", half_width=1 / 64, step=1 / 32)
    both = math.hypot(25.4 / 64 / math.sqrt(3), 25.4 / 32 / math.sqrt(12))
    assert reading_uncertainty([328.0], "mm", inch) == pytest.approx(both)


def test_a_ratio_of_readings_agrees_with_an_independent_library() -> None:
    """Oracle: the `uncertainties` package, which differentiates instead of stepping."""
    from uncertainties import ufloat

    oracle = ufloat(328.0, 0.3) / ufloat(54.5, 0.25)
    found = propagated(
        lambda v: v["string"] / v["after"], {"string": 328.0, "after": 54.5}, {"string": 0.3, "after": 0.25}
    )
    assert found is not None
    assert found[0] == pytest.approx(oracle.nominal_value, rel=1e-12)
    assert found[1] == pytest.approx(oracle.std_dev, rel=1e-6)


def test_readings_that_disagree_widen_the_doubt() -> None:
    """Weighted mean: derived. Birge's ratio for 10 +- 1 and 14 +- 1: chi2 = 8, so u = sqrt(8) / sqrt(2) = 2."""
    assert pooled([(10.0, 1.0), (10.0, 1.0)]) == pytest.approx((10.0, 1.0 / math.sqrt(2)))
    assert pooled([(10.0, 1.0), (14.0, 1.0)]) == pytest.approx((12.0, 2.0))
    # One reading keeps its own doubt, and of several the more doubtful moves the mean least.
    assert pooled([(10.0, 0.3)]) == (10.0, 0.3)
    # Weights 1 and 1/4, chi2 = 1.8, u = sqrt(1.8 / 1.25).
    assert pooled([(10.0, 1.0), (13.0, 2.0)]) == pytest.approx((10.6, 1.2))


def test_exact_values_decide_alone() -> None:
    assert pooled([(10.0, 0.0), (14.0, 2.0)]) == (10.0, 0.0)
    # Two exact ones that differ: their mean, and the standard error of it, 2 / sqrt 2.
    assert pooled([(10.0, 0.0), (12.0, 0.0), (99.0, 1.0)]) == pytest.approx((11.0, 1.0))


def test_a_formula_without_a_value_near_by_has_none() -> None:
    def over(v: Mapping[str, float]) -> float | None:
        return v["a"] / v["b"] if v["b"] > 1.0 else None

    assert propagated(over, {"a": 6.0, "b": 0.5}, {"a": 1.0, "b": 1.0}) is None
    assert propagated(over, {"a": 6.0, "b": 1.0001}, {"a": 0.0, "b": 1.0}) is None, "a step down leaves it"
    assert propagated(over, {"a": 6.0, "b": 2.0}, {"a": 0.0, "b": 0.0}) == (3.0, 0.0), "nothing is in doubt"
    assert propagated(over, {"a": 0.0, "b": 2.0}, {"a": 1.0, "b": 0.0}) == pytest.approx((0.0, 0.5))
