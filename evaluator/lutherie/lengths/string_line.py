"""The line of a string from nut to tailpiece: stop, afterlength, angles over the bridge, and the board's projection.

Stop: the neck takes 2 : 3 of the body's share on violin and viola, 7 : 10 on the cello. The body stop runs from the
belly's upper edge to the notches of the sound holes, the neck stop from that edge to the nut. Makers' tables agree on
the two ratios; what a different one costs in playing is the hand's habit, not a law.

Afterlength: the string behind the bridge, aimed at one sixth of the playing length (common practice). With the same
string and tension on both sides the short side sounds 12 log2(L / l) semitones above the open string; six to one gives
two octaves and a pure fifth, 31.02 semitones, 2 cents above the tempered interval. What that does for the tone is
workshop opinion; there is no source.

Angles and projection are plain geometry of straight lines in the plane of symmetry. All lengths are in millimetres.
"""

from collections.abc import Mapping
from math import asin, degrees, log2

from .. import ImpossibleError

TARGET_SHARE = 1 / 6
TWO_OCTAVES_AND_A_FIFTH_SEMITONES = 31.0
STOP_RATIOS: Mapping[str, float] = {"violin": 2 / 3, "viola": 2 / 3, "cello": 7 / 10}


def target_afterlength_mm(string_length_mm: float) -> float:
    """One sixth of the playing length."""
    return string_length_mm * TARGET_SHARE


def afterlength_semitones(string_length_mm: float, afterlength_mm: float) -> float:
    """How far the afterlength sounds above the open string (windings and friction at the notch not counted)."""
    return 12 * log2(string_length_mm / afterlength_mm)


def cents_from_two_octaves_and_a_fifth(string_length_mm: float, afterlength_mm: float) -> float:
    """Cents above (+) or below (-) two octaves and a tempered fifth."""
    return 100 * (afterlength_semitones(string_length_mm, afterlength_mm) - TWO_OCTAVES_AND_A_FIFTH_SEMITONES)


def tail_cord_change_mm(string_length_mm: float, afterlength_mm: float) -> float:
    """How far the tailpiece must move towards the saddle (+) or the bridge (-) to reach one sixth."""
    return target_afterlength_mm(string_length_mm) - afterlength_mm


def stop_ratio(neck_stop_mm: float, body_stop_mm: float) -> float:
    """Neck stop to body stop."""
    return neck_stop_mm / body_stop_mm


def target_neck_stop_mm(body_stop_mm: float, family: str) -> float:
    """The neck stop that belongs to a body stop; KeyError for an unknown family."""
    return body_stop_mm * STOP_RATIOS[family]


def fall_deg(drop_mm: float, along_string_mm: float) -> float:
    """Angle of a string to the belly's level, from how far its far end lies lower and its length along the string."""
    if abs(drop_mm) >= along_string_mm:
        raise ImpossibleError("the difference in height is as long as the string itself")
    return degrees(asin(drop_mm / along_string_mm))


def break_angle_deg(
    playing_length_mm: float, nut_below_notch_mm: float, afterlength_mm: float, saddle_below_notch_mm: float
) -> tuple[float, float, float]:
    """(included angle, fall in front, fall behind) in degrees of a string over the bridge.

    `nut_below_notch_mm` is how far the nut lies below the notch, square to the belly's level, and likewise for the
    place where the string leaves the tailpiece. Both lengths are measured along the string, as a rule lies.
    """
    front = fall_deg(nut_below_notch_mm, playing_length_mm)
    back = fall_deg(saddle_below_notch_mm, afterlength_mm)
    return 180 - front - back, front, back


def projection_mm(height_near_mm: float, height_end_mm: float, between_mm: float, to_bridge_mm: float) -> float:
    """Height of the board's top line where it meets the bridge: the line through two heights, carried on.

    `height_near_mm` at a first place on the board, `height_end_mm` at its end, `between_mm` between the two places,
    `to_bridge_mm` from the end to the bridge.
    """
    return height_end_mm + (height_end_mm - height_near_mm) / between_mm * to_bridge_mm
