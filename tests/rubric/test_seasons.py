"""rubrics/seasons.yaml: what it says makes sense, and what makes none is told with its place."""

from pathlib import Path

import pytest

from evaluator.rubric.sense.check import check_path
from evaluator.store.folders import rubrics_folder
from tests.known import OWNING, SEASONS

OURS = (rubrics_folder() / "seasons.yaml").read_text(encoding="utf-8")


def test_rooms_are_driest_in_the_winter_and_the_air_that_is_good_lies_between_their_ends() -> None:
    for room in SEASONS.climates:
        winter, summer = room.humidity[0], room.humidity[6]
        assert winter < summer
        assert room.temperature[0] <= room.temperature[6]
    dry, damp = (pick(one for room in SEASONS.climates for one in room.humidity) for pick in (min, max))
    assert dry < SEASONS.air.least < SEASONS.air.low < SEASONS.air.high < damp


def test_sizes_grow_with_the_family() -> None:
    for sizes in (SEASONS.sizes.lower_bout, SEASONS.sizes.peg):
        assert sizes["violin"] < sizes["viola"] < sizes["cello"]
        assert "bow" not in sizes


def test_what_a_buyer_takes_off_for_the_unknown_is_common_practice() -> None:
    """5 to 15 of 100 of the ready value: common practice, no source."""
    assert 0.05 <= OWNING.repairing.unknown <= 0.15
    assert OWNING.repairing.unknown == 0.1


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("    humidity: [28, 26,", "    humidity: [26,", "11 months are no year"),
        ("humidity: [28,", "humidity: [128,", "100"),
        ("  low: 40", "  low: 70", "must rise"),
        ("likely: 4.0, high: 6.0", "likely: 7.0, high: 6.0", "must rise"),
        ("tuner: aluminium", "tuner: steel", "steel stands twice"),
        ("climate: mild_coast", "climate: heated_inland", "heated_inland stands twice"),
        ("  little_swing: 2 ", "  litle_swing: 2 ", 'Did you mean "little_swing"?'),
        ("  confidence: medium", "  confidence: certain", "high, medium or low"),
        ("peg: {violin: 7.6", "peg: {violin: 0", "above 0"),
    ],
)
def test_a_mistake_is_told_with_its_place(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in OURS
    path = tmp_path / "seasons.yaml"
    path.write_text(OURS.replace(old, new, 1), encoding="utf-8")
    problems = check_path(path, rubrics_folder()).problems
    assert problems
    assert all(one.place is not None and one.place.line > 1 for one in problems)
    assert said in " ".join(map(str, problems))
