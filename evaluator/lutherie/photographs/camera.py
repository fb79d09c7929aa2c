"""Where a camera stood: its pose over a bank card, from the card's four corners in the photo.

A pinhole camera with square points and its axis through the middle of the picture. The pose (three turns, three shifts)
and the focal length are fitted to the eight coordinates by least squares; what is known of the focal length beforehand
counts as a ninth observation. So two observations are left over, and tell whether the marks can be a card at all.

The card spans the plane z = 0, x along its first side, y along its second, in mm; z points away from the camera.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import acos, cos, degrees, hypot, log, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from .. import ImpossibleError
from ..lengths.photo import CARD_MM, Pixel, plane_map

Vector = NDArray[np.float64]
# What a camera's focal length is named by: that of a camera for 36 x 24 mm film with the same field.
FILM_MM, FILM_DIAGONAL_MM = 36.0, hypot(36.0, 24.0)
# A phone's main camera without zoom, as such a focal length in mm; from memory.
USUAL_FOCAL_MM = (22.0, 30.0)
# Written with the picture it is rounded to whole mm, and some count it by the long side, some by the diagonal.
WRITTEN_FOCAL_SHARE = 0.04
STEPS = 40
# Of two readings of the marks the better must be so much better, in squares of the marks' doubt (1 in 100 by chance).
LEAST_APART = 9.0


@dataclass(frozen=True, slots=True)
class Lens:
    """What is known of the camera before the card is seen: picture in px, focal length in px, its standard uncertainty
    as a share.
    """

    size: tuple[int, int]
    focal: float
    focal_share: float

    @property
    def middle(self) -> Pixel:
        return self.size[0] / 2, self.size[1] / 2


def lens_of(size: tuple[int, int], film_mm: float | None) -> Lens:
    """The lens of a whole picture; `film_mm`: the focal length that the camera wrote into it, None where it did not."""
    low, high = USUAL_FOCAL_MM
    share = log(high / low) / 2 / sqrt(3) if film_mm is None else WRITTEN_FOCAL_SHARE
    found = sqrt(low * high) if film_mm is None else film_mm
    by_side, by_diagonal = max(size) / FILM_MM, hypot(*size) / FILM_DIAGONAL_MM
    return Lens(size, found * (by_side + by_diagonal) / 2, share)


@dataclass(frozen=True, slots=True)
class Pose:
    """A fitted camera: `turn` (3 x 3) and `shift` (mm) take the card's frame into the camera's; `focal` in px.

    `misfit` is the sum of squares that no pose can take away, in units of the marks' standard uncertainty squared,
    with two degrees of freedom. `fitted`: the seven values of the fit, for one that begins near by.
    """

    turn: Vector
    shift: Vector
    focal: float
    middle: Pixel
    misfit: float
    fitted: Vector

    @property
    def place(self) -> tuple[float, float, float]:
        """Where the camera stood in the card's frame: the foot of its perpendicular (x, y), and how far away it was."""
        x, y, z = -self.turn.T @ self.shift
        return float(x), float(y), float(-z)

    @property
    def tilt_deg(self) -> float:
        """The angle between the camera's axis and the perpendicular of the card."""
        return degrees(acos(min(1.0, abs(float(self.turn[2, 2])))))

    def at_height(self, pixel: Pixel, height_mm: float) -> tuple[float, float]:
        """Where a marked point lies (x, y in mm) that stands so high above the card, towards the camera.

        ImpossibleError where no camera can see such a point there.
        """
        ray = self.turn.T @ np.array([pixel[0] - self.middle[0], pixel[1] - self.middle[1], self.focal])
        x, y, away = self.place
        if away <= height_mm or ray[2] <= 1e-3 * self.focal:
            raise ImpossibleError("a marked point lies beyond the horizon of the card's plane")
        reach = (away - height_mm) / ray[2]
        return float(x + reach * ray[0]), float(y + reach * ray[1])


def in_order(corners: Sequence[Pixel], lens: Lens, mark_px: float) -> tuple[Pixel, ...]:
    """The corners in the order in which a clock's hand meets them, a long side of the card first.

    They may be marked either way round and from any corner; ImpossibleError where they are those of no card, or where
    either side could be the long one.
    """
    turned = _clockwise(corners)
    orders = [turned, (*turned[1:], turned[0])]
    misfits = [fitted_pose(one, lens, mark_px).misfit for one in orders]
    if abs(misfits[0] - misfits[1]) < LEAST_APART:
        raise ImpossibleError(
            "the card is too small in the photo, or too slanted, to tell its long side from its short one"
        )
    return orders[misfits.index(min(misfits))]


