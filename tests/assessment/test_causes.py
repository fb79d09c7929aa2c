"""Causes worked by hand: what one look and several say of it, what it would be without one, which signs are named."""

import math

import pytest

from evaluator.assessment.believing.causes import CauseState, cause_states, odds_of, share_of
from evaluator.assessment.believing.evidence import Evidence, Sign
from evaluator.assessment.believing.making import LEAST_PRIOR, shares_before
from evaluator.assessment.believing.terms import term_of
from evaluator.assessment.model import Instrument
from evaluator.rubric.making import MakingClass
from evaluator.rubric.written.surroundings import Cause
from tests.assessment.small import FAULT, SHARES, SOUND, check_of, rubric_of

HURRY = {"cause": "hurry", "say": "Hurried", "if_not": "Unhurried", "about": "made_in", "prior": 0.2}
# Three in four of the hurried and one in four of the others are poor.
TELLS = {"good": SOUND | {"if_good": 0.75, "if_bad": 0.25}, "poor": FAULT | {"if_good": 0.25, "if_bad": 0.75}}
RUBRIC = rubric_of(
    *(check_of(name, outcomes=TELLS, cause="hurry") for name in ("board", "blocks", "linings")),
    check_of("apart", outcomes=TELLS),
    causes=(HURRY,),
)
TERMS = [term_of(RUBRIC, one, Instrument("4/4", "classical", "student")) for one in RUBRIC.checks.values()]
GOOD, POOR = (1.0, 0.0), (0.0, 1.0)


def looked(outcomes: tuple[float, float], reliability: float = 1.0) -> Evidence:
    return Evidence((Sign((reliability, reliability), outcomes),))


def state(**seen: Evidence) -> CauseState:
    return cause_states(TERMS, seen)["hurry"]


@pytest.mark.parametrize(
    ("seen", "bad"),
    [
        ({}, 0.2),
        ({"board": looked(POOR)}, 3 / 7),  # odds of 1 : 4 times 3
        ({"board": looked(GOOD)}, 1 / 13),  # times a third
        ({"board": looked(POOR), "blocks": looked(POOR)}, 9 / 13),
        ({"board": looked(POOR), "blocks": looked(GOOD)}, 0.2),
        ({"board": looked(POOR, 0.0)}, 0.2),
        # P(poor) is 0.35 by chance: half of 0.75 and 0.35 against half of 0.25 and 0.35, so 11 : 6.
        ({"board": looked(POOR, 0.5)}, 11 / 35),
        ({"apart": looked(POOR)}, 0.2),
        # Looks that leave nothing possible say nothing.
        ({"board": looked((0.0, 0.0))}, 0.2),
        ({"board": Evidence((*looked(POOR).signs, *looked(GOOD).signs))}, 0.2),
        ({"board": Evidence(())}, 0.2),
    ],
)
def test_what_looks_say_of_a_cause(seen: dict[str, Evidence], bad: float) -> None:
    assert state(**seen).bad == pytest.approx(bad)


def test_looks_at_one_check_share_the_outcome_behind_them() -> None:
    """Sure twice of one thing says no more than once; two that are half sure say less than two checks would."""
    twice = Evidence(looked(POOR).signs * 2)
    assert state(board=twice).bad == pytest.approx(3 / 7)
    half = looked(POOR, 0.5)
    assert 11 / 35 < state(board=Evidence(half.signs * 2)).bad < state(board=half, blocks=half).bad


def test_what_hides_counts_for_less_where_nothing_was_seen() -> None:
    """Worked by hand: good always shows, poor one time in two. One that seems good is so, or is a poor one missed.

    By chance good is 0.65: good 0.75 + 0.25 * 0.5 * 0.65 = 0.83125, bad 0.25 + 0.75 * 0.5 * 0.65 = 0.49375.
    """
    found = state(board=Evidence((Sign((1.0, 0.5), GOOD),)))
    assert found.bad == pytest.approx(0.49375 / (0.49375 + 4 * 0.83125))


