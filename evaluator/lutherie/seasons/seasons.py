"""What an owner's winter and summer do to an instrument: moisture of the wood, movement of the plates, the pegs' gap.

Moisture and movement as in `wood`, pegs as in `pegs`. A season
lasts weeks, and varnish and edges slow the wood down: what is told is what time could bring at most.
"""

from dataclasses import dataclass

from .pegs import PegGap, gap_change, travel_to_close_mm
from .wood import LINEAR_RANGE, SPECIES, change_mm, equilibrium_moisture_percent

BELLY, BACK, PEG = "norway_spruce", "european_maple", "ebony"
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


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


def seasons(winter: Air, summer: Air, width: float | None, diameter: float | None, taper: float | None) -> Seasons:
    """What the two seasons of a room do to an instrument `width` mm across the lower bout, whose pegs are `diameter` mm
    thick and taper 1 : `taper`; None for what it has not. Which of them is the dry one is found here.
    """
    dry, damp = sorted((winter, summer), key=lambda air: air.moisture_percent)
    return Seasons(
        dry,
        damp,
        None if width is None else _across(width, BELLY, damp, dry),
        None if width is None else _across(width, BACK, damp, dry),
        *(_pegs(diameter, taper, damp, dry) if diameter is not None and taper is not None else (None, None)),
    )


def _across(width_mm: float, species: str, before: Air, after: Air) -> float:
    """Change of a quarter-sawn plate across its grain, as it is cut for instruments."""
    radial = SPECIES[species].radial or 0.0
    return change_mm(width_mm, radial, before.moisture_percent, after.moisture_percent)


def _pegs(diameter_mm: float, taper: float, before: Air, after: Air) -> tuple[PegGap, float]:
    gap = gap_change(diameter_mm, PEG, before.moisture_percent, after.moisture_percent)
    return gap, travel_to_close_mm(gap.loosest_mm, taper)
