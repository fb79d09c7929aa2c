"""Calculators about the bridge: its load, its arch, the string's angle over it."""

from ..lutherie import ImpossibleError, strings
from ..lutherie.lengths import arch, string_line
from .model import NO_SOURCE, Calculator, Given, IncompleteError, Input, Outcome, Result


def _spread(given: Given, name: str, count: int) -> tuple[float, ...]:
    """One value for each string; a single one stands for all."""
    values = given.all(name)
    if len(values) == 1:
        return values * count
    if len(values) != count:
        raise IncompleteError(f"{name} has {len(values)} values for {count} strings")
    return values


def _loads(given: Given) -> tuple[strings.Load, ...]:
    pulls = given.all("tension")
    places = [name for name in ("nut", "notch", "saddle") if given.has(name)]
    angles = [name for name in ("front", "back") if given.has(name)]
    if places and angles:
        raise IncompleteError("give points or angles, not both")
    if len(places) == 3:
        sets = [given.points(name, 3) for name in places]
        for name, found in zip(places, sets, strict=True):
            if len(found) != len(pulls):
                raise IncompleteError(f"{name} has {len(found)} points for {len(pulls)} strings")
        return tuple(
            strings.string_load(pull, (n[0], n[1], n[2]), (p[0], p[1], p[2]), (s[0], s[1], s[2]))
            for pull, n, p, s in zip(pulls, *sets, strict=True)
        )
    if len(angles) == 2:
        falls = [_spread(given, name, len(pulls)) for name in ("front", "back", "lean")]
        return tuple(strings.planar_load(*one) for one in zip(pulls, *falls, strict=True))
    raise IncompleteError("give nut, notch and saddle as points, or the angles front and back")


def _feet(given: Given, loads: tuple[strings.Load, ...]) -> tuple[Result, ...]:
    """What each foot carries, where the feet are given."""
    if not (given.has("bass_foot") or given.has("treble_foot")):
        return ()
    if not (given.has("bass_foot") and given.has("treble_foot")):
        raise IncompleteError("give bass_foot and treble_foot together")
    if given.has("notch"):
        notches = [(point[1], point[2]) for point in given.points("notch", 3)]
    elif given.has("across") and given.has("height"):
        pairs = (_spread(given, name, len(loads)) for name in ("across", "height"))
        notches = list(zip(*pairs, strict=True))
    else:
        raise IncompleteError("the share of the feet needs across and height of each notch")
    bass, treble = strings.foot_loads_n(loads, notches, given.number("bass_foot"), given.number("treble_foot"))
    down = bass + treble
    shares = () if down == 0 else (Result("bass_share", "Share of the bass foot", bass / down),)
    feet = Result("bass_foot", "On the bass foot", bass, "N"), Result("treble_foot", "On the treble foot", treble, "N")
    return (*feet, *shares)


def _downforce(given: Given) -> Outcome:
    loads = _loads(given)
    all_in = strings.total_load(loads)
    pull = sum(given.all("tension"))
    also = (
        Result("lateral", "Sideways, towards the treble", all_in.lateral_n, "N"),
        Result("along", "Along the body, towards the tailpiece", all_in.along_n, "N"),
        Result("share_of_tension", "Share of the strings' tension", all_in.down_n / pull),
        *_feet(given, loads),
    )
    lifted = ("The strings lift the bridge: look at the order of the heights.",) if all_in.down_n <= 0 else ()
    return Outcome((Result("down", "Load on the top", all_in.down_n, "N"),), also, lifted)


