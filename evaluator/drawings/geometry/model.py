"""A drawing: what it shows, from where, in one panel or two, each with its caption in words."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from .pen import Pen, Shape

Judged = Literal["right", "wrong"]


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
