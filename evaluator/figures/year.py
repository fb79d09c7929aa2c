"""The plots of the year: bars by name, two bars a name, and the calibration of chances. Drawn from a table's rows."""

from ..yearly.tables import Bar, YearTable
from .plots import BOTTOM, LEFT, SIZE, TOP, axes
from .rules import LETTER, Scale
from .shapes import Box, Dot, Figure, Label, Line, Shape

WIDTH = 160.0
ROW, THICK = 7.0, 3.4
MOST_LETTERS = 34
SQUARE = 110.0


def year_figure(table: YearTable) -> Figure | None:
    """The plot of a table; None where there is nothing to draw."""
    if table.shape == "none" or not any(one.value or one.other for one in table.bars):
        return None
    if table.shape == "calibration":
        return _calibration(table)
    return _bars(table)


def _bars(table: YearTable) -> Figure:
    """Bars from the left, each with its name before and its figure behind; a hairline marks what is compared."""
    names = max(len(_short(one.say)) for one in table.bars) * SIZE * LETTER + 2.0
    behind = max(len(one.text) for one in table.bars) * SIZE * LETTER + 3.0
    most = max((max(one.value, one.other or 0.0) for one in table.bars), default=0.0) or 1.0
    scale = Scale(0.0, most, names, WIDTH - names - behind)
    shapes: list[Shape] = [Line(names, TOP - 4.0, names, TOP - 4.0 + ROW * len(table.bars), "ink", 0.3)]
    for place, one in enumerate(table.bars):
        shapes += _row(one, TOP - 4.0 + place * ROW, scale)
    below = TOP - 4.0 + ROW * len(table.bars) + 5.0
    shapes.append(Label(names, below, _legend(table), SIZE, "start", "soft"))
    said = "; ".join(f"{one.say}: {one.text}" for one in table.bars[:6])
    return Figure(WIDTH, below + 3.0, tuple(shapes), f"{table.title}. {said}.")


def _row(one: Bar, top: float, scale: Scale) -> list[Shape]:
    end = scale.at(one.value)
    shapes: list[Shape] = [
        Label(scale.left - 1.5, top + 4.6, _short(one.say), SIZE, "end", "ink"),
        Box(scale.left, top + 1.8, max(0.0, end - scale.left), THICK, "accent", 0.55),
    ]
    right = end
    if one.other is not None:
        at = scale.at(one.other)
        shapes.append(Line(at, top + 0.9, at, top + 6.1, "ink", 0.6))
        right = max(end, at)
    shapes.append(Label(right + 1.5, top + 4.6, one.text, SIZE, "start", "soft"))
    return shapes


def _legend(table: YearTable) -> str:
    if table.compared[0]:
        return f"{table.unit}: bar {table.compared[0]}, line {table.compared[1]}"
    return table.unit


def _short(text: str) -> str:
    return text if len(text) <= MOST_LETTERS else f"{text[: MOST_LETTERS - 3].rstrip()}..."


def _calibration(table: YearTable) -> Figure:
    """Chances against the share in which they came true; on the diagonal they would hold exactly."""
    x = Scale(0.0, 1.0, LEFT, SQUARE - LEFT - 8.0)
    y = Scale(0.0, 1.0, SQUARE - BOTTOM, -(SQUARE - BOTTOM - TOP))
    shapes = axes(x, y, (), "foretold", "was there")
    shapes.append(Line(x.at(0), y.at(0), x.at(1), y.at(1), "soft", 0.3, True))
    for one in table.bars:
        at, up = x.at(one.value), y.at(one.other or 0.0)
        shapes.append(Dot(at, up, 1.4, "accent"))
        shapes.append(Label(at + 2.2, up - 1.2, one.text, SIZE, "start", "soft"))
    said = "; ".join(f"{one.value:.0%} foretold, {one.other or 0:.0%} there" for one in table.bars)
    return Figure(SQUARE, SQUARE, tuple(shapes), f"{table.title}. {said}.")
