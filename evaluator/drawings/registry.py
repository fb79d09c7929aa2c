"""Every drawing by its name. Nothing is drawn until somebody asks for the shapes."""

from collections.abc import Mapping
from types import MappingProxyType

from .body import cracks, edges, hand, inside, papers, ribs, varnish, wood
from .bow import bow, bow_frog, bow_hand
from .geometry.model import Drawing
from .neck import board_line, fingerboard, head, neck, nut, pegs
from .set_up import bridge, bridge_top, measuring, soundpost, strings, tail

MODULES = (
    board_line,
    bow,
    bow_frog,
    bow_hand,
    bridge,
    bridge_top,
    cracks,
    edges,
    fingerboard,
    hand,
    head,
    inside,
    measuring,
    neck,
    nut,
    papers,
    pegs,
    ribs,
    soundpost,
    strings,
    tail,
    varnish,
    wood,
)
DRAWINGS: Mapping[str, Drawing] = MappingProxyType(
    {drawing.name: drawing for module in MODULES for drawing in module.DRAWINGS}
)
