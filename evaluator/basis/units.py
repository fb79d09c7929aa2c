"""Units: a small table of exact factors, conversion inside one dimension, and the units that a shop shows.

The factors are exact by definition (the inch is 25.4 mm, the pound 0.45359237 kg, standard gravity 9.80665 m/s2: NIST
Special Publication 811, Guide for the Use of the SI). `pint` is only the oracle of the tests: importing it costs 0.2 s
of every cold start, its text parser is not safe with what a person types, and forty units need no library.
"""

import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar, cast

from .frozen import dataclass


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: value in the base unit of its dimension = value * factor + offset."""

    name: str
    dimension: str
    factor: float
    offset: float = 0.0


_FAHRENHEIT_OFFSET = -32 * 5 / 9

UNITS: dict[str, Unit] = {
    unit.name: unit
    for unit in (
        Unit("mm", "length", 1.0),
        Unit("cm", "length", 10.0),
        Unit("m", "length", 1000.0),
        Unit("um", "length", 0.001),
        Unit("in", "length", 25.4),
        Unit("ft", "length", 304.8),
        Unit("g", "mass", 1.0),
        Unit("mg", "mass", 0.001),
        Unit("kg", "mass", 1000.0),
        Unit("oz", "mass", 28.349523125),
        Unit("lb", "mass", 453.59237),
        Unit("deg", "angle", 1.0),
        Unit("rad", "angle", 180 / math.pi),
        Unit("Hz", "frequency", 1.0),
        Unit("kHz", "frequency", 1000.0),
        Unit("s", "time", 1.0),
        Unit("min", "time", 60.0),
        Unit("h", "time", 3600.0),
        Unit("day", "time", 86400.0),
        Unit("degC", "temperature", 1.0),
        Unit("degF", "temperature", 5 / 9, _FAHRENHEIT_OFFSET),
        Unit("K", "temperature", 1.0, -273.15),
        Unit("N", "force", 1.0),
        Unit("kgf", "force", 9.80665),
        Unit("lbf", "force", 4.4482216152605),
        Unit("ratio", "ratio", 1.0),
        Unit("%", "ratio", 0.01),
        Unit("cent", "interval", 1.0),
        Unit("g/m", "mass per length", 1.0),
        Unit("kg/m", "mass per length", 1000.0),
        Unit("kg/m3", "density", 1.0),
        Unit("g/cm3", "density", 1000.0),
        Unit("m/s", "speed", 1.0),
        Unit("m2", "area", 1.0),
        Unit("cm2", "area", 1e-4),
        Unit("cm3", "volume", 1.0),
        Unit("GPa", "stiffness", 1.0),
        Unit("MPa", "stiffness", 0.001),
    )
}

# How people write units; matched after the exact names, without regard to case.
SPELLINGS: dict[str, str] = {
    '"': "in", "”": "in", "″": "in", "''": "in", "inch": "in", "inches": "in", "ins": "in",
    "'": "ft", "′": "ft", "foot": "ft", "feet": "ft",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "µm": "um", "μm": "um",
    "gram": "g", "grams": "g", "gr": "g", "gramme": "g", "grammes": "g", "kilo": "kg", "kilos": "kg",
    "kilogram": "kg", "kilograms": "kg",
    "ounce": "oz", "ounces": "oz", "pound": "lb", "pounds": "lb", "lbs": "lb",
    "°": "deg", "degree": "deg", "degrees": "deg", "radian": "rad", "radians": "rad",
    "°c": "degC", "c": "degC", "celsius": "degC", "°f": "degF", "f": "degF", "fahrenheit": "degF", "kelvin": "K",
    "hertz": "Hz", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min",
    "mins": "min", "hour": "h", "hours": "h", "hr": "h", "hrs": "h", "days": "day",
    "newton": "N", "newtons": "N", "kp": "kgf", "percent": "%", "per cent": "%", "cents": "cent",
    "kg/m³": "kg/m3", "kg/m^3": "kg/m3", "g/cm³": "g/cm3", "g/cm^3": "g/cm3", "m²": "m2", "cm²": "cm2", "cm³": "cm3",
}  # fmt: skip

# The article belongs to the wording of a message: "12 kg is a mass".
WITH_ARTICLE: dict[str, str] = {
    "length": "a length",
    "mass": "a weight",
    "angle": "an angle",
    "frequency": "a frequency",
    "time": "a time",
    "temperature": "a temperature",
    "force": "a force",
    "ratio": "a plain number",
    "interval": "a musical interval",
    "mass per length": "a weight per length",
    "density": "a density",
    "speed": "a speed",
    "area": "an area",
    "volume": "a volume",
    "stiffness": "a stiffness",
}

EXAMPLES: dict[str, str] = {
    "length": "54.5 mm",
    "mass": "436 g",
    "angle": "82 deg",
    "frequency": "440 Hz",
    "time": "30 min",
    "temperature": "20 degC",
    "force": "55 N",
    "ratio": "0.5",
    "interval": "2 cent",
    "mass per length": "0.65 g/m",
    "density": "420 kg/m3",
    "speed": "5300 m/s",
    "area": "0.05 m2",
    "volume": "30 cm3",
    "stiffness": "12 GPa",
}


def unit_named(text: str) -> Unit | None:
    """The unit that a person wrote, exact names first ('m' is metre), then spellings without regard to case."""
    found = UNITS.get(text)
    if found is not None:
        return found
    low = text.lower()
    name = SPELLINGS.get(low) or next((known for known in UNITS if known.lower() == low), None)
    return UNITS[name] if name else None


def dimension_of(unit: str) -> str:
    """The dimension of a known unit: 'length', 'mass' ... An unknown unit is a programmer's mistake (KeyError)."""
    return UNITS[unit].dimension


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """The value in another unit of the same dimension.

    Raises ValueError when the dimensions differ and KeyError for an unknown unit: both are checked before this.
    """
    if from_unit == to_unit:
        return value
    source, target = UNITS[from_unit], UNITS[to_unit]
    if source.dimension != target.dimension:
        raise ValueError(f"{from_unit} is {source.dimension}, {to_unit} is {target.dimension}")
    return (value * source.factor + source.offset - target.offset) / target.factor


