"""How far a reading may be from the truth: the tool's error, its steps and the spread of repeats, in one standard
deviation.

Evaluation of measurement data - Guide to the expression of uncertainty in measurement (JCGM 100:2008), 4.3.7 (bounds
only: half-width / sqrt 3), F.2.2.1 (steps: step / sqrt 12), 4.2.3 (repeats: standard error of the mean), 5.1.2 (sum of
squares), 5.2.2 (repeats with one tool share its error, so they do not make it smaller).
"""

import math
from collections.abc import Callable, Mapping, Sequence

from ...basis.units import UNITS
from ...rubric.written.surroundings import Tool

# Without a known tool a reading is taken to lie within 1 % of the truth: about 3 mm on a string length and 4 g on a
# violin, what a tape or a kitchen scale does. Common practice, no source.
UNKNOWN_TOOL_SHARE = 0.01

# Share of a quantity by which it is moved to see how a formula follows it.
_STEP_SHARE = 1e-4


def rectangular(half_width: float) -> float:
    """Standard uncertainty when only bounds +- half_width are known."""
    return half_width / math.sqrt(3.0)


def resolution(step: float) -> float:
    """Standard uncertainty from reading in steps."""
    return step / math.sqrt(12.0)


def standard_error(values: Sequence[float]) -> float:
    """Standard error of the mean of repeats; 0 for one reading, whose spread is not known."""
    count = len(values)
    if count < 2:
        return 0.0
    mean = math.fsum(values) / count
    return math.sqrt(math.fsum((value - mean) ** 2 for value in values) / (count - 1) / count)


def in_quadrature(*parts: float) -> float:
    """Combined standard uncertainty of independent contributions."""
    return math.sqrt(math.fsum(part * part for part in parts))


def reading_uncertainty(
    values: Sequence[float], unit: str, tool: Tool | None, plus_minus: float | None = None
) -> float:
    """Standard uncertainty of the mean of `values`, in `unit`.

    `plus_minus` is a half-width that the person wrote beside the reading; it stands in place of the tool's own error.
    """
    spread = standard_error(values)
    if plus_minus is not None:
        return in_quadrature(rectangular(plus_minus), spread)
    if tool is None:
        size = abs(math.fsum(values)) / len(values)
        return in_quadrature(rectangular(UNKNOWN_TOOL_SHARE * size), spread)
    return in_quadrature(*tool_uncertainty(tool, unit), spread)


def tool_uncertainty(tool: Tool, unit: str) -> tuple[float, float]:
    """The standard uncertainties that come from the tool's error and from its steps, in `unit`."""
    factor = UNITS[tool.unit].factor / UNITS[unit].factor
    return rectangular(tool.half_width * factor), resolution(tool.step * factor)


def propagated(
    formula: Callable[[Mapping[str, float]], float | None], values: Mapping[str, float], u: Mapping[str, float]
) -> tuple[float, float] | None:
    """Value of a formula and its standard uncertainty to first order (JCGM 100, 5.1.2); None where there is no value.

    `u` holds the standard uncertainty of each of `values`. The slopes are central differences; readings of different
    things are taken as independent.
    """
    value = formula(values)
    if value is None:
        return None
    parts = []
    for name, doubt in u.items():
        if doubt <= 0:
            continue
        step = max(abs(values[name]) * _STEP_SHARE, doubt * 1e-3)
        up = formula({**values, name: values[name] + step})
        down = formula({**values, name: values[name] - step})
        if up is None or down is None:
            return None
        parts.append((up - down) / (2 * step) * doubt)
    return value, in_quadrature(*parts)


def pooled(values: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """One value and standard uncertainty from several (value, u) of the same thing, taken with different tools.

    Weighted by 1/u^2; where they disagree by more than their doubts allow, the doubt is widened to their scatter
    (Birge, The Calculation of Errors by the Method of Least Squares, 1932). An exact value (u 0) decides alone.
    """
    exact = [value for value, u in values if u <= 0]
    if exact:
        return math.fsum(exact) / len(exact), standard_error(exact)
    weights = [1.0 / (u * u) for _, u in values]
    total = math.fsum(weights)
    mean = math.fsum(w * value for w, (value, _) in zip(weights, values, strict=True)) / total
    if len(values) == 1:
        return mean, values[0][1]
    chi2 = math.fsum(w * (value - mean) ** 2 for w, (value, _) in zip(weights, values, strict=True))
    return mean, math.sqrt(max(1.0, chi2 / (len(values) - 1)) / total)
