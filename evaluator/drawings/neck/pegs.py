"""Pegs in their box, cut across or from above. The taper, 1 in 30 in the wood, is drawn steeper so that it shows."""

from functools import partial

from ..geometry.model import Drawing, plain, right, wrong
from ..geometry.pen import Mark, Pen, Point

# One peg across the box, in units of the sheet: the walls, and the shaft at its head and at its thin end.
NEAR, FAR, WALL = 84.0, 152.0, 24.0
AXIS, HEAD_HALF, END_HALF = 78.0, 14.0, 8.5
COLLAR_X, END_X = 66.0, FAR + WALL


def half_at(x: float) -> float:
    """Half the thickness of a well-fitted peg at x."""
    return HEAD_HALF + (END_HALF - HEAD_HALF) * (x - COLLAR_X) / (END_X - COLLAR_X)


def walls(pen: Pen, wide_far: float = 0, wide_near: float = 0) -> None:
    """Both walls and the floor of the box, cut through the middle of one peg hole; `wide`: how much a hole is worn."""
    for left, more in ((NEAR, wide_near), (FAR, wide_far)):
        for way in (-1, 1):
            near = AXIS + way * (half_at(left) + more)
            far = AXIS + way * (half_at(left + WALL) + more)
            edge = 32.0 if way < 0 else 128.0
            pen.shape((left, edge), (left + WALL, edge), (left + WALL, far), (left, near))
    pen.box(NEAR, 128, FAR + WALL - NEAR, 14)


def peg(pen: Pen, end: float = END_X, slim: float = 0, slim_end: float = 0) -> None:
    """A peg from its wing to its thin end; `slim` takes off its half-thickness at the collar, `slim_end` there."""
    one, two = half_at(COLLAR_X) - slim, half_at(end) - slim_end
    pen.shape(
        (COLLAR_X, AXIS - one),
        (end, AXIS - two),
        (end + 3, AXIS - two + 3),
        (end + 3, AXIS + two - 3),
        (end, AXIS + two),
        (COLLAR_X, AXIS + one),
        fill="dark",
    )
    pen.box(COLLAR_X - 6, AXIS - 18, 6, 36, fill="dark")
    wing: tuple[Point, ...] = (
        (COLLAR_X - 6, AXIS - 8),
        (44, AXIS - 11),
        (32, AXIS - 27),
        (20, AXIS - 25),
        (13, AXIS),
        (20, AXIS + 25),
        (32, AXIS + 27),
        (44, AXIS + 11),
        (COLLAR_X - 6, AXIS + 8),
    )
    pen.region(wing, (wing[-1], wing[0]), fill="dark")


def _end(pen: Pen, out: float) -> None:
    walls(pen)
    peg(pen, END_X + out)
    pen.line((END_X, 22), (END_X, 138), mark="guide")
    if out:
        pen.span((END_X, AXIS - 26), (END_X + out, AXIS - 26))
    else:
        pen.line((END_X + 3, AXIS - 7), (END_X + 3, AXIS + 7), mark="look")


def _fit(pen: Pen, one_wall: bool) -> None:
    walls(pen)
    peg(pen, slim_end=5 if one_wall else 0)
    for left in (NEAR, FAR):
        for way in (-1, 1):
            if one_wall and left == FAR:
                loose = [
                    AXIS + way * (half_at(x) - 5 * (x - COLLAR_X) / (END_X - COLLAR_X)) for x in (left, left + WALL)
                ]
                tight = [AXIS + way * half_at(x) for x in (left, left + WALL)]
                pen.shape(
                    (left, tight[0]),
                    (left + WALL, tight[1]),
                    (left + WALL, loose[1]),
                    (left, loose[0]),
                    mark="look",
                    fill="look",
                )
            elif not one_wall:
                pen.line(
                    (left, AXIS + way * half_at(left)), (left + WALL, AXIS + way * half_at(left + WALL)), mark="look"
                )


def _wall(pen: Pen) -> None:
    """A piece of the wall from outside."""
    pen.region(
        ((14, 34), (120, 24), (226, 34)),
        ((226, 34), (226, 130)),
        ((226, 130), (120, 134), (14, 130)),
        ((14, 130), (14, 34)),
    )
    for x, y in ((30, 52), (70, 46), (150, 44), (44, 108), (96, 116), (168, 112)):
        pen.line((x, y), (x + 34, y - 1), mark="thin")


