"""Every drawing by its name. Nothing is drawn until somebody asks for the shapes."""

from collections.abc import Mapping
from types import MappingProxyType

from . import bridge, edges, wood
from .model import Drawing

MODULES = (bridge, edges, wood)
DRAWINGS: Mapping[str, Drawing] = MappingProxyType(
    {drawing.name: drawing for module in MODULES for drawing in module.DRAWINGS}
)
