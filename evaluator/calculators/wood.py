"""Calculators about wood and the year's humidity: moisture, movement, pegs."""

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from ..lutherie.seasons import pegs
from ..lutherie.seasons import wood as timber
from ..lutherie.seasons.seasons import MONTHS
from ..rubric.knowledge import Climate, Seasons
from .model import NO_SOURCE, Calculator, Given, IncompleteError, Input, Outcome, Result
from .neck import FAMILY

# Table 4-2 of the handbook was compared from 30 to 130 degrees Fahrenheit, 5 to 95 % of humidity.
CHECKED_C = (-1.2, 54.5)
CHECKED_PERCENT = (5.0, 95.0)

Rooms = Mapping[str, Climate]

TEMPERATURE = Input(
    "temperature", "Temperature of the room", "degC", default="20 degC", low=-100.0, high=150.0, valid=CHECKED_C
)
HUMIDITY = Input("humidity", "Relative humidity", "%", required=True, low=0.0, high=100.0, valid=CHECKED_PERCENT)
HANDBOOK = "Wood Handbook, FPL-GTR-190 (2010)"


def _moisture(given: Given) -> Outcome:
    percent = timber.equilibrium_moisture_percent(given.number("temperature"), given.number("humidity") / 100)
    return Outcome((Result("moisture", "Moisture that wood comes to", percent, "%"),))


MOISTURE = Calculator(
    "moisture",
    "Moisture of wood",
    "The moisture content that wood comes to, as a share of its dry weight, in a room of this climate.",
    (replace(TEMPERATURE, default=None, required=True), HUMIDITY),
    _moisture,
    HANDBOOK + ", eq. 4-5 (after Hailwood and Horrobin; Simpson 1973)",
    "For bare wood that has had time, weeks for thick parts. Kinds of wood differ by about 1 % of moisture; varnish "
    "only slows it. The printed table, rounded to 0.1, is met within 0.066.",
    {"temperature": "70 degF", "humidity": "50 %"},
    plot=("humidity", 20.0, 80.0),
)


def _moisture_at(given: Given, end: str) -> float:
    """Moisture at an end of the swing, given itself or by the room's humidity."""
    if given.has(f"{end}_moisture"):
        if given.has(f"{end}_humidity"):
            raise IncompleteError(f"give {end}_moisture or {end}_humidity, not both")
        return given.number(f"{end}_moisture")
    if not given.has(f"{end}_humidity"):
        raise IncompleteError(f"give {end}_humidity or {end}_moisture")
    return timber.equilibrium_moisture_percent(given.number("temperature"), given.number(f"{end}_humidity") / 100)


def _coefficient(given: Given) -> tuple[float, str]:
    """Change per per cent of moisture, and where it comes from: given, from shrinkage, or by species."""
    ways = [name for name in ("coefficient", "shrinkage", "species") if given.has(name)]
    if len(ways) != 1:
        raise IncompleteError("give one of species, shrinkage and coefficient")
    if ways == ["coefficient"]:
        return given.number("coefficient"), "as given"
    if ways == ["shrinkage"]:
        return timber.coefficient_from_shrinkage(given.number("shrinkage")), "from the shrinkage given"
    species = timber.SPECIES[given.word("species")]
    if not given.has("direction"):
        raise IncompleteError("give the direction: radial or tangential")
    found = species.radial if given.word("direction") == "radial" else species.tangential
    if found is None:
        raise IncompleteError(f"no published shrinkage of {species.say} was found; give one with shrinkage")
    return found, species.source


def _doubtful(species: str) -> tuple[str, ...]:
    """What makes a wood's figures doubtful, as a warning."""
    wood = timber.SPECIES[species]
    return (f"{wood.say}: {wood.doubt}.",) if wood.doubt else ()


