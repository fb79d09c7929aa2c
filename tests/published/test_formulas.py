"""The trade's formulas against published values, each asked as a person would ask the calculator.

"Read" means read in a copy of the source; "from memory" recalled and reproduced here; "derived" follows from the
formula, so it guards the code and claims no publication.
"""

from math import sqrt

import pytest

from evaluator.lutherie.lengths.arch import fitted_circle
from evaluator.lutherie.lengths.photo import CARD_MM
from evaluator.lutherie.seasons.pegs import cone_angle_deg, travel_mm
from evaluator.lutherie.seasons.wood import coefficient_from_shrinkage
from tests.calculators.asking import also, ask, value


# Equal temperament, 440 * 2**((n - 69) / 12), by definition; G3 D4 A4 E5 = 196.0 293.7 440.0 659.3 read in a lecture
# note on string instruments.
@pytest.mark.parametrize(
    ("note", "hz"),
    [
        ("C2", 65.4064), ("G2", 97.9989), ("C3", 130.8128), ("D3", 146.8324), ("G3", 195.9977), ("A3", 220.0),
        ("D4", 293.6648), ("A4", 440.0), ("E5", 659.2551),
    ],
)  # fmt: skip
def test_open_strings_in_equal_temperament(note: str, hz: float) -> None:
    assert value("pitch", note=note) == pytest.approx(hz, abs=5.1e-5)


# Pure fifths 3 : 2 from A4 (definition); C3 of the viola and C2 of the cello derived.
@pytest.mark.parametrize(
    ("note", "hz"),
    [("G3", 195.5556), ("D4", 293.3333), ("A4", 440.0), ("E5", 660.0), ("C3", 130.3704), ("C2", 65.1852)],
)
def test_open_strings_in_pure_fifths(note: str, hz: float) -> None:
    assert value("pitch", note=note, tuning="fifths") == pytest.approx(hz, abs=5.1e-5)


@pytest.mark.parametrize(
    ("typed", "cents", "tolerance", "source"),
    [
        ({"frequency": "1.5", "reference": "1"}, 701.955, 0.0005, "pure fifth, definition"),
        ({"frequency": "440.5", "reference": "440"}, 1.966, 0.001, "ISO 16:1975, 0.5 Hz; its wording from memory"),
        ({"frequency": "442", "reference": "440"}, 7.851, 0.001, "derived"),
        ({"frequency": "2", "reference": "1"}, 1200.0, 1e-9, "octave, definition"),
    ],
)
def test_cents(typed: dict[str, str], cents: float, tolerance: float, source: str) -> None:
    assert value("pitch", **typed) == pytest.approx(cents, abs=tolerance), source


def test_a4_is_440_hz() -> None:
    """ISO 16:1975, Acoustics - Standard tuning frequency (title page read)."""
    assert value("pitch", note="A4") == pytest.approx(440.0, abs=1e-9)


def test_tension_of_a_textbook_string() -> None:
    """A textbook exercise, read: 29 cm, 0.30 g, 440 Hz; 67.4 N with 255.2 m/s squared exactly."""
    found = value("string_tension", length="29 cm", linear_density="1.0344827586206897 g/m", frequency="440 Hz")
    assert found == pytest.approx(67.3728, abs=0.0005)


@pytest.mark.parametrize(
    ("tension", "turn_deg", "down", "tolerance", "source"),
    [
        (404.508497, 36.0, 250.0, 1e-4, "textbook exercise, four strings 72 degrees from the normal, 1000 N; read"),
        (18.0, 25.679177, 8.0, 1e-5, "G. Hart, The Violin, section III: 4/9 of the tension; read, angle solved back"),
    ],
)
def test_downforce_of_equal_angles(tension: float, turn_deg: float, down: float, tolerance: float, source: str) -> None:
    half = str(turn_deg / 2)
    assert value("downforce", tension=str(tension), front=half, back=half) == pytest.approx(down, abs=tolerance), source


@pytest.mark.parametrize(
    ("lean_deg", "lost"),
    [("6.6196", 1 / 150), ("4.6795", 1 / 300)],
)
def test_what_leaning_outer_strings_lose(lean_deg: str, lost: float) -> None:
    """G. Hart, The Violin: about the 150th part of the outer, the 300th of the inner strings (read, angles solved)."""
    upright = value("downforce", tension="18", front="12.8", back="12.8")
    leaning = value("downforce", tension="18", front="12.8", back="12.8", lean=lean_deg)
    assert 1 - leaning / upright == pytest.approx(lost, abs=2e-7)


