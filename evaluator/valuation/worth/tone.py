"""How its sound places an instrument among others of its class: one that sounds bad everywhere sells for far less.

What work can cure is cost, and what a repair cannot make good is a share of value; sound is the one quality left that
neither holds. It is counted as it was given, also where it was heard through a bad bridge: else a worse bridge would
raise the value of an instrument that sounds bad.
"""

from collections.abc import Mapping
from math import exp

from ...rubric.rubric import Rubric
from .answers import Answer, general_worth

HEARD = ("sound", "bow_play")  # parts of the rubric in which one listens or plays


def tone_place(rubric: Rubric, answers: Mapping[str, Answer]) -> float:
    """The factor on its value, 1 where nobody listened; a better answer never lowers it."""
    total = told = 0.0
    usual = rubric.figure("usual_sound")
    for name, check in rubric.checks.items():
        strength = check.evidence_of.get("tone", 0.0)
        if check.part not in HEARD or strength <= 0.0 or not check.outcomes:
            continue
        weight = strength * check.usual_weight
        total += weight
        answer = answers.get(name)
        if answer is not None:
            told += weight * answer.sure * (general_worth(answer.outcome) - usual)
    if total <= 0.0:
        return 1.0
    place = told / total
    return exp(place * rubric.figure("good_sound_gives" if place > 0.0 else "bad_sound_takes"))
