"""Length from one photograph: a card of known size in the same plane gives the scale and undoes the perspective.

The card is an ID-1 card, 85.60 x 53.98 mm (ISO/IEC 7810, nominal values). Its corners are round: the point to mark is
where the straight edges would meet. A part that stands nearer to the camera than the card reads too long by Z / (Z -
h).
"""

from collections.abc import Sequence
from itertools import combinations
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from .. import ImpossibleError

CARD_MM = (85.60, 53.98)
# Half-width of the standard's limits on the long side, 85.47 to 85.72 mm, as a share; the limits are from memory.
CARD_HALF_WIDTH_SHARE = 0.125 / 85.60
Pixel = tuple[float, float]


def plane_map(corners: Sequence[Pixel], size_mm: tuple[float, float] = CARD_MM) -> NDArray[np.float64]:
    """The 3 x 3 homography from pixels to millimetres, from four corners in order round the card, long side first.

    ImpossibleError when two corners coincide, three lie on a line, or they do not run once round the card.
    """
    width, height = size_mm
    _check_order(corners)
    target = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    middle = np.mean(np.array(corners, dtype=float), axis=0)
    rows, right = [], []
    for (u_photo, v_photo), (x, y) in zip(corners, target, strict=True):
        u, v = u_photo - middle[0], v_photo - middle[1]
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        right += [x, y]
    found = np.append(np.linalg.solve(np.array(rows, dtype=float), np.array(right)), 1.0).reshape(3, 3)
    to_middle = np.array([[1.0, 0.0, -middle[0]], [0.0, 1.0, -middle[1]], [0.0, 0.0, 1.0]])
    return np.asarray(found @ to_middle, dtype=float)


def _check_order(corners: Sequence[Pixel]) -> None:
    """All four turns must bend the same way: else corners coincide, lie on a line, or are marked crosswise."""
    size = max(hypot(a[0] - b[0], a[1] - b[1]) for a in corners for b in corners)
    for a, b in combinations(corners, 2):
        if hypot(a[0] - b[0], a[1] - b[1]) <= 1e-6 * size:
            raise ImpossibleError("two corners of the card coincide")
    turns = []
    for i in range(4):
        (ax, ay), (bx, by), (cx, cy) = (corners[j % 4] for j in (i, i + 1, i + 2))
        turns.append(((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) / size**2)
    if min(abs(turn) for turn in turns) <= 1e-6:
        raise ImpossibleError("three corners of the card lie on a line")
    if not (all(turn > 0 for turn in turns) or all(turn < 0 for turn in turns)):
        raise ImpossibleError("the four corners do not run once round the card")


def on_plane(corners: Sequence[Pixel], point: Pixel, size_mm: tuple[float, float] = CARD_MM) -> tuple[float, float]:
    """Where a marked point lies in the plane of the card, in mm from its first corner.

    ImpossibleError for a point on or behind the plane's horizon, which no camera can see in that plane.
    """
    x, y, w = plane_map(corners, size_mm) @ np.array([point[0], point[1], 1.0])
    if w <= 1e-6:
        raise ImpossibleError("a marked point lies beyond the horizon of the card's plane")
    return float(x / w), float(y / w)


def length_mm(corners: Sequence[Pixel], start: Pixel, end: Pixel, size_mm: tuple[float, float] = CARD_MM) -> float:
    """Distance between two marked points in the plane of the card."""
    (x1, y1), (x2, y2) = on_plane(corners, start, size_mm), on_plane(corners, end, size_mm)
    return hypot(x2 - x1, y2 - y1)


def click_uncertainty_mm(corners: Sequence[Pixel], start: Pixel, end: Pixel, u_pixel: float) -> float:
    """Standard uncertainty of the length from `u_pixel` in each coordinate of all six marks (first order)."""
    marks = np.array([*corners, start, end], dtype=float)
    step = 1e-3
    total = 0.0
    for index in range(marks.size):
        moved = []
        for sign in (step, -step):
            flat = marks.flatten()
            flat[index] += sign
            points = [(float(x), float(y)) for x, y in flat.reshape(-1, 2)]
            moved.append(length_mm(points[:4], points[4], points[5]))
        total += ((moved[0] - moved[1]) / (2 * step)) ** 2
    return u_pixel * sqrt(total)


def above_plane_factor(height_mm: float, camera_mm: float) -> float:
    """How much too long a part reads that is `height_mm` above the card, seen from `camera_mm` away: Z / (Z - h)."""
    if camera_mm <= height_mm:
        raise ImpossibleError("the camera must be farther away than the part is high")
    return camera_mm / (camera_mm - height_mm)


def spans_away(corners: Sequence[Pixel], points: Sequence[Pixel], size_mm: tuple[float, float] = CARD_MM) -> float:
    """How far the farthest point lies from the middle of the card, in long sides of the card."""
    width, height = size_mm
    places = [on_plane(corners, point, size_mm) for point in points]
    return max(hypot(x - width / 2, y - height / 2) for x, y in places) / width