@pytest.mark.parametrize(("across", "bass"), [(0, 1.0), (1 / 3, 2 / 3), (2 / 3, 1 / 3), (1, 0.0)])
def test_each_string_over_the_feet(across: float, bass: float) -> None:
    """G. Hart, The Violin: E whole on the treble foot, A two thirds, D one third, G whole on the bass foot (read)."""
    share = also(
        "downforce", "bass_share", tension="60", front="10", back="15", across=str(across), height="0",
        bass_foot="0", treble_foot="1",
    )  # fmt: skip
    assert share == pytest.approx(bass, abs=1e-12)


def test_order_of_magnitude_of_a_violin() -> None:
    """Fletcher and Rossing, The Physics of Musical Instruments, ch. 10: 220 N give about 90 N (from memory, weak)."""
    assert value("downforce", tension="220", front="8", back="15.6") == pytest.approx(90, abs=30)


def test_six_to_one_is_two_octaves_and_a_pure_fifth() -> None:
    """12 log2 6 (derived)."""
    assert also("afterlength", "semitones", length="300", afterlength="50") == pytest.approx(31.01955, abs=1e-5)
    assert also("afterlength", "cents", length="300", afterlength="50") == pytest.approx(1.955, abs=0.0005)


def test_a_sixth_in_inches() -> None:
    """A maker's page on acoustic adjustment, read: 12 15/16 in gives 2.156 in. Another, read: 325 mm gives 54.17 mm."""
    assert value("afterlength", length="12 15/16 in") / 25.4 == pytest.approx(2.15625, abs=1e-9)
    assert value("afterlength", length="325 mm") == pytest.approx(54.17, abs=0.005)


# SciPy Cookbook, "Least squares circle" (read): all-round data and a short arc, rows of leastsq and odr.
ROUND = ((9, 34), (35, 10), (-13, 6), (10, -14), (23, 27), (0, -10))
ARC = ((36, 14), (36, 10), (19, 28), (18, 31), (33, 18), (26, 26))


@pytest.mark.parametrize(
    ("points", "published", "tolerance"),
    [(ROUND, (10.50009, 9.65995, 23.33353), 6e-6), (ARC, (9.88757, 3.6875, 27.35044), 6e-5)],
)
def test_circles_of_the_cookbook(
    points: tuple[tuple[float, float], ...], published: tuple[float, ...], tolerance: float
) -> None:
    circle = fitted_circle(points)
    assert (circle.x, circle.y, circle.radius) == pytest.approx(published, abs=tolerance)
    typed = "; ".join(f"{x},{y}" for x, y in points)
    assert value("bridge_arch", notch=typed) == pytest.approx(published[2], abs=tolerance)


def test_radius_from_chord_and_rise() -> None:
    """R = s / 2 + c^2 / (8 s), derived: 32 mm and 3.5 mm; its slope by the rise is -9.949."""
    found = ask("bridge_arch", chord="32 mm", rise="3.5 mm", doubt="0.1 mm")
    assert found["value"] == pytest.approx(38.321429, abs=1e-6)
    assert found["uncertainty"] == pytest.approx(0.9949, abs=1e-4)


def test_doubt_of_a_radius_from_four_notches() -> None:
    """Linearised least squares, derived: 0.1 mm in each of four notches on R = 42 mm makes 1.289 mm."""
    across = (-16.75, -5.583, 5.583, 16.75)
    typed = "; ".join(f"{x},{sqrt(42**2 - x * x):.12f}" for x in across)
    found = ask("bridge_arch", notch=typed, doubt="0.1 mm")
    assert found["value"] == pytest.approx(42.0, abs=1e-6)
    assert found["uncertainty"] == pytest.approx(1.289, abs=0.002)


