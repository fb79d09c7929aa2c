"""What own records teach of selling and of looks: prior, own count and blend, and an overlay that loads."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from evaluator.basis.money import Money
from evaluator.choosing.stock import Cost, Item
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.sense.check import check_path
from evaluator.rubric.written.kinds import ThreePoint
from evaluator.store.folders import rubrics_folder
from evaluator.yearly.learnt import Look, by_check, by_kind, overlay, selling
from tests.known import shipped

CAME = date(2026, 1, 1)
GUIDE = {"factory": ThreePoint(low=1, likely=3, high=6), "workshop": ThreePoint(low=3, likely=6, high=12)}
PAID = Cost(CAME, "Paid", Money(Decimal(300), "EUR"))
ITEM = Item("S1", "a", "", "Red violin", "violin", "4/4", "student", CAME, (PAID,))
VIOLIN = shipped("violin")


def test_months_are_blended_and_what_is_here_is_counted() -> None:
    sold = [replace(ITEM, sold_on=CAME + timedelta(days=round(30.44 * months))) for months in (1, 1, 1, 1, 1)]
    (found,) = selling([*sold, ITEM], {"a": "factory"}, GUIDE)
    assert (found.making, found.learnt.count, found.here) == ("factory", 5, 1)
    assert found.learnt.own_mean == pytest.approx(1.0, abs=0.02)
    assert found.learnt.weight == 0.5
    guide, blend = found.learnt.catalogue, found.learnt.blend
    assert blend.likely < guide.likely
    assert blend.low <= blend.likely <= blend.high
    assert selling([], {}, GUIDE) == ()
    (unsold,) = selling([ITEM], {"a": "workshop"}, GUIDE)
    assert unsold.learnt.blend == GUIDE["workshop"]


def looks(agreed: int, of: int, check: str = "purfling") -> list[Look]:
    return [Look(check, "student", "photos", 0.7, at < agreed) for at in range(of)]


def test_what_a_look_is_worth_lies_between_the_rubric_and_the_own_count() -> None:
    ((kind, worth),) = by_kind(looks(8, 20)).items()
    assert kind == ("student", "photos")
    assert (worth.looks, worth.agreed, worth.weight) == (20, 8, 0.5)
    assert worth.blend == pytest.approx((20 * 0.7 + 8) / 40)
    assert by_check(looks(1, 1)) == by_check([Look("purfling", "teacher", "photos", 0.7, True)])


def test_the_overlay_is_sound_and_changes_that_look_alone(tmp_path: Path) -> None:
    assert VIOLIN is not None
    text = overlay(VIOLIN, looks(8, 20), "Bench and Bow")
    place = tmp_path / "learnt.yaml"
    place.write_text(text, encoding="utf-8")
    assert check_path(place, rubrics_folder()).text() == ""
    after, problems = load_rubric(rubrics_folder(), "violin", [place])
    assert after is not None, problems
    was, now = VIOLIN.checks["purfling"].seen_by, after.checks["purfling"].seen_by
    assert now == {**was, "photos": 0.55}
    assert overlay(VIOLIN, (), "Bench and Bow") == ""
    assert {name for name in after.checks if after.checks[name] != VIOLIN.checks[name]} == {"purfling"}
