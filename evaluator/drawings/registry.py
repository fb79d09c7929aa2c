"""Every drawing by its name. Nothing is drawn until somebody asks for the shapes."""

from collections.abc import Mapping
from types import MappingProxyType

from . import (
    board_line,
    bow,
    bow_frog,
    bridge,
    bridge_top,
    cracks,
    edges,
    fingerboard,
    head,
    inside,
    measuring,
    neck,
    nut,
    papers,
    pegs,
    ribs,
    sound,
    soundpost,
    strings,
    tail,
    varnish,
    wood,
)
from .model import Drawing

MODULES = (
    board_line,
    bow,
    bow_frog,
    bridge,
    bridge_top,
    cracks,
    edges,
    fingerboard,
    head,
    inside,
    measuring,
    neck,
    nut,
    papers,
    pegs,
    ribs,
    sound,
    soundpost,
    strings,
    tail,
    varnish,
    wood,
)
DRAWINGS: Mapping[str, Drawing] = MappingProxyType(
    {drawing.name: drawing for module in MODULES for drawing in module.DRAWINGS}
)
