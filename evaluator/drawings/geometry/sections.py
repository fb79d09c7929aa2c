"""Cuts that several drawings share, in millimetres: the side between the plates, and the top across at the bridge."""

from .outline import arch
from .pen import Mark, Pen, Point

RIB_MM, RIB_THICK_MM, PLATE_MM = 28.0, 1.3, 3.2
TOP_WIDTH_MM = 117.0  # across the middle bouts at the bridge, overhang included
UPRIGHT: tuple[Point, ...] = ((0, 0), (0, RIB_MM / 2), (0, RIB_MM))
Dent = tuple[float, float, float]


def side(pen: Pen, face: tuple[Point, ...] = UPRIGHT, face_mark: Mark = "ink", linings: Mark | None = None) -> Pen:
    """The side between top and back: origin where its outer face meets the top, 3.7 units to a millimetre.

    `face` is its outer line from top to back; `linings` the mark of both linings, None for a side without.
    """
    near = pen.at(86, 24, 3.7)
    for y, way in ((0.0, -1), (RIB_MM, 1)):
        near.region(
            ((32, y), (-2.4, y)),
            ((-2.4, y), (-2.9, y + 1.6 * way), (-1.4, y + 3.6 * way), (2, y + 3.4 * way)),
            ((2, y + 3.4 * way), (8, y + 3.2 * way), (18, y + 4 * way), (32, y + 4.9 * way)),
        )
    near.region(face, tuple((x + RIB_THICK_MM, y) for x, y in face)[::-1], fill="shade")
    for y, way in ((0.0, 1), (RIB_MM, -1)):
        if linings is not None:
            inner = RIB_THICK_MM
            near.shape((inner, y), (4, y), (3.4, y + 4 * way), (inner, y + 7.6 * way), mark=linings)
    near.curve(*face, mark=face_mark)
    return near


def _sunk(x: float, dents: tuple[Dent, ...]) -> float:
    """How much lower than its arch the top lies at x; a dent is where its middle lies, its depth and half its width."""
    return sum(deep / (1 + ((x - at) / wide) ** 4) for at, deep, wide in dents)


def top_across(pen: Pen, dents: tuple[Dent, ...] = (), high: float = 22) -> tuple[Pen, tuple[Point, ...]]:
    """The top across at the bridge from the lower end; the pen in millimetres from its middle, y up, and its arch.

    Where it is dented, the arch as it was is drawn hidden.
    """
    near = pen.at(120, 104, 1.9, up=True)
    true = tuple((x - TOP_WIDTH_MM / 2, y) for x, y in arch(TOP_WIDTH_MM, high, 24))
    outer = tuple((x, y - _sunk(x, dents)) for x, y in true)
    near.region(outer, tuple((x, y - PLATE_MM) for x, y in outer)[::-1])
    if dents:
        near.curve(*true, mark="hidden")
    return near, outer
