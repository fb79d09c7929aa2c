"""Calculators about proportions of the string: afterlength and stop."""

from ..lutherie.lengths import string_line
from .model import NO_SOURCE, Calculator, Given, Input, Outcome, Result


def _afterlength(given: Given) -> Outcome:
    length = given.number("length")
    main = (Result("target", "Afterlength to aim at, one sixth", string_line.target_afterlength_mm(length), "mm"),)
    if not given.has("afterlength"):
        return Outcome(main)
    behind = given.number("afterlength")
    move = string_line.tail_cord_change_mm(length, behind)
    semitones = string_line.afterlength_semitones(length, behind)
    also = (
        Result("ratio", "Playing length to afterlength", length / behind),
        Result("semitones", "It sounds above the open string", semitones, "semitone"),
        Result(
            "cents",
            "From two octaves and a fifth",
            string_line.cents_from_two_octaves_and_a_fifth(length, behind),
            "cent",
        ),
        Result("move", "Move the tailpiece away from the bridge (+) or towards it (-)", move, "mm"),
    )
    return Outcome(main, also)


AFTERLENGTH = Calculator(
    "afterlength",
    "Afterlength",
    "The afterlength that is one sixth of the playing length, and how far a measured one is from it.",
    (
        Input("length", "Playing length, nut to bridge", "mm", required=True, above=0.0, valid=(100.0, 900.0)),
        Input("afterlength", "Afterlength, bridge to where the string leaves the tailpiece", "mm", above=0.0),
    ),
    _afterlength,
    "One sixth: " + NO_SOURCE + "; the interval is 12 log2(L / l), the law of the ideal string",
    "Windings behind the bridge and friction at the notch shift what it really sounds. What it does for the tone is "
    "workshop opinion: no figure is given for that, as no source has one.",
    {"length": "328 mm", "afterlength": "56 mm"},
    caution="Do not let all strings down at once to move the tailpiece: the soundpost can fall.",
    plot=("length", 280.0, 380.0),
)

FAMILY = Input(
    "family",
    "Instrument",
    kind="choice",
    default="violin",
    choices={"violin": "Violin", "viola": "Viola", "cello": "Cello"},
)


def _stop_ratio(given: Given) -> Outcome:
    neck, body, family = given.number("neck_stop"), given.number("body_stop"), given.word("family")
    wanted = string_line.target_neck_stop_mm(body, family)
    also = (
        Result("target", "Ratio to aim at", string_line.STOP_RATIOS[family]),
        Result("neck_stop_wanted", "Neck stop that goes with this body", wanted, "mm"),
        Result("off", "The neck is longer (+) or shorter (-) than that by", neck - wanted, "mm"),
    )
    return Outcome((Result("ratio", "Neck stop to body stop", string_line.stop_ratio(neck, body)),), also)


STOP_RATIO = Calculator(
    "stop_ratio",
    "Stop",
    "The neck stop to the body stop, against 2 : 3 of violin and viola and 7 : 10 of the cello.",
    (
        Input("neck_stop", "Neck stop, nut to the top's edge", "mm", required=True, above=0.0, valid=(60.0, 320.0)),
        Input(
            "body_stop",
            "Body stop, top's edge to the notches of the sound holes",
            "mm",
            required=True,
            above=0.0,
            valid=(90.0, 450.0),
        ),
        FAMILY,
    ),
    _stop_ratio,
    "Ratios that makers' tables agree on, common practice, from memory",
    "For every size. Old and odd violas depart from it on purpose.",
    {"neck_stop": "130 mm", "body_stop": "195 mm"},
    plot=("neck_stop", 124.0, 136.0),
)

ALL = (AFTERLENGTH, STOP_RATIO)
