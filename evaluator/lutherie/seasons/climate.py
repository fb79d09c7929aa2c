"""Indoor climates over a year, month by month from January, as examples to see what they do to wood.

Relative humidity in per cent and temperature in degrees Celsius. Typical readings from memory, no source: a room of
one's own is told by a hygrometer kept in it for a year.
"""

from collections.abc import Mapping
from dataclasses import dataclass

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Climate:
    """Twelve months of a room: relative humidity (per cent) and temperature (degrees Celsius)."""

    say: str
    humidity_percent: tuple[float, ...]
    temperature_c: tuple[float, ...]


CLIMATES: Mapping[str, Climate] = {
    "heated_inland": Climate(
        "Heated house inland, cold winters",
        (28, 26, 32, 40, 50, 58, 62, 64, 58, 48, 38, 30),
        (20, 20, 20, 20, 21, 23, 25, 25, 22, 21, 20, 20),
    ),
    "mild_coast": Climate(
        "House near a mild coast",
        (48, 47, 49, 52, 55, 59, 62, 63, 61, 58, 53, 49),
        (19, 19, 19, 19, 20, 21, 22, 22, 21, 20, 19, 19),
    ),
}
