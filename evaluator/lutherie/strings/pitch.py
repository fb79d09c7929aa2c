"""Pitch: notes, tuning by equal temperament or by just fifths, and cents.

Equal temperament: f = a4 * 2**((n - 69) / 12) with MIDI note numbers n. A4 = 440 Hz is ISO 16:1975 (title page read).
"""

import re
from math import log2

SEMITONES = {"c": 0, "d": 2, "e": 4, "f": 5, "g": 7, "a": 9, "b": 11}
ACCIDENTALS = {"": 0, "#": 1, "♯": 1, "sharp": 1, "b": -1, "♭": -1, "flat": -1}
_NOTE = re.compile(r"([a-gA-G])\s*(#|♯|sharp|flat|b|♭)?\s*(-?[0-9])")
A4_MIDI = 69


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
