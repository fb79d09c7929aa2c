"""How papers are set: colours, faces and sizes, in a roomy and in two tighter settings."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias, TypedDict, Unpack

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from ...figures.shapes import Role
from .fonts import SANS, SANS_BOLD, SERIF, SERIF_BOLD
from .tagged.flowing import Text
from .tagged.tree import Headings, Node

# The light tokens of the design; every one keeps 6 : 1 on paper where it carries text, and reads in grey.
Rule: TypeAlias = (
    "tuple[str, tuple[int, int], tuple[int, int], *tuple[object, ...]]"  # of a table, as ReportLab takes it
)
COLOURS: Mapping[Role, Color] = {
    "ink": HexColor("#23201B"),
    "soft": HexColor("#5F584D"),
    "line": HexColor("#D9D2C4"),
    "accent": HexColor("#8A3B1E"),
    "good": HexColor("#2F5D46"),
    "doubt": HexColor("#7A5A12"),
    "stop": HexColor("#8C1D2C"),
    "tint": HexColor("#F4EFE6"),
    "sheet": HexColor("#FFFFFF"),
}


@dataclass(frozen=True, slots=True)
class Setting:
    """Styles of text by name, and the points above and below what stands in a row of a table."""

    styles: Mapping[str, ParagraphStyle]
    above: float
    below: float


@dataclass(frozen=True, slots=True)
class Place:
    """Where blocks are set: the width in points, how, under which node of the paper, how deep headings are, and the
    picture of the workshop's signature.
    """

    width: float
    setting: Setting
    node: Node
    headings: Headings = field(default_factory=Headings)
    signature: bytes = b""

    @property
    def styles(self) -> Mapping[str, ParagraphStyle]:
        return self.setting.styles

    def under(self, kind: str, *, numbering: str = "") -> "Place":
        """The same place under a new node."""
        return replace(self, node=self.node.add(kind, numbering=numbering))

    def text(self, markup: str, style: str, kind: str = "P") -> Text:
        """A paragraph (or another kind of element) in reading order after what stands under the node."""
        return Text(markup, self.styles[style], self.node.add(kind))


class _More(TypedDict, total=False):
    """What only some styles say."""

    textColor: Color
    alignment: Literal[0, 1, 2, 4]
    leftIndent: float
    bulletFontName: str
    bulletFontSize: float
    keepWithNext: int


class _Spaced(_More, total=False):
    spaceBefore: float
    spaceAfter: float


def _style(name: str, font: str, size: float, lead: float, **more: Unpack[_Spaced]) -> ParagraphStyle:
    given: _Spaced = {"textColor": COLOURS["ink"], **more}
    return ParagraphStyle(name, fontName=font, fontSize=size, leading=lead, allowWidows=0, **given)


def _setting(body: float, close: float, above: float, below: float) -> Setting:
    """`body`: size of text; `close`: factor on leading and on the room between blocks."""

    def spaced(
        name: str, font: str, size: float, lead: float, before: float, after: float, **more: Unpack[_More]
    ) -> ParagraphStyle:
        return _style(name, font, size, lead * close, spaceBefore=before * close, spaceAfter=after * close, **more)

    soft: _More = {"textColor": COLOURS["soft"]}
    right: _More = {"alignment": TA_RIGHT}
    bullets: _More = {"leftIndent": 14, "bulletFontName": SANS, "bulletFontSize": body}
    fine: _More = {**bullets, "bulletFontSize": body - 1}
    soft_right: _More = {**soft, **right}
    made = (
        spaced("lead", SERIF, 21, 26, 6, 8),
        spaced("h1", SERIF_BOLD, 14.5, 18, 16, 5),
        spaced("h2", SERIF_BOLD, 11.5, 15, 11, 3),
        spaced("body", SANS, body, 13.2, 0, 4),
        spaced("item", SANS, body, 13.2, 0, 2, **bullets),
        spaced("fine", SANS, body - 1, 11.6, 0, 1.2, **fine),
        spaced("soft", SANS, body - 0.5, 13, 4, 5, **soft),
        spaced("strong", SANS_BOLD, body, 14, 6, 1, keepWithNext=1),
        spaced("cell", SANS, body - 0.5, 12.5, 0, 0),
        spaced("cell-figures", SANS, body - 0.5, 12.5, 0, 0, **right),
        spaced("cell-head", SANS, 8.5, 11, 0, 0, **soft),
        spaced("cell-head-figures", SANS, 8.5, 11, 0, 0, **soft_right),
        spaced("cell-total", SANS_BOLD, body, 13, 0, 0),
        spaced("cell-total-figures", SANS_BOLD, body, 13, 0, 0, **right),
    )
    return Setting({style.name: style for style in made}, above, below)


ROOMY = _setting(10, 1.0, 2.2, 3.0)
TIGHT = _setting(9.5, 0.92, 1.4, 2.0)
TIGHTEST = _setting(9.5, 0.87, 0.9, 1.5)  # lines of 9.5 points stand 11.5 points apart
