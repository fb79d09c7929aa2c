"""The one list of calculators, in the order in which they are shown."""

from collections.abc import Mapping

from . import bridge, care, estimates, measuring, neck, strings, wood
from .model import Calculator

_MODULES = (strings, bridge, neck, wood, care, measuring, estimates)
CALCULATORS: Mapping[str, Calculator] = {one.name: one for module in _MODULES for one in module.ALL}
