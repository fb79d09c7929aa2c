"""Boxes to tick on paper, and the line along which a slip is cut off."""

from collections.abc import Sequence
from itertools import pairwise

from .shapes import Figure, Label, Line, Shape

SIDE = 3.0
APART = 11.0  # from one box to the next
HIGH = 4.4


def boxes(words: Sequence[str]) -> Figure:
    """A box for each word, beside each other."""
    shapes: list[Shape] = []
    for place, word in enumerate(words):
        x = place * APART + 0.2
        corners = ((x, 0.6), (x + SIDE, 0.6), (x + SIDE, 0.6 + SIDE), (x, 0.6 + SIDE), (x, 0.6))
        shapes += [Line(*a, *b, "ink", 0.25) for a, b in pairwise(corners)]
        shapes.append(Label(x + SIDE + 1.0, 3.3, word, 2.8))
    return Figure(APART * len(words), HIGH, tuple(shapes), f"Boxes to tick: {', '.join(words)}")


def cut_here(width: float) -> Figure:
    """A dashed line over the whole width."""
    return Figure(width, 5.0, (Line(0, 2.5, width, 2.5, "soft", 0.25, dashed=True),), "Cut along this line")
