"""Every drawing by its name. Nothing is drawn until somebody asks for the shapes."""

from collections.abc import Mapping
from types import MappingProxyType

from . import bridge, cracks, edges, fingerboard, inside, neck, ribs, varnish, wood
from .model import Drawing

MODULES = (bridge, cracks, edges, fingerboard, inside, neck, ribs, varnish, wood)
DRAWINGS: Mapping[str, Drawing] = MappingProxyType(
    {drawing.name: drawing for module in MODULES for drawing in module.DRAWINGS}
)
