"""Angles and heights that follow from measured heights: the string over the bridge, and the projection of the board.

Plain geometry of straight lines in the plane of symmetry; all lengths in millimetres.
"""

from math import asin, degrees

from ..impossible import ImpossibleError


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
