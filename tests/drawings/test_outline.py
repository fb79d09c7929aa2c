"""The outline: the usual measures come out of it, parallels keep their distance, and grain stays on the plate."""

from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.drawings.geometry.outline import (
    BODY_LENGTH_MM,
    LOWER,
    LOWER_EYE,
    MIDDLE,
    STOP_MM,
    UPPER,
    UPPER_EYE,
    Stroke,
    along,
    arch,
    beside,
    body,
    crossing,
    f_hole,
    half_width,
    straight,
    within,
)
from evaluator.drawings.geometry.pen import Pen, Point, Trace

# Bouts of a full-size violin and the middle of its range in the rubrics; common practice, no source.
BOUTS = (("upper", 30, 110, max, 168.0), ("middle", 135, 210, min, 112.0), ("lower", 240, 340, max, 207.0))


@pytest.mark.parametrize(("name", "first", "last", "extreme", "wanted"), BOUTS, ids=[b[0] for b in BOUTS])
def test_bouts(name: str, first: int, last: int, extreme: object, wanted: float) -> None:
    assert callable(extreme)
    assert extreme(2 * half_width(float(y)) for y in range(first, last)) == pytest.approx(wanted, abs=1)


def test_the_outline_is_closed_and_alike_on_both_sides() -> None:
    pen = Pen()
    body(pen)
    (outline,) = pen.shapes()
    assert isinstance(outline, Trace) and outline.closed
    ends = [outline.start, *((step[-2], step[-1]) for step in outline.steps)]
    assert ends[-1] == ends[0] == (0, 0)
    assert {(round(x, 6), round(y, 6)) for x, y in ends} == {(round(-x, 6) + 0.0, round(y, 6)) for x, y in ends}
    assert max(y for _, y in ends) == BODY_LENGTH_MM


@pytest.mark.parametrize("stroke", [UPPER, MIDDLE, LOWER], ids=["upper", "middle", "lower"])
def test_a_border_line_keeps_its_distance_inside(stroke: Stroke) -> None:
    edge = along(stroke, 40)
    for x, y in beside(edge, 4.0)[2:-2]:
        assert min(dist((x, y), point) for point in edge) == pytest.approx(4.0, abs=0.12)
        assert x < half_width(y)


@given(st.floats(-110, 110), st.floats(1, 8))
def test_grain_stays_on_the_plate(x: float, margin: float) -> None:
    for first, last in straight(x, margin):
        for place, y in (first, last):
            assert abs(place) <= half_width(y) - margin + 1e-9


@given(st.lists(st.tuples(st.floats(-150, 150), st.floats(-50, 400)), max_size=30))
def test_within_keeps_order_and_drops_what_lies_outside(points: list[Point]) -> None:
    kept = [point for run in within(points, 2) for point in run]
    assert all(abs(x) <= half_width(y) - 2 for x, y in kept)
    places = iter(points)
    assert all(point in places for point in kept)


@given(st.floats(20, 250), st.floats(2, 40), st.floats(0, 0.9))
def test_an_arch_is_alike_on_both_sides_and_highest_in_the_middle(width: float, height: float, hollow: float) -> None:
    points = arch(width, height, 24, hollow)
    for (x, y), (x2, y2) in zip(points, points[::-1], strict=True):
        assert (x, y) == pytest.approx((width - x2, y2), abs=1e-9)
    assert max(y for _, y in points) == pytest.approx(height) == pytest.approx(points[12][1])
    assert [x for x, _ in points] == sorted(x for x, _ in points)


@pytest.mark.parametrize(
    ("first", "second", "wanted"),
    [
        (((0, 0), (10, 0)), ((5, -5), (5, 5)), (5, 0)),
        (((0, 0), (4, 0), (8, 8)), ((0, 4), (20, 4)), (6, 4)),
        (((0, 0), (10, 0)), ((0, 1), (10, 1)), None),
        (((0, 0), (1, 0)), ((5, -5), (5, 5)), None),
    ],
)
def test_where_lines_meet(first: tuple[Point, ...], second: tuple[Point, ...], wanted: Point | None) -> None:
    met = crossing(first, second)
    assert (met[2] if met else None) == wanted


def test_border_lines_meet_inside_the_corner() -> None:
    met = crossing(beside(along(MIDDLE, 20), 4.2), beside(along(LOWER, 20), 4.2))
    assert met is not None
    (x, y), tip = met[2], (95, 217)
    assert MIDDLE[1][-1][5] < y < LOWER[0][1] and 3 < dist((x, y), tip) < 12


def test_a_sound_hole_reaches_from_eye_to_eye_with_the_stop_between() -> None:
    pen = Pen()
    f_hole(pen)
    ys = [y for shape in pen.shapes() if isinstance(shape, Trace) for _, y in shape.points()]
    assert min(ys) < UPPER_EYE[0][1] < STOP_MM < LOWER_EYE[0][1] < max(ys)
    assert 70 < max(ys) - min(ys) < 90