def _hole(pen: Pen, worn: bool) -> None:
    _wall(pen)
    if worn:
        pen.disc((120, 80), 33, mark="look", fill="shade", tall=0.78)
        pen.disc((110, 81), 21, fill="dark")
    else:
        pen.disc((120, 80), 23, mark="look", fill="dark")


def _bushing(pen: Pen) -> None:
    _wall(pen)
    pen.disc((120, 80), 36, mark="look", fill="shade")
    pen.disc((120, 80), 20, fill="dark")


def _box(pen: Pen, rubs: bool) -> None:
    """The box from above, nut on the right; pegs across it and a string to each."""
    pen.region(
        ((232, 26), (120, 32), (14, 48)),
        ((14, 48), (14, 102)),
        ((14, 102), (120, 118), (232, 124)),
        ((232, 124), (232, 26)),
    )
    inner: tuple[tuple[float, float, float], ...] = ((216, 40, 110), (120, 45, 105), (28, 59, 91))
    pen.region(
        tuple((x, y) for x, y, _ in inner), ((28, 59), (28, 91)), tuple((x, y) for x, _, y in reversed(inner)),
        ((216, 110), (216, 40)), fill="shade",
    )  # fmt: skip
    pegs = (190.0, 146.0, 100.0, 58.0)
    from_nut = (63.0, 71.0, 87.0, 79.0)
    for at, x in enumerate(pegs):
        low, high = 25 + (232 - x) * 0.09, 125 - (232 - x) * 0.09
        grip = (low - 16, high) if at in {0, 3} else (low, high + 16)
        pen.box(x - 5, grip[0], 10, grip[1] - grip[0], fill="dark")
    wound = (60.0, 72.0, 107.0 if rubs else 86.0, 78.0)
    for at, x in enumerate(pegs):
        mark: Mark = "look" if at == 2 else "ink"
        pen.line((232, from_nut[at]), (x + 5, wound[at]), mark=mark)
        for turn in range(3):
            pen.line((x - 5, wound[at] - 2.4 * turn + 1), (x + 5, wound[at] - 2.4 * turn), mark=mark)
    pen.box(226, 20, 8, 110, fill="sheet")


def _windings(pen: Pen, crossed: bool) -> None:
    """The string on its peg between the walls."""
    walls(pen)
    peg(pen)
    if crossed:
        starts = (124.0, 114.0, 134.0, 120.0, 108.0, 128.0)
        for at, x in enumerate(starts):
            pen.curve(
                (x, AXIS - half_at(x) - 2),
                (x + (9 if at % 2 else -7), AXIS),
                (x + (2 if at % 2 else 4), AXIS + half_at(x) + 2),
                mark="look",
            )
        pen.line((124, AXIS - half_at(124) - 2), (128, 36), mark="look")
        return
    for at in range(5):
        x = 130 - 5 * at
        pen.line((x, AXIS + half_at(x) + 1), (x - 3, AXIS - half_at(x) - 1), mark="look")
    pen.line((107, AXIS - half_at(107) - 1), (109, 36), mark="look")
    pen.disc((136, AXIS), 1.6, fill="sheet")


ACROSS = "One peg in its box, cut across"
DRAWINGS = (
    Drawing(
        "peg_windings",
        ACROSS,
        (
            right("Turns lie side by side and lead towards the wing.", partial(_windings, crossed=False)),
            wrong("Turns cross and heap up: the string jerks, and the peg slips.", partial(_windings, crossed=True)),
        ),
    ),
    Drawing(
        "peg_end",
        ACROSS,
        (
            right("The thin end is level with the wall and rounded.", partial(_end, out=0)),
            wrong("It sticks far out: worn thin, the peg goes in ever deeper.", partial(_end, out=34)),
        ),
    ),
    Drawing(
        "peg_fit",
        ACROSS + ", its taper exaggerated",
        (
            right("It touches both walls over their whole thickness.", partial(_fit, one_wall=False)),
            wrong("One wall carries it; in the other it is loose, and it slips.", partial(_fit, one_wall=True)),
        ),
    ),
    Drawing(
        "peg_hole",
        "A peg hole from outside the wall",
        (
            right("Round and filled by the peg.", partial(_hole, worn=False)),
            wrong("Worn wide and oval.", partial(_hole, worn=True)),
            plain("Plugged with wood and drilled anew: a bushing.", _bushing),
        ),
    ),
    Drawing(
        "peg_string_run",
        "The peg box from above, nut on the right",
        (
            right("Each string runs free to its peg and winds towards the wing.", partial(_box, rubs=False)),
            wrong("One string is squeezed against the wall.", partial(_box, rubs=True)),
        ),
    ),
)
