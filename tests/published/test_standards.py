"""Published dimensions held against the standards: competition limits, measured old instruments, handbooks.

Every value has its source beside it. Where a published value is not accepted, the test says why, and the row says so
too. The competition rules that we read limit the body only; bouts, ribs, stops and string length are held against a
published table of measurements and against a measured violin of 1716.
"""

from collections.abc import Iterator

import pytest
import yaml

from evaluator.rubric.file import RubricFile
from evaluator.rubric.written.surroundings import StandardRow, StandardTable
from evaluator.store.folders import rubrics_folder

PARIS = "Violin and bow making competition, Paris, rules, article 6.4"
MEASURED = "A violin of 1716, in Measurements, Making the Violin"
TABLE = "Measurements, Making the Violin: average measurements"
MAYSON = "W. H. Mayson, Violin Making, about 1900 (inches turned into mm)"
LUTHIER_1903 = "L'Art du Luthier, 1903, quoted in a table of fractional sizes"
JAVS = "Viola Fit, Journal of the American Viola Society 41/1, page 48"
STROBEL = "H. Strobel, Useful Measurements for Violin Makers, quoted in the same journal, page 52"
EUPHONICS = "J. Woodhouse, Euphonics, sections 7.6 and 9.7"
OLD_CREMONESE = "old Cremonese violins, a table on the web"
COMMON = "common practice, no source"
UNPROVEN = {"memory", "scaled", "judged", "between_sizes", "weisshaar"}


def read(path: str) -> RubricFile:
    return RubricFile.model_validate(yaml.load((rubrics_folder() / path).read_bytes(), yaml.CSafeLoader))


FILES = ("body", "neck", "fingerboard", "bridge", "set_up", "bow")
TABLES: dict[str, StandardTable] = {
    table.standard: table for name in FILES for table in read(f"standards/{name}.yaml").standards
}
SOURCES = read("checks/common.yaml").sources


def rows() -> Iterator[tuple[str, StandardRow]]:
    for name, table in TABLES.items():
        for row in table.rows:
            yield name, row


def row_of(
    table: str, family: str, size: str, style: str = "classical", strings: str | None = None
) -> StandardRow | None:
    """The row a reading is held to: the most particular one, the first of equals."""
    fitting = [
        row
        for row in TABLES[table].rows
        if row.family == family
        and (not row.size or size in row.size)
        and row.style in (None, style)
        and row.strings in (None, strings)
    ]
    return max(fitting, key=lambda row: bool(row.size) + bool(row.style) + bool(row.strings), default=None)


def accepts(row: StandardRow | None, value: float) -> bool:
    assert row is not None
    return (row.low is None or row.low <= value) and (row.high is None or value <= row.high)


