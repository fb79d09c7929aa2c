"""Which drawing shows which fault: every name leads to a check, a drawing, and an outcome that work cures."""

import pytest

from evaluator.drawings.geometry.model import Drawing, Panel, plain, right, wrong
from evaluator.drawings.geometry.pen import Pen
from evaluator.drawings.registry import DRAWINGS
from evaluator.papers.sections.pictured import likeness, panels_of
from evaluator.result.model.score import Check as Held
from evaluator.result.model.score import Likeness, Trail
from evaluator.rubric.written.checks import Check
from tests.papers.cases import rubric

RUBRICS = [rubric(family) for family in ("violin", "viola", "cello", "bow")]
CHECKS: dict[str, Check] = {name: check for one in RUBRICS for name, check in one.checks.items()}
LIKENESSES = {name: said for one in RUBRICS for name, said in one.likenesses.items()}


def held(check: str, drawing: str | None) -> Held:
    """The check as a result holds it: its drawing, and what the rubric says of its likeness."""
    said = LIKENESSES.get(check)
    return Held(
        check=check, part="whole", ask="", term=None, kind="choice", minutes=1.0, seen=True, clash=False,
        postponed=None, observations=(), belief=(), worth=1.0, worth_after_work=1.0, because=(), drawing=drawing,
        why=Trail(share=0.0, takes=0.0, cause=None, steps=()),
        likeness=Likeness(drawing=said.drawing, outcomes=said.shows) if said else None,
    )  # fmt: skip


@pytest.mark.parametrize("name", LIKENESSES)
def test_each_entry_is_a_check_with_a_drawing_of_its_own(name: str) -> None:
    drawing, outcomes = LIKENESSES[name].drawing, LIKENESSES[name].shows
    printed = panels_of(DRAWINGS[drawing])
    assert printed[-1].judged == "wrong" or len(DRAWINGS[drawing].panels) == 1, "it tells kinds apart, not a fault"
    for outcome in outcomes:
        assert CHECKS[name].outcomes[outcome].cured_by, outcome


def test_no_check_of_ours_shows_a_fault_by_chance() -> None:
    """A check with a drawing that shows a fault, and an outcome that work cures, says for which outcomes it does."""
    unsaid = [
        name
        for name, check in CHECKS.items()
        if name not in LIKENESSES
        and check.drawing is not None
        and any(panel.judged == "wrong" for panel in DRAWINGS[check.drawing].panels)
        and any(outcome.cured_by for outcome in check.outcomes.values())
    ]
    assert unsaid == []


# Each of these drawings shows the opposite, or another thing, than what was found.
@pytest.mark.parametrize(
    ("check", "outcome"),
    [
        ("bridge_arch", "too_round"),
        ("nut_height", "low"),
        ("nut_height_high", "too_low"),
        ("action_high", "too_low"),
        ("neck_shape", "too_thin"),
        ("fingerboard_projection", "high"),
        ("projection", "too_high"),
        ("bridge_thickness", "paper_thin"),
        ("bridge_carved", "too_much_off"),
        ("soundpost_tension", "sunk"),
        ("tailgut", "frayed"),
        ("bow_hair", "too_long"),
        ("peg_function", "jumps"),
    ],
)
def test_what_a_drawing_does_not_show_has_none(check: str, outcome: str) -> None:
    assert outcome in CHECKS[check].outcomes
    assert likeness(DRAWINGS, held(check, CHECKS[check].drawing), outcome) is None


def test_a_measured_fault_is_shown_by_the_drawing_of_its_kind() -> None:
    assert likeness(DRAWINGS, held("nut_height_high", "nut_high"), "too_high") is DRAWINGS["nut_card"]
    assert likeness(DRAWINGS, held("projection", "projection"), "too_low") is DRAWINGS["board_projection"]


@pytest.mark.parametrize(("own", "shown"), [("bridge_feet", True), ("overstand", False), ("no_such_drawing", False)])
def test_a_check_of_a_shop_shows_its_own_drawing_where_that_has_a_wrong_side(own: str, shown: bool) -> None:
    assert likeness(DRAWINGS, held("our_own_check", own), "bad") is (DRAWINGS[own] if shown else None)


def nothing(pen: Pen) -> None:
    """An empty sheet."""


GOOD, BAD, KIND = right("good", nothing), wrong("bad", nothing), plain("kind", nothing)


@pytest.mark.parametrize(
    ("panels", "printed"),
    [
        ((GOOD, BAD), (GOOD, BAD)),
        ((BAD, GOOD), (GOOD, BAD)),
        ((KIND, BAD), (KIND, BAD)),
        ((GOOD, BAD, KIND), (GOOD, BAD)),
        ((BAD,), (BAD,)),
        ((KIND,), (KIND,)),
    ],
)
def test_right_stands_before_wrong(panels: tuple[Panel, ...], printed: tuple[Panel, ...]) -> None:
    assert panels_of(Drawing("one", "One", panels)) == printed
