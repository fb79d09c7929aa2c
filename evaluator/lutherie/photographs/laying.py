"""Where the card lies for each length that a photo can give, and how far the ends of the length stand off its plane.

Heights are towards the camera, in mm and as a share of the length itself, so that one figure serves a violin and a
cello. They are the shapes of usual instruments, judged and from memory, no source; their half-widths are wide enough
to hold unusual ones.
"""

from collections.abc import Mapping
from dataclasses import dataclass

# Thickness of a card (ISO/IEC 7810, ID-1, from memory): what it lies on is so much farther away than the face one sees.
CARD_THICK_MM = 0.76


@dataclass(frozen=True, slots=True)
class Height:
    """How high a place stands above the card's face: mm plus a share of the length, within so many mm plus a share."""

    mm: float
    share: float = 0.0
    within_mm: float = 0.5
    within_share: float = 0.0

    def at(self, length_mm: float) -> float:
        return self.mm + self.share * length_mm

    def half_width(self, length_mm: float) -> float:
        return self.within_mm + self.within_share * length_mm


@dataclass(frozen=True, slots=True)
class Laying:
    """One length in a photo: the heights of its two ends, how the card may be tipped, how sharply the ends are seen.

    `tip_along` and `tip_across`: half-widths in radians, along the length and across it. `end_mm`: half-width within
    which an end is found. `marks`: 2 for a distance, 3 for the distance from the first to the line through the others,
    as it is seen from straight above.
    """

    heights: tuple[Height, Height]
    tip_along: float
    tip_across: float
    end_mm: tuple[float, float]
    marks: int = 2


# On the middle strings: nut and bridge hold the strings that the card lies on, so its plane is that of the length.
_ON_STRINGS = Height(-CARD_THICK_MM, within_mm=0.8)
# The same photo gives the stop: the edge beside the neck lies 19 mm below the strings on a violin and 39 on a cello,
# the notches of the sound holes 43 and 89 mm.
_EDGE = Height(-CARD_THICK_MM, -0.095, within_mm=1.0, within_share=0.03)
_NOTCHES = Height(-CARD_THICK_MM, -0.22, within_mm=1.0, within_share=0.045)
# Held upright against the side of bridge feet and tailpiece: the outer string runs 4 to 9 mm behind it on a violin.
_BEHIND_CARD = Height(-CARD_THICK_MM, -0.13, within_mm=0.5, within_share=0.07)
# On the strings beside the end of the board: its edges lie lower by the strings' height and the board's own arch, 11 mm
# on a violin and 16 on a cello.
_BOARD_EDGE = Height(-CARD_THICK_MM, -0.26, within_mm=0.5, within_share=0.06)

LAYINGS: Mapping[str, Laying] = {
    "string_length": Laying((_ON_STRINGS, _ON_STRINGS), 0.012, 0.06, (0.4, 0.8)),
    "body_stop": Laying((_EDGE, _NOTCHES), 0.012, 0.06, (0.7, 0.7), marks=3),
    "afterlength": Laying((_BEHIND_CARD, _BEHIND_CARD), 0.08, 0.08, (0.6, 0.6)),
    "board_end_width": Laying((_BOARD_EDGE, _BOARD_EDGE), 0.1, 0.05, (0.3, 0.3)),
}
