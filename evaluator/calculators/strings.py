"""Calculators about strings: pitch, tension, mass."""

from ..lutherie import ImpossibleError, strings
from ..lutherie.strings import cents, equal_frequency_hz, fifths_frequency_hz, note_number
from .model import Calculator, Given, IncompleteError, Input, Outcome, Result

USUAL_A4_HZ = (380.0, 480.0)
USUAL_HZ = (25.0, 4500.0)
USUAL_DENSITY = (0.2, 25.0)  # g/m, from a violin's E to a cello's C
USUAL_TENSION_N = (15.0, 250.0)

A4 = Input("a4", "Frequency of A4", "Hz", default="440 Hz", above=0.0, valid=USUAL_A4_HZ)
TUNING = Input(
    "tuning",
    "How the note is tuned",
    kind="choice",
    default="equal",
    choices={"equal": "Equal temperament", "fifths": "Pure fifths from A, as strings are tuned"},
)
LENGTH = Input("length", "Playing length, nut to bridge", "mm", required=True, above=0.0, valid=(100.0, 900.0))
NOTES = Input("note", "Notes of the strings", kind="note", many=True, most=12)
FREQUENCIES = Input(
    "frequency", "Frequencies of the strings, instead of notes", "Hz", above=0.0, valid=USUAL_HZ, many=True, most=12
)


def note_hz(note: str, tuning: str, a4_hz: float) -> float:
    number = note_number(note)
    if number is None:
        raise ImpossibleError(f'"{note}" is not a note')
    return (fifths_frequency_hz if tuning == "fifths" else equal_frequency_hz)(number, a4_hz)


def _pitch(given: Given) -> Outcome:
    if given.has("note"):
        wanted = note_hz(given.word("note"), given.word("tuning"), given.number("a4"))
        main = Result("frequency", f"Frequency of {given.word('note')}", wanted, "Hz")
        if not given.has("frequency"):
            return Outcome((main,))
        away = cents(given.number("frequency"), wanted)
        return Outcome((main,), (Result("cents", "Frequency given, above (+) or below (-) it", away, "cent"),))
    if not (given.has("frequency") and given.has("reference")):
        raise IncompleteError("give a note, or a frequency and a reference")
    interval = cents(given.number("frequency"), given.number("reference"))
    return Outcome((Result("cents", "Interval from the reference up to the frequency", interval, "cent"),))


PITCH = Calculator(
    "pitch",
    "Pitch of a note",
    "The frequency of a note, and how many cents one frequency lies from another.",
    (
        Input("note", "Note with its octave", kind="note"),
        A4,
        TUNING,
        Input("frequency", "A frequency to compare", "Hz", above=0.0),
        Input("reference", "What to compare it with, where no note is given", "Hz", above=0.0),
    ),
    _pitch,
    "Definition of equal temperament and of the pure fifth 3 : 2; A4 = 440 Hz from ISO 16:1975",
    "By definition for every pitch. Pure fifths are how open strings are tuned, not how a scale is played.",
    {"note": "G3", "a4": "442 Hz", "tuning": "fifths"},
    plot=("a4", 415.0, 445.0),
)


def frequencies_hz(given: Given) -> tuple[float, ...]:
    """The frequencies given, or those of the notes given."""
    if given.has("frequency"):
        if given.has("note"):
            raise IncompleteError("give notes or frequencies, not both")
        return given.all("frequency")
    if not given.has("note"):
        raise IncompleteError("give the notes or the frequencies of the strings")
    return tuple(note_hz(note, given.word("tuning"), given.number("a4")) for note in given.words["note"])


def _same_count(what: str, count: int, other: str, other_count: int) -> None:
    if count != other_count:
        raise IncompleteError(f"there are {count} {what} and {other_count} {other}; give one of each for every string")


def _densities(given: Given) -> tuple[float, ...]:
    """Linear densities in kg/m, given or from the diameters of plain strings."""
    if given.has("linear_density"):
        if given.has("diameter"):
            raise IncompleteError("give linear densities or diameters, not both")
        return tuple(value / 1000 for value in given.all("linear_density"))
    if not given.has("diameter"):
        raise IncompleteError("give the linear density, or the diameter of a plain string, or a stated tension")
    material = given.number("density")
    return tuple(strings.plain_string_density_kg_per_m(material, value / 1000) for value in given.all("diameter"))