HUMIDITIES = range(5, 100, 5)
# Wood Handbook, FPL-GTR-190 (2010), table 4-2, rows in degrees Fahrenheit for 5, 10 ... 95 % (read). Rounded to 0.1.
TABLE_4_2 = {
    40: (1.4, 2.6, 3.7, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.3, 13.5, 14.9, 16.5, 18.5, 21.0, 24.3),
    60: (1.3, 2.5, 3.6, 4.6, 5.4, 6.2, 7.0, 7.8, 8.6, 9.4, 10.2, 11.1, 12.1, 13.3, 14.6, 16.2, 18.2, 20.7, 24.1),
    70: (1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9, 20.5, 23.9),
    80: (1.3, 2.4, 3.5, 4.4, 5.3, 6.1, 6.8, 7.6, 8.3, 9.1, 9.9, 10.8, 11.7, 12.9, 14.2, 15.7, 17.7, 20.2, 23.6),
    100: (1.2, 2.3, 3.3, 4.2, 5.0, 5.8, 6.5, 7.2, 7.9, 8.7, 9.5, 10.3, 11.2, 12.3, 13.6, 15.1, 17.0, 19.5, 22.9),
    110: (1.1, 2.2, 3.2, 4.0, 4.9, 5.6, 6.3, 7.0, 7.7, 8.4, 9.2, 10.0, 11.0, 12.0, 13.2, 14.7, 16.6, 19.1, 22.4),
}
# Further rows of the same table, from memory.
TABLE_4_2_FROM_MEMORY = {
    30: (1.4, 2.6, 3.7, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9, 16.5, 18.5, 21.0, 24.3),
    50: (1.4, 2.6, 3.6, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.3, 11.2, 12.3, 13.4, 14.8, 16.4, 18.4, 20.9, 24.3),
    90: (1.2, 2.3, 3.4, 4.3, 5.1, 5.9, 6.7, 7.4, 8.1, 8.9, 9.7, 10.5, 11.5, 12.6, 13.9, 15.4, 17.3, 19.8, 23.3),
    120: (1.1, 2.1, 3.0, 3.9, 4.7, 5.4, 6.1, 6.8, 7.5, 8.2, 8.9, 9.7, 10.6, 11.7, 12.9, 14.4, 16.2, 18.6, 22.0),
    130: (1.0, 2.0, 2.9, 3.7, 4.5, 5.2, 5.9, 6.6, 7.2, 7.9, 8.7, 9.4, 10.3, 11.3, 12.5, 14.0, 15.8, 18.2, 21.5),
}


@pytest.mark.parametrize("degrees_f", [*TABLE_4_2, *TABLE_4_2_FROM_MEMORY])
def test_moisture_of_the_wood_handbook(degrees_f: int) -> None:
    printed = (TABLE_4_2 | TABLE_4_2_FROM_MEMORY)[degrees_f]
    found = [value("moisture", temperature=f"{degrees_f} degF", humidity=f"{h} %") for h in HUMIDITIES]
    assert found == pytest.approx(printed, abs=0.066)


# Wood Handbook, FPL-GTR-190 (2010), table 4-3 (shrinkage, green to oven-dry) and table 13-5 (coefficients); read.
@pytest.mark.parametrize(
    ("wood", "shrinkage", "coefficient"),
    [
        ("sugar maple, radial", 4.8, 0.00165), ("sugar maple, tangential", 9.9, 0.00353),
        ("bigleaf maple, radial", 3.7, 0.00126), ("bigleaf maple, tangential", 7.1, 0.00248),
        ("black willow, radial", 3.3, 0.00112), ("black willow, tangential", 8.7, 0.00308),
        ("Engelmann spruce, radial", 3.8, 0.0013), ("Engelmann spruce, tangential", 7.1, 0.00248),
        ("Sitka spruce, radial", 4.3, 0.00148), ("Sitka spruce, tangential", 7.5, 0.00263),
        ("American beech, radial", 5.5, 0.0019), ("American beech, tangential", 11.9, 0.00431),
        ("black walnut, radial", 5.5, 0.0019), ("black walnut, tangential", 7.8, 0.00274),
    ],
)  # fmt: skip
def test_coefficients_from_shrinkage(wood: str, shrinkage: float, coefficient: float) -> None:
    assert coefficient_from_shrinkage(shrinkage) == pytest.approx(coefficient, abs=6e-6), wood


