"""The arch of a bridge: the circle through three notches, or the best circle by true distances through four or more.

An algebraic fit is quick but too small on short arcs (published: 20.8 where the true radius is 27.4), so the distances
themselves are minimised (geometric least squares, Gauss-Newton from an algebraic start).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from .. import ImpossibleError

ITERATIONS = 100
FLAT = 1e-9  # relative area below which points count as lying on a line
STRAIGHT = 1e4  # radius in spreads of the points above which the best circle is a line for every purpose


@dataclass(frozen=True, slots=True)
class Circle:
    """Centre and radius in the unit of the points; `residual` is the root mean square distance from the circle."""

    x: float
    y: float
    radius: float
    residual: float = 0.0


def circle_through(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> Circle:
    """The circle through three points; ImpossibleError when they lie on a line or coincide."""
    (ax, ay), (bx, by), (cx, cy) = (0.0, 0.0), (q[0] - p[0], q[1] - p[1]), (r[0] - p[0], r[1] - p[1])
    area = 2 * (bx * cy - by * cx)
    size = max(hypot(bx, by), hypot(cx, cy))
    if size == 0 or abs(area) <= FLAT * size * size:
        raise ImpossibleError("the points lie on a line")
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    x, y = (cy * b2 - by * c2) / area, (bx * c2 - cx * b2) / area
    return Circle(p[0] + x + ax, p[1] + y + ay, hypot(x, y))


def fitted_circle(points: Sequence[tuple[float, float]]) -> Circle:
    """The circle with the least sum of squared distances to it; ImpossibleError on a line or below three points."""
    if len(points) < 3:
        raise ImpossibleError("a circle needs three points")
    if len(points) == 3:
        return circle_through(points[0], points[1], points[2])
    xy = np.asarray(points, dtype=float)
    middle = xy.mean(axis=0)
    shifted = xy - middle
    spread = float(np.sqrt((shifted**2).sum(axis=1).mean()))
    if spread == 0 or np.linalg.svd(shifted, compute_uv=False)[1] <= FLAT * spread * sqrt(len(points)):
        raise ImpossibleError("the points lie on a line")
    x, y, radius = _geometric(shifted / spread)
    if radius > STRAIGHT:
        raise ImpossibleError("the points bend too little to tell a circle from a line")
    distance = np.hypot(shifted[:, 0] - x * spread, shifted[:, 1] - y * spread) - radius * spread
    residual = float(np.sqrt((distance**2).mean()))
    return Circle(float(x * spread + middle[0]), float(y * spread + middle[1]), float(radius * spread), residual)


def _algebraic_start(xy: NDArray[np.float64]) -> tuple[float, float, float]:
    """Taubin's fit, nearly unbiased on short arcs (G. Taubin, 1991): the least singular vector of the centred squares.

    `xy` has its middle at nothing. No product of the design with itself is made, which on points that lie a hair beside
    their circle would drown the hair, and with it the circle, in rounding.
    """
    square = (xy**2).sum(axis=1)
    mean = float(square.mean())
    scale = 2 * sqrt(mean)
    _, _, basis = np.linalg.svd(np.column_stack([(square - mean) / scale, xy]), full_matrices=False)
    a, b, c = basis[2, 0] / scale, basis[2, 1], basis[2, 2]
    if abs(a) <= FLAT * hypot(b, c):
        raise ImpossibleError("the points lie on a line")
    x, y = -b / (2 * a), -c / (2 * a)
    return float(x), float(y), float(sqrt(x * x + y * y + mean))


def _geometric(xy: NDArray[np.float64]) -> tuple[float, float, float]:
    """Levenberg-Marquardt on the distances from the algebraic start."""
    guess = np.array(_algebraic_start(xy))
    damping = 1e-3
    cost, jacobian, residual = _distances(xy, guess)
    for _ in range(ITERATIONS):
        normal = jacobian.T @ jacobian
        if float(guess[2]) > 10 * STRAIGHT:
            break
        step = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), -jacobian.T @ residual)
        trial_cost, trial_jacobian, trial_residual = _distances(xy, guess + step)
        if trial_cost <= cost:
            guess, damping = guess + step, damping / 10
            finished = float(np.abs(step).max()) < 1e-13 * max(1.0, float(np.abs(guess).max()))
            cost, jacobian, residual = trial_cost, trial_jacobian, trial_residual
            if finished:
                break
        else:
            damping *= 10
            if damping > 1e12:
                break
    return float(guess[0]), float(guess[1]), float(guess[2])


def _distances(
    xy: NDArray[np.float64], circle: NDArray[np.float64]
) -> tuple[float, NDArray[np.float64], NDArray[np.float64]]:
    away = xy - circle[:2]
    distance = np.hypot(away[:, 0], away[:, 1])
    residual = distance - circle[2]
    jacobian = np.column_stack([-away[:, 0] / distance, -away[:, 1] / distance, -np.ones(len(xy))])
    return float((residual**2).sum()), jacobian, residual


def radius_uncertainty(points: Sequence[tuple[float, float]], u: float) -> float:
    """Standard uncertainty of the fitted radius when every point has `u`, by linearised least squares u^2 (J'J)^-1."""
    circle = fitted_circle(points)
    _, jacobian, _ = _distances(np.asarray(points, dtype=float), np.array([circle.x, circle.y, circle.radius]))
    return float(u * np.sqrt(np.linalg.inv(jacobian.T @ jacobian)[2, 2]))


def radius_from_rise(chord: float, rise: float) -> float:
    """Radius from a chord and its rise (sagitta): R = s / 2 + c^2 / (8 s)."""
    return rise / 2 + chord**2 / (8 * rise)


@dataclass(frozen=True, slots=True)
class Arch:
    """The curve of the strings that a way of playing asks for: radius in mm from `low` to `high`."""

    low: float
    high: float
    target: float


# From memory and common practice, no source with measured bridges was found; full size.
ARCHES: Mapping[str, Arch] = {
    "violin_classical": Arch(40.0, 44.0, 42.0),
    "violin_fiddle": Arch(45.0, 60.0, 48.0),
    "viola": Arch(41.0, 50.0, 44.0),
    "cello": Arch(60.0, 70.0, 64.0),
}


def board_surface_mm(across_mm: float, board_radius_mm: float) -> float:
    """How far the board's round surface lies below its crown, `across_mm` from the middle."""
    if abs(across_mm) > board_radius_mm:
        raise ImpossibleError("a string lies beyond the round of the fingerboard")
    return board_radius_mm - sqrt(board_radius_mm**2 - across_mm**2)


def clearance_mm(
    nut: tuple[float, float], notch: tuple[float, float], share: float, crown_mm: float, board_radius_mm: float
) -> float:
    """Height of a string over the board's end, measured square to the belly.

    `nut` and `notch` are (across, height) of the string there, `share` is how far along from the nut the board ends
    (board length / playing length), `crown_mm` the height of the middle of the board's end in the same frame.
    """
    across = nut[0] + share * (notch[0] - nut[0])
    height = nut[1] + share * (notch[1] - nut[1])
    return height - (crown_mm - board_surface_mm(across, board_radius_mm))
