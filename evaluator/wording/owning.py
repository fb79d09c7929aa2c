"""What an owner's winter and summer do to the instrument, in sentences: the air first, then wood, pegs and action."""

from collections.abc import Mapping

from ..choosing.repair_or_replace import Advice
from ..lutherie.seasons.seasons import Air, Seasons
from ..rubric.knowledge import GoodAir
from ..rubric.knowledge import Seasons as Known
from ..rubric.written.kinds import Family

GOOD = (
    "Makers in several countries advise {low:.0f} to {high:.0f} of 100 all year, and never below {least:.0f} "
    "(common advice, from memory). Moisture and movement of wood by the Wood Handbook, FPL-GTR-190 (2010), equations "
    "4-5 and 13-2; widths and pegs as usual for the family. It is what weeks of such air could do at most: varnish "
    "and edges slow it down. Keep a hygrometer in the case; it is the only one who knows."
)
REPAIR: Mapping[Advice, str] = {
    Advice.CHEAPER_THAN_ITS_EQUAL: "Have it repaired: that costs less than its equal would.",
    Advice.COSTS_MORE_THAN_IT_ADDS: (
        "The repair costs more than it is worth in money; do it only because you love it."
    ),
    Advice.TAKES_MOST_OF_THE_VALUE: ("The repair takes most of what it will be worth; do it only because you love it."),
    Advice.ITS_EQUAL_IS_NO_DEARER: (
        "Its equal costs no more than the repair; have it repaired if this one is dear to you."
    ),
    Advice.SMALL_PART_OF_THE_VALUE: "Have it repaired: the work is a small part of what it will be worth.",
    Advice.LOOK_AT_ITS_EQUAL: "Repair is possible, but look at its equal in a shop first.",
}


def good_air_words(air: GoodAir) -> str:
    """Which air is good, and where that is from."""
    return GOOD.format(low=air.low, high=air.high, least=air.least)


def air_words(found: Seasons, family: Family, known: Known) -> tuple[str, ...]:
    """Advice for this air in plain sentences, the weightiest first."""
    much = found.swing_percent >= known.air.little_swing
    said = [_advice(found, known.air), _moisture(found)]
    if family == "bow":
        said.append(
            "Hair gets longer in damp air and shorter in dry air: a bow left tight as the heating starts can warp "
            "or break. Slacken it every time, and have it haired somewhat longer before a dry season."
        )
    if found.belly_mm is not None and found.back_mm is not None:
        said.append(_plates(found.belly_mm, found.back_mm))
    if found.peg is not None and found.peg_travel_mm is not None and much:
        said.append(_pegs(found.peg.loosest_mm, found.peg_travel_mm))
    if family in known.action.say and much:
        said.append(
            f"The strings stand higher in the damp season and lower in the dry one, by {known.action.say[family]} "
            "(from memory). A set-up that is measured in one season is to be looked at in the other."
        )
    if found.beyond_the_law:
        said.append("One of the seasons lies beyond what was measured on wood, so these figures are rough.")
    return tuple(said)


def _advice(found: Seasons, good: GoodAir) -> str:
    low, high = good.low, good.high
    too_dry, too_damp = found.dry.humidity_percent < low, found.damp.humidity_percent > high
    if found.dry.humidity_percent < good.least:
        return (
            f"Too dry: {_air(found.dry)} is where cracks and open seams come from. Moisten the room, or at least the "
            f"case, to {low:.0f} of 100, and keep it away from heaters and sun."
        )
    if too_dry and too_damp:
        return "Rather dry in one season and damp in the other: even out both, moistening the one and airing the other."
    if too_dry:
        return f"Rather dry at {_air(found.dry)}: moisten the case while the heating is on."
    if too_damp:
        return (
            f"Rather damp at {_air(found.damp)}: glue softens, mould grows. Air the room; put drying bags in the case."
        )
    return f"Good: both seasons lie within {low:.0f} to {high:.0f} of 100. Keep it so."


def _air(air: Air) -> str:
    return f"{air.humidity_percent:.0f} of 100"


def _moisture(found: Seasons) -> str:
    return (
        f"The wood comes to {found.dry.moisture_percent:.1f} per cent of water at {_air(found.dry)}, and to "
        f"{found.damp.moisture_percent:.1f} per cent at {_air(found.damp)}."
    )


def _plates(belly_mm: float, back_mm: float) -> str:
    if abs(belly_mm) < 0.1:
        return "Top and back hardly move between the seasons."
    return (
        f"From the damp season to the dry one the top would shrink by up to {abs(belly_mm):.1f} mm across its widest "
        f"place, and the back by up to {abs(back_mm):.1f} mm. What is glued round the edge holds it back: so seams "
        "open, and where they do not, the wood cracks."
    )


def _pegs(loosest_mm: float, travel_mm: float) -> str:
    return (
        f"Pegs that fit in the damp season slip in the dry one: the gap opens by up to {loosest_mm:.2f} mm, and a peg "
        f"may have to go in by as much as {travel_mm:.0f} mm. Push while you turn. In the damp season they swell and "
        "stick: ease them before they do, and never force one."
    )