# Further rows of both tables, shrinkage and coefficient each from memory.
@pytest.mark.parametrize(
    ("wood", "shrinkage", "coefficient"),
    [
        ("red alder, radial", 4.4, 0.00151), ("red alder, tangential", 7.3, 0.00256),
        ("white ash, radial", 4.9, 0.00169), ("white ash, tangential", 7.8, 0.00274),
        ("yellow birch, radial", 7.3, 0.00256), ("yellow birch, tangential", 9.5, 0.00338),
        ("black cherry, radial", 3.7, 0.00126), ("black cherry, tangential", 7.1, 0.00248),
        ("red maple, radial", 4.0, 0.00137), ("red maple, tangential", 8.2, 0.00289),
        ("silver maple, radial", 3.0, 0.00102), ("silver maple, tangential", 7.2, 0.00252),
        ("yellow-poplar, radial", 4.6, 0.00158), ("yellow-poplar, tangential", 8.2, 0.00289),
    ],
)  # fmt: skip
def test_a_wood_that_is_missing_moves_by_its_shrinkage(wood: str, shrinkage: float, coefficient: float) -> None:
    found = also(
        "wood_movement", "coefficient", size="100", shrinkage=f"{shrinkage} %", from_moisture="8 %", to_moisture="12 %"
    )
    assert found == pytest.approx(coefficient, abs=6e-6), wood


@pytest.mark.parametrize(
    ("species", "direction", "coefficient"),
    [
        ("sugar_maple", "radial", 0.00165), ("sugar_maple", "tangential", 0.00353),
        ("bigleaf_maple", "radial", 0.00126), ("bigleaf_maple", "tangential", 0.00248),
        ("black_willow", "radial", 0.00112), ("black_willow", "tangential", 0.00308),
        ("engelmann_spruce", "radial", 0.0013), ("engelmann_spruce", "tangential", 0.00248),
        ("sitka_spruce", "radial", 0.00148), ("sitka_spruce", "tangential", 0.00263),
        ("beech", "radial", 0.0019), ("beech", "tangential", 0.00431),
        ("black_walnut", "radial", 0.0019), ("black_walnut", "tangential", 0.00274),
    ],
)  # fmt: skip
def test_movement_with_the_handbook_coefficients(species: str, direction: str, coefficient: float) -> None:
    """Wood Handbook eq. 13-2 with table 13-5 (read): 100 mm from 8 to 12 %."""
    grown = value(
        "wood_movement", size="100 mm", species=species, direction=direction, from_moisture="8 %", to_moisture="12 %"
    )
    assert grown == pytest.approx(400 * coefficient, rel=1e-9)


def test_a_worked_example_of_movement() -> None:
    """A woodworking magazine's example, read: 8 in of slab-sawn red alder, .0026, 6 % of moisture: 0.1248 in."""
    found = ask("wood_movement", size="8 in", coefficient="0.0026", from_moisture="0 %", to_moisture="6 %")
    assert found["value"] / 25.4 == pytest.approx(0.1248, abs=1e-9)
    assert "outside 6 % to 14 %" in found["warnings"][0]


def test_shrinkage_to_twelve_per_cent() -> None:
    """Wood Handbook, FPL-GTR-282, eq. 4-9 (read at second hand): 9.9 (1 - 12 / 30) = 5.94."""
    left = also(
        "wood_movement", "shrinkage_at_end", size="100", shrinkage="9.9 %", from_moisture="8 %", to_moisture="12 %"
    )
    assert left == pytest.approx(5.94, abs=1e-9)


@pytest.mark.parametrize(
    ("taper", "degrees"),
    [(10, 5.72481045), (12, 4.77188806), (15, 3.81830487), (20, 2.86419237), (30, 1.90968251), (50, 1.1458774)],
)
def test_cones(taper: float, degrees: float) -> None:
    """GOST R 53440-2009 (ISO 1119, modified), table 1 (read)."""
    assert cone_angle_deg(taper) == pytest.approx(degrees, abs=1e-8)
    assert also("peg_fit", "cone_angle", diameter="7.5", taper=str(taper)) == pytest.approx(degrees, abs=1e-8)


