"""Laws of the bridge's arch, of angles and of projection; scipy as the oracle of the fit."""

from itertools import product
from math import atan, cos, degrees, hypot, sin

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from evaluator.lutherie import ImpossibleError
from evaluator.lutherie.lengths import string_line
from evaluator.lutherie.lengths.arch import (
    circle_through,
    clearance_mm,
    fitted_circle,
    radius_from_rise,
    radius_uncertainty,
)

Points = list[tuple[float, float]]
radius = st.floats(20.0, 80.0)
shift = st.floats(-200.0, 200.0)
turn = st.floats(-3.0, 3.0)
noise = st.lists(st.floats(-0.3, 0.3), min_size=5, max_size=5)
ACROSS = (-16.0, -8.0, 0.0, 8.0, 16.0)
HAIR = 1.192092896e-07  # one point so far beside its circle was once told to lie on a line


def notches(r: float, errors: list[float]) -> Points:
    return [(x, (r * r - x * x) ** 0.5 + e) for x, e in zip(ACROSS, errors, strict=True)]


@example(49.5, 0.0, 0.0, 0.0, [0.0, 0.0, 0.0, 0.0, HAIR])
@example(20.0, 0.0, 0.0, 0.0, [0.0, 0.0, 0.0, HAIR, 0.0])
@example(49.5, 150.0, -150.0, 1.0, [0.0, 1e-9, 0.0, 0.0, 0.0])
@given(radius, shift, shift, turn, noise)
def test_a_fitted_circle_is_unmoved_by_rotation_and_shift(
    r: float, dx: float, dy: float, angle: float, errors: list[float]
) -> None:
    points = notches(r, errors)
    moved = [(x * cos(angle) - y * sin(angle) + dx, x * sin(angle) + y * cos(angle) + dy) for x, y in points]
    at, there = fitted_circle(points), fitted_circle(moved)
    assert there.radius == pytest.approx(at.radius, rel=1e-6)
    assert there.residual == pytest.approx(at.residual, abs=1e-6)


@example(20.0, [HAIR, 0.0, 0.0, 0.0, 0.0])
@example(42.0, [0.0, 0.0, 0.0, 0.0, HAIR])
@example(30.0, [0.0, 0.0, 0.0, 0.0, 1e-8])
@example(80.0, [0.0, 1e-8, 0.0, 0.0, 0.0])
@given(radius, noise)
def test_the_fit_agrees_with_least_squares_of_a_library(r: float, errors: list[float]) -> None:
    """Oracle: scipy.optimize.least_squares on the distances, from the true circle."""
    points = np.array(notches(r, errors))

    def distances(circle: np.ndarray) -> np.ndarray:
        return np.hypot(points[:, 0] - circle[0], points[:, 1] - circle[1]) - circle[2]

    oracle = least_squares(distances, np.array([0.0, 0.0, r]), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    found = fitted_circle([(float(x), float(y)) for x, y in points])
    ours = float((distances(np.array([found.x, found.y, found.radius])) ** 2).sum())
    assert ours <= 2 * oracle.cost * (1 + 1e-9) + 1e-18
    assert found.radius == pytest.approx(oracle.x[2], rel=1e-4)


@given(radius)
def test_three_points_lie_on_their_circle(r: float) -> None:
    points = notches(r, [0.0] * 5)
    circle = circle_through(points[0], points[2], points[3])
    assert all(hypot(x - circle.x, y - circle.y) == pytest.approx(r) for x, y in points)


def test_the_stated_doubt_is_the_spread_of_repeated_measuring() -> None:
    """Oracle: 4,000 seeded draws of 0.05 mm of noise, square to the curve as a height is read."""
    points = notches(42.0, [0.0] * 5)
    draw = np.random.default_rng(7).normal(0.0, 0.05, (4000, 5, 2))
    radii = [fitted_circle([(x + a, y + b) for (x, y), (a, b) in zip(points, one, strict=True)]).radius for one in draw]
    assert radius_uncertainty(points, 0.05) == pytest.approx(float(np.std(radii)), rel=0.05)


@pytest.mark.parametrize("hair", [1e-12, 1e-10, 1e-9, 1e-8, -HAIR, HAIR, 1e-6, 1e-4])
def test_a_point_a_hair_beside_the_circle_moves_it_hardly(hair: float) -> None:
    """Derived: over so short an arc the radius moves by some hundred times what one of five points does."""
    for r, place in product([20.0, 30.0, 42.0, 49.5, 80.0], range(5)):
        errors = [hair if at == place else 0.0 for at in range(5)]
        assert fitted_circle(notches(r, errors)).radius == pytest.approx(r, abs=500 * abs(hair) + 1e-7), (r, place)


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (10, 5), (20, 10)],
        [(0, 0), (1, 1), (2, 2), (3, 3)],
        [(0, 0), (0, 0), (5, 1)],
        [(1, 1), (1, 1), (1, 1), (1, 1)],
        [(0, 0), (1, 0.1), (2, 0), (3, 0.1)],
    ],
)
def test_no_circle_through_a_line(points: Points) -> None:
    with pytest.raises(ImpossibleError, match=r"line|circle"):
        fitted_circle(points)