def _clockwise(corners: Sequence[Pixel]) -> tuple[Pixel, ...]:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)
    return tuple(corners) if area > 0 else tuple(reversed(corners))


def fitted_pose(corners: Sequence[Pixel], lens: Lens, mark_px: float, near: Pose | None = None) -> Pose:
    """The pose that fits four corners in this order, a long side first.

    `mark_px` is a coordinate's standard uncertainty; `near` the pose of corners that lie close by, to begin from.
    ImpossibleError where they do not run once round a card.
    """
    marks = np.array(corners, dtype=float)
    width, height = CARD_MM
    card = np.array([(0, 0, 0), (width, 0, 0), (width, height, 0), (0, height, 0)], dtype=float)
    values = _first_guess(corners, lens) if near is None else near.fitted
    kept, damping = _residuals(values, card, marks, lens, mark_px), 1e-3
    for _ in range(STEPS):
        slopes = _slopes(values, kept, card, marks, lens, mark_px)
        normal = slopes.T @ slopes
        move = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), -slopes.T @ kept)
        tried = _residuals(values + move, card, marks, lens, mark_px)
        better = float(kept @ kept) - float(tried @ tried)
        if better > 0:
            values, kept, damping = values + move, tried, damping / 10
        else:
            damping *= 10
        if 0 <= better < 1e-7 or damping > 1e8:
            break
    return Pose(rotation(values[:3]), values[3:6], _focal(values, lens), lens.middle, float(kept @ kept), values)


def _focal(values: Vector, lens: Lens) -> float:
    return lens.focal * float(np.exp(values[6] * lens.focal_share))


def _residuals(values: Vector, card: Vector, marks: Vector, lens: Lens, mark_px: float) -> Vector:
    """How far the marks lie from where the pose puts them, and the focal length from what is known, by their doubts."""
    seen = card @ rotation(values[:3]).T + values[3:6]
    depth = np.maximum(seen[:, 2:], 1e-3)  # nothing is seen from behind; the fit is led back
    put = _focal(values, lens) * seen[:, :2] / depth + np.array(lens.middle)
    return np.append(((put - marks) / mark_px).ravel(), values[6])


def _slopes(values: Vector, here: Vector, card: Vector, marks: Vector, lens: Lens, mark_px: float) -> Vector:
    columns = []
    for index in range(values.size):
        step = 1e-6 * max(1.0, abs(float(values[index])))
        moved = values.copy()
        moved[index] += step
        columns.append((_residuals(moved, card, marks, lens, mark_px) - here) / step)
    return np.stack(columns, axis=1)


def _first_guess(corners: Sequence[Pixel], lens: Lens) -> Vector:
    """Turn, shift and focal length (in its own standard uncertainties) from the plane's map, which is exact on four
    corners.
    """
    to_photo = np.linalg.inv(plane_map(corners))
    cx, cy = lens.middle
    seen = np.array([[1, 0, -cx], [0, 1, -cy], [0, 0, lens.focal]]) @ to_photo
    seen /= sqrt(float(np.linalg.norm(seen[:, 0]) * np.linalg.norm(seen[:, 1])))
    if seen[2, 2] < 0:
        seen = -seen
    first, second = seen[:, 0], seen[:, 1]
    left, _, right = np.linalg.svd(np.stack([first, second, np.cross(first, second)], axis=1))
    turn = left @ np.diag([1.0, 1.0, float(np.sign(np.linalg.det(left @ right)))]) @ right
    return np.concatenate([_vector(turn), seen[:, 2], [0.0]])


def rotation(vector: Vector) -> Vector:
    """The turn about `vector` by its length in radians (Rodrigues)."""
    angle = float(np.linalg.norm(vector))
    x, y, z = vector if angle < 1e-12 else vector / angle
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]], dtype=float)
    if angle < 1e-12:
        return np.asarray(np.eye(3) + cross, dtype=float)
    return np.asarray(np.eye(3) + sin(angle) * cross + (1 - cos(angle)) * (cross @ cross), dtype=float)


def _vector(turn: Vector) -> Vector:
    """The vector of a turn by less than half a round."""
    angle = acos(max(-1.0, min(1.0, (float(np.trace(turn)) - 1) / 2)))
    axis = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    size = float(np.linalg.norm(axis))
    if size > 1e-9:
        return np.asarray(axis / size * angle, dtype=float)
    if angle < 1.0:
        return np.zeros(3)
    columns = turn + np.eye(3)  # half a round: any column that is not nothing lies along the axis
    longest = columns[:, int(np.argmax(np.linalg.norm(columns, axis=0)))]
    return np.asarray(longest / np.linalg.norm(longest) * angle, dtype=float)