def test_taper_and_travel() -> None:
    """Violin pegs 1 : 30, 1 mm over 30 mm (an encyclopedia's page on tuning mechanisms, read); 0.15 in of seating left
    by a maker (read) are 0.127 mm of diameter (derived); 0.2 mm of reaming are 6 mm of travel (derived)."""
    assert travel_mm(7.0, 8.0, 30.0) == pytest.approx(30.0, abs=1e-9)
    assert travel_mm(7.8, 7.927, 30.0) == pytest.approx(3.81, abs=1e-9)
    assert also("peg_fit", "travel_left", diameter="7.8", limit="8") == pytest.approx(6.0, abs=1e-9)
    assert also("peg_fit", "travel_left", diameter="12", limit="13", family="cello") == pytest.approx(25.0, abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "published", "tolerance", "source"),
    [
        ({"half_width": "0.0000004"}, 2.3e-7, 2e-9, "JCGM 100, 4.3.7 example 2, copper; from memory"),
        ({"half_width": "4"}, 2.3, 0.05, "JCGM 100, 4.4.5, 96 to 104 degrees; from memory"),
        ({"half_width": "4", "shape": "triangular"}, 1.6, 0.05, "JCGM 100, 4.4.6; from memory"),
        ({"step": "1"}, 0.29, 0.0014, "JCGM 100, F.2.2.1; from memory"),
        ({"half_width": "1", "shape": "triangular"}, 0.408248, 1e-6, "JCGM 100, 4.3.9, a^2 / 6; from memory"),
        ({"half_width": "1", "shape": "trapezoid", "top": "0.5"}, 0.456435, 1e-6, "JCGM 100, 4.3.9; from memory"),
        ({"parts": ";".join(["0.1"] * 10), "correlation": "1"}, 1.0, 1e-9, "JCGM 100, 5.2.2 example; from memory"),
        ({"parts": ";".join(["0.1"] * 10)}, 0.32, 0.005, "JCGM 100, 5.2.2, were they apart; from memory"),
        ({"half_width": "0.00024", "shape": "level_95"}, 0.000122, 1e-6, "95 % statement over 1.96; derived"),
    ],
)
def test_standard_uncertainties(typed: dict[str, str], published: float, tolerance: float, source: str) -> None:
    assert value("uncertainty", **typed) == pytest.approx(published, abs=tolerance), source


def test_effective_degrees_of_freedom() -> None:
    """JCGM 100, G.4.1 example (from memory): 0.25, 0.57, 0.82 % with 9, 4 and 14 degrees: 1.03 % and 19.0."""
    found = ask("uncertainty", parts="0.25; 0.57; 0.82", degrees="9; 4; 14")
    assert found["value"] == pytest.approx(1.029466, abs=1e-6)
    assert found["also"]["degrees"]["value"] == pytest.approx(19.0, abs=0.05)


def test_twenty_temperatures() -> None:
    """JCGM 100, 4.4.3, table 1 (from memory): mean 100.14, standard uncertainty of the mean 0.33 degrees Celsius."""
    readings = (
        "96.90;98.18;98.25;98.61;99.03;99.49;99.56;99.74;99.89;100.07;"
        "100.33;100.42;100.68;100.95;101.11;101.20;101.57;101.84;102.36;102.72"
    )
    found = ask("uncertainty", readings=readings + " degC")
    assert found["value"] == pytest.approx(0.33, abs=0.005)
    assert found["unit"] == "degC"
    assert found["also"]["mean"]["value"] == pytest.approx(100.145, abs=0.001)


@pytest.mark.parametrize(
    ("typed", "published", "tolerance", "source"),
    [
        ({"value": "-5.47", "uncertainty": "0.05", "high": "-5.40"}, 0.92, 0.005, "JCGM 106, 7.3, Zener; from memory"),
        ({"value": "13.6+-1.8", "low": "12.5", "high": "16.3"}, 0.66, 0.005, "JCGM 106, 7.4, oil; result from memory"),
        (
            {"value": "1500.15", "uncertainty": "0.04", "low": "1499.8", "high": "1500.2"}, 0.8943502, 1e-6,
            "normal law, derived",
        ),
        (
            {
                "value": "1500.15", "uncertainty": "0.04", "low": "1499.8", "high": "1500.2",
                "prior_mean": "1500", "prior_uncertainty": "0.12",
            },
            0.9566346, 1e-6, "normal prior joined to a normal reading, JCGM 106, annex A form; derived",
        ),
        ({"value": "3.2", "half_width": "0.5", "high": "3.5"}, 0.8, 1e-12, "overlap of a rectangle; derived"),
    ],
)  # fmt: skip
def test_conformity(typed: dict[str, str], published: float, tolerance: float, source: str) -> None:
    assert value("conformity", **typed) == pytest.approx(published, abs=tolerance), source


RESISTOR = {
    "value": "1500.15", "uncertainty": "0.04", "low": "1499.8", "high": "1500.2",
    "prior_mean": "1500", "prior_uncertainty": "0.12",
}  # fmt: skip