def test_two_points_make_no_circle() -> None:
    with pytest.raises(ImpossibleError, match="three points"):
        fitted_circle([(0, 0), (1, 1)])


@given(radius, st.floats(5.0, 39.0))
def test_a_chord_and_its_rise_give_the_radius(r: float, chord: float) -> None:
    """Derived: the middle of a chord lies sqrt(R^2 - c^2 / 4) from the centre."""
    rise = r - (r * r - chord * chord / 4) ** 0.5
    assert radius_from_rise(chord, rise) == pytest.approx(r, rel=1e-6)


def test_clearance_over_the_board() -> None:
    """Half-way along, a string from height 0 to height 10 is at 5; the board's crown at 2, its edge 0.835 lower."""
    assert clearance_mm((0, 0), (0, 10), 0.5, 2.0, 60.0) == pytest.approx(3.0)
    assert clearance_mm((10, 0), (10, 10), 0.5, 2.0, 60.0) == pytest.approx(3.0 + 60 - (60**2 - 100) ** 0.5)
    with pytest.raises(ImpossibleError, match="fingerboard"):
        clearance_mm((70, 0), (70, 10), 0.5, 2.0, 60.0)


@given(st.floats(-20.0, 60.0), st.floats(-20.0, 40.0))
def test_falls_and_angle_make_a_straight_line(nut: float, saddle: float) -> None:
    included, front, back = string_line.break_angle_deg(328.0, nut, 54.5, saddle)
    assert included + front + back == pytest.approx(180.0)
    assert sin(front * 3.141592653589793 / 180) * 328.0 == pytest.approx(nut, abs=1e-9)


def test_a_height_longer_than_its_string_is_impossible() -> None:
    with pytest.raises(ImpossibleError):
        string_line.break_angle_deg(328.0, 40.0, 54.5, 60.0)


def test_projection_is_the_line_carried_on() -> None:
    slope = degrees(atan(0.05))
    assert string_line.projection_mm(10.0, 15.0, 100.0, 60.0) == pytest.approx(18.0)
    assert string_line.fall_deg(sin(slope * 3.141592653589793 / 180) * 80, 80.0) == pytest.approx(slope)


@given(st.floats(200.0, 700.0), st.floats(20.0, 120.0))
def test_moving_the_tailpiece_as_told_reaches_a_sixth(long: float, behind: float) -> None:
    moved = behind + string_line.tail_cord_change_mm(long, behind)
    assert long / moved == pytest.approx(6.0)
    assert string_line.cents_from_two_octaves_and_a_fifth(long, moved) == pytest.approx(1.955, abs=1e-3)


@pytest.mark.parametrize(("family", "body", "neck"), [("violin", 195, 130), ("viola", 225, 150), ("cello", 400, 280)])
def test_the_neck_that_goes_with_a_body(family: str, body: float, neck: float) -> None:
    """2 : 3 and 7 : 10, makers' tables, from memory."""
    assert string_line.target_neck_stop_mm(body, family) == pytest.approx(neck)
    assert string_line.stop_ratio(neck, body) == pytest.approx(string_line.STOP_RATIOS[family])
