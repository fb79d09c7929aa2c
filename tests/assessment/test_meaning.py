"""The place among its own class: of a hundred of them, seen in the same places, how many are better. Worked by hand.

Four hundred are drawn, so a share of one half is right to about two and a half of a hundred (one standard deviation).
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.making import MakingClass, MakingSign, SignGroup, sign_tables
from evaluator.rubric.rubric import Rubric
from tests.assessment.small import FAULT, SHARES, SOUND, case_of, check_of, rubric_of

NEAR = 6.0
SURE = {"in_person": 1.0, "photos": 0.3}
# Half of all are good, three in ten worn and two in ten poor, whatever else is true of them.
THREE = {
    "good": SOUND | {"if_good": 0.5, "if_bad": 0.5},
    "worn": {"say": "Worn", "class": "acceptable", "if_good": 0.3, "if_bad": 0.3},
    "poor": FAULT | {"if_good": 0.2, "if_bad": 0.2},
}
LAST_FAULTY = {"good": SOUND | {"if_good": 0.4, "if_bad": 0.4}, "poor": FAULT | {"if_good": 0.6, "if_bad": 0.6}}
# In three of ten of the cheap and hardly any of the dear a corner was cut, which shows in both places.
CUT = {"cause": "cut", "say": "Cut", "if_not": "Spared", "about": "made_in", "prior": {"cheap": 0.3, "dear": 0.02}}
EVEN = {"good": (0.5, 0.5), "poor": (0.5, 0.5)}
TOLD = {"good": SOUND | {"if_good": 1.0, "if_bad": 0.0}, "poor": FAULT | {"if_good": 0.0, "if_bad": 1.0}}


def making_class(name: str, care: float, prior: float, usual: float) -> MakingClass:
    both: dict[str, Any] = {"prior": {"violin": prior}, "usual": dict.fromkeys(SHARES, usual)}
    return MakingClass.model_validate({"making": name, "say": name, "means": name, "care": care} | both)


def rubric(cheap: float = 0.9, shares: Mapping[str, tuple[float, float]] = EVEN, usual: float = 60.0) -> Rubric:
    """Two classes, of which so many of a hundred are cheap; `shares`: of the outcomes of the sign, cheap and dear."""
    plain = rubric_of(
        check_of("wear", outcomes=THREE, seen_by=SURE, evidence_of={"tone": 3.0}),
        check_of("luck", outcomes=LAST_FAULTY, seen_by=SURE, evidence_of={"tone": 3.0}),
        check_of("board", outcomes=TOLD, cause="cut", seen_by=SURE, evidence_of={"soundness": 3.0}),
        check_of("blocks", outcomes=TOLD, cause="cut", seen_by=SURE, evidence_of={"soundness": 3.0}),
        check_of("scroll", seen_by=SURE, evidence_of={"workmanship": 3.0}),
        check_of("label", seen_by=SURE, evidence_of={}, about="purchase"),
        causes=(CUT,),
    )
    classes = (making_class("cheap", 0.0, cheap, usual), making_class("dear", 1.0, 1.0 - cheap, usual))
    sign = MakingSign.model_validate({"shares": shares, "counts": 0.0})
    groups = {"hand": SignGroup(group="hand", say="the hand", signs={"scroll": sign})}
    signs = sign_tables(classes, tuple(groups.values()), plain.checks)
    return replace(plain, classes={one.making: one for one in classes}, sign_groups=groups, signs=signs)


def better(of: Rubric, answers: dict[str, Any], **keys: Any) -> float | None:
    return assess(of, case_of(of, answers, **keys), draws=50).better_in_class


@pytest.mark.parametrize(
    ("answer", "where_poor", "where_fine"), [("good", 25.0, 25.0), ("worn", 50.0, 80.0), ("poor", 80.0, 100.0)]
)
def test_those_with_the_same_fault_stand_where_their_class_usually_does(
    answer: str, where_poor: float, where_fine: float
) -> None:
    """The draws are laid round what is usual: by 85 those with the same fault lie below it, by 97 above it.

    Of faultless equals half count as better.
    """
    assert better(rubric(usual=85.0), {"wear": answer}) == pytest.approx(where_poor, abs=NEAR)
    assert better(rubric(usual=97.0), {"wear": answer}) == pytest.approx(where_fine, abs=NEAR)


@pytest.mark.parametrize(("answer", "of_hundred"), [("good", 20.0), ("poor", 40.0)])
def test_the_last_outcome_is_drawn_like_any_other(answer: str, of_hundred: float) -> None:
    assert better(rubric(usual=80.0), {"luck": answer}) == pytest.approx(of_hundred, abs=NEAR)


@pytest.mark.parametrize(
    ("cheap", "answers", "of_hundred"),
    [(0.9, ("good", "good"), 35.0), (0.9, ("poor", "good"), 70.0), (0.9, ("poor", "poor"), 70.0),
     (0.1, ("good", "good"), 49.0), (0.1, ("poor", "poor"), 98.0)],
)  # fmt: skip
def test_what_has_one_cause_goes_wrong_together_and_as_often_as_in_the_class(
    cheap: float, answers: tuple[str, str], of_hundred: float
) -> None:
    """Of the cheap 70 have both right and 30 both wrong; apart they would be 49, 42 and 9. Of the dear 98 and 2."""
    given = dict(zip(("board", "blocks"), answers, strict=True))
    assert better(rubric(cheap, usual=60.0), given) == pytest.approx(of_hundred, abs=NEAR)


@pytest.mark.parametrize(
    ("shares", "of_hundred"),
    [({"good": (0.9, 0.9), "poor": (0.1, 0.1)}, 45.0), ({"good": (0.2, 0.2), "poor": (0.8, 0.8)}, 10.0)],
)
def test_a_sign_of_the_making_is_drawn_as_the_rubric_says_it_shows(
    shares: dict[str, tuple[float, float]], of_hundred: float
) -> None:
    assert better(rubric(shares=shares), {"scroll": "good"}) == pytest.approx(of_hundred, abs=NEAR)


def test_a_sign_is_held_against_the_likeliest_class() -> None:
    """Nearly all dear ones have a good scroll, nearly no cheap one: the same scroll is nothing there and much here."""
    shares = {"good": (0.02, 0.98), "poor": (0.98, 0.02)}
    among_dear, among_cheap = (better(rubric(cheap, shares), {"scroll": "good"}) for cheap in (0.1, 0.9))
    assert among_dear is not None and among_cheap is not None
    assert among_cheap < 20.0 < 30.0 < among_dear <= 50.0


@pytest.mark.parametrize("answer", ["good", "worn", "poor"])
def test_a_fault_stands_where_it_stands_however_surely_it_was_seen(answer: str) -> None:
    by_photo, in_the_hand = (better(rubric(), {"wear": answer}, seen_by=way) for way in ("photos", "in_person"))
    assert by_photo is not None and by_photo == in_the_hand


def test_what_is_no_part_of_the_score_gives_no_place() -> None:
    assert better(rubric(), {}) is None
    assert better(rubric(), {"label": "good"}) is None
