"""Photos with a card made from known geometry: where every place truly is, and where a vision library sees it.

The scene's frame: x along the length, y across it, z towards the camera, the card's own face near z = 0.
"""

from dataclasses import dataclass
from math import hypot, sqrt

import cv2
import numpy as np
from numpy.typing import NDArray

from evaluator.lutherie.lengths.photo import CARD_MM
from evaluator.lutherie.photographs.camera import Lens, lens_of
from evaluator.lutherie.photographs.laying import LAYINGS, Laying
from evaluator.lutherie.photographs.reading import BENT_SHARE, Marks

Points = NDArray[np.float64]
SIZE = (1600, 1200)
# A violin's length in mm, and where the middle of the card lies from the middle of it.
LENGTHS = {
    "string_length": (328.0, (-10.0, 0.0)),
    "body_stop": (195.0, (0.0, 0.0)),
    "afterlength": (55.0, (0.0, -32.0)),
    "board_end_width": (42.0, (0.0, 45.0)),
}


@dataclass(frozen=True, slots=True)
class Scene:
    """`mm` is the true length; `corners` and `places` are where the camera truly sees them, in px."""

    mm: float
    corners: Points
    places: Points
    outline: Points
    lens: Lens
    laying: Laying

    def marks(self, drawn: np.random.Generator, mark_px: float = 1.0) -> Marks:
        """As a hand marks them, each coordinate off by so much."""
        corners, places = (one + drawn.normal(0.0, mark_px, one.shape) for one in (self.corners, self.places))
        return Marks(pairs(corners), pairs(places), mark_px)


def pairs(points: Points) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in points)


def scene(
    name: str, drawn: np.random.Generator, written: bool, nearest: float = 400.0, film: float | None = None
) -> Scene:
    """A photo of this length as a student takes it: tilted up to 16 degrees, 0.4 m away or more.

    `written`: whether the camera wrote its focal length into the picture; `film`: that length, else a phone's.
    """
    laying, (usual, offset) = LAYINGS[name], LENGTHS[name]
    length = usual * drawn.uniform(0.95, 1.05)
    flat = [one.at(length) + drawn.uniform(-1, 1) * one.half_width(length) for one in laying.heights]
    places = _places(laying, length, flat, drawn)
    card = _tipped(_outline(), laying, drawn) + np.array([*offset, 0.0])
    film = film or drawn.uniform(22, 30)
    focal = lens_of(SIZE, film).focal * (np.exp(drawn.normal(0, 0.04)) if written else 1.0)
    everything = np.vstack([card, places])
    middle = (everything.max(0) + everything.min(0)) / 2
    away = max(nearest, float(focal * np.ptp(everything, axis=0).max() / (0.65 * SIZE[0])))
    turn = _turn([*drawn.uniform(-0.2, 0.2, 2), 0]) @ _turn([0, 0, drawn.uniform(-0.1, 0.1)]) @ np.diag([1.0, -1, -1])
    bent = drawn.uniform(-BENT_SHARE, BENT_SHARE) * focal**2 / (hypot(*SIZE) / 2) ** 2
    seen = _seen(everything - middle, turn, away, focal, bent)
    return Scene(
        length, seen[:4], seen[len(card) :], seen[4 : len(card)], lens_of(SIZE, film if written else None), laying
    )


def _places(laying: Laying, length: float, heights: list[float], drawn: np.random.Generator) -> Points:
    """Where the ends are marked: off along the length by as much as they may be."""
    first, last = (drawn.uniform(-1, 1) * one for one in laying.end_mm)
    if laying.marks == 3:
        ends = [(-length / 2 + first, 22, heights[0]), *((length / 2 + last, y, heights[1]) for y in (-38, 38))]
        return np.array(ends, dtype=float)
    along = sqrt(length**2 - (heights[0] - heights[1]) ** 2) / 2
    return np.array([(-along + first, 0, heights[0]), (along + last, 0, heights[1])])


