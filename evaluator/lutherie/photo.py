"""Length from one photograph: a card of known size in the same plane gives the scale and undoes the perspective.

The card is an ID-1 card, 85.60 x 53.98 mm (ISO/IEC 7810, nominal values). Its corners are round: the point to mark is
where the straight edges would meet. A part that stands nearer to the camera than the card reads too long by Z / (Z -
h).
"""

from collections.abc import Sequence
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

CARD_MM = (85.60, 53.98)
Pixel = tuple[float, float]


def plane_map(corners: Sequence[Pixel], size_mm: tuple[float, float] = CARD_MM) -> NDArray[np.float64]:
    """The 3 x 3 homography from pixels to millimetres, from four corners in order round the card, long side first.

    ValueError when three corners lie on a line or two coincide.
    """
    width, height = size_mm
    target = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    rows, right = [], []
    for (u, v), (x, y) in zip(corners, target, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        right += [x, y]
    matrix = np.array(rows, dtype=float)
    if np.linalg.cond(matrix) > 1e13 or _on_a_line(corners):
        raise ValueError("three corners lie on a line")
    return np.append(np.linalg.solve(matrix, np.array(right)), 1.0).reshape(3, 3)


def _on_a_line(corners: Sequence[Pixel]) -> bool:
    size = max(hypot(a[0] - b[0], a[1] - b[1]) for a in corners for b in corners)
    for i in range(4):
        (ax, ay), (bx, by), (cx, cy) = (corners[j % 4] for j in (i, i + 1, i + 2))
        if abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) <= 1e-6 * size * size:
            return True
    return False


def length_mm(corners: Sequence[Pixel], start: Pixel, end: Pixel, size_mm: tuple[float, float] = CARD_MM) -> float:
    """Distance between two marked points in the plane of the card."""
    ends = plane_map(corners, size_mm) @ np.array([[start[0], end[0]], [start[1], end[1]], [1.0, 1.0]])
    ends = ends[:2] / ends[2]
    return float(hypot(ends[0, 0] - ends[0, 1], ends[1, 0] - ends[1, 1]))


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
    return camera_mm / (camera_mm - height_mm)
