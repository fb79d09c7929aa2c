"""Every drawing by its name. Nothing is drawn until somebody asks for the shapes."""

from collections.abc import Mapping
from types import MappingProxyType

from . import bridge, edges, fingerboard, inside, ribs, wood
from .model import Drawing

MODULES = (bridge, edges, fingerboard, inside, ribs, wood)
DRAWINGS: Mapping[str, Drawing] = MappingProxyType(
    {drawing.name: drawing for module in MODULES for drawing in module.DRAWINGS}
)