ACCEPTED = [
    # table, family, size, value, source
    ("body_length", "violin", "4/4", 352, PARIS),
    ("body_length", "violin", "4/4", 360, PARIS),
    ("body_length", "viola", "405 mm", 400, PARIS),
    ("body_length", "viola", "420 mm", 420, PARIS),
    ("body_length", "cello", "4/4", 730, PARIS),
    ("body_length", "cello", "4/4", 760, PARIS),
    ("body_length", "violin", "4/4", 356, MEASURED),
    ("upper_bout", "violin", "4/4", 167, MEASURED),
    ("upper_bout", "violin", "4/4", 167.5, MEASURED),
    ("middle_bout", "violin", "4/4", 108.3, MEASURED),
    ("middle_bout", "violin", "4/4", 108.9, MEASURED),
    ("lower_bout", "violin", "4/4", 207.5, MEASURED),
    ("lower_bout", "violin", "4/4", 208, MEASURED),
    ("body_stop", "violin", "4/4", 195, MEASURED),
    ("body_stop", "violin", "4/4", 196.5, MEASURED),
    ("neck_stop", "violin", "4/4", 129, MEASURED),
    ("string_length", "violin", "4/4", 328.5, MEASURED),
    ("edge_overhang", "violin", "4/4", 2.6, MEASURED),
    ("edge_overhang", "violin", "4/4", 1.8, MEASURED + ", at a corner"),
    ("neck_body_ratio", "violin", "4/4", 129 / 195, MEASURED),
    ("neck_body_ratio", "violin", "4/4", 129 / 196.5, MEASURED),
    ("upper_bout", "violin", "4/4", 168, TABLE),
    ("middle_bout", "violin", "4/4", 112, TABLE),
    ("lower_bout", "violin", "4/4", 206, TABLE),
    ("rib_height", "violin", "4/4", 30, TABLE),
    ("top_thickness", "violin", "4/4", 3.0, TABLE),
    ("back_thickness", "violin", "4/4", 4.3, TABLE),
    ("body_length", "violin", "7/8", 345, TABLE),
    ("body_length", "violin", "3/4", 335, TABLE),
    ("body_length", "violin", "1/2", 320, TABLE),
    ("body_length", "violin", "1/4", 285, TABLE),
    ("lower_bout", "violin", "1/4", 163, TABLE),
    ("rib_height", "violin", "1/2", 28, TABLE),
    ("body_stop", "violin", "3/4", 183, TABLE),
    ("body_stop", "violin", "1/4", 159, TABLE),
    ("body_length", "violin", "4/4", 358, LUTHIER_1903),
    ("body_length", "violin", "3/4", 332, LUTHIER_1903),
    ("body_length", "violin", "1/2", 302, LUTHIER_1903),
    ("string_length", "violin", "4/4", 330, MAYSON),
    ("nut_spacing", "violin", "4/4", 3 * 7 / 32 * 25.4, MAYSON),
    ("nut_height_high", "violin", "4/4", 0.3, MAYSON),
    ("bridge_spacing", "violin", "4/4", 3 * 7 / 16 * 25.4, MAYSON),
    ("bridge_height", "violin", "4/4", (1 + 5 / 16) * 25.4, MAYSON),
    ("bridge_height", "violin", "4/4", (1 + 3 / 8) * 25.4, MAYSON),
    ("bridge_thickness_top", "violin", "4/4", 1.5, MAYSON + ": a bare sixteenth"),
    ("string_length", "viola", "380 mm", 360, JAVS),
    ("string_length", "viola", "405 mm", 375, JAVS),
    ("string_length", "viola", "420 mm", 370, JAVS),
    ("string_length", "viola", "420 mm", 380, JAVS),
    ("string_length", "viola", "430 mm", 369, JAVS),
    ("string_length", "viola", "430 mm", 387, JAVS),
    ("nut_spacing", "viola", "405 mm", 17, STROBEL),
    ("nut_spacing", "viola", "380 mm", 16.5, STROBEL),
    ("bridge_spacing", "viola", "420 mm", 36, STROBEL),
    ("bridge_spacing", "viola", "395 mm", 35, STROBEL),
    ("nut_width", "viola", "420 mm", 25, STROBEL),
    ("soundpost_diameter", "violin", "4/4", 6, EUPHONICS),
    ("bow_hair_width", "bow", "violin 4/4", 10, EUPHONICS),
    ("weight_without_chin_rest", "violin", "4/4", 400, COMMON),
    ("weight_without_chin_rest", "violin", "4/4", 429, COMMON),
]

# What is published and not accepted, with the reason. The last entry is a word that the row's note must have.
NOT_ACCEPTED = [
    ("body_length", "cello", "4/4", 770, LUTHIER_1903, "longer than any competition takes today", "760"),
    ("body_length", "cello", "3/4", 653, LUTHIER_1903, "a three-quarter cello was smaller then", "653"),
    ("body_length", "violin", "1/4", 297, LUTHIER_1903, "it would nearly meet the half size", "297"),
    ("string_length", "viola", "405 mm", 359, JAVS, "one measured viola; it had stretched the row", "359"),
    ("upper_bout", "violin", "4/4", 160.3, OLD_CREMONESE, "today's model is narrower in range", "Cremonese"),
    ("lower_bout", "violin", "4/4", 200, OLD_CREMONESE, "today's model is narrower in range", "Cremonese"),
    (
        "weight_without_chin_rest",
        "violin",
        "4/4",
        440,
        "J. E. McLennan, thesis, 2008: a test violin in modern set-up",
        "common practice asks for less than 430 g; the loss of worth is small",
        "440",
    ),
]


@pytest.mark.parametrize(("table", "family", "size", "value", "source"), ACCEPTED)
def test_a_published_value_is_accepted(table: str, family: str, size: str, value: float, source: str) -> None:
    assert accepts(row_of(table, family, size), value), source


@pytest.mark.parametrize(("table", "family", "size", "value", "source", "why", "word"), NOT_ACCEPTED)
def test_a_published_value_that_is_not_accepted_has_its_reason_in_the_row(
    table: str, family: str, size: str, value: float, source: str, why: str, word: str
) -> None:
    row = row_of(table, family, size)
    assert not accepts(row, value), source
    assert row is not None and word in (row.note or ""), why


def test_the_limits_of_the_competition_are_the_limits_of_the_violin() -> None:
    """Just outside the Paris limits (35.2 to 36 cm) is outside here."""
    row = row_of("body_length", "violin", "4/4")
    assert not accepts(row, 351.9) and not accepts(row, 360.1)


@pytest.mark.parametrize(("grams", "worth"), [(400, 1.0), (430, 0.85), (500, 0.4), (600, 0.0)])
def test_weight_without_chin_rest_loses_worth_as_practice_says(grams: float, worth: float) -> None:
    """Aim 400 g, under 430 g meets, 600 g is a factory instrument: common practice, no source."""
    row = row_of("weight_without_chin_rest", "violin", "4/4")
    assert row is not None and row.worth_at[grams] == worth and row.high == 430


