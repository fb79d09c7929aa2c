"""Text, tables and pictures that are drawn under their tags."""

from collections.abc import Callable
from typing import Protocol

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Image, Paragraph, Table

from ..fonts import SANS
from .canvas import canvas_of
from .tree import Box, Node


def boxed(shown: Flowable) -> Box:
    """Where a flowable that is being drawn stands on its page, in points."""
    x, y = shown.canv.absolutePosition(0, 0)
    return x, y, x + shown.width, y + shown.height


class Text(Paragraph):
    """A paragraph under its `node`; drawn once more (the head of a table's next page) it is an artifact.

    `mark`: the sign before an item of a list, at the left edge, under a node of its own. Each line but the last ends in
    a space, so that read aloud its last word does not run into the next. `leads_to`: the name of a place on the paper
    that a tap on it opens, if the paper has it; `found_by`: the name under which this one is found.
    """

    def __init__(
        self,
        text: str | None,
        style: ParagraphStyle | None = None,
        node: Node | None = None,
        mark: tuple[str, Node] | None = None,
        **given: object,
    ) -> None:
        made: Callable[..., None] = super().__init__  # parts of a split one bring ReportLab's own arguments
        made(text, style, **given)
        self.node, self.mark, self.drawn = node, mark, False
        self.leads_to, self.found_by = "", ""

    def split(self, available_width: float, available_height: float) -> list[Flowable]:
        parts = super().split(available_width, available_height)
        for i, part in enumerate(parts):
            assert isinstance(part, Text)
            part.node = self.node
            part.mark = self.mark if i == 0 else None
        return parts

    def draw(self) -> None:
        node = None if self.drawn else self.node
        if not self.drawn:
            _spaced(self.blPara)  # type: ignore[attr-defined]
        if self.mark is not None:
            self._draw_mark(*self.mark)
        canvas = canvas_of(self)
        if self.found_by and not self.drawn:
            canvas.named(self.found_by, self.height)
        link = node.add("Link") if node is not None and self.leads_to in canvas.places else node
        with canvas.tagged(link):
            super().draw()
        if link is not None and link is not node:
            canvas.lead(link, self.leads_to, (self.width, self.height))
        self.drawn = True

    def _draw_mark(self, sign: str, node: Node) -> None:
        style = self.style
        with canvas_of(self).tagged(node):
            self.canv.setFont(style.bulletFontName, style.bulletFontSize)
            self.canv.setFillColor(style.textColor)
            self.canv.drawString(style.bulletIndent, self.height - style.fontSize, sign)


class _Word(Protocol):
    text: str


class _Mixed(Protocol):
    """A line of words in several faces."""

    words: list[_Word]


class _Broken(Protocol):
    """A paragraph as ReportLab has broken it: lines in one face are (room left, words)."""

    lines: list[tuple[float, list[str]] | _Mixed]


def _spaced(broken: _Broken) -> None:
    """End each line of a broken paragraph but its last in a space; nothing to be seen moves by it."""
    for i, line in enumerate(broken.lines[:-1]):
        if isinstance(line, tuple):
            extra, words = line
            if words:
                broken.lines[i] = (extra, [*words[:-1], f"{words[-1]} "])
        elif line.words:
            line.words[-1].text += " "


class Grid(Table):
    """A table whose rules and tints are artifacts; its cells bring their own tags.

    Its style names a face that is embedded: ReportLab's own default would be asked for on each page.
    """

    def __init__(self, *args: object, **given: object) -> None:
        made: Callable[..., None] = super().__init__  # ReportLab's own arguments, passed on
        made(*args, **given)
        self.setStyle([("FONTNAME", (0, 0), (-1, -1), SANS)])

    def _drawLines(self) -> None:  # noqa: N802 (ReportLab's name)
        with canvas_of(self).tagged(None):
            super()._drawLines()  # type: ignore[misc]

    def _drawBkgrnd(self) -> None:  # noqa: N802 (ReportLab's name)
        with canvas_of(self).tagged(None):
            super()._drawBkgrnd()  # type: ignore[misc]


class Shown(Image):
    """A picture under its node."""

    node: Node | None = None

    def draw(self) -> None:
        if self.node is not None:
            x, y = self.canv.absolutePosition(0, 0)
            self.node.box = (x, y, x + self.drawWidth, y + self.drawHeight)
        with canvas_of(self).tagged(self.node):
            super().draw()