def test_without_a_check_it_stands_as_if_nobody_had_looked_there() -> None:
    both, one = state(board=looked(POOR), blocks=looked(POOR)), state(board=looked(POOR))
    assert both.without("blocks") == pytest.approx(one.bad)
    assert one.without("board") == pytest.approx(one.prior) == pytest.approx(0.2)
    assert one.without("linings") == one.bad


def test_signs_are_named_from_the_strongest_on_whichever_way_they_point() -> None:
    weak = looked(POOR, 0.2)  # times 43 : 33
    found = state(linings=looked(POOR, 0.5), board=weak, blocks=looked(GOOD))
    assert found.signs() == ("blocks", "linings", "board")
    assert state(board=looked(POOR, 0.05)).signs() == ()
    pulls = {"a": math.log(1.15), "b": -math.log(1.15), "c": math.log(1.14)}
    assert CauseState(0.5, 0.5, 0.0, pulls).signs() == ("a", "b"), "at the very limit too"


def test_odds_and_shares_are_each_others_inverse() -> None:
    assert odds_of(0.2) == pytest.approx(-math.log(4.0))
    for share in (1e-12, 0.2, 0.5, 0.8, 1 - 1e-9):
        assert share_of(odds_of(share)) == pytest.approx(share, rel=1e-6)
    assert (share_of(-1000.0), share_of(0.0), share_of(1000.0)) == (0.0, 0.5, 1.0)


def test_a_check_without_outcomes_shows_no_cause() -> None:
    length = {"quantity": "length", "unit": "mm", "tools": ("steel_rule",)}
    silent = rubric_of(check_of("length", measure=length, outcomes={}, cause="hurry"), causes=(HURRY,))
    term = term_of(silent, silent.checks["length"], Instrument("4/4", "classical", "student"))
    assert cause_states([term], {}) == {}
    assert cause_states([term, *TERMS], {"board": looked(POOR)})["hurry"].bad == pytest.approx(3 / 7)


BY_CLASS = Cause.model_validate(HURRY | {"prior": {"cheap": 0.6, "dear": 0.1, "over_100": 0.5}})


@pytest.mark.parametrize(
    ("making", "age", "prior"),
    [
        ({"cheap": 1.0}, None, 0.6),
        ({"cheap": 0.5, "dear": 0.5}, None, 0.35),
        ({"cheap": 0.2, "dear": 0.2, "other": 0.6}, None, 0.35),
        ({"cheap": 1.0}, "over_100", 0.55),
        ({"cheap": 1.0}, "new", 0.6),
        ({"cheap": 0.0, "other": 1.0}, "over_100", 0.5),
        ({}, None, 0.4),
    ],
)
def test_how_likely_a_cause_is_by_making_and_age(making: dict[str, float], age: str | None, prior: float) -> None:
    """The mean by shares of the classes that are written, and of that and the age's: worked by hand."""
    assert BY_CLASS.prior_at(making, age) == pytest.approx(prior)


def making_class(prior: dict[str, float], old: float = 1.0) -> MakingClass:
    plain = {"making": "one", "say": "One", "means": "One.", "care": 1.0, "usual": dict.fromkeys(SHARES, 50.0)}
    return MakingClass.model_validate(plain | {"prior": prior, "old": old})


def test_shares_before_any_look_follow_the_family_and_the_age() -> None:
    """Worked by hand: of old ones twice as many are of the second class; none of a family is hardly any, not none."""
    both = (making_class({"violin": 0.75, "bow": 1.0}), making_class({"violin": 0.25}, old=2.0))
    assert shares_before(both, "violin", old=False) == pytest.approx((0.75, 0.25))
    assert shares_before(both, "violin", old=True) == pytest.approx((0.6, 0.4))
    assert shares_before(both, "bow", old=False) == pytest.approx((1 / (1 + LEAST_PRIOR), LEAST_PRIOR), rel=1e-2)