def _wood_movement(given: Given) -> Outcome:
    coefficient, source = _coefficient(given)
    start, end = _moisture_at(given, "from"), _moisture_at(given, "to")
    size = given.number("size")
    also = [
        Result("from_moisture", "Moisture before", start, "%"),
        Result("to_moisture", "Moisture after", end, "%"),
        Result("coefficient", "Share of its size for each 1 % of moisture", coefficient),
        Result("coefficient_source", "Where that comes from", source),
    ]
    if given.has("shrinkage"):
        left = timber.shrinkage_at_percent(given.number("shrinkage"), end)
        also.append(Result("shrinkage_at_end", "Shrunk since it was green, after", left, "%"))
    warnings = list(_doubtful(given.word("species"))) if given.has("species") else []
    low, high = timber.LINEAR_RANGE
    reckoned = [m for name, m in (("from", start), ("to", end)) if not given.has(f"{name}_moisture")]
    if any(not low <= value <= high for value in reckoned):
        warnings.append(f"The straight law is meant for {low:g} to {high:g} % of moisture; this swing goes beyond.")
    change = timber.change_mm(size, coefficient, start, end)
    main = (Result("change", "Change of size, - is smaller", change, "mm"),)
    return Outcome(main, tuple(also), tuple(warnings))


WOOD_MOVEMENT = Calculator(
    "wood_movement",
    "Movement of wood",
    "How much a piece of wood grows or shrinks across its grain when the humidity of the room changes.",
    (
        Input("size", "Size across the grain", "mm", required=True, above=0.0),
        Input("species", "Wood", kind="choice", choices={name: one.say for name, one in timber.SPECIES.items()}),
        Input(
            "direction",
            "Direction across the grain",
            kind="choice",
            choices={"radial": "Across the growth rings (quarter cut)", "tangential": "Along them (slab cut)"},
        ),
        Input("from_humidity", "Humidity before", "%", low=0.0, high=100.0, valid=CHECKED_PERCENT),
        Input("to_humidity", "Humidity after", "%", low=0.0, high=100.0, valid=CHECKED_PERCENT),
        TEMPERATURE,
        Input(
            "from_moisture",
            "Or the wood's moisture before",
            "%",
            low=0.0,
            high=timber.FIBRE_SATURATION,
            valid=timber.LINEAR_RANGE,
        ),
        Input("to_moisture", "and after", "%", low=0.0, high=timber.FIBRE_SATURATION, valid=timber.LINEAR_RANGE),
        Input("shrinkage", "Instead of a wood: its shrinkage from green to dry", "%", low=0.0, high=40.0),
        Input("coefficient", "or its change for each 1 % of moisture, as a share of size", low=0.0, high=0.02),
    ),
    _wood_movement,
    HANDBOOK + ", eq. 13-2 and table 13-5; woods missing there from their shrinkage, eq. 4-9",
    "Up to this much, after weeks: finish and time damp a season's swing. Along the grain wood hardly moves, about 0.1 "
    "to 0.2 % from green to dry (from memory), so no figure is given for that.",
    {
        "size": "200 mm",
        "species": "norway_spruce",
        "direction": "radial",
        "from_humidity": "60 %",
        "to_humidity": "30 %",
    },
    plot=("to_humidity", 20.0, 80.0),
)


def _year(given: Given, rooms: Rooms) -> tuple[tuple[float, float], ...]:
    """(temperature, humidity) of each time of the year."""
    if given.has("humidity"):
        return tuple((given.number("temperature"), percent) for percent in given.all("humidity"))
    room = rooms[given.word("climate")]
    return tuple(zip(room.temperature, room.humidity, strict=True))


def gaps_over_year(given: Given, rooms: Rooms) -> tuple[pegs.PegGap, ...]:
    """Gap of the peg at each time of the year, against the day on which it fitted."""
    fitted = timber.equilibrium_moisture_percent(given.number("temperature"), given.number("fitted_humidity") / 100)
    return tuple(
        pegs.gap_change(
            given.number("diameter"),
            given.word("material"),
            fitted,
            timber.equilibrium_moisture_percent(degrees, percent / 100),
        )
        for degrees, percent in _year(given, rooms)
    )


def _wear(given: Given, taper: float) -> tuple[tuple[Result, ...], tuple[str, ...]]:
    """Travel and refits left before the house's limit, where one is given."""
    if not given.has("limit"):
        return (), ()
    now, limit = given.number("diameter"), given.number("limit")
    left = pegs.travel_mm(now, limit, taper)
    results = (
        Result("travel_left", "Travel left before bushing", left, "mm"),
        Result("refits_left", "Refits left", pegs.refits_left(now, limit, given.number("per_refit")), counted=True),
    )
    return results, ("The hole is already wider than the limit.",) if left < 0 else ()


