"""A drawing: what it shows, from where, in one panel or two, each with its caption, and how far they fill a sheet."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from .pen import HEIGHT, LETTER, Pen, Shape, Word

Judged = Literal["right", "wrong"]
MARGIN = 8.0  # units left free above and below


@dataclass(frozen=True, slots=True)
class Panel:
    """One sheet. `judged` is said before the caption; None where nothing is right or wrong."""

    caption: str
    draw: Callable[[Pen], None]
    judged: Judged | None = None

    def shapes(self) -> tuple[Shape, ...]:
        """What lies on the sheet, the lowest first."""
        pen = Pen()
        self.draw(pen)
        return pen.shapes()


@dataclass(frozen=True, slots=True)
class Drawing:
    """`title` says what is seen and from where, for instance "Bridge from the side, tailpiece on the right"."""

    name: str
    title: str
    panels: tuple[Panel, ...]


def right(caption: str, draw: Callable[[Pen], None]) -> Panel:
    """A panel that shows the thing as it should be."""
    return Panel(caption, draw, "right")


def wrong(caption: str, draw: Callable[[Pen], None]) -> Panel:
    """A panel that shows what goes wrong."""
    return Panel(caption, draw, "wrong")


def plain(caption: str, draw: Callable[[Pen], None]) -> Panel:
    """A panel that only shows where to look or measure."""
    return Panel(caption, draw)


def band(sheets: Iterable[Iterable[Shape]]) -> tuple[float, float]:
    """From where to where down the sheet something is drawn on any of the sheets, with a margin: top, height."""
    high, low = HEIGHT, 0.0
    for shape in (shape for shapes in sheets for shape in shapes):
        ends = _reach(shape)
        high, low = min(high, *ends), max(low, *ends)
    top = max(0.0, high - MARGIN)
    return top, min(HEIGHT, low + MARGIN) - top


def _reach(shape: Shape) -> list[float]:
    """How far up and down a shape can lie."""
    if isinstance(shape, Word):
        return [shape.y - LETTER, shape.y + LETTER / 3]
    return [y for _, y in shape.points()]
