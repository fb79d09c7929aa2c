"""Stop: the share that the neck takes of the playing length, 2 : 3 on violin and viola, 7 : 10 on the cello.

The body stop runs from the belly's upper edge to the notches of the sound holes, the neck stop from that edge to the
nut. Makers' tables agree on the two ratios; what a different one costs in playing is the hand's habit, not a law.
"""

from collections.abc import Mapping

STOP_RATIOS: Mapping[str, float] = {"violin": 2 / 3, "viola": 2 / 3, "cello": 7 / 10}


def stop_ratio(neck_stop_mm: float, body_stop_mm: float) -> float:
    """Neck stop to body stop."""
    return neck_stop_mm / body_stop_mm


def target_neck_stop_mm(body_stop_mm: float, family: str) -> float:
    """The neck stop that belongs to a body stop; KeyError for an unknown family."""
    return body_stop_mm * STOP_RATIOS[family]