def _through_the_year(given: Given, gaps: tuple[pegs.PegGap, ...]) -> tuple[Result, ...]:
    """The larger change of each month, or of each humidity given."""
    names = [f"{value:g} %" for value in given.all("humidity")] or list(MONTHS)
    keys = [f"gap_{i}" for i in range(1, len(gaps) + 1)]
    return tuple(
        Result(key, f"Gap at {name}" if given.has("humidity") else f"Gap in {name}", gap.largest_mm, "mm")
        for key, name, gap in zip(keys, names, gaps, strict=True)
    )


def _hardness(material: str) -> tuple[Result, ...]:
    """The peg's side hardness in hard maples, where a table has it."""
    peg, box = timber.SPECIES[material].hardness_n, timber.SPECIES["sugar_maple"].hardness_n
    return (Result("hardness", "Times as hard as hard maple", peg / box, "ratio"),) if peg and box else ()


def _peg_fit(given: Given, rooms: Rooms) -> Outcome:
    taper = given.number("taper") if given.has("taper") else pegs.TAPER[given.word("family")]
    gaps = gaps_over_year(given, rooms)
    main = (
        Result(
            "tightest",
            "Tightest of the year, in the direction that binds first",
            min(g.tightest_mm for g in gaps),
            "mm",
        ),
        Result(
            "loosest", "Loosest of the year, in the direction that parts first", max(g.loosest_mm for g in gaps), "mm"
        ),
    )
    wear, warnings = _wear(given, taper)
    widest = max(main[1].value, 0.0) if isinstance(main[1].value, float) else 0.0
    also = (
        *_through_the_year(given, gaps),
        Result("out_of_round", "Most that peg and hole part from round", max(g.out_of_round_mm for g in gaps), "mm"),
        Result("push", "At most so far to push the peg in again", pegs.travel_to_close_mm(widest, taper), "mm"),
        Result("cone_angle", "Full angle of the cone", pegs.cone_angle_deg(taper), "deg"),
        *_hardness(given.word("material")),
        *wear,
    )
    return Outcome(main, also, (*warnings, *_doubtful(given.word("material"))))


def peg_fit(known: Seasons) -> Calculator:
    """The calculator for these rooms."""
    rooms = known.rooms
    return Calculator(
        "peg_fit",
        "Fit of a peg",
        "How a peg and its hole part and bind over the year's humidity, and how much reaming is left.",
        (
            Input("diameter", "Diameter of the hole", "mm", required=True, above=0.0, valid=(4.0, 16.0)),
            Input(
                "material",
                "Wood of the peg",
                kind="choice",
                default="boxwood",
                choices={name: timber.SPECIES[name].say for name in ("boxwood", "ebony", "rosewood", "jujube")},
            ),
            FAMILY,
            Input("taper", "Taper 1 : n, where it is another than the instrument's", above=0.0, valid=(15.0, 50.0)),
            Input(
                "climate",
                "Climate of the room",
                kind="choice",
                default="heated_inland",
                choices={name: one.say for name, one in rooms.items()},
            ),
            Input(
                "humidity",
                "Or humidities met in a year",
                "%",
                low=0.0,
                high=100.0,
                valid=CHECKED_PERCENT,
                many=True,
                most=60,
            ),
            Input(
                "fitted_humidity",
                "Humidity when it fitted",
                "%",
                default="50 %",
                low=0,
                high=100,
                valid=CHECKED_PERCENT,
            ),
            TEMPERATURE,
            Input("limit", "Diameter at which your house bushes a hole", "mm", above=0.0),
            Input("per_refit", "Reamed away at each refit", "mm", default="0.2 mm", above=0.0),
        ),
        partial(_peg_fit, rooms=rooms),
        HANDBOOK + ", eq. 4-5 and 13-2; boxwood, ebony and rosewood from published shrinkage and side hardness; "
        "tapers 1 : 30 and 1 : 25; "
        "climates and reaming " + NO_SOURCE,
        "Up to this much, after weeks at each humidity: finish, chalk and time damp it. No published limit for "
        "bushing was found: give your house's own. The peg box is taken as European maple.",
        {"diameter": "7.5 mm", "material": "boxwood", "climate": "heated_inland", "limit": "8.5 mm"},
        caution="Never force a peg that binds in a damp season: it can split the peg box. A peg that must be pushed "
        "hard to hold wedges the cheeks apart.",
        rooms=rooms,
    )


ALL = (MOISTURE, WOOD_MOVEMENT)
