"""Figures as lists of shapes in millimetres, drawn by `svg` for pages and by `pdf` for papers: one geometry, two media.

The origin is the top left corner, y grows downwards. Colours are roles of the design ("ink", "accent"), never values.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

Role = Literal["ink", "soft", "line", "accent", "good", "doubt", "stop", "tint", "sheet"]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Line:
    x1: float
    y1: float
    x2: float
    y2: float
    role: Role = "ink"
    width: float = 0.25
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A filled rectangle; `opacity` 0..1."""

    x: float
    y: float
    width: float
    height: float
    role: Role
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Dot:
    x: float
    y: float
    radius: float
    role: Role = "ink"
    filled: bool = True


@dataclass(frozen=True, slots=True)
class Curve:
    """A path of cubic Béziers: `start`, then segments of two control points and an end."""

    start: tuple[float, float]
    segments: tuple[tuple[float, float, float, float, float, float], ...]
    role: Role = "ink"
    width: float = 0.4
    fill: Role | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """Text with its baseline at y; `size` is the height of the type in mm."""

    x: float
    y: float
    text: str
    size: float = 3.2
    anchor: Anchor = "start"
    role: Role = "ink"
    strong: bool = False


Shape: TypeAlias = Line | Box | Dot | Curve | Label


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing of `width` x `height` mm; `alt` says in words what it shows."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    alt: str