def _restated(given: Given, pitches: tuple[float, ...]) -> tuple[float, ...]:
    """The maker's tensions carried from the length and pitches at which they are stated."""
    if given.has("linear_density") or given.has("diameter"):
        raise IncompleteError("give a stated tension or what the string weighs, not both")
    if not (given.has("stated_length") and given.has("stated_frequency")):
        raise IncompleteError("a stated tension needs stated_length and stated_frequency beside it")
    stated, at = given.all("stated_tension"), given.all("stated_frequency")
    _same_count("stated tensions", len(stated), "stated frequencies", len(at))
    _same_count("stated tensions", len(stated), "pitches", len(pitches))
    old, new = given.number("stated_length"), given.number("length")
    return tuple(strings.tension_at_n(t, old, f, new, hz) for t, f, hz in zip(stated, at, pitches, strict=True))


def _tensions(given: Given) -> tuple[float, ...]:
    pitches = frequencies_hz(given)
    if given.has("stated_tension"):
        return _restated(given, pitches)
    densities = _densities(given)
    _same_count("strings", len(densities), "pitches", len(pitches))
    length = given.number("length") / 1000
    return tuple(strings.tension_n(mu, length, hz) for mu, hz in zip(densities, pitches, strict=True))


def _string_tension(given: Given) -> Outcome:
    pulls = _tensions(given)
    unusual = tuple(
        f"{pull:.0f} N is an unusual pull for one string; look at the units of what was given."
        for pull in pulls
        if not USUAL_TENSION_N[0] <= pull <= USUAL_TENSION_N[1]
    )
    if len(pulls) == 1:
        return Outcome((Result("tension", "Tension of the string", pulls[0], "N"),), (), unusual)
    each = tuple(Result(f"string_{i}", f"String {i}", pull, "N") for i, pull in enumerate(pulls, 1))
    return Outcome((Result("total", "Tension of all strings together", sum(pulls), "N"),), each, unusual)


_IDEAL = (
    "For a thin string that bends freely: stiffness and the ends of a real one leave about 1 % of doubt. For a wound "
    "string give its weight per length or the tension its maker states; a diameter says nothing about it."
)

STRING_TENSION = Calculator(
    "string_tension",
    "Tension of strings",
    "What a string pulls at its pitch, and what a set pulls together.",
    (
        LENGTH,
        NOTES,
        FREQUENCIES,
        Input("linear_density", "Weight per length", "g/m", above=0.0, valid=USUAL_DENSITY, many=True, most=12),
        Input("diameter", "Diameter of a plain string", "mm", above=0.0, valid=(0.15, 3.0), many=True, most=12),
        Input("density", "Density of a plain string", "kg/m3", default="7850 kg/m3", above=0.0, valid=(900.0, 22000.0)),
        Input("stated_tension", "Tension that the maker states", "N", above=0.0, many=True, most=12),
        Input("stated_length", "Playing length for which it is stated", "mm", above=0.0),
        Input("stated_frequency", "Frequency for which it is stated", "Hz", above=0.0, many=True, most=12),
        A4,
        TUNING,
    ),
    _string_tension,
    "T = mu (2 L f)^2, textbook physics of the flexible string",
    _IDEAL,
    {"length": "328 mm", "note": "G3; D4; A4; E5", "linear_density": "2.6; 1.35; 0.75; 0.40 g/m"},
    plot=("length", 300.0, 350.0),
)


def _string_mass(given: Given) -> Outcome:
    pulls, pitches = given.all("tension"), frequencies_hz(given)
    _same_count("tensions", len(pulls), "pitches", len(pitches))
    length = given.number("length") / 1000
    densities = [strings.linear_density_kg_per_m(t, length, f) * 1000 for t, f in zip(pulls, pitches, strict=True)]
    grams = Result("mass", "Weight of the playing length of all strings", sum(densities) * length, "g")
    if len(densities) == 1:
        return Outcome((Result("linear_density", "Weight per length", densities[0], "g/m"),), (grams,))
    each = tuple(Result(f"string_{i}", f"String {i}", value, "g/m") for i, value in enumerate(densities, 1))
    return Outcome(each, (grams,))


STRING_MASS = Calculator(
    "string_mass",
    "Weight of strings",
    "The weight per length that a string must have to pull a given tension at its pitch.",
    (
        Input("tension", "Tension", "N", required=True, above=0.0, valid=USUAL_TENSION_N, many=True, most=12),
        LENGTH,
        NOTES,
        FREQUENCIES,
        A4,
        TUNING,
    ),
    _string_mass,
    "mu = T / (2 L f)^2, textbook physics of the flexible string",
    _IDEAL,
    {"tension": "55 N", "length": "328 mm", "note": "A4"},
    plot=("length", 300.0, 350.0),
)

ALL = (PITCH, STRING_TENSION, STRING_MASS)
