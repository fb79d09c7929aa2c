"""The one list of calculators, in the order in which they are shown. Some need facts that are read from a file."""

from collections.abc import Callable, Mapping

from ..rubric.knowledge import Seasons
from . import bridge, care, estimates, measuring, neck, strings, wood
from .model import Calculator

_MODULES = (strings, bridge, neck, wood, care, measuring, estimates)
PLAIN: Mapping[str, Calculator] = {one.name: one for module in _MODULES for one in module.ALL}
OF_FACTS: Mapping[str, Callable[[Seasons], Calculator]] = {"peg_fit": wood.peg_fit, "tuner_mass": care.tuner_mass}
ORDER = (
    *("pitch", "string_tension", "string_mass", "downforce", "break_angle", "projection", "bridge_arch", "afterlength"),
    *("stop_ratio", "moisture", "wood_movement", "peg_fit", "tuner_mass", "service_due", "conformity", "uncertainty"),
    *("three_point", "photo_scale"),
)


def calculators(known: Seasons) -> Mapping[str, Calculator]:
    """All of them, by name."""
    every = {**PLAIN, **{name: made(known) for name, made in OF_FACTS.items()}}
    return {name: every[name] for name in ORDER}