def _outline() -> Points:
    """The card: the four places where its straight edges would meet, then its edge with the round corners."""
    half, across, radius = CARD_MM[0] / 2, CARD_MM[1] / 2, 3.18
    sharp = [(-half, -across), (half, -across), (half, across), (-half, across)]
    arc = np.linspace(0, np.pi / 2, 9)
    edge = [
        (x - radius * np.sign(x) + radius * np.cos(a), y - radius * np.sign(y) + radius * np.sin(a))
        for (x, y), start in zip(sharp, (np.pi, 1.5 * np.pi, 0.0, np.pi / 2), strict=True)
        for a in start + arc
    ]
    return np.array([(*one, 0.0) for one in (*sharp, *edge)])


def _tipped(card: Points, laying: Laying, drawn: np.random.Generator) -> Points:
    along, across = drawn.uniform(-1, 1) * laying.tip_along, drawn.uniform(-1, 1) * laying.tip_across
    turned = _turn([across, 0, 0]) @ _turn([0, -along, 0]) @ _turn([0, 0, drawn.normal(0, 0.05)])
    return np.asarray(card @ turned.T, dtype=float)


def _turn(vector: list[float]) -> Points:
    return np.asarray(cv2.Rodrigues(np.array(vector, dtype=float))[0], dtype=float)


def _seen(points: Points, turn: Points, away: float, focal: float, bent: float) -> Points:
    matrix = np.array([[focal, 0, SIZE[0] / 2], [0, focal, SIZE[1] / 2], [0, 0, 1.0]])
    vector = cv2.Rodrigues(turn)[0]
    found = cv2.projectPoints(points, vector, np.array([0, 0, away]), matrix, np.array([bent, 0, 0, 0, 0.0]))[0]
    return np.asarray(found.reshape(-1, 2), dtype=float)


def rendered(one: Scene, blur_px: float) -> Points:
    """The picture in grey: a light card on dark wood, a light dot at each place, out of focus by so much."""
    picture = np.full((SIZE[1], SIZE[0]), 70, np.uint8)
    fine = 16
    cv2.fillPoly(picture, [np.round(one.outline * fine).astype(np.int32)], 220, cv2.LINE_AA, 4)
    for x, y in one.places:
        cv2.circle(picture, (round(x * fine), round(y * fine)), 9 * fine, 250, -1, cv2.LINE_AA, 4)
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), blur_px), dtype=float)


def marked_in(picture: Points, near: Scene) -> Scene:
    """The scene with its marks found again in the picture: edges as straight lines, dots as their middle."""
    corners = []
    edges = [_line(picture, near.corners[i], near.corners[(i + 1) % 4]) for i in range(4)]
    for i in range(4):
        (p, d), (q, e) = edges[i - 1], edges[i]
        reach = np.linalg.solve(np.stack([d, -e], axis=1), q - p)[0]
        corners.append(p + reach * d)
    places = [_dot(picture, place) for place in near.places]
    return Scene(near.mm, np.array(corners), np.array(places), near.outline, near.lens, near.laying)


def _line(picture: Points, start: Points, end: Points) -> tuple[Points, Points]:
    """A place on the card's edge and its direction: the edge is looked for across the line between two true corners."""
    along = (end - start) / np.linalg.norm(end - start)
    across = np.array([-along[1], along[0]])
    found = []
    for share in np.linspace(0.15, 0.85, 40):
        middle = start + share * (end - start)
        reach = np.linspace(-8, 8, 65)
        cells = middle + reach[:, None] * across
        grey = cv2.remap(picture.astype(np.float32), cells[:, 0].astype(np.float32), cells[:, 1].astype(np.float32),
                         cv2.INTER_LINEAR).ravel()  # fmt: skip
        steep = np.abs(np.diff(grey))
        found.append(middle + across * float((steep * (reach[:-1] + reach[1:]) / 2).sum() / max(steep.sum(), 1e-9)))
    x_way, y_way, x, y = cv2.fitLine(np.array(found, dtype=np.float32), cv2.DIST_HUBER, 0, 0.01, 0.01).ravel()
    return np.array([x, y], dtype=float), np.array([x_way, y_way], dtype=float)


def _dot(picture: Points, near: Points) -> Points:
    x, y = round(near[0]), round(near[1])
    part = picture[y - 14 : y + 15, x - 14 : x + 15]
    light = np.clip(part - 235, 0, None)
    rows, columns = np.mgrid[y - 14 : y + 15, x - 14 : x + 15]
    return np.array([(columns * light).sum(), (rows * light).sum()]) / light.sum()
