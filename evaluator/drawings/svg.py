"""Sheets as inline SVG: marks are CSS classes, so that a page draws them by day and night.

Points are written as whole tenths of a unit and each relative to the last: a page holds many drawings.
"""

from collections.abc import Iterable, Iterator
from html import escape
from itertools import groupby

from .geometry.pen import HEIGHT, LETTER, WIDTH, Point, Shape, Trace, Word

FINE = 10  # parts of a unit


def svg(shapes: Iterable[Shape], label: str, top: float = 0, height: float = HEIGHT) -> str:
    """One sheet, or the part of it from `top` on, as an `<svg>` element whose accessible name is `label`."""
    body = "".join(_run(tuple(run)) for _, run in groupby(shapes, key=_kind))
    view = f"0 {top * FINE:.0f} {WIDTH * FINE:.0f} {height * FINE:.0f}"
    return f'<svg viewBox="{view}" role="img" aria-label="{escape(label)}">{body}</svg>'


def _kind(shape: Shape) -> tuple[object, ...]:
    """Neighbours of one kind share a path; surfaces stand alone, as they cover what lies below."""
    if isinstance(shape, Word) or shape.fill is not None:
        return ("alone", id(shape))
    return ("line", shape.mark)


def _run(shapes: tuple[Shape, ...]) -> str:
    first = shapes[0]
    if isinstance(first, Word):
        return _word(first)
    lines = [shape for shape in shapes if isinstance(shape, Trace)]
    filled = f" fill-{first.fill}" if first.fill else ""
    return f'<path class="{first.mark}{filled}" d="{"".join(map(_path, lines))}"/>'


def _word(word: Word) -> str:
    anchor = "" if word.anchor == "middle" else f' text-anchor="{word.anchor}"'
    return (
        f'<text class="{word.mark}" x="{word.x * FINE:.0f}" y="{word.y * FINE:.0f}" font-size="{LETTER * FINE:.0f}"'
        f"{anchor}>{escape(word.text)}</text>"
    )


def _path(trace: Trace) -> str:
    here = _whole(trace.start)
    written = [f"M{here[0]} {here[1]}"]
    before = ""
    for step in trace.steps:
        pairs = [_whole((step[at], step[at + 1])) for at in range(0, len(step), 2)]
        letter = "l" if len(pairs) == 1 else "c"
        numbers = _joined(value for x, y in pairs for value in (x - here[0], y - here[1]))
        gap = " " if letter == before and not numbers.startswith("-") else ""
        written.append((gap if letter == before else letter) + numbers)
        here, before = pairs[-1], letter
    return "".join(written) + ("z" if trace.closed else "")


def _whole(point: Point) -> tuple[int, int]:
    return round(point[0] * FINE), round(point[1] * FINE)


def _joined(numbers: Iterable[int]) -> str:
    def parts() -> Iterator[str]:
        for at, number in enumerate(numbers):
            yield f"{number}" if not at or number < 0 else f" {number}"

    return "".join(parts())
