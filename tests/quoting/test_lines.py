"""Parts by grade: the price of a draft follows the grade, its labour does not, and what was offered stays."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from evaluator.basis.money import Money
from evaluator.basis.problem import Problem
from evaluator.estimate.estimate import estimate
from evaluator.quoting.answers import all_yes, standing, totals
from evaluator.quoting.draft import make_quote
from evaluator.quoting.lines import with_grades
from evaluator.quoting.quote import Quote, State
from evaluator.quoting.records import from_data, quote_json, to_data
from evaluator.rubric.written.work import PartPrice
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shop_of, three

GRADES = {"plain": three(6, 10, 16), "good": three(14, 22, 35), "select": three(30, 45, 75)}
PARTS = (
    PartPrice.model_validate({"part": "blank", "say": "Bridge blank", "prices": {"violin": GRADES}}),
    PartPrice.model_validate({"part": "stick", "say": "Stick", "prices": {"violin": {"plain": three(2, 4, 7)}}}),
)
RUBRIC = replace(
    rubric_of(
        (
            job_of("bridge_new", (0.8, 1.3, 2.2), parts=[{"part": "blank"}, {"part": "stick"}]),
            job_of("two", (0.5, 1.0, 1.5), parts=[{"part": "blank", "count": 2, "grade": "select"}]),
        ),
        {"warp": ("bridge_new",), "other": ("two",)},
    ),
    part_prices={part.part: part for part in PARTS},
)


def draft(**shop: object) -> Quote:
    found = assessment_of(RUBRIC, finding_of(RUBRIC, "warp"), finding_of(RUBRIC, "other"), count=100)
    prices = shop_of(**shop)
    made = make_quote(RUBRIC, prices, estimate(RUBRIC, case_of(RUBRIC), found, prices), "Q-1", date(2026, 3, 2))
    assert isinstance(made, Quote)
    return made


def regraded(quote: Quote, wanted: dict[tuple[str, str], str]) -> Quote:
    found = with_grades(quote, wanted)
    assert isinstance(found, Quote), found
    return found


def test_only_what_is_listed_in_several_grades_can_be_chosen() -> None:
    line = draft().line("bridge_new")
    assert line is not None
    blank, stick = line.used
    assert [(one.grade, one.low, one.likely, one.high) for one in blank.choices] == [
        ("plain", 6, 10, 16),
        ("good", 14, 22, 35),
        ("select", 30, 45, 75),
    ]
    assert (stick.grade, stick.choices) == ("plain", ()), "it is named in the grade that its price is of"
    assert line.parts_named == ("1 x Bridge blank (good)", "1 x Stick (plain)")


@pytest.mark.parametrize(("grade", "parts"), [("plain", "14.50"), ("good", "27.00"), ("select", "51.66")])
def test_the_grade_moves_parts_and_total_and_leaves_the_labour(grade: str, parts: str) -> None:
    before, after = draft(), regraded(draft(), {("bridge_new", "blank"): grade})
    old, new = before.line("bridge_new"), after.line("bridge_new")
    assert old is not None
    assert new is not None
    assert new.labour == old.labour
    assert new.parts == Money(Decimal(parts), "USD")
    assert new.parts_named[0] == f"1 x Bridge blank ({grade})"
    found = totals(after, standing(after, all_yes(after)))
    assert found.total - totals(before, standing(before, all_yes(before))).total == new.parts - old.parts
    back = regraded(after, {("bridge_new", "blank"): "good"})
    assert ([line.price for line in back.lines], back.ceiling) == (
        [line.price for line in before.lines],
        before.ceiling,
    )
    written = next(one for one in quote_json(after)["lines"] if one["job"] == "bridge_new")
    assert written["used"][0]["grade"] == grade
    assert from_data(Quote, to_data(after)) == after


def test_a_better_part_raises_the_ceiling_and_counts_each_piece() -> None:
    dear = draft()
    cheap = regraded(dear, {("two", "blank"): "plain"})
    assert cheap.ceiling < dear.ceiling
    line = cheap.line("two")
    assert line is not None
    assert line.parts == Money(Decimal("20.67"), "USD")
    assert line.parts_named == ("2 x Bridge blank (plain)",)


@pytest.mark.parametrize("state", ["offered", "agreed", "withdrawn"])
def test_what_was_offered_keeps_its_parts(state: State) -> None:
    found = with_grades(replace(draft(), state=state), {("bridge_new", "blank"): "plain"})
    assert isinstance(found, tuple)
    assert [one.code for one in found] == ["quote.grade_late"]


@pytest.mark.parametrize("wanted", [("bridge_new", "stick"), ("bridge_new", "gold"), ("none", "blank")])
def test_a_grade_that_is_not_listed_is_told(wanted: tuple[str, str]) -> None:
    found = with_grades(draft(), {wanted: "select"})
    assert isinstance(found, tuple)
    assert isinstance(found[0], Problem)
    assert found[0].code == "quote.grade_unknown"


@pytest.mark.parametrize(
    "shop",
    [{"part_prices": {"blank": (9, 9, 9)}}, {"job_prices": {"bridge_new": (100, 120, 150), "two": (80, 90, 99)}}],
)
def test_a_price_of_the_shops_own_leaves_nothing_to_choose(shop: dict[str, object]) -> None:
    assert all(part.choices == () for line in draft(**shop).lines for part in line.used)
