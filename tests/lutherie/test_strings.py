"""Laws of pitch, tension and the load on the bridge, with independent libraries as oracles."""

from math import cos, log2, radians, sin

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.lutherie import ImpossibleError
from evaluator.lutherie.strings import (
    Load,
    cents,
    equal_frequency_hz,
    fifths_frequency_hz,
    foot_loads_n,
    linear_density_kg_per_m,
    note_number,
    plain_string_density_kg_per_m,
    planar_load,
    string_load,
    tension_at_n,
    tension_n,
    total_load,
)

density = st.floats(1e-4, 2e-2)
length = st.floats(0.1, 0.9)
hertz = st.floats(30.0, 1500.0)
size = st.floats(-100.0, 100.0)


@given(density, length, hertz, st.floats(0.5, 2.0))
def test_tension_goes_with_the_square_of_pitch(mu: float, long: float, hz: float, ratio: float) -> None:
    assert tension_n(mu, long, hz * ratio) == pytest.approx(ratio**2 * tension_n(mu, long, hz))
    assert tension_at_n(tension_n(mu, long, hz), long, hz, long, hz * ratio) == pytest.approx(
        tension_n(mu, long, hz * ratio)
    )


@given(density, length, hertz)
def test_tension_and_density_are_each_other_s_inverse(mu: float, long: float, hz: float) -> None:
    assert linear_density_kg_per_m(tension_n(mu, long, hz), long, hz) == pytest.approx(mu)


def test_tension_agrees_with_a_library_of_units() -> None:
    """Oracle: pint, which carries the units through the formula."""
    units = pint.UnitRegistry()
    oracle = (0.65 * units("g/m") * (2 * 328 * units.mm * 440 * units.Hz) ** 2).to("newton")
    assert tension_n(0.65e-3, 0.328, 440.0) == pytest.approx(oracle.magnitude, rel=1e-12)
    plain = (7850 * units("kg/m**3") * 3.141592653589793 * (0.26 * units.mm) ** 2 / 4).to("kg/m")
    assert plain_string_density_kg_per_m(7850.0, 0.26e-3) == pytest.approx(plain.magnitude, rel=1e-12)


@given(st.integers(0, 127), st.floats(380.0, 480.0))
def test_pitch_agrees_with_the_usual_formula(number: int, a4_hz: float) -> None:
    """Oracle: librosa's midi_to_hz is 440 * 2 ** ((n - 69) / 12), and hz_to_midi its inverse, 12 log2(f / 440) + 69."""
    hz = equal_frequency_hz(number, a4_hz)
    assert 12 * (log2(hz) - log2(a4_hz)) + 69 == pytest.approx(number, abs=1e-9)


@pytest.mark.parametrize(
    ("note", "number"),
    [
        ("A4", 69), ("c4", 60), ("C-1", 0), ("G9", 127), ("Bb3", 58), ("B♭3", 58), ("B flat 3", 58), ("F#4", 66),
        ("F♯4", 66), ("b3", 59), ("Cb4", 59), ("H4", None), ("A", None), ("4", None), ("A44", None), ("A٤", None),
    ],
)  # fmt: skip
def test_notes(note: str, number: int | None) -> None:
    assert note_number(note) == number


@given(st.integers(24, 100))
def test_fifths_stay_near_the_tempered_note_and_octaves_are_pure(number: int) -> None:
    assert abs(cents(fifths_frequency_hz(number), equal_frequency_hz(number))) < 12.0
    assert fifths_frequency_hz(number + 12) == pytest.approx(2 * fifths_frequency_hz(number))


@given(st.floats(1.0, 300.0), st.floats(0.0, 45.0), st.floats(0.0, 45.0), st.floats(-40.0, 40.0))
def test_angles_and_points_give_the_same_load(pull: float, front: float, back: float, lean: float) -> None:
    """The planar form against the vector sum of points set out in a plane that leans to the treble."""

    def end(sign: float, fall: float, far: float) -> tuple[float, float, float]:
        drop = far * sin(radians(fall))
        across, up = -drop * -sin(radians(lean)), -drop * cos(radians(lean))
        return sign * far * cos(radians(fall)), across, up

    flat = planar_load(pull, front, back, lean)
    solid = string_load(pull, end(-1, front, 330.0), (0.0, 0.0, 0.0), end(1, back, 55.0))
    found = (flat.down_n, flat.lateral_n, flat.along_n)
    assert found == pytest.approx((solid.down_n, solid.lateral_n, solid.along_n), abs=1e-9 * pull + 1e-12)


@given(st.floats(1.0, 300.0), size, size, size, size, size, size)
def test_a_string_pulls_no_harder_than_twice_its_tension(
    pull: float, x1: float, y1: float, z1: float, x2: float, y2: float, z2: float
) -> None:
    nut, saddle = (x1 - 300, y1, z1), (x2 + 300, y2, z2)
    load = string_load(pull, nut, (0.0, 0.0, 0.0), saddle)
    assert load.down_n**2 + load.lateral_n**2 + load.along_n**2 <= (2 * pull) ** 2 * (1 + 1e-12)
    swapped = string_load(pull, saddle, (0.0, 0.0, 0.0), nut)
    assert load.down_n == pytest.approx(swapped.down_n, abs=1e-9)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(-20, 20), size, st.floats(0, 60)), min_size=1, max_size=4))
def test_the_feet_carry_the_whole_load(strings: list[tuple[float, float, float, float]]) -> None:
    loads = [Load(down, side, 0.0) for down, side, _, _ in strings]
    bass, treble = foot_loads_n(loads, [(y, z) for _, _, y, z in strings], -19.0, 19.0)
    assert bass + treble == pytest.approx(total_load(loads).down_n, abs=1e-6)


def test_a_push_to_the_treble_loads_the_treble_foot() -> None:
    bass, treble = foot_loads_n([Load(0.0, 10.0, 0.0)], [(0.0, 38.0)], -19.0, 19.0)
    assert (bass, treble) == pytest.approx((-10.0, 10.0))


def test_points_that_coincide_have_no_load() -> None:
    with pytest.raises(ImpossibleError, match="coincide"):
        string_load(50.0, (0, 0, 0), (0, 0, 0), (1, 0, 0))
    with pytest.raises(ImpossibleError, match="feet"):
        foot_loads_n([Load(1, 0, 0)], [(0, 0)], 5.0, 5.0)
