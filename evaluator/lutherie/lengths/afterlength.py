"""Afterlength: the string behind the bridge, aimed at one sixth of the playing length (common practice).

With the same string and tension on both sides the short side sounds 12 log2(L / l) semitones above the open string; six
to one gives two octaves and a pure fifth, 31.02 semitones, 2 cents above the tempered interval. What that does for
the tone is workshop opinion; there is no source.
"""

from math import log2

TARGET_SHARE = 1 / 6
TWO_OCTAVES_AND_A_FIFTH_SEMITONES = 31.0


def target_mm(string_length_mm: float) -> float:
    """One sixth of the playing length."""
    return string_length_mm * TARGET_SHARE


def interval_semitones(string_length_mm: float, afterlength_mm: float) -> float:
    """How far the afterlength sounds above the open string (windings and friction at the notch not counted)."""
    return 12 * log2(string_length_mm / afterlength_mm)


def cents_from_two_octaves_and_a_fifth(string_length_mm: float, afterlength_mm: float) -> float:
    """Cents above (+) or below (-) two octaves and a tempered fifth."""
    return 100 * (interval_semitones(string_length_mm, afterlength_mm) - TWO_OCTAVES_AND_A_FIFTH_SEMITONES)


def tail_cord_change_mm(string_length_mm: float, afterlength_mm: float) -> float:
    """How far the tailpiece must move towards the saddle (+) or the bridge (-) to reach one sixth."""
    return target_mm(string_length_mm) - afterlength_mm
