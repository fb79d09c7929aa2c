"""What a paper asks of its reader: boxes to tick, a line to cut along, a square code (QR) to point a phone at."""

from collections.abc import Sequence
from itertools import pairwise

from .shapes import Box, Figure, Label, Line, Shape

SIDE = 3.0
APART = 11.0  # from one box to the next
HIGH = 4.4
Squares = Sequence[Sequence[bool]]  # a code's rows; True is dark


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


def code(squares: Squares, left: float, top: float, side: float) -> list[Shape]:
    """The code with its corner at a place, so many millimetres wide. Dark squares beside each other are one box: no
    hair of paper shows between.
    """
    step = side / max(1, len(squares))
    found: list[Shape] = []
    for row, line in enumerate(squares):
        start = 0
        while start < len(line):
            end = start
            while end < len(line) and line[end]:
                end += 1
            if end > start:
                found.append(Box(left + start * step, top + row * step, (end - start) * step, step * 1.02, "ink"))
            start = end + 1
    return found


def code_figure(squares: Squares, side: float, address: str) -> Figure:
    """The code alone."""
    return Figure(side, side, tuple(code(squares, 0.0, 0.0, side)), f"A code that leads to {address}")
