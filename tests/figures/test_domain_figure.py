"""The domains' figure: every row in its place, marks inside the scale, said in words."""

import xml.etree.ElementTree as ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.figures.domains import Row, domain_rule
from evaluator.figures.shapes import Box, Dot, Label
from evaluator.figures.svg import svg

TRIPLE = st.tuples(st.floats(0, 100), st.floats(0, 100), st.floats(0, 100)).map(
    lambda values: (sorted(values)[1], sorted(values)[0], sorted(values)[2])
)
ROWS = st.lists(st.tuples(st.sampled_from(["How it was made", "Sound <b>", "Tone"]), TRIPLE, TRIPLE), min_size=1)


@given(ROWS, st.sampled_from([80.0, 130.0, 160.0]))
def test_marks_and_bands_lie_inside(rows: list[tuple[str, tuple[float, ...], tuple[float, ...]]], width: float) -> None:
    figure = domain_rule([Row(*row) for row in rows], width)
    for shape in figure.shapes:
        if isinstance(shape, Box):
            assert shape.width >= 0
            assert shape.x >= 0 and shape.x + shape.width <= figure.width
        if isinstance(shape, Dot | Label):
            assert 0 <= shape.x <= figure.width
            assert 0 <= shape.y <= figure.height
    assert [s.text for s in figure.shapes if isinstance(s, Label)][: len(rows)]
    ElementTree.fromstring(svg(figure))


@pytest.mark.parametrize("width", [80.0, 130.0])
def test_rows_go_down_and_a_better_score_lies_further_right(width: float) -> None:
    rows = [Row("first", (20, 10, 30), (60, 50, 70)), Row("second", (80, 70, 90), (80, 70, 90))]
    figure = domain_rule(rows, width)
    words = {s.text: s.y for s in figure.shapes if isinstance(s, Label)}
    assert words["first"] < words["second"]
    rings = [s for s in figure.shapes if isinstance(s, Dot) and not s.filled]
    dots = [s for s in figure.shapes if isinstance(s, Dot) and s.role == "accent"]
    assert rings[0].x < dots[0].x and rings[1].x == dots[1].x
    assert "first: 20 as it stands, 60 after the work" in figure.alt
