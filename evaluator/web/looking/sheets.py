"""Drawings as pictures with an address of their own: a page of many looks stays small, and a phone keeps them; and the
drawing of a check as a page shows it.
"""

from dataclasses import dataclass
from functools import cache

from flask import Blueprint, Response, abort

from ...drawings.geometry.model import band
from ...drawings.geometry.pen import WIDTH
from ...drawings.registry import DRAWINGS
from ...drawings.svg import svg
from ...wording.phrases import capital

sheets = Blueprint("sheets", __name__)
A_DAY = 86_400
NAMED = '<svg xmlns="http://www.w3.org/2000/svg"'
# The page's own tokens, for ink by day and night: a picture does not see the style sheet of its page.
STYLE = """<style>
path{fill:none;stroke:#23201b;stroke-width:1.5;stroke-linejoin:round;stroke-linecap:round;vector-effect:non-scaling-stroke}
.thin,.hidden{stroke-width:.75}.hidden{stroke-dasharray:3 2.5}.guide{stroke:#5f584d;stroke-width:.75}
.look{stroke:#8a3b1e;stroke-width:1.75}.bare{stroke:none}.fill-tint{fill:#f4efe6}.fill-shade{fill:#d9d2c4}
.fill-sheet{fill:#fff}.fill-ink{fill:#23201b}.fill-dark{fill:#6b6258}.fill-look{fill:#8a3b1e}
text{fill:#5f584d;font-family:system-ui,sans-serif;text-anchor:middle}
text[text-anchor=start]{text-anchor:start}text[text-anchor=end]{text-anchor:end}text.look{fill:#8a3b1e}
@media (prefers-color-scheme:dark){path{stroke:#efeae0}.guide{stroke:#b5ac9c}.look{stroke:#e39a72}.bare{stroke:none}
.fill-tint{fill:#2b2722}.fill-shade{fill:#3d3832}.fill-sheet{fill:#23201c}.fill-ink{fill:#efeae0}.fill-dark{fill:#0b0a08}
.fill-look{fill:#e39a72}text{fill:#b5ac9c}text.look{fill:#e39a72}}
</style>"""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One panel of a drawing: its address and size in points; `judged` is "Right", "Wrong" or empty."""

    address: str
    width: int
    height: int
    judged: str
    caption: str


@dataclass(frozen=True, slots=True)
class Shown:
    """The drawing of a check: what is seen from where, and its sheets."""

    title: str
    sheets: tuple[Sheet, ...]


@cache
def shown(name: str) -> Shown:
    """A drawing by its name: a picture with an address of its own, which a phone fetches once for all its pages."""
    drawing, (width, height) = DRAWINGS[name], size_of(name)
    panels = (
        Sheet(f"/drawings/{name}-{number}.svg", width, height, capital(panel.judged or ""), panel.caption)
        for number, panel in enumerate(drawing.panels)
    )
    return Shown(drawing.title, tuple(panels))


@cache
def panels_of(name: str) -> tuple[str, ...]:
    """The panels of a drawing as SVG files, level with each other."""
    drawn = [panel.shapes() for panel in DRAWINGS[name].panels]
    top, height = band(drawn)
    found = []
    for shapes in drawn:
        opening, rest = svg(shapes, DRAWINGS[name].title, top, height).split(">", 1)
        found.append(opening.replace("<svg", NAMED, 1) + ">" + STYLE + rest)
    return tuple(found)


@cache
def size_of(name: str) -> tuple[int, int]:
    """Width and height of each of its panels, in points of the page: room is kept for it before it comes."""
    _, height = band([panel.shapes() for panel in DRAWINGS[name].panels])
    return round(WIDTH), round(height)


@sheets.get("/drawings/<name>-<int:number>.svg")
def sheet(name: str, number: int) -> Response:
    if name not in DRAWINGS or number >= len(DRAWINGS[name].panels):
        abort(404)
    response = Response(panels_of(name)[number], mimetype="image/svg+xml")
    response.headers["Cache-Control"] = f"public, max-age={A_DAY}"
    return response
