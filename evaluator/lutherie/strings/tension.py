"""What a string pulls: tension from linear density, length and pitch, and back.

T = mu (2 L f)^2 for an ideal flexible string. Stiffness and the ends of a real string shift the pitch, so tension from
mass and length is good to about one per cent at best (textbook physics of strings).
"""

from math import pi


def tension_n(linear_density_kg_per_m: float, length_m: float, frequency_hz: float) -> float:
    """Tension in newtons of a flexible string at pitch."""
    return linear_density_kg_per_m * (2 * length_m * frequency_hz) ** 2


def linear_density_kg_per_m(tension: float, length_m: float, frequency_hz: float) -> float:
    """Linear density of the stretched string from its tension in newtons at pitch."""
    return tension / (2 * length_m * frequency_hz) ** 2


def plain_string_density_kg_per_m(density_kg_per_m3: float, diameter_m: float) -> float:
    """Linear density of a plain round string: rho pi d^2 / 4."""
    return density_kg_per_m3 * pi * diameter_m**2 / 4


def tension_at_n(tension: float, length_m: float, frequency_hz: float, new_length_m: float, new_hz: float) -> float:
    """Tension of the same string at another length and pitch: goes with the square of both."""
    return tension * (new_length_m * new_hz / (length_m * frequency_hz)) ** 2
