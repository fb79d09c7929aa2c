"""Conversion against an independent library, and spellings."""

import math
from itertools import product

import pytest

from evaluator.basis.units import EXAMPLES, SPELLINGS, UNITS, WITH_ARTICLE, convert, dimension_of, unit_named

NAME_THERE = {
    "in": "inch", "ft": "foot", "oz": "ounce", "lb": "pound", "h": "hour", "min": "minute", "day": "day",
    "kgf": "kilogram_force", "lbf": "pound_force", "ratio": "dimensionless", "%": "percent", "g/m": "gram/meter",
    "kg/m": "kilogram/meter", "kg/m3": "kilogram/meter**3", "g/cm3": "gram/centimeter**3", "m/s": "meter/second",
    "m2": "meter**2", "cm2": "centimeter**2", "cm3": "centimeter**3", "m": "meter", "g": "gram", "N": "newton",
    "s": "second", "Hz": "hertz", "kHz": "kilohertz", "GPa": "gigapascal", "MPa": "megapascal", "um": "micrometer",
}  # fmt: skip
PAIRS = [
    (a, b)
    for a, b in product(UNITS, UNITS)
    if a != b and UNITS[a].dimension == UNITS[b].dimension and UNITS[a].dimension != "interval"
]


@pytest.mark.parametrize("value", [0.0, 1.0, -3.25, 436.7])
def test_as_the_unit_library_says(value: float) -> None:
    import pint

    oracle = pint.UnitRegistry()
    for source, target in PAIRS:
        here, there = NAME_THERE.get(source, source), NAME_THERE.get(target, target)
        expected = oracle.Quantity(value, here).to(there).magnitude
        assert math.isclose(convert(value, source, target), expected, rel_tol=1e-9, abs_tol=1e-9), (source, target)


def test_a_sixty_fourth_of_an_inch() -> None:
    assert convert(1 / 64, "in", "mm") == 0.396875


@pytest.mark.parametrize(
    ("text", "name"),
    [("mm", "mm"), ("MM", "mm"), ('"', "in"), ("inches", "in"), ("°", "deg"), ("lbs", "lb"), ("degF", "degF"),
     ("°C", "degC"), ("M", "m"), ("hz", "Hz"), ("percent", "%"), ("kg/m³", "kg/m3"), ("n", "N"), ("k", "K")],
)  # fmt: skip
def test_spellings(text: str, name: str) -> None:
    found = unit_named(text)
    assert found is not None
    assert found.name == name


def test_the_table_is_whole() -> None:
    assert unit_named("stone") is None
    assert all(name in UNITS for name in SPELLINGS.values())
    assert {unit.dimension for unit in UNITS.values()} == set(WITH_ARTICLE) == set(EXAMPLES)
    assert dimension_of("oz") == "mass"
    low = [name.lower() for name in UNITS]
    assert len(low) == len(set(low))  # so a unit in the wrong case is never two


def test_other_dimensions_are_a_programmers_mistake() -> None:
    with pytest.raises(ValueError, match="length"):
        convert(1, "mm", "g")
