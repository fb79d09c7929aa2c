"""Pegs: taper, travel, and the gap that a dry or damp season opens or closes.

A taper 1 : n grows 1 mm in diameter over n mm (violin and viola 1 : 30, cello 1 : 25; ISO 1119 for the cone angles).
How wide a hole may be reamed before it is bushed is a house rule: no published limit was found, so the caller gives it.

Seasons: the peg's grain runs along it, so it moves across its section, more one way (tangentially, along the growth
rings) than the other (radially). The hole keeps its width along the grain of the peg box and moves across it, radially
or tangentially as the block was cut. A peg turns, so any of its two ways can meet any of the hole's two: the extremes
over these are what is told.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from math import atan, degrees, floor

from .. import ImpossibleError
from .wood import SPECIES, change_mm

TAPER: Mapping[str, float] = {"violin": 30.0, "viola": 30.0, "cello": 25.0}
PEGBOX = "european_maple"


def cone_angle_deg(taper: float) -> float:
    """Full angle of a cone 1 : taper."""
    return degrees(2 * atan(1 / (2 * taper)))


def travel_mm(diameter_now_mm: float, diameter_limit_mm: float, taper: float) -> float:
    """How far the peg may still go in until the hole reaches the limit; negative when it is past it."""
    return taper * (diameter_limit_mm - diameter_now_mm)


def refits_left(diameter_now_mm: float, diameter_limit_mm: float, per_refit_mm: float) -> int:
    """How often the hole can be reamed by `per_refit_mm` of diameter without passing the limit; 0 when past it."""
    return max(0, floor((diameter_limit_mm - diameter_now_mm) / per_refit_mm + 1e-9))


@dataclass(frozen=True, slots=True)
class PegGap:
    """Change of the gap between peg and hole since they fitted, in mm of diameter; + is looser, - is tighter.

    `tightest_mm` is the direction in which peg and hole keep closest, the one that decides whether the peg holds or
    slips. `loosest_mm` is the direction in which they part most. The difference is how far round has turned oval.
    """

    tightest_mm: float
    loosest_mm: float

    @property
    def largest_mm(self) -> float:
        """The larger of the two changes, with its sign: looser in a dry season, tighter in a damp one."""
        return max(self.loosest_mm, self.tightest_mm, key=abs)

    @property
    def out_of_round_mm(self) -> float:
        return self.loosest_mm - self.tightest_mm


def moves(peg: str) -> bool:
    """Whether a published shrinkage of this wood was found."""
    return SPECIES[peg].radial is not None and SPECIES[peg].tangential is not None


def gap_change(diameter_mm: float, peg: str, from_percent: float, to_percent: float) -> PegGap:
    """Change of gap when both woods go from one moisture content to another: up to this much, after weeks.

    ImpossibleError for a wood without a published shrinkage, KeyError for an unknown one.
    """
    wood, box = SPECIES[peg], SPECIES[PEGBOX]
    if wood.radial is None or wood.tangential is None or box.radial is None or box.tangential is None:
        raise ImpossibleError(f"no published shrinkage of {wood.say} was found")
    gaps = [
        change_mm(diameter_mm, hole - of_peg, from_percent, to_percent)
        for hole, of_peg in product((0.0, box.radial, box.tangential), (wood.radial, wood.tangential))
    ]
    return PegGap(min(gaps), max(gaps))


def travel_to_close_mm(gap_mm: float, taper: float) -> float:
    """How far the peg must go in to close a gap in diameter; negative: how far it must come out."""
    return gap_mm * taper
