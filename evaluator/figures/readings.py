"""Readings on rules of their own: the standard's span shaded, and twice the uncertainty of the reading as a band."""

from dataclasses import dataclass
from math import ceil, floor

from ..basis.show import number, with_unit
from .rules import Mark, Scale, nice_step, rule
from .shapes import Box, Figure, Line, Shape


@dataclass(frozen=True, slots=True)
class _Stretch:
    """The values that a reading's rule shows: room around reading, doubt and standard, ended on whole steps."""

    start: float
    end: float


def _stretch(value: float, u: float, low: float | None, high: float | None) -> _Stretch:
    known = [edge for edge in (low, high) if edge is not None]
    lowest, highest = min([*known, value - 2 * u]), max([*known, value + 2 * u])
    room = max((highest - lowest) * 0.35, abs(value) * 0.02, 4 * u, 1e-6)
    step = nice_step(highest - lowest + 2 * room, 6)
    return _Stretch(floor((lowest - room) / step) * step, ceil((highest + room) / step) * step)


def standard_words(low: float | None, high: float | None, unit: str) -> str:
    """'193 to 197 mm', 'up to 430 g', 'from 60 mm'; empty without a limit."""
    if low is not None and high is not None:
        return with_unit(f"{number(low, 3)} to {number(high, 3)}", unit)
    if high is not None:
        return with_unit(f"up to {number(high, 3)}", unit)
    return with_unit(f"from {number(low, 3)}", unit) if low is not None else ""


def slim_rule(value: float, u: float, low: float | None, high: float | None, text: str, width: float = 46.0) -> Figure:
    """A reading's rule for a row of a table: no words on it, the standard as a box, the doubt as a band, the mark."""
    base, box, margin = 3.4, 2.4, 1.0
    stretch = _stretch(value, u, low, high)
    scale = Scale(stretch.start, stretch.end, margin, width - 2 * margin)
    left, right = scale.at(stretch.start if low is None else low), scale.at(stretch.end if high is None else high)
    shapes: list[Shape] = [Box(left, base - box, right - left, box, "good", 0.2)]
    shapes += [
        Line(x, base - box, x, base, "good", 0.35) for x, edge in ((left, low), (right, high)) if edge is not None
    ]
    first, last = scale.at(value - 2 * u), scale.at(value + 2 * u)
    shapes.append(Box(first, base - 1.7, last - first, 1.7, "ink", 0.3))
    shapes.append(Line(margin, base, width - margin, base, "ink", 0.25))
    step = nice_step(stretch.end - stretch.start, 30)
    for tick in range(ceil(stretch.start / step - 1e-9), floor(stretch.end / step + 1e-9) + 1):
        x = scale.at(tick * step)
        shapes.append(Line(x, base, x, base + (1.0 if tick % 5 == 0 else 0.6), "soft", 0.2))
    x = scale.at(value)
    shapes.append(Line(x, 0.4, x, base + 0.4, "ink", 0.6))
    return Figure(width, base + 1.0, tuple(shapes), f"Reading {text}.")


def reading_rule(
    value: float, u: float, low: float | None, high: float | None, unit: str, text: str, width: float = 110.0
) -> Figure:
    """A reading with twice its standard uncertainty on a rule, the standard's span shaded."""
    stretch = _stretch(value, u, low, high)
    said = f"standard {standard_words(low, high, unit)}"
    mark = Mark(value, text, "ink", value - 2 * u, value + 2 * u)
    return rule(stretch.start, stretch.end, [mark], f"Reading {text}; {said}.", width=width, span=(low, high, said))
