"""Figures: no label is overlapped or crossed, everything lies on the sheet, and the SVG is well-formed and named."""

import xml.etree.ElementTree as ElementTree
from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from evaluator.figures.mapping.map import Spot, mapped
from evaluator.figures.money import price_rule
from evaluator.figures.readings import reading_rule, slim_rule, standard_words
from evaluator.figures.rules import LETTER, Mark, nice_step, rule, score_rule
from evaluator.figures.shapes import Box, Figure, Label, Line
from evaluator.figures.svg import svg

SCORES = st.floats(0, 100)
PRICES = st.floats(1, 1e6)
WIDTHS_MM = st.sampled_from([80.0, 100.0, 130.0, 160.0, 174.0])  # a phone first
MARKS = st.lists(
    st.tuples(SCORES, st.sampled_from(["asked 780", "aim for 12,345", "it", "as it stands 7"])), max_size=4
)


def extent(label: Label) -> tuple[float, float, float, float]:
    """Left, right, top and bottom of a label's letters, by the mean width of a letter."""
    wide = len(label.text) * label.size * LETTER
    left = label.x - {"start": 0.0, "middle": wide / 2, "end": wide}[label.anchor]
    return left, left + wide, label.y - 0.7 * label.size, label.y


def strong_labels(figure: Figure) -> list[Label]:
    return [shape for shape in figure.shapes if isinstance(shape, Label) and shape.strong]


def overlap(one: Label, other: Label) -> bool:
    left, right, top, bottom = extent(one)
    first, last, upper, lower = extent(other)
    return left < last and first < right and top < lower and upper < bottom


def crossed(label: Label, line: Line) -> bool:
    left, right, top, bottom = extent(label)
    upright = line.x1 == line.x2
    return upright and left < line.x1 < right and min(line.y1, line.y2) < bottom and max(line.y1, line.y2) > top


def test_labels_of_a_row_stand_in_the_order_of_their_marks() -> None:
    figure = score_rule((82, 79, 84), (87, 84, 89), 130, 86)
    after, usual = (next(one for one in strong_labels(figure) if word in one.text) for word in ("after", "usual"))
    assert after.y != usual.y or extent(after)[0] > extent(usual)[0]


def assert_readable(figure: Figure) -> None:
    labels = strong_labels(figure)
    for one, other in combinations(labels, 2):
        assert not overlap(one, other), f"{one.text} lies on {other.text}"
    for label in labels:
        for line in (shape for shape in figure.shapes if isinstance(shape, Line)):
            assert not crossed(label, line), f"a line runs through {label.text}"


@given(MARKS)
@example([(88.0, "asked 780"), (88.0, "aim for 12,345"), (53.0, "it")])
@example([(99.9, "asked 780"), (99.9, "aim for 12,345"), (100.0, "as it stands 7"), (99.0, "it")])
def test_no_label_of_a_rule_is_overlapped_or_crossed(marks: list[tuple[float, str]]) -> None:
    figure = rule(0, 100, [Mark(value, text) for value, text in marks], "words", width=160)
    assert len(strong_labels(figure)) == len(marks)
    assert_readable(figure)


@given(PRICES, PRICES, st.one_of(st.none(), PRICES), WIDTHS_MM)
def test_prices_are_readable_at_every_width(target: float, most: float, asking: float | None, width: float) -> None:
    figure = price_rule(target, most, asking, "USD", width)
    assert_readable(figure)
    offered = 0 < target < most and target != asking
    assert len(strong_labels(figure)) == 1 + offered + (asking is not None)


@given(SCORES, SCORES, st.one_of(st.none(), SCORES), WIDTHS_MM)
def test_scores_are_readable_at_every_width(now: float, after: float, usual: float | None, width: float) -> None:
    figure = score_rule((now, max(0, now - 5), min(100, now + 5)), (after, after, after), width, usual)
    assert_readable(figure)
    assert len(strong_labels(figure)) == 2 + (usual is not None)


def test_an_offer_below_nothing_is_not_marked() -> None:
    figure = price_rule(-630, 55, 2400, "USD")
    assert [label.text for label in strong_labels(figure)] == ["at most 55", "asked 2,400"]
    assert "offer" not in figure.alt


LIMITS = st.one_of(
    st.tuples(st.floats(0, 500), st.floats(0.1, 50)).map(lambda pair: (pair[0], pair[0] + pair[1])),
    st.floats(0.1, 500).map(lambda high: (None, high)),
    st.floats(0.1, 500).map(lambda low: (low, None)),
)


@given(st.floats(0.01, 600), st.floats(0.001, 20), LIMITS)
def test_a_reading_and_its_standard_lie_on_the_rule(
    value: float, doubt: float, limits: tuple[float | None, float | None]
) -> None:
    for figure in (
        reading_rule(value, doubt, *limits, "mm", "327.5 ± 0.6 mm"),
        slim_rule(value, doubt, *limits, "327.5 ± 0.6 mm"),
    ):
        boxes = [shape for shape in figure.shapes if isinstance(shape, Box)]
        assert len(boxes) == 2 and all(box.width > 0 for box in boxes)
        for shape in figure.shapes:
            if isinstance(shape, Line):
                assert 0 <= min(shape.x1, shape.x2) <= max(shape.x1, shape.x2) <= figure.width + 1e-9
                assert 0 <= min(shape.y1, shape.y2) <= max(shape.y1, shape.y2) <= figure.height + 1e-9
        assert "327.5 ± 0.6 mm" in figure.alt


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (193.0, 197.0, "mm", "193 to 197 mm"),
        (None, 430.0, "g", "up to 430 g"),
        (60.0, None, "mm", "from 60 mm"),
        (0.65, 0.685, "ratio", "0.65 to 0.685"),
        (None, None, "mm", ""),
    ],
)
def test_a_standard_in_words(low: float | None, high: float | None, unit: str, words: str) -> None:
    assert standard_words(low, high, unit) == words


@given(st.floats(1e-6, 1e9), st.integers(1, 40))
def test_a_step_is_one_two_or_five_and_cuts_into_no_more_than_asked(span: float, pieces: int) -> None:
    step = nice_step(span, pieces)
    assert span / step <= pieces * 1.0001
    mantissa = float(f"{step:.6e}".split("e")[0])
    assert mantissa in (1.0, 2.0, 5.0)


@pytest.mark.parametrize(
    "figure",
    [
        score_rule((60, 50, 70), (80, 75, 85)),
        price_rule(500, 600, None, "EUR"),
        reading_rule(328, 0.3, 325, 330, "mm", "328.0 ± 0.6 mm"),
        slim_rule(328, 0.3, 325, None, "328.0 ± 0.6 mm"),
        mapped([Spot(1, "bridge_stance", "bridge"), Spot(2, "back_crack", "cracks")], "violin"),
        mapped([Spot(1, "bow_hair", "bow_hair"), Spot(2, "bow_fit", "bow_play")], "bow"),
        rule(0, 10, [Mark(5, "<b>&amp;\"'")], 'A name with <b> & "marks"'),
    ],
)
def test_svg_is_well_formed_and_says_what_it_shows(figure: Figure) -> None:
    root = ElementTree.fromstring(svg(figure))
    assert root.get("role") == "img"
    assert root.get("aria-label") == figure.alt != ""
    texts = {element.text for element in root.iter() if element.tag.endswith("text")}
    assert {shape.text for shape in figure.shapes if isinstance(shape, Label)} == texts
