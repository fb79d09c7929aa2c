"""Figures as inline SVG for pages: colours are CSS classes, so that light and dark follow the page."""

from collections.abc import Sequence
from html import escape
from itertools import groupby

from .shapes import Box, Curve, Dot, Figure, Label, Line, Shape


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _line(s: Line) -> str:
    dash = ' stroke-dasharray="1.6 1.2"' if s.dashed else ""
    return (
        f'<line class="stroke-{s.role}" x1="{_n(s.x1)}" y1="{_n(s.y1)}" x2="{_n(s.x2)}" y2="{_n(s.y2)}" '
        f'stroke-width="{_n(s.width)}"{dash}/>'
    )


def _box(s: Box) -> str:
    return (
        f'<rect class="fill-{s.role}" x="{_n(s.x)}" y="{_n(s.y)}" width="{_n(s.width)}" height="{_n(s.height)}" '
        f'opacity="{_n(s.opacity)}"/>'
    )


def _dot(s: Dot) -> str:
    kind = f"fill-{s.role}" if s.filled else f"stroke-{s.role} fill-none"
    return f'<circle class="{kind}" cx="{_n(s.x)}" cy="{_n(s.y)}" r="{_n(s.radius)}" stroke-width="0.35"/>'


def _curve(s: Curve) -> str:
    path = f"M{_n(s.start[0])} {_n(s.start[1])}" + "".join("C" + " ".join(_n(p) for p in part) for part in s.segments)
    fill = f"fill-{s.fill}" if s.fill else "fill-none"
    return f'<path class="stroke-{s.role} {fill}" d="{path}" stroke-width="{_n(s.width)}" stroke-linejoin="round"/>'


def _label(s: Label) -> str:
    strong = " strong" if s.strong else ""
    return (
        f'<text class="fill-{s.role}{strong}" x="{_n(s.x)}" y="{_n(s.y)}" font-size="{_n(s.size)}" '
        f'text-anchor="{s.anchor}">{escape(s.text)}</text>'
    )


def _shape(shape: Shape) -> str:
    match shape:
        case Line():
            return _line(shape)
        case Box():
            return _box(shape)
        case Dot():
            return _dot(shape)
        case Curve():
            return _curve(shape)
        case Label():
            return _label(shape)


def _plain(shape: Shape) -> tuple[str, float] | None:
    """Colour and width of a line that may be joined with its like; None for other shapes."""
    return (shape.role, shape.width) if isinstance(shape, Line) and not shape.dashed else None


def _lines(shapes: Sequence[Shape]) -> str:
    """Neighbouring lines of one kind as one path: a rule has a hundred ticks, and a page many rules."""
    first = shapes[0]
    if len(shapes) == 1 or not isinstance(first, Line):
        return "".join(_shape(shape) for shape in shapes)
    path = "".join(_stroke(s) for s in shapes if isinstance(s, Line))
    return f'<path class="stroke-{first.role}" d="{path}" stroke-width="{_n(first.width)}"/>'


def _stroke(s: Line) -> str:
    """A line as a piece of a path; ticks stand upright and need one number for their end."""
    end = f"V{_n(s.y2)}" if s.x1 == s.x2 else f"H{_n(s.x2)}" if s.y1 == s.y2 else f"L{_n(s.x2)} {_n(s.y2)}"
    return f"M{_n(s.x1)} {_n(s.y1)}{end}"


def svg(figure: Figure, css_class: str = "figure") -> str:
    """The figure as one `<svg>` element with its words as an accessible name."""
    body = "".join(_lines(tuple(run)) for _, run in groupby(figure.shapes, key=_plain))
    return (
        f'<svg class="{escape(css_class)}" viewBox="0 0 {_n(figure.width)} {_n(figure.height)}" role="img" '
        f'aria-label="{escape(figure.alt)}" xmlns="http://www.w3.org/2000/svg">{body}</svg>'
    )
