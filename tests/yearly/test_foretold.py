"""How well looks foretold: the Brier score by hand, tenths, and what the table says."""

import pytest

from evaluator.figures.year import year_figure
from evaluator.yearly.foretold import Pair, binned, brier, foretold, usual_brier
from evaluator.yearly.tables import Bar, YearTable

PAIRS = (Pair(0.1, False), Pair(0.1, False), Pair(0.9, True), Pair(0.6, False))


def test_the_score_is_the_mean_of_squared_misses() -> None:
    assert brier(PAIRS) == pytest.approx((0.01 + 0.01 + 0.01 + 0.36) / 4)
    assert usual_brier(PAIRS) == pytest.approx(0.25 * 0.75)
    assert brier([Pair(1.0, True), Pair(0.0, False)]) == 0.0
    assert brier([Pair(0.5, True), Pair(0.5, False)]) == 0.25


def test_chances_are_gathered_by_tenths() -> None:
    low, middle, high = binned(PAIRS)
    assert (low.count, low.chance, low.share) == (2, pytest.approx(0.1), 0.0)
    assert (middle.count, middle.share) == (1, 0.0)
    assert (high.count, high.share) == (1, 1.0)
    assert binned([Pair(1.0, True)])[0].count == 1


def test_the_table_says_both_scores_and_is_drawn() -> None:
    table = foretold(PAIRS)
    assert "Brier score 0.098" in table.say
    assert "0.188" in table.say
    assert table.rows[0] == ("10%", "2", "0%")
    figure = year_figure(table)
    assert figure is not None
    assert "90% foretold, 100% there" in figure.alt
    assert year_figure(foretold(())) is None


def test_bars_stay_inside_their_figure_whatever_their_names() -> None:
    bars = tuple(Bar("A very long name of a standard that does not fit at all", v, f"{v:.0f}", v / 2) for v in (0, 7))
    figure = year_figure(YearTable("x", "X", "", ("a", "b"), (), "pairs", bars, "h", ("took", "reckoned")))
    assert figure is not None
    boxes = [shape for shape in figure.shapes if type(shape).__name__ == "Box"]
    assert all(one.x >= 0 and one.x + one.width <= figure.width for one in boxes)  # type: ignore[union-attr]
    assert boxes[0].width == 0  # type: ignore[union-attr]
