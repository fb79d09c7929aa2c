"""An owner's seasons: moisture against the printed table, signs of the movement, and which season is the dry one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.lutherie.seasons.seasons import Air, seasons

DRY, DAMP = Air(20, 28), Air(25, 63)


def test_moisture_of_a_room_as_the_handbook_prints_it() -> None:
    """Wood Handbook, FPL-GTR-190 (2010), table 4-2: 70 degF (21.1 degC), 50 % of humidity, 9.2 %; 30 %, 6.2 %."""
    assert Air(21.1, 50).moisture_percent == pytest.approx(9.2, abs=0.05)
    assert Air(21.1, 30).moisture_percent == pytest.approx(6.2, abs=0.05)


def test_a_violin_from_a_damp_summer_to_a_heated_winter() -> None:
    found = seasons(DRY, DAMP, 207.0, 7.6, 30.0)
    assert found.belly_mm == pytest.approx(-207 * 0.001335 * found.swing_percent)
    assert found.back_mm == pytest.approx(-207 * 0.0015 * found.swing_percent)
    assert found.peg is not None
    assert found.peg_travel_mm == pytest.approx(30 * found.peg.loosest_mm)


@given(st.floats(5, 90), st.floats(5, 90), st.floats(12, 30), st.floats(12, 30))
def test_the_dry_season_is_found_and_wood_shrinks_in_it(one: float, other: float, here: float, there: float) -> None:
    found = seasons(Air(here, one), Air(there, other), 435.0, 11.0, 25.0)
    swapped = seasons(Air(there, other), Air(here, one), 435.0, 11.0, 25.0)
    assert found.swing_percent == pytest.approx(swapped.swing_percent)
    assert found.swing_percent >= 0
    assert found.belly_mm is not None
    assert found.belly_mm <= 1e-12


def test_a_steady_room_moves_nothing() -> None:
    found = seasons(Air(20, 50), Air(20, 50), 240.0, 8.0, 30.0)
    assert (found.belly_mm, found.swing_percent, found.peg_travel_mm) == (0, 0, 0)
    assert not found.beyond_the_law


def test_a_bow_has_neither_plates_nor_pegs() -> None:
    found = seasons(DRY, DAMP, None, None, None)
    assert (found.belly_mm, found.back_mm, found.peg, found.peg_travel_mm) == (None, None, None, None)
    assert found.beyond_the_law