DOWNFORCE = Calculator(
    "downforce",
    "Load on the bridge",
    "How hard the strings press the bridge on the top, push it sideways and along, and what each foot carries.",
    (
        Input("tension", "Tension of each string", "N", required=True, above=0.0, many=True, most=12),
        Input("front", "Fall of the playing length below the level", "deg", low=-30, high=90, many=True, most=12),
        Input("back", "Fall of the afterlength below the level", "deg", low=-30, high=90, many=True, most=12),
        Input(
            "lean",
            "Lean of a string's plane to the treble",
            "deg",
            default="0 deg",
            low=-60,
            high=60,
            many=True,
            most=12,
        ),
        Input("across", "Notches, from the middle to the treble", "mm", many=True, most=12),
        Input("height", "Notches, height above the feet", "mm", many=True, most=12),
        Input("nut", "Points at the nut: along, across, up", "mm", kind="points", width=3, most=12),
        Input("notch", "Points at the bridge", "mm", kind="points", width=3, most=12),
        Input("saddle", "Points where the strings leave the tailpiece", "mm", kind="points", width=3, most=12),
        Input("bass_foot", "Middle of the bass foot, across", "mm"),
        Input("treble_foot", "Middle of the treble foot, across", "mm"),
    ),
    _downforce,
    "Sum of the two pulls at each notch (statics); the share of the feet as in G. Hart, The Violin (1875)",
    "With the same tension on both sides of the notch: a string that sticks there pulls differently before and behind. "
    "The arch of the bridge does not set the direction of the load, the three points of each string do.",
    {
        "tension": "45; 45; 55; 75",
        "front": "7 deg",
        "back": "15 deg",
        "across": "-16.5; -5.6; 5.6; 16.5",
        "height": "32; 35; 35; 31",
        "bass_foot": "-19 mm",
        "treble_foot": "19 mm",
    },
    caution="Never let all strings down at once to look: the soundpost can fall.",
    plot=("back", 5.0, 25.0),
)


def _break_angle(given: Given) -> Outcome:
    nut, notch, saddle = (given.number(name) for name in ("nut_height", "notch_height", "saddle_height"))
    included, front, back = string_line.break_angle_deg(
        given.number("length"), notch - nut, given.number("afterlength"), notch - saddle
    )
    also = (
        Result("turn", "Turn of the string over the bridge", front + back, "deg"),
        Result("front", "Fall towards the nut", front, "deg"),
        Result("back", "Fall towards the tailpiece", back, "deg"),
    )
    return Outcome((Result("angle", "Angle of the string over the bridge", included, "deg"),), also)


BREAK_ANGLE = Calculator(
    "break_angle",
    "Angle over the bridge",
    "The angle of a string over the bridge from the heights of nut, notch and tailpiece over one level.",
    (
        Input("length", "Playing length, along the string", "mm", required=True, above=0.0, valid=(100.0, 900.0)),
        Input("nut_height", "Height of the string at the nut over the level of the top's edge", "mm", required=True),
        Input("notch_height", "Height of the notch over the same level", "mm", required=True),
        Input("afterlength", "Afterlength, along the string", "mm", required=True, above=0.0, valid=(20.0, 200.0)),
        Input("saddle_height", "Height where the string leaves the tailpiece", "mm", required=True),
    ),
    _break_angle,
    "Plane geometry",
    "For a string in the middle plane; outer strings run slightly askew and bend a little more.",
    {
        "length": "328 mm",
        "nut_height": "5 mm",
        "notch_height": "46 mm",
        "afterlength": "54.5 mm",
        "saddle_height": "32 mm",
    },
    plot=("saddle_height", 20.0, 44.0),
)


def _projection(given: Given) -> Outcome:
    figures = (given.number(name) for name in ("near_height", "end_height", "between", "to_bridge"))
    height = string_line.projection_mm(*figures)
    return Outcome((Result("projection", "Height of the board's line at the bridge", height, "mm"),))


PROJECTION = Calculator(
    "projection",
    "Projection of the board",
    "How high the line of the fingerboard meets the bridge, from two heights of the board over the top's edge.",
    (
        Input("near_height", "Height of the board's top near the body's edge", "mm", required=True),
        Input("end_height", "Height of the board's top at its end", "mm", required=True),
        Input("between", "Distance between the two places", "mm", required=True, above=0.0, valid=(40.0, 400.0)),
        Input("to_bridge", "From the board's end to the bridge", "mm", required=True, low=0.0, valid=(20.0, 200.0)),
    ),
    _projection,
    "Plane geometry",
    "For a straight board; its hollow of about a millimetre moves the answer by as much. Errors of the two heights "
    "grow with the distance to the bridge.",
    {"near_height": "14 mm", "end_height": "22.5 mm", "between": "140 mm", "to_bridge": "60 mm"},
    plot=("end_height", 20.0, 25.0),
)