@dataclass(frozen=True, slots=True)
class ShownUnits:
    """The units in which readings and limits stand on pages and papers; whatever is typed is read in any."""

    length: str = "mm"
    weight: str = "g"

    def of(self, unit: str) -> str:
        """The unit in which a figure in `unit` is shown: of figures in mm and g another may be wanted."""
        return {"mm": self.length, "g": self.weight}.get(unit, unit)


METRIC = ShownUnits()
# What stands in the unit of a record that has one; all are lengths or weights, so a factor alone brings them over.
_IN_ITS_UNIT = ("value", "u", "standard_uncertainty", "low", "high", "target", "step")
T = TypeVar("T")


def in_units(record: T, shown: ShownUnits) -> T:
    """The same frozen record with every figure that stands in mm or g inside it, however deep, in the shown unit.

    What has nothing of that comes back as it is. The file of a result stays in mm and g: only what is shown is brought
    over.
    """
    return record if shown == METRIC else cast(T, _shown(record, shown))


def _shown(value: object, shown: ShownUnits) -> object:
    if isinstance(value, tuple):
        made = tuple(_shown(one, shown) for one in value)
        return made if any(new is not old for new, old in zip(made, value, strict=True)) else value
    if isinstance(value, Mapping):
        found = {key: _shown(one, shown) for key, one in value.items()}
        return found if any(found[key] is not one for key, one in value.items()) else value
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {}
    for field in fields(value):
        before = getattr(value, field.name)
        after = _shown(before, shown)
        if after is not before:
            changed[field.name] = after
    return replace(value, **{**changed, **_figures(value, shown)}) if changed or _figures(value, shown) else value


def _figures(record: object, shown: ShownUnits) -> dict[str, object]:
    """The figures of one record in its shown unit; empty where it stays."""
    unit = getattr(record, "unit", None)
    if not isinstance(unit, str) or shown.of(unit) == unit:
        return {}
    values = {name: getattr(record, name, None) for name in _IN_ITS_UNIT}
    moved = {name: convert(value, unit, shown.of(unit)) for name, value in values.items() if isinstance(value, float)}
    return {**moved, "unit": shown.of(unit)} if moved else {}