@pytest.mark.parametrize("family", ["violin", "viola", "cello"])
def test_the_ratios_of_the_trade(family: str) -> None:
    """Afterlength one sixth of the string length: common practice. Neck to body stop 2 : 3, cello 7 : 10: tables."""
    sixth, stops = row_of("afterlength_ratio", family, "4/4"), row_of("neck_body_ratio", family, "4/4")
    assert sixth is not None and sixth.target == 6
    assert stops is not None and stops.target == pytest.approx(0.7 if family == "cello" else 2 / 3, abs=1e-4)


@pytest.mark.parametrize("name", sorted({name for name, _ in rows()}))
def test_each_row_makes_sense(name: str) -> None:
    for row in (row for of, row in rows() if of == name):
        here = (row.family, row.size)
        low = float("-inf") if row.low is None else row.low
        high = float("inf") if row.high is None else row.high
        assert row.target is not None and low <= row.target <= high, here
        assert low > float("-inf") or high < float("inf"), here
        assert set(row.sources) <= set(SOURCES), "a source is named in the table of sources"
        if set(row.sources) <= UNPROVEN:
            assert row.confidence == "low", "what rests on memory or scaling alone is of low confidence"
        if row.worth_at:
            best = max(row.worth_at.values())
            inside = [worth for at, worth in row.worth_at.items() if low <= at <= high]
            outside = [worth for at, worth in row.worth_at.items() if not low <= at <= high]
            assert best == 1 and min(inside) >= max(outside, default=0), "nothing outside is worth more than inside"


@pytest.mark.parametrize("family", ["violin", "viola", "cello", "bow"])
def test_the_sizes_of_a_family_are_the_sizes_of_its_rows(family: str) -> None:
    sizes = set(read(f"families/{family}.yaml").sizes)
    used = {size for _, row in rows() if row.family == family for size in row.size}
    assert used == sizes
    whole = "bow_length" if family == "bow" else "body_length"
    assert all(row_of(whole, family, size) for size in sizes)


@pytest.mark.parametrize("size", ["4/4", "7/8", "3/4", "1/2", "1/4", "1/8", "1/10", "1/16"])
def test_the_violin_sizes_fall_in_order_and_agree_with_each_other(size: str) -> None:
    """Afterlength is a sixth of the string length; nut is narrower than bridge, the strings lie inside the board."""

    def target(table: str) -> float:
        row = row_of(table, "violin", size)
        assert row is not None and row.target is not None
        return row.target

    assert target("afterlength") == pytest.approx(target("string_length") / 6, rel=0.01)
    assert target("neck_stop") / target("body_stop") == pytest.approx(2 / 3, abs=0.01)
    assert target("nut_spacing") < target("nut_width") < target("bridge_spacing") < target("board_end_width")
    assert target("action_high") < target("action_low")
    assert target("nut_height_high") < target("nut_height_low")
    assert target("bridge_thickness_top") < target("bridge_thickness_feet")


def test_a_larger_size_is_larger_in_every_table() -> None:
    order = {
        "violin": ["1/16", "1/10", "1/8", "1/4", "1/2", "3/4", "7/8", "4/4"],
        "viola": ["12 in", "13 in", "14 in", "380 mm", "395 mm", "405 mm", "420 mm", "430 mm"],
        "cello": ["1/8", "1/4", "1/2", "3/4", "7/8", "4/4"],
    }
    for name in ("body_length", "string_length", "afterlength", "body_stop", "neck_stop", "projection", "rib_height"):
        for family, sizes in order.items():
            found = [row for size in sizes if (row := row_of(name, family, size))]
            targets = [row.target for row in found if row.target is not None]
            assert targets == sorted(targets), (name, family)


@pytest.mark.parametrize("table", ["action_low", "action_high"])
def test_a_fiddle_plays_lower_and_flatter_with_any_strings(table: str) -> None:
    """Lower action and a flatter bridge are what fiddlers choose: common practice, no figure published."""
    for strings in (None, "synthetic", "gut"):
        fiddle = row_of(table, "violin", "4/4", "fiddle", strings)
        classical = row_of(table, "violin", "4/4", "classical", strings)
        assert fiddle and classical and fiddle.style == "fiddle"
        assert (fiddle.target or 0) < (classical.target or 0)
    flat, round_ = row_of("bridge_radius", "violin", "4/4", "fiddle"), row_of("bridge_radius", "violin", "4/4")
    assert flat and round_ and (flat.target or 0) > (round_.target or 0)


def test_stiffer_strings_lie_lower() -> None:
    """Steel below synthetic below gut, on every instrument: common practice."""
    for family, size in (("violin", "4/4"), ("viola", "405 mm"), ("cello", "4/4")):
        for table in ("action_low", "action_high"):
            heights = [row_of(table, family, size, strings=kind) for kind in ("steel", "synthetic", "gut")]
            targets = [row.target for row in heights if row and row.target]
            assert len(targets) == 3 and targets == sorted(targets), (family, table)
