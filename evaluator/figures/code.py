"""A square code (QR) as boxes; dark squares beside each other are one, so that no hair of paper shows between."""

from collections.abc import Sequence

from .shapes import Box, Figure, Shape

Squares = Sequence[Sequence[bool]]  # a code's rows; True is dark


def code(squares: Squares, left: float, top: float, side: float) -> list[Shape]:
    """The code with its corner at a place, so many millimetres wide."""
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
