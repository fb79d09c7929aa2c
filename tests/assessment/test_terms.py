"""What the rubric says of a check in its setting: chances, worths and cures."""

from typing import Any

import pytest

from evaluator.assessment.believing.terms import IF_BAD_BY_CLASS, IF_GOOD_BY_CLASS, Term, term_of
from evaluator.assessment.model import Instrument
from tests.assessment.small import check_of, rubric_of


def term(outcomes: dict[str, dict[str, Any]], tier: Any = "student", style: Any = "classical", **keys: Any) -> Term:
    full = {name: {"say": name} | one for name, one in outcomes.items()}
    jobs = ({"job": "mend", "leaves": 0.9}, {"job": "patch", "leaves": 0.6})
    rubric = rubric_of(check_of("it", outcomes=full, **keys), jobs=jobs)
    return term_of(rubric, rubric.checks["it"], Instrument("4/4", style, tier))


SOUND, FAIR, FAULT = {"class": "sound"}, {"class": "acceptable"}, {"class": "fault"}
STOP = {"class": "disqualifying"}


@pytest.mark.parametrize(
    ("outcomes", "if_bad"),
    [
        # By class, made to sum to 1.
        ({"a": SOUND, "b": FAULT}, (0.15 / 0.75, 0.60 / 0.75)),
        # A class's share is split evenly among its outcomes.
        ({"a": SOUND, "b": FAULT, "c": FAULT}, (0.15 / 0.75, 0.30 / 0.75, 0.30 / 0.75)),
        # All written.
        ({"a": SOUND | {"if_bad": 0.2}, "b": FAULT | {"if_bad": 0.6}}, (0.25, 0.75)),
        # The rest of what is written goes to the others by class.
        ({"a": SOUND, "b": FAIR, "c": FAULT | {"if_bad": 0.65}}, (0.35 * 0.15 / 0.35, 0.35 * 0.20 / 0.35, 0.65)),
        # Written to the full: the others keep a little.
        ({"a": SOUND, "b": FAULT | {"if_bad": 1.0}}, (0.02 / 1.02, 1 / 1.02)),
    ],
)
def test_chances_in_the_bad_state(outcomes: dict[str, dict[str, Any]], if_bad: tuple[float, ...]) -> None:
    assert term(outcomes).if_bad == pytest.approx(if_bad, abs=1e-5)


@pytest.mark.parametrize(
    "outcomes",
    [
        {"a": SOUND | {"if_good": 0.0, "if_bad": 0.0}, "b": FAULT | {"if_good": 0.0, "if_bad": 0.0}},
        {"a": SOUND | {"if_good": 1.0, "if_bad": 0.0}, "b": FAULT | {"if_good": 0.0, "if_bad": 1.0}},
    ],
)
def test_nothing_is_impossible(outcomes: dict[str, dict[str, Any]]) -> None:
    found = term(outcomes)
    for chances in (found.if_good, found.if_bad):
        assert sum(chances) == pytest.approx(1.0)
        assert min(chances) > 0


def test_a_worse_class_is_never_a_better_sign() -> None:
    ratios = [IF_BAD_BY_CLASS[one] / IF_GOOD_BY_CLASS[one] for one in ("sound", "acceptable", "fault", "disqualifying")]
    assert ratios == sorted(ratios)


@pytest.mark.parametrize(
    ("outcomes", "worth"),
    [
        ({"a": SOUND, "b": FAIR, "c": FAULT}, (1.0, 0.75, 0.25)),
        ({"a": SOUND, "b": FAULT | {"worth": 0.1}, "c": STOP}, (1.0, 0.1, 0.0)),
        ({"a": SOUND, "c": STOP | {"worth": 0.3}}, (1.0, 0.3)),
        ({"c": STOP}, (0.0,)),
    ],
)
def test_worth_as_written_or_by_class(outcomes: dict[str, dict[str, Any]], worth: tuple[float, ...]) -> None:
    assert term(outcomes).worth == worth


def test_style_and_tier_have_their_say() -> None:
    flat = {"a": SOUND, "b": FAULT | {"worth": 0.1, "class_for": {"fiddle": "sound", "professional": "disqualifying"}}}
    assert term(flat).classes == ("sound", "fault")
    assert term(flat, style="fiddle").worth == (1.0, 1.0)
    assert term(flat, tier="professional").classes == ("sound", "disqualifying")
    weighty = {"weight": {"student": 1, "intermediate": 2, "professional": 5}, "style_factor": {"fiddle": 0.5}}
    assert term(flat, tier="professional", style="fiddle", **weighty).weight == 2.5


def test_the_best_cure_counts() -> None:
    cures = {"a": SOUND, "b": FAULT | {"cured_by": ("patch", "mend")}, "c": FAULT | {"inherent": True}}
    assert term(cures).leaves == (None, 0.9, None)


def test_a_worse_outcome_is_never_a_sign_of_the_good_state_whatever_is_written() -> None:
    """Written the wrong way round the two become equal signs; what is right stays as it is."""
    wrong = {"a": SOUND | {"if_good": 0.8, "if_bad": 0.2}, "b": FAIR | {"if_good": 0.05, "if_bad": 0.5},
             "c": FAULT | {"if_good": 0.15, "if_bad": 0.3}}  # fmt: skip
    found = term(wrong)
    ratios = [bad / good for good, bad in zip(found.if_good, found.if_bad, strict=True)]
    assert ratios[0] < ratios[1] == pytest.approx(ratios[2])
    assert sum(found.if_bad) == pytest.approx(1.0)
    right = {"a": SOUND | {"if_good": 0.8, "if_bad": 0.2}, "b": FAULT | {"if_good": 0.2, "if_bad": 0.8}}
    assert term(right).if_bad == pytest.approx((0.2, 0.8))