def _circle(given: Given) -> tuple[arch.Circle, float]:
    """The bridge's circle and the standard uncertainty of its radius."""
    doubt = given.number("doubt")
    if given.has("notch"):
        if given.has("chord") or given.has("rise"):
            raise IncompleteError("give notches, or chord and rise, not both")
        points = [(point[0], point[1]) for point in given.points("notch", 2)]
        if len(set(points)) < len(points):
            raise IncompleteError("two of the notches coincide")
        return arch.fitted_circle(points), arch.radius_uncertainty(points, doubt)
    if not (given.has("chord") and given.has("rise")):
        raise IncompleteError("give three or more notches, or chord and rise")
    chord, rise = given.number("chord"), given.number("rise")
    radius = arch.radius_from_rise(chord, rise)
    return arch.Circle(0.0, rise - radius, radius), abs(0.5 - chord**2 / (8 * rise**2)) * doubt


def _against(name: str, radius: float) -> Result:
    one = arch.ARCHES[name]
    where = "within" if one.low <= radius <= one.high else "flatter than" if radius > one.high else "rounder than"
    say = name.replace("_", ", ")
    return Result(name, f"Against a usual arch, {say}", f"{where} {one.low:g} to {one.high:g} mm")


CLEARANCE = ("nut", "length", "board_length", "board_radius", "crown")


def _clearances(given: Given) -> tuple[Result, ...]:
    """Height of each string over the board's end, where nut and board are given."""
    asked = [name for name in CLEARANCE if given.has(name)]
    if not asked:
        return ()
    missing = [name for name in (*CLEARANCE, "notch") if not given.has(name)]
    if missing:
        raise IncompleteError(f"string clearances also need {', '.join(missing)}")
    nuts, notches = given.points("nut", 2), given.points("notch", 2)
    if len(nuts) != len(notches):
        raise IncompleteError(f"nut has {len(nuts)} points for {len(notches)} notches")
    share = given.number("board_length") / given.number("length")
    if share > 1:
        raise ImpossibleError("the board is longer than the playing length")
    crown, radius = given.number("crown"), given.number("board_radius")
    return tuple(
        Result(
            f"clearance_{i}",
            f"String {i} over the board's end",
            arch.clearance_mm((n[0], n[1]), (p[0], p[1]), share, crown, radius),
            "mm",
        )
        for i, (n, p) in enumerate(zip(nuts, notches, strict=True), 1)
    )


def _bridge_arch(given: Given) -> Outcome:
    circle, u = _circle(given)
    also = [Result("residual", "How far the notches lie from the circle", circle.residual, "mm")]
    also += [_against(name, circle.radius) for name in arch.ARCHES]
    also += _clearances(given)
    points = len(given.points("notch", 2)) if given.has("notch") else 0
    warnings = []
    if circle.residual > 3 * max(given.number("doubt"), 1e-9):
        warnings.append("The notches lie farther from any circle than their doubt allows: one of them is off.")
    if points == 3:
        warnings.append("Three notches always fit a circle: a fourth would show whether one of them is off.")
    return Outcome((Result("radius", "Radius of the arch", circle.radius, "mm", u),), tuple(also), tuple(warnings))


BRIDGE_ARCH = Calculator(
    "bridge_arch",
    "Arch of the bridge",
    "The radius of the curve of the strings, with its doubt, and the height of the strings over the board's end.",
    (
        Input("notch", "Notches: across, up", "mm", kind="points", width=2, least=3, most=12),
        Input("chord", "Or: width between two outer notches", "mm", above=0.0),
        Input("rise", "and the rise of the arch between them", "mm", above=0.0),
        Input(
            "doubt",
            "Standard uncertainty of each notch",
            "mm",
            default="0.1 mm",
            low=0.0,
            valid=(0.0, 1.0),
            doubt=False,
        ),
        Input("nut", "For clearances: strings at the nut: across, up", "mm", kind="points", width=2, most=12),
        Input("length", "Playing length", "mm", above=0.0),
        Input("board_length", "Length of the board from the nut", "mm", above=0.0),
        Input("board_radius", "Radius of the board at its end", "mm", above=0.0),
        Input("crown", "Height of the middle of the board's end, same level as the notches", "mm"),
    ),
    _bridge_arch,
    "Circle through three points; geometric least squares through more; usual arches: " + NO_SOURCE,
    "Notches span a short arc, so 0.1 mm in each moves the radius by more than a millimetre: state it no finer. The "
    "usual arches are for full size and from memory.",
    {"notch": "-16.75,3.5; -5.6,6.5; 5.6,6.5; 16.75,3.5"},
)

ALL = (DOWNFORCE, BREAK_ANGLE, PROJECTION, BRIDGE_ARCH)