@pytest.mark.parametrize(
    ("limits", "consumer", "producer"),
    [(("1499.82", "1500.18"), 0.0098783, 0.0690265), (("1499.8", "1500.2"), 0.018942, 0.037208)],
)
def test_risks_of_a_batch_of_resistors(limits: tuple[str, str], consumer: float, producer: float) -> None:
    """JCGM 106, 9.5, precision resistors, published as about 0.01 and 0.07 (inputs read, results from memory); digits
    derived, and those without a guard band too."""
    found = ask("conformity", **RESISTOR, accept_low=limits[0], accept_high=limits[1])["also"]
    assert found["consumer_risk"]["value"] == pytest.approx(consumer, abs=5e-6)
    assert found["producer_risk"]["value"] == pytest.approx(producer, abs=5e-6)
    assert found["prior_alone"]["value"] == pytest.approx(0.9044193, abs=5e-6)
    assert found["value_with_prior"]["value"] == pytest.approx(1500.135, abs=1e-6)
    assert found["value_with_prior"]["uncertainty"] == pytest.approx(0.0379473, abs=1e-6)


def test_costs_of_a_wrong_yes_and_a_wrong_no() -> None:
    """Expected cost, C_r / (C_a + C_r), derived: 100 to 1 gives a risk of 0.0099, a guard band of 2.33 u."""
    found = ask(
        "conformity", value="436 g", uncertainty="2 g", high="440 g", cost_of_wrong_yes="100", cost_of_wrong_no="1",
        confidence="99 %",
    )["also"]  # fmt: skip
    assert found["most_risk"]["value"] == pytest.approx(0.00990099, abs=1e-8)
    assert found["guard_band"]["value"] == pytest.approx(2 * 2.33, abs=0.01)


def test_a_path_of_a_textbook_network() -> None:
    """Taylor, Introduction to Management Science, ch. 8 (read): 24 weeks, variance 5, P(x <= 28) = .9633."""
    found = ask(
        "three_point", low="5;3;4;3", likely="8;5;6;4", high="17;7;8;5", rule="classic", limit="28", correlation="0"
    )
    assert found["value"]["mean"] == pytest.approx(24.0, abs=1e-9)
    assert found["also"]["variance"]["value"] == pytest.approx(5.0, abs=1e-9)
    assert found["also"]["chance"]["value"] == pytest.approx(0.9633, abs=0.0003)


def test_a_beta_pert_law() -> None:
    """Shape formulae of beta-PERT (read in a library's documentation); levels computed with an independent library."""
    found = ask("three_point", low="40", likely="60", high="140")
    assert found["also"]["alpha"]["value"] == pytest.approx(1.8, abs=1e-12)
    assert found["also"]["beta"]["value"] == pytest.approx(4.2, abs=1e-12)
    assert found["also"]["variance"]["value"] == pytest.approx(300.0, abs=1e-9)
    assert found["value"]["mean"] == pytest.approx(70.0, abs=1e-9)
    levels = [found["value"][name] for name in ("p10", "p50", "p90")]
    assert levels == pytest.approx((48.99, 67.667, 94.533), abs=0.002)


@pytest.mark.parametrize(("correlation", "variance"), [("0", 50.0), ("0.3", 78.2), ("1", 144.0)])
def test_a_correlated_sum(correlation: str, variance: float) -> None:
    """Var(sum) = s' R s for spreads 3, 4 and 5 (derived)."""
    found = also(
        "three_point", "variance", low="0;0;0", likely="9;12;15", high="18;24;30", rule="classic",
        correlation=correlation,
    )  # fmt: skip
    assert found == pytest.approx(variance, abs=1e-9)


def test_length_from_a_card_in_a_photo() -> None:
    """Made-up marks on an ID-1 card (derived, checked by 20 000 random marks): 145.933 mm, 0.482 mm for one pixel."""
    found = ask(
        "photo_scale", corners="412,655; 1208,702; 1175,1190; 388,1129", start="900,300", end="1500,1500", click="1"
    )
    assert found["value"] == pytest.approx(145.93345, abs=1e-4)
    assert found["also"]["click"]["value"] == pytest.approx(0.482, abs=0.0005)


def test_a_part_above_the_card() -> None:
    """Z / (Z - h), derived: 3 mm at 400 mm reads 0.76 % too long."""
    too_long = also(
        "photo_scale", "too_long_by", corners="0,0;856,0;856,540;0,540", start="0,0", end="856,0",
        above_plane="3 mm", camera="400 mm",
    )  # fmt: skip
    assert too_long == pytest.approx(0.0076, abs=0.00005)


def test_the_card() -> None:
    """ISO/IEC 7810, ID-1 (nominal sizes read)."""
    assert CARD_MM == (85.60, 53.98)
