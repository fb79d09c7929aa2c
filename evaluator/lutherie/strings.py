"""Strings: the pitch that one sounds, the tension that it pulls with, and the load that all together lay on the bridge.

Equal temperament: f = a4 * 2**((n - 69) / 12) with MIDI note numbers n. A4 = 440 Hz is ISO 16:1975 (title page read).

T = mu (2 L f)^2 for an ideal flexible string. Stiffness and the ends of a real string shift the pitch, so tension from
mass and length is good to about one per cent at best (textbook physics of strings).

A string pulls its notch towards the nut and towards the saddle of the tailpiece with the same tension (no friction).
The sum of both is its force on the bridge; the arch of the bridge does not set the direction of that force. Axes: x
along the body towards the tailpiece, y towards the treble side, z up from the belly; millimetres and newtons.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, log2, pi, radians, sin, sqrt

from . import ImpossibleError

SEMITONES = {"c": 0, "d": 2, "e": 4, "f": 5, "g": 7, "a": 9, "b": 11}
ACCIDENTALS = {"": 0, "#": 1, "♯": 1, "sharp": 1, "b": -1, "♭": -1, "flat": -1}
_NOTE = re.compile(r"([a-gA-G])\s*(#|♯|sharp|flat|b|♭)?\s*(-?[0-9])")
A4_MIDI = 69
Point = tuple[float, float, float]


def note_number(note: str) -> int | None:
    """MIDI number of a note name such as 'G3', 'F#4' or 'B flat 3'; None when it is not one."""
    match = _NOTE.fullmatch(note.strip())
    if match is None:
        return None
    letter, accidental, octave = match.groups()
    return 12 * (int(octave) + 1) + SEMITONES[letter.lower()] + ACCIDENTALS[accidental or ""]


def equal_frequency_hz(number: int, a4_hz: float = 440.0) -> float:
    """Frequency of a MIDI note in equal temperament (definition)."""
    return float(a4_hz * 2.0 ** ((number - A4_MIDI) / 12))


def fifths_frequency_hz(number: int, a4_hz: float = 440.0) -> float:
    """Frequency of a note reached from A4 by pure fifths (3 : 2) and octaves, as strings are tuned (definition)."""
    steps = number - A4_MIDI
    # A fifth is 7 semitones: the count of fifths between -5 and 6 that leads to this note, the rest are octaves.
    fifths = (steps * 7 + 5) % 12 - 5
    octaves = (steps - 7 * fifths) // 12
    return float(a4_hz * 1.5**fifths * 2.0**octaves)


def cents(frequency_hz: float, reference_hz: float) -> float:
    """Interval in cents from the reference up to the frequency: 1200 log2(f / ref) (definition)."""
    return 1200 * log2(frequency_hz / reference_hz)


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


@dataclass(frozen=True, slots=True)
class Load:
    """Newtons: `down` on the belly, `lateral` towards the treble side, `along` towards the tailpiece."""

    down_n: float
    lateral_n: float
    along_n: float


def string_load(tension_n: float, nut: Point, notch: Point, saddle: Point) -> Load:
    """Force of one string on the bridge (vector sum); ImpossibleError where two points coincide."""
    to_nut, to_saddle = _unit(notch, nut), _unit(notch, saddle)
    x, y, z = (tension_n * (a + b) for a, b in zip(to_nut, to_saddle, strict=True))
    return Load(-z, y, x)


def planar_load(tension_n: float, front_deg: float, back_deg: float, lean_deg: float = 0.0) -> Load:
    """The same from two angles: the fall of playing length and afterlength below the level, in a leaning plane.

    down = T (sin front + sin back) cos lean; along = T (cos back - cos front).
    """
    front, back, lean = radians(front_deg), radians(back_deg), radians(lean_deg)
    force = tension_n * (sin(front) + sin(back))
    return Load(force * cos(lean), force * sin(lean), tension_n * (cos(back) - cos(front)))


def _unit(start: Point, end: Point) -> Point:
    dx, dy, dz = (b - a for a, b in zip(start, end, strict=True))
    length = sqrt(dx * dx + dy * dy + dz * dz)
    if length == 0:
        raise ImpossibleError("two points of a string coincide")
    return dx / length, dy / length, dz / length


def total_load(loads: Sequence[Load]) -> Load:
    """The loads added component by component."""
    return Load(sum(x.down_n for x in loads), sum(x.lateral_n for x in loads), sum(x.along_n for x in loads))


def foot_loads_n(
    loads: Sequence[Load], notches_yz_mm: Sequence[tuple[float, float]], bass_foot_mm: float, treble_foot_mm: float
) -> tuple[float, float]:
    """Load on the bass and the treble foot (N) by moments about the bass foot; y of the feet in mm, z above the feet.

    ImpossibleError where the feet coincide. Source of the check: G. Hart, The Violin (E whole on the treble foot, A
    2/3).
    """
    width = treble_foot_mm - bass_foot_mm
    if width == 0:
        raise ImpossibleError("the feet coincide")
    moment = sum(
        load.down_n * (y - bass_foot_mm) + load.lateral_n * z for load, (y, z) in zip(loads, notches_yz_mm, strict=True)
    )
    treble = moment / width
    return sum(load.down_n for load in loads) - treble, treble
