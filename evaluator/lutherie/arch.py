"""The arch of a bridge: the circle through three notches, or the best circle by true distances through four or more.

An algebraic fit is quick but too small on short arcs (published: 20.8 where the true radius is 27.4), so the distances
themselves are minimised (geometric least squares, Gauss-Newton from an algebraic start).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

ITERATIONS = 100
FLAT = 1e-9  # relative area below which points count as lying on a line


@dataclass(frozen=True, slots=True)
class Circle:
    """Centre and radius in the unit of the points; `residual` is the root mean square distance from the circle."""

    x: float
    y: float
    radius: float
    residual: float = 0.0


def circle_through(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> Circle:
    """The circle through three points; ValueError when they lie on a line or coincide."""
    (ax, ay), (bx, by), (cx, cy) = (0.0, 0.0), (q[0] - p[0], q[1] - p[1]), (r[0] - p[0], r[1] - p[1])
    area = 2 * (bx * cy - by * cx)
    size = max(hypot(bx, by), hypot(cx, cy))
    if size == 0 or abs(area) <= FLAT * size * size:
        raise ValueError("the points lie on a line")
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    x, y = (cy * b2 - by * c2) / area, (bx * c2 - cx * b2) / area
    return Circle(p[0] + x + ax, p[1] + y + ay, hypot(x, y))


def fitted_circle(points: Sequence[tuple[float, float]]) -> Circle:
    """The circle with the least sum of squared distances to it; ValueError on a line or below three points."""
    if len(points) < 3:
        raise ValueError("a circle needs three points")
    if len(points) == 3:
        return circle_through(points[0], points[1], points[2])
    xy = np.asarray(points, dtype=float)
    middle = xy.mean(axis=0)
    shifted = xy - middle
    spread = float(np.sqrt((shifted**2).sum(axis=1).mean()))
    if spread == 0 or np.linalg.svd(shifted, compute_uv=False)[1] <= FLAT * spread * sqrt(len(points)):
        raise ValueError("the points lie on a line")
    x, y, radius = _geometric(shifted / spread)
    distance = np.hypot(shifted[:, 0] - x * spread, shifted[:, 1] - y * spread) - radius * spread
    residual = float(np.sqrt((distance**2).mean()))
    return Circle(float(x * spread + middle[0]), float(y * spread + middle[1]), float(radius * spread), residual)


def _algebraic_start(xy: NDArray[np.float64]) -> tuple[float, float, float]:
    """Pratt's fit, which is nearly unbiased on short arcs: smallest generalised singular vector (V. Pratt, 1987)."""
    square = (xy**2).sum(axis=1)
    design = np.column_stack([square, xy, np.ones(len(xy))])
    _, values, basis = np.linalg.svd(design, full_matrices=False)
    if values[3] < 1e-12 * values[0]:
        a, b, c, d = basis[3]
    else:
        scaled = basis.T * values @ basis
        constraint = np.array([[0, 0, 0, -0.5], [0, 1, 0, 0], [0, 0, 1, 0], [-0.5, 0, 0, 0]])
        eigenvalues, vectors = np.linalg.eig(scaled @ constraint @ scaled)
        order = np.argsort(eigenvalues.real)
        smallest_positive = next(i for i in order if eigenvalues[i].real > 0)
        a, b, c, d = np.linalg.solve(scaled, vectors[:, smallest_positive].real)
    x, y = -b / (2 * a), -c / (2 * a)
    return float(x), float(y), float(sqrt(abs(x * x + y * y - d / a)))


def _geometric(xy: NDArray[np.float64]) -> tuple[float, float, float]:
    """Levenberg-Marquardt on the distances from the algebraic start."""
    guess = np.array(_algebraic_start(xy))
    damping = 1e-3
    cost, jacobian, residual = _distances(xy, guess)
    for _ in range(ITERATIONS):
        normal = jacobian.T @ jacobian
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


def rise_from_radius(chord: float, radius: float) -> float:
    """Rise of an arc over a chord; ValueError when the chord is longer than the diameter."""
    if chord > 2 * radius:
        raise ValueError("the chord is longer than the diameter")
    return radius - sqrt(radius**2 - chord**2 / 4)
