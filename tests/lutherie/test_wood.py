"""Laws of wood, pegs and care."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.lutherie import ImpossibleError
from evaluator.lutherie.seasons import care, pegs
from evaluator.lutherie.seasons.wood import (
    SPECIES,
    change_mm,
    coefficient_from_shrinkage,
    equilibrium_moisture_percent,
    shrinkage_at_percent,
)

room = st.floats(-1.0, 43.0)
percent = st.floats(6.0, 14.0)


@given(room, st.floats(0.0, 0.98), st.floats(0.001, 0.02))
def test_moisture_rises_with_humidity(celsius: float, humidity: float, more: float) -> None:
    assert equilibrium_moisture_percent(celsius, humidity + more) > equilibrium_moisture_percent(celsius, humidity)


@given(st.floats(5.0, 42.0), st.floats(0.2, 0.9))
def test_a_warmer_room_dries_wood_at_the_same_humidity(celsius: float, humidity: float) -> None:
    assert equilibrium_moisture_percent(celsius + 1.0, humidity) < equilibrium_moisture_percent(celsius, humidity)


@pytest.mark.parametrize("fahrenheit", range(30, 111, 10))
def test_both_forms_of_the_handbook_agree(fahrenheit: int) -> None:
    """Oracle: the Fahrenheit coefficients printed beside the Celsius ones (Wood Handbook, eq. 4-5); within 0.013."""
    t, celsius = float(fahrenheit), (fahrenheit - 32) * 5 / 9
    w = 330 + 0.452 * t + 0.00415 * t * t
    k = 0.791 + 0.000463 * t - 0.000000844 * t * t
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t * t
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t * t
    for h in (0.05, 0.3, 0.5, 0.65, 0.8, 0.95):
        kh = k * h
        other = 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))
        assert equilibrium_moisture_percent(celsius, h) == pytest.approx(other, abs=0.0131)


def test_dry_air_leaves_no_moisture_and_heat_no_formula() -> None:
    assert equilibrium_moisture_percent(20.0, 0.0) == 0.0
    with pytest.raises(ImpossibleError, match="temperature"):
        equilibrium_moisture_percent(145.0, 0.5)


@given(st.floats(0.5, 20.0), percent, percent)
def test_the_coefficient_is_the_shrinkage_law(total: float, start: float, end: float) -> None:
    """The slope of eq. 4-9 over the size at 10 % of moisture, the middle of the range, as the handbook derives it."""
    size = 100 - shrinkage_at_percent(total, 10.0)
    moved = shrinkage_at_percent(total, start) - shrinkage_at_percent(total, end)
    assert change_mm(size, coefficient_from_shrinkage(total), start, end) == pytest.approx(moved, abs=1e-9)


# Total shrinkage, green to dry, of the woods that the handbook's table lacks (read in a wood collector's tables).
@pytest.mark.parametrize(
    ("wood", "radial", "tangential"),
    [("norway_spruce", 3.9, 8.2), ("ebony", 6.5, 9.0), ("boxwood", 7.3, 11.2), ("rosewood", 2.7, 5.8)],
)
def test_derived_coefficients(wood: str, radial: float, tangential: float) -> None:
    found = SPECIES[wood]
    assert found.radial == pytest.approx(coefficient_from_shrinkage(radial), abs=6e-7)
    assert found.tangential == pytest.approx(coefficient_from_shrinkage(tangential), abs=6e-7)


# Derived: 21 degrees, 65 to 30 % of humidity (5.79 % of moisture), 7.5 mm; along the peg box's grain the hole stays, so
# the loosest is the peg's own tangential movement.
@pytest.mark.parametrize(("peg", "loosest"), [("boxwood", 0.175), ("ebony", 0.139), ("rosewood", 0.087)])
def test_a_peg_after_a_dry_winter(peg: str, loosest: float) -> None:
    damp, dry = (equilibrium_moisture_percent(21.0, h) for h in (0.65, 0.30))
    assert damp - dry == pytest.approx(5.79, abs=0.01)
    assert pegs.gap_change(7.5, peg, damp, dry).loosest_mm == pytest.approx(loosest, abs=0.001)


@given(st.sampled_from(["boxwood", "ebony", "rosewood"]), percent, percent)
def test_a_dry_spell_undoes_a_damp_one(peg: str, start: float, end: float) -> None:
    there, back = pegs.gap_change(8.0, peg, start, end), pegs.gap_change(8.0, peg, end, start)
    assert there.loosest_mm == pytest.approx(-back.tightest_mm, abs=1e-12)
    assert there.out_of_round_mm >= 0.0
    assert pegs.gap_change(8.0, peg, start, start).out_of_round_mm == 0.0


@given(st.sampled_from(["boxwood", "ebony"]), percent, st.floats(0.1, 5.0))
def test_drying_loosens_a_peg_along_the_grain_of_the_box(peg: str, start: float, drier: float) -> None:
    assert pegs.gap_change(7.5, peg, start, start - drier).loosest_mm > 0
    assert pegs.gap_change(7.5, peg, start, start + drier).tightest_mm < 0


def test_no_figure_for_a_wood_without_one() -> None:
    assert not pegs.moves("jujube")
    assert pegs.moves("ebony")
    with pytest.raises(ImpossibleError, match="Jujube"):
        pegs.gap_change(7.5, "jujube", 9.0, 6.0)


@pytest.mark.parametrize(
    ("now", "limit", "each", "left"), [(7.5, 8.5, 0.2, 5), (7.5, 8.49, 0.2, 4), (8.5, 8.5, 0.2, 0), (9.0, 8.5, 0.2, 0)]
)
def test_refits(now: float, limit: float, each: float, left: int) -> None:
    assert pegs.refits_left(now, limit, each) == left


@given(st.floats(5.0, 12.0), st.floats(5.0, 12.0), st.sampled_from([25.0, 30.0]))
def test_a_peg_goes_in_by_its_taper_for_each_bit_of_diameter(now: float, limit: float, taper: float) -> None:
    assert now + pegs.travel_mm(now, limit, taper) / taper == pytest.approx(limit)
    assert pegs.travel_to_close_mm(limit - now, taper) == pytest.approx(pegs.travel_mm(now, limit, taper))


@pytest.mark.parametrize(
    ("hours", "days", "by"),
    [
        (0.0, 182.62125, "months"),
        (5.0, 182.62125, "months"),
        (10.0, 140.0, "playing hours"),
        (40.0, 35.0, "playing hours"),
    ],
)
def test_service(hours: float, days: float, by: str) -> None:
    """200 playing hours or six months, whichever first: common practice, no source."""
    due = care.service_due(hours)
    assert due.days == pytest.approx(days)
    assert due.by == by


@pytest.mark.parametrize(
    ("last", "hours", "due"),
    [
        (date(2024, 1, 15), 0.0, date(2024, 7, 15)),
        (date(2023, 8, 31), 0.0, date(2024, 2, 29)),
        (date(2024, 9, 30), 1.0, date(2025, 3, 30)),
        (date(2024, 1, 1), 10.0, date(2024, 5, 20)),
    ],
)
def test_service_date(last: date, hours: float, due: date) -> None:
    assert care.service_date(last, hours) == due


@given(st.floats(0.0, 100.0), st.floats(0.01, 60.0))
def test_who_plays_more_comes_no_later(hours: float, more: float) -> None:
    assert care.service_due(hours + more).days <= care.service_due(hours).days


def test_tuners_add_up() -> None:
    masses = {"steel": (3.0, 4.0, 6.0), "built_in": (1.0, 2.0, 4.0)}
    assert care.tuner_mass_g({"steel": 3, "built_in": 1}, masses) == (10.0, 14.0, 22.0)
