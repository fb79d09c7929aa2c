"""The bow: the stick bends as much as it is told, and what is measured on it lies where it is said to lie."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.drawings.bow import bow
from evaluator.drawings.bow.bow_shape import END_X, FRONT, HAIR_Y, HEAD_X, RIDGE, STICK_Y, THROAT, head, whole
from evaluator.drawings.geometry.pen import Pen, Trace
from evaluator.drawings.registry import DRAWINGS


def traces(pen: Pen, mark: str) -> list[Trace]:
    return [shape for shape in pen.shapes() if isinstance(shape, Trace) and shape.mark == mark]


def spans(name: str) -> list[Trace]:
    """Level measuring lines of a drawing."""
    (panel,) = DRAWINGS[name].panels
    looks = [shape for shape in panel.shapes() if isinstance(shape, Trace) and shape.mark == "look"]
    return [one for one in looks if len(one.points()) == 2 and one.points()[0][1] == one.points()[1][1]]


@given(st.floats(0, 20))
def test_the_stick_bends_as_it_is_told(middle: float) -> None:
    pen = Pen()
    whole(pen, middle, stick="look")
    upper, lower = traces(pen, "look")
    top, low = ([one.start, *((step[-2], step[-1]) for step in one.steps)] for one in (upper, lower))
    assert all(3 < y2 - y < 5 for (_, y), (_, y2) in zip(top, low, strict=True))
    assert top[0][1] == pytest.approx(STICK_Y) == pytest.approx(top[-1][1])
    assert max(y for _, y in top) == pytest.approx(STICK_Y + middle, abs=0.011 * middle + 1e-9)


def test_the_hair_leaves_the_stick_free_at_playing_tension() -> None:
    pen = Pen()
    whole(pen, 11.0, stick="look")
    _, lower = traces(pen, "look")
    assert max(y for _, y in lower.points()) < HAIR_Y - 4


def test_the_balance_point_lies_where_bows_balance() -> None:
    (line,) = spans("bow_balance")
    (x, _), (front, _) = line.points()
    hair_mm = 650  # from the front of the frog to the head; common practice, no source
    assert front == FRONT
    assert 180 < (front - x) / (FRONT - HEAD_X - 12) * hair_mm < 205  # as in standards/bow.yaml


def test_the_length_leaves_the_button_out() -> None:
    (line,) = spans("bow_length")
    (first, _), (last, _) = line.points()
    assert first <= HEAD_X and last == END_X - 4


def test_the_head_is_one_closed_outline() -> None:
    pen = Pen()
    head(pen)
    closed = [shape for shape in traces(pen, "ink") if shape.closed]
    assert closed[0].start == RIDGE[0]
    assert RIDGE[0][0] == THROAT[-1][0] and RIDGE[-1][1] < THROAT[0][1]


def test_a_worn_out_curve_is_a_straight_stick() -> None:
    good, flat = DRAWINGS["bow_camber"].panels
    assert (good.judged, flat.judged) == ("right", "wrong")
    highs = [
        max(
            y
            for shape in panel.shapes()
            if isinstance(shape, Trace) and shape.mark == "look"
            for _, y in shape.points()
        )
        for panel in (good, flat)
    ]
    assert highs[0] - highs[1] > 8
    assert bow.DRAWINGS[0].name in DRAWINGS
