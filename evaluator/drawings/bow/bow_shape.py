"""The shapes of a bow: the whole from the side, head and frog close up. Millimetres, the head to the left.

Drawn by eye from memory of modern bows; a whole bow is drawn several times too thick, so that it can be seen.
"""

from ..geometry.pen import Mark, Pen, Point

# Whole bow on the sheet: head at the left, button at the right.
HEAD_X, FROG_X, END_X = 16.0, 196.0, 222.0
STICK_Y, HAIR_Y = 56.0, 81.0
FRONT = FROG_X + 1  # the front edge of the frog
_HEAD, _FROG = (0.62, 1.2), (0.47, 1.2)  # units to a millimetre along and across, on a whole bow
# The head from the side: its ridge from the stick to the nose, and its throat from the face back to the stick.
RIDGE: tuple[Point, ...] = (
    (52, 0),
    (38, -0.4),
    (29, -0.5),
    (22, 0.9),
    (16.5, 4.2),
    (11, 9.4),
    (5.5, 14.8),
    (-1.5, 19.4),
)
THROAT: tuple[Point, ...] = ((25.6, 20.6), (24, 16), (24.3, 11.6), (27, 7.6), (33, 6), (42, 5.6), (52, 5.5))
# The frog from the side: origin where its top meets the stick at the throat.
FROG_THROAT: tuple[Point, ...] = ((10, 0), (6.8, 3.4), (7.4, 7.6), (5.4, 10.6), (0, 11.6))


def _sag(middle: float) -> tuple[Point, ...]:
    """The stick's upper line when its middle lies `middle` lower than its ends."""
    first, last = HEAD_X + 52 * _HEAD[0], END_X - 4
    shares = (0.0, 0.15, 0.35, 0.55, 0.75, 0.9, 1.0)
    return tuple((first + (last - first) * s, STICK_Y + middle * 4 * s * (1 - s)) for s in shares)


def _scaled(points: tuple[Point, ...], x: float, scales: Point) -> tuple[Point, ...]:
    return tuple((x + scales[0] * px, STICK_Y + scales[1] * py) for px, py in points)


def whole(pen: Pen, middle: float, hair: float = 0.0, stick: Mark = "ink", ribbon: Mark = "ink") -> None:
    """A bow from the side; its stick's middle lies `middle` units lower than its ends, its hair hangs by `hair`."""
    top = _sag(middle)
    low = tuple((x, y + 3.2 + 1.4 * i / 5) for i, (x, y) in enumerate(top))
    if hair:
        pen.curve((HEAD_X + 12, HAIR_Y), ((HEAD_X + FROG_X) / 2, HAIR_Y + hair), (FROG_X, HAIR_Y), mark=ribbon)
    else:
        pen.line((HEAD_X + 12, HAIR_Y), (FROG_X, HAIR_Y), mark=ribbon)
    ridge, throat = _scaled(RIDGE, HEAD_X, _HEAD), (*_scaled(THROAT, HEAD_X, _HEAD)[:-2], low[0])
    pen.region(top, low[::-1], mark="bare")
    pen.region(ridge, (ridge[-1], throat[0]), throat, mark="bare")
    pen.curve(*top, mark=stick)
    pen.curve(*low, mark=stick)
    pen.curve(*ridge)
    pen.line(ridge[-1], throat[0])
    pen.curve(*throat)
    hollow = tuple((x, y + 4.6) for x, y in _scaled(FROG_THROAT, FROG_X, _FROG))
    pen.region(
        hollow, (hollow[-1], (FROG_X, HAIR_Y + 1)), ((FROG_X, HAIR_Y + 1), (FROG_X + 20, HAIR_Y + 1.6)),
        ((FROG_X + 21.6, HAIR_Y - 2), (FROG_X + 21.6, STICK_Y + 4.6)),
    )  # fmt: skip
    pen.disc((FROG_X + 12, STICK_Y + 15), 2.4, mark="thin", fill="sheet")
    pen.box(END_X - 4, STICK_Y - 1, 9, 6.4, fill="shade")


def head(pen: Pen) -> None:
    """The head from the side, nose to the left and down; origin near the nose, y down from the stick's upper line."""
    under = (THROAT[0][0] + 0.2, THROAT[0][1] + 1.2)
    for y in (0.0, 0.7, 1.4):
        pen.line((13, 21.2 + y * 0.4), (52, 22 + y), mark="thin")
    pen.region(RIDGE, (RIDGE[-1], THROAT[0]), THROAT)
    pen.region((RIDGE[-1], THROAT[0]), (THROAT[0], under), (under, (12, 21.4), (3, 20.9), RIDGE[-1]), fill="sheet")


def stick_and_button(pen: Pen, left: float = -26.0) -> None:
    """The handle of the stick above a frog, cut off at the left, with the button at its end."""
    pen.shape((left, -8.4), (50, -8.6), (50, 0), (left, 0))
    pen.line((left, -2.6), (50, -2.6), mark="thin")
    pen.box(50, -8.9, 12, 9.2, fill="shade")
    for x in (53.0, 59.0):
        pen.line((x, -8.9), (x, 0.3), mark="thin")


def frog(pen: Pen) -> None:
    """The frog from the side under its stick, with ring, eye, slide and heel plate, and some of the hair."""
    pen.region(
        FROG_THROAT, ((0, 11.6), (0, 19)), ((40, 20.6), (44.6, 19.6), (46, 16)), ((46, 16), (46, 0)), fill="tint"
    )
    pen.region(((-3, 11.2), (10, 11.2)), ((10, 19.6), (-3, 19)), fill="shade")
    pen.disc((26, 9.4), 4.4, mark="thin", fill="sheet")
    pen.disc((26, 9.4), 3.2, mark="thin", fill="shade")
    pen.line((10, 18), (40, 19), mark="thin")
    pen.line((37, 20.2), (37, 15.6), (46, 15.6), mark="thin")
