"""Length in a photo: OpenCV as the oracle of the map, and what cannot be."""

from math import hypot

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.lutherie import ImpossibleError
from evaluator.lutherie.lengths.photo import (
    CARD_MM,
    above_plane_factor,
    click_uncertainty_mm,
    length_mm,
    on_plane,
    plane_map,
    spans_away,
)

CORNERS = ((412.0, 655.0), (1208.0, 702.0), (1175.0, 1190.0), (388.0, 1129.0))
jolt = st.floats(-60.0, 60.0)


@given(st.lists(jolt, min_size=8, max_size=8))
def test_the_map_agrees_with_a_vision_library(moves: list[float]) -> None:
    corners = [(x + moves[2 * i], y + moves[2 * i + 1]) for i, (x, y) in enumerate(CORNERS)]
    width, height = CARD_MM
    card = np.array([(0, 0), (width, 0), (width, height), (0, height)], dtype=np.float32)
    oracle = cv2.getPerspectiveTransform(np.array(corners, dtype=np.float32), card)
    point = np.array([[[900.0, 800.0]]])
    expected = cv2.perspectiveTransform(point, oracle)[0, 0]
    rounded = [(float(np.float32(x)), float(np.float32(y))) for x, y in corners]
    assert on_plane(rounded, (900.0, 800.0)) == pytest.approx(tuple(expected), abs=1e-4)


@given(st.lists(jolt, min_size=8, max_size=8))
def test_the_card_measures_as_a_card(moves: list[float]) -> None:
    corners = [(x + moves[2 * i], y + moves[2 * i + 1]) for i, (x, y) in enumerate(CORNERS)]
    assert length_mm(corners, corners[0], corners[1]) == pytest.approx(85.60)
    assert length_mm(corners, corners[1], corners[2]) == pytest.approx(53.98)
    assert length_mm(corners, corners[0], corners[2]) == pytest.approx(hypot(*CARD_MM))
    assert plane_map(corners).shape == (3, 3)


def test_the_doubt_is_the_spread_of_repeated_marking() -> None:
    """Oracle: 4,000 seeded draws of one pixel."""
    draws = np.random.default_rng(3).normal(0.0, 1.0, (4000, 6, 2))
    marks = np.array([*CORNERS, (900.0, 300.0), (1500.0, 1500.0)])
    found = []
    for one in draws:
        points = [(float(x), float(y)) for x, y in marks + one]
        found.append(length_mm(points[:4], points[4], points[5]))
    assert click_uncertainty_mm(CORNERS, (900.0, 300.0), (1500.0, 1500.0), 1.0) == pytest.approx(
        float(np.std(found)), rel=0.04
    )


@pytest.mark.parametrize(
    ("corners", "why"),
    [
        (((0, 0), (10, 0), (20, 0), (0, 10)), "on a line"),
        (((0, 0), (10, 0), (10, 0), (0, 10)), "coincide"),
        (((0, 0), (0, 0), (0, 0), (0, 0)), "coincide"),
        (((0, 0), (10, 10), (10, 0), (0, 10)), "once round"),
        (((0, 0), (10, 0), (3, 2), (0, 10)), "once round"),
    ],
)
def test_corners_that_are_no_card(corners: tuple[tuple[float, float], ...], why: str) -> None:
    with pytest.raises(ImpossibleError, match=why):
        plane_map(corners)


def test_a_point_beyond_the_horizon() -> None:
    steep = ((0.0, 0.0), (100.0, 0.0), (60.0, 50.0), (40.0, 50.0))
    with pytest.raises(ImpossibleError, match="horizon"):
        on_plane(steep, (50.0, 90.0))


def test_height_above_the_plane() -> None:
    assert above_plane_factor(0.0, 400.0) == 1.0
    with pytest.raises(ImpossibleError, match="camera"):
        above_plane_factor(400.0, 400.0)


def test_how_far_a_part_lies_from_the_card() -> None:
    flat = ((0.0, 0.0), (856.0, 0.0), (856.0, 539.8), (0.0, 539.8))
    assert spans_away(flat, [(428.0, 269.9)]) == pytest.approx(0.0, abs=1e-9)
    assert spans_away(flat, [(428.0 + 856.0, 269.9)]) == pytest.approx(1.0)
