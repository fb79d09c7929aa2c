"""The pen: where placed points land, that curves pass through their points, and that arcs are round."""

from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.drawings.geometry.pen import Pen, Point, Trace, Word, round_steps, smooth, spiral
from evaluator.drawings.svg import svg

numbers = st.floats(-100, 100)
points = st.lists(st.tuples(numbers, numbers), min_size=2, max_size=8, unique=True)


def only(pen: Pen) -> Trace:
    (shape,) = pen.shapes()
    assert isinstance(shape, Trace)
    return shape


@pytest.mark.parametrize(
    ("pen", "wanted"),
    [
        (Pen(), (3, 4)),
        (Pen().at(10, 20), (13, 24)),
        (Pen().at(10, 20, 2), (16, 28)),
        (Pen().at(10, 20, 2, up=True), (16, 12)),
        (Pen().at(10, 20, turn=90), (6, 23)),
        (Pen().at(10, 20).mirrored(), (7, 24)),
        (Pen().at(10, 20, 2).at(1, 1), (18, 30)),
        (Pen().at(10, 20, 2, up=True).at(0, 5), (16, 2)),
    ],
)
def test_a_placed_point(pen: Pen, wanted: Point) -> None:
    pen.line((3, 4), (0, 0))
    assert only(pen).start == pytest.approx(wanted)


@given(points, st.booleans())
def test_a_curve_passes_through_its_points(through: list[Point], closed: bool) -> None:
    ends = [step[-2:] for step in smooth(through, closed and len(through) > 2)]
    assert ends[: len(through) - 1] == through[1:]


@given(points)
def test_a_curve_through_points_on_a_line_stays_on_it(through: list[Point]) -> None:
    flat = tuple((x, 5.0) for x, _ in through)
    pen = Pen()
    pen.curve(*flat)
    assert {round(y, 6) for _, y in only(pen).points()} == {5.0}


@given(st.floats(1, 50), st.floats(0, 360), st.floats(10, 360))
def test_an_arc_is_round(radius: float, start: float, length: float) -> None:
    here, steps = round_steps((7, 9), radius, start, start + length)
    for step in steps:
        x1, y1, x2, y2, x, y = step
        middle = (here[0] + 3 * x1 + 3 * x2 + x) / 8, (here[1] + 3 * y1 + 3 * y2 + y) / 8
        for place in (here, middle, (x, y)):
            assert hypot(place[0] - 7, place[1] - 9) == pytest.approx(radius, rel=3e-4)
        here = (x, y)


def test_a_spiral_shrinks_evenly() -> None:
    radii = [hypot(x, y) for x, y in spiral((0, 0), 16, 1, 2, 0, 9)]
    assert [before / after for before, after in pairwise(radii)] == pytest.approx([2**0.5] * 8)


def test_figures_keep_their_size_on_the_sheet() -> None:
    pen = Pen()
    pen.at(0, 0, 4).span((10, 10), (30, 10), "20")
    line, *ticks, word = pen.shapes()
    assert isinstance(line, Trace) and line.start == (40, 40)
    assert all(isinstance(tick, Trace) and tick.points()[0][1] == 35 for tick in ticks)
    assert isinstance(word, Word) and word.x == 80 and word.y < 40


def test_neighbours_of_one_kind_share_a_path() -> None:
    pen = Pen()
    pen.line((0, 0), (1, 1))
    pen.line((2, 2), (3, 1), (4, 2))
    pen.line((0, 0), (1, 0), mark="look")
    text = svg(pen.shapes(), "x")
    assert text.count("<path") == 2
    assert 'd="M0 0l10 10M20 20l10-10 10 10"' in text
