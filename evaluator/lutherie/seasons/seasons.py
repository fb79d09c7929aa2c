"""What an owner's winter and summer do to an instrument: moisture of the wood, movement of the plates, the pegs' gap.

Moisture and movement as in `wood`, pegs as in `pegs`. Widths and peg diameters are usual ones, from memory. A season
lasts weeks, and varnish and edges slow the wood down: what is told is what time could bring at most.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from .pegs import TAPER, PegGap, gap_change, travel_to_close_mm
from .wood import LINEAR_RANGE, SPECIES, change_mm, equilibrium_moisture_percent

# Across the lower bout, and the thick end of a peg, in mm: usual measures, from memory.
BELLY_WIDTH_MM: Mapping[str, float] = {"violin": 207.0, "viola": 240.0, "cello": 435.0}
PEG_MM: Mapping[str, float] = {"violin": 7.6, "viola": 8.0, "cello": 11.0}
BELLY, BACK, PEG = "norway_spruce", "european_maple", "ebony"
GOOD_PERCENT = (40.0, 60.0)  # common advice of makers, from memory
LEAST_PERCENT = 35.0  # the lowest that any of them accepts, from memory


@dataclass(frozen=True, slots=True)
class Air:
    """A room: degrees Celsius, and relative humidity in per cent."""

    temperature_c: float
    humidity_percent: float

    @property
    def moisture_percent(self) -> float:
        """Moisture that wood comes to in it, per cent of dry mass; ImpossibleError far outside of rooms."""
        return equilibrium_moisture_percent(self.temperature_c, self.humidity_percent / 100.0)


@dataclass(frozen=True, slots=True)
class Seasons:
    """From the damp season to the dry one. `belly_mm`, `back_mm`: change across the lower bout, negative as it shrinks.

    `peg`: change of the gap of a peg that fitted in the damp season; `peg_travel_mm`: how far it must go in to close
    the widest of that. None for what this family has not. `dry` and `damp` are the two airs.
    """

    dry: Air
    damp: Air
    belly_mm: float | None
    back_mm: float | None
    peg: PegGap | None
    peg_travel_mm: float | None

    @property
    def swing_percent(self) -> float:
        """Moisture gained and lost between the two, per cent of dry mass."""
        return self.damp.moisture_percent - self.dry.moisture_percent

    @property
    def beyond_the_law(self) -> bool:
        """Whether a season lies outside the moistures for which the law of movement was measured."""
        low, high = LINEAR_RANGE
        return not (low <= self.dry.moisture_percent and self.damp.moisture_percent <= high)

    @property
    def too_dry(self) -> bool:
        return self.dry.humidity_percent < GOOD_PERCENT[0]

    @property
    def too_damp(self) -> bool:
        return self.damp.humidity_percent > GOOD_PERCENT[1]


def seasons(family: str, winter: Air, summer: Air) -> Seasons:
    """What the two seasons of a room do to an instrument of the family; which of them is the dry one is found here."""
    dry, damp = sorted((winter, summer), key=lambda air: air.moisture_percent)
    width, diameter = BELLY_WIDTH_MM.get(family), PEG_MM.get(family)
    return Seasons(
        dry,
        damp,
        None if width is None else _across(width, BELLY, damp, dry),
        None if width is None else _across(width, BACK, damp, dry),
        *(_pegs(family, diameter, damp, dry) if diameter is not None else (None, None)),
    )


def _across(width_mm: float, species: str, before: Air, after: Air) -> float:
    """Change of a quarter-sawn plate across its grain, as it is cut for instruments."""
    radial = SPECIES[species].radial or 0.0
    return change_mm(width_mm, radial, before.moisture_percent, after.moisture_percent)


def _pegs(family: str, diameter_mm: float, before: Air, after: Air) -> tuple[PegGap, float]:
    gap = gap_change(diameter_mm, PEG, before.moisture_percent, after.moisture_percent)
    return gap, travel_to_close_mm(gap.loosest_mm, TAPER[family])
