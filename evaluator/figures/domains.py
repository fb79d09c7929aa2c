"""The domains on one rule: each as it stands and after the work, so that strong and weak sides stand together."""

from collections.abc import Sequence
from dataclasses import dataclass

from .rules import MARGIN, Scale
from .shapes import Box, Dot, Figure, Label, Line, Shape

ROW_MM = 7.6
SIZE_MM = 3.3


@dataclass(frozen=True, slots=True)
class Row:
    """One domain in words; each triple is (expected, low, high) of 100."""

    say: str
    now: tuple[float, float, float]
    after: tuple[float, float, float]


def domain_rule(rows: Sequence[Row], width: float = 160.0) -> Figure:
    """Every domain as a line with a band and a mark: a ring as it stands, a full dot after the work."""
    beside = width >= 110.0  # on a narrow page the words stand over their line
    step = ROW_MM if beside else ROW_MM + 4.4
    left = width * 0.36 if beside else MARGIN
    scale = Scale(0, 100, left, width - left - MARGIN)
    shapes: list[Shape] = []
    for i, row in enumerate(rows):
        y = 3.4 + i * step if beside else 7.4 + i * step
        shapes.append(Label(0, y + 1.1 if beside else y - 3.4, row.say, SIZE_MM, "start", "ink"))
        shapes += _line(row, y, scale)
    base = 3.4 + len(rows) * step if beside else 4.4 + len(rows) * step
    shapes += _scale(scale, base)
    said = "; ".join(f"{row.say}: {row.now[0]:.0f} as it stands, {row.after[0]:.0f} after the work" for row in rows)
    return Figure(width, base + 7.4, tuple(shapes), f"Scores of 100. {said}.")


def _line(row: Row, y: float, scale: Scale) -> list[Shape]:
    def band(values: tuple[float, float, float], role: str, top: float) -> Box:
        start = scale.at(values[1])
        return Box(start, y + top, scale.at(values[2]) - start, 1.5, "accent" if role == "accent" else "ink", 0.25)

    now, after = scale.at(row.now[0]), scale.at(row.after[0])
    return [
        Line(scale.left, y, scale.left + scale.width, y, "line", 0.2),
        band(row.now, "ink", -1.5),
        band(row.after, "accent", 0.0),
        Line(now, y, after, y, "ink", 0.35),
        Dot(now, y, 1.15, "sheet"),
        Dot(now, y, 1.15, "ink", filled=False),
        Dot(after, y, 0.95, "accent"),
    ]


def _scale(scale: Scale, base: float) -> list[Shape]:
    shapes: list[Shape] = [Line(scale.left, base, scale.left + scale.width, base, "ink", 0.3)]
    for tick in range(0, 101, 2):
        x, numbered = scale.at(tick), tick % 20 == 0
        length = 3.2 if numbered else 2.2 if tick % 10 == 0 else 1.3
        shapes.append(Line(x, base, x, base + length, "ink" if numbered else "soft", 0.25))
        if numbered:
            shapes.append(Label(x, base + 6.4, str(tick), 2.9, "middle", "soft"))
    return shapes
