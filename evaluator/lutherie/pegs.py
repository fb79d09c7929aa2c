"""Pegs: taper, travel, and the gap that a dry or damp season opens or closes.

A taper 1 : n grows 1 mm in diameter over n mm (violin and viola 1 : 30, cello 1 : 25; ISO 1119 for the cone angles).
How wide a hole may be reamed before it is bushed is a house rule: no published limit was found, so the caller gives it.
"""

from dataclasses import dataclass
from math import atan, degrees

from .wood import SPECIES, change_mm

TAPER = {"violin": 30.0, "viola": 30.0, "cello": 25.0}
PEGBOX = "european_maple"


def cone_angle_deg(taper: float) -> float:
    """Full angle of a cone 1 : taper."""
    return degrees(2 * atan(1 / (2 * taper)))


def growth_mm(travel_mm: float, taper: float) -> float:
    """How much wider the hole gets where a reamer goes in this much further."""
    return travel_mm / taper


def travel_mm(diameter_now_mm: float, diameter_limit_mm: float, taper: float) -> float:
    """How far the peg may still go in until the hole reaches the limit."""
    return taper * (diameter_limit_mm - diameter_now_mm)


def refits_left(diameter_now_mm: float, diameter_limit_mm: float, per_refit_mm: float) -> int:
    """How often the hole can be reamed by `per_refit_mm` of diameter without passing the limit."""
    return max(0, int((diameter_limit_mm - diameter_now_mm) / per_refit_mm + 1e-9))


@dataclass(frozen=True, slots=True)
class PegGap:
    """Change of the gap between peg and hole in mm of diameter, by direction; + is looser.

    The peg grows and shrinks across its grain in both directions, radially and tangentially. The hole in the peg box is
    as wide along the box's grain as ever, and moves across it: so a round fit turns oval.
    """

    along_box_mm: float
    across_box_mm: float

    @property
    def loosest_mm(self) -> float:
        return max(self.along_box_mm, self.across_box_mm)

    @property
    def tightest_mm(self) -> float:
        return min(self.along_box_mm, self.across_box_mm)


def gap_change(diameter_mm: float, peg: str, from_percent: float, to_percent: float) -> PegGap:
    """Change of gap when moisture goes from one content to another: up to this much, after weeks.

    ValueError for a species without a published shrinkage. The peg's larger (tangential) movement meets the hole along
    the box's grain, which does not move, and its smaller (radial) one meets the hole across it: the worst and the best
    case.
    """
    wood, box = SPECIES[peg], SPECIES[PEGBOX]
    if wood.radial is None or wood.tangential is None or box.tangential is None:
        raise ValueError(f"no published shrinkage of {wood.say} was found")
    hole_across = change_mm(diameter_mm, box.tangential, from_percent, to_percent)
    peg_tangential = change_mm(diameter_mm, wood.tangential, from_percent, to_percent)
    peg_radial = change_mm(diameter_mm, wood.radial, from_percent, to_percent)
    return PegGap(along_box_mm=-peg_tangential, across_box_mm=hole_across - peg_radial)


def travel_to_close_mm(gap_mm: float, taper: float) -> float:
    """How far the peg must be pushed in to close a gap in diameter."""
    return gap_mm * taper
