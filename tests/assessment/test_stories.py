"""What a good luthier would say of small invented instruments, written down before the sums were run."""

from typing import Any

import pytest

from evaluator.assessment.looking.next_checks import Looks, next_checks
from evaluator.assessment.model import Assessment
from evaluator.assessment.scoring.draws import assess
from evaluator.wording.reasons import in_the_way_words, settle_words, told
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

CAUSES = (
    {
        "cause": "cut_corners_body",
        "say": "Corners were cut when the body was built",
        "if_not": "The body was built with care",
        "about": "made_in",
        "prior": {"student": 0.5, "intermediate": 0.25, "professional": 0.06},
    },
    {
        "cause": "cut_corners_set_up",
        "say": "It left the factory without a proper set-up",
        "if_not": "Somebody took time over the set-up",
        "about": "condition",
        "prior": {"student": 0.55, "intermediate": 0.35, "professional": 0.12},
    },
)
JOBS = ({"job": "bridge_new"}, {"job": "undercut"}, {"job": "post_set", "urgency": "to_play_safely"})
MENDABLE = FAULT | {"inherent": False}
IN_PERSON = {"in_person": 0.95, "photos": 0.6, "seller_statement": 0.3}


def body(name: str, bad: str, good: str, **keys: Any) -> dict[str, Any]:
    outcomes = {good: SOUND | {"say": good}, bad: FAULT | {"say": bad}}
    return check_of(name, cause="cut_corners_body", outcomes=outcomes, seen_by=IN_PERSON, weight=3.0) | keys


VIOLIN = rubric_of(
    body("purfling", "painted", "inlaid"),
    body("corner_blocks", "sham", "solid", seen_by={"in_person": 0.9}, who="luthier"),
    body("scroll", "rough", "clean"),
    check_of(
        "board_end",
        cause="cut_corners_set_up",
        seen_by=IN_PERSON,
        evidence_of={"playability": 1.0},
        outcomes={"tapered": SOUND, "blunt": MENDABLE | {"cured_by": ("undercut",), "urgency": "recommended"}},
    ),
    check_of(
        "bridge",
        cause="cut_corners_set_up",
        seen_by=IN_PERSON,
        evidence_of={"playability": 2.0, "tone": 1.0},
        weight=4.0,
        outcomes={"carved": SOUND, "raw": MENDABLE | {"say": "A raw blank", "cured_by": ("bridge_new",)}},
    ),
    check_of(
        "soundpost",
        seen_by=IN_PERSON,
        evidence_of={"soundness": 2.0, "tone": 2.0},
        outcomes={"standing": SOUND, "fallen": MENDABLE | {"say": "The post has fallen", "cured_by": ("post_set",)}},
    ),
    check_of(
        "tone",
        seen_by={"in_person": 0.8, "recording": 0.4},
        evidence_of={"tone": 3.0},
        weight=3.0,
        postponed_by=("soundpost.fallen", "bridge.raw"),
    ),
    check_of(
        "back_crack",
        seen_by={"in_person": 0.9, "photos": 0.6, "seller_statement": 0.5},
        evidence_of={"soundness": 3.0, "resale": 2.0},
        weight=5.0,
        outcomes={
            "none": SOUND,
            "repaired": {"say": "Repaired and flat", "class": "acceptable", "worth": 0.5},
            "open": {"say": "An open crack at the post", "class": "disqualifying", "inherent": True},
        },
    ),
    check_of(
        "weight",
        cause="cut_corners_body",
        seen_by=IN_PERSON,
        measure={"quantity": "mass", "unit": "g", "tools": ("kitchen_scale", "gram_scale")},
        standard={"high": 430.0, "target": 400.0},
        worth_at={400: 1.0, 430: 0.85, 500: 0.4, 600: 0.0},
        outcomes={"meets": SOUND, "too_high": FAULT},
    ),
    check_of(
        "bridge_height",
        seen_by=IN_PERSON,
        evidence_of={"playability": 1.0},
        outcomes={
            "arched": SOUND,
            "flat": MENDABLE | {"say": "Flat", "cured_by": ("bridge_new",), "class_for": {"fiddle": "acceptable"}},
        },
    ),
    causes=CAUSES,
    jobs=JOBS,
)


def judged(answers: dict[str, Any], **keys: Any) -> Assessment:
    return assess(VIOLIN, case_of(VIOLIN, answers, **keys))


def likely(found: Assessment, check: str, outcome: str) -> float:
    return found.beliefs[check].probability[outcome]


def test_two_cheap_signs_and_nothing_else() -> None:
    """Painted purfling and a rough scroll: the blocks inside are likely sham. Of the bridge this says nothing."""
    nothing, found = judged({}), judged({"purfling": "painted", "scroll": "rough"})
    assert likely(nothing, "corner_blocks", "sham") < 0.5 < likely(found, "corner_blocks", "sham")
    assert found.causes["cut_corners_body"].probability > 0.9
    assert likely(found, "bridge", "raw") == pytest.approx(likely(nothing, "bridge", "raw"))
    assert found.score.expected < nothing.score.expected
    assert any("Not looked at" in told(fact) for fact in found.beliefs["corner_blocks"].because)
    assert any("purfling: painted" in told(fact) for fact in found.beliefs["corner_blocks"].because)


def test_a_clean_inside_moves_it_back() -> None:
    cheap = judged({"purfling": "painted", "scroll": "rough"})
    inside = judged({"purfling": "painted", "scroll": "rough", "corner_blocks": "solid"})
    assert inside.causes["cut_corners_body"].probability < cheap.causes["cut_corners_body"].probability


def test_a_good_body_with_a_raw_set_up() -> None:
    """The class of the body stays; the bridge becomes work, and the score after the work is far better."""
    answers = {"purfling": "inlaid", "scroll": "clean", "corner_blocks": "solid"}
    fine = judged(answers | {"bridge": "carved", "board_end": "tapered"})
    raw = judged(answers | {"bridge": "raw", "board_end": "blunt"})
    assert raw.domains["workmanship"].expected == pytest.approx(fine.domains["workmanship"].expected)
    assert raw.domains["playability"].expected < fine.domains["playability"].expected - 15
    assert raw.domains_after["playability"].expected > raw.domains["playability"].expected + 10
    (bridge,) = [one for one in raw.findings if one.check == "bridge"]
    assert (bridge.level, bridge.required, bridge.cured_by) == ("confirmed", True, ("bridge_new",))
    (board,) = [one for one in raw.findings if one.check == "board_end"]
    assert not board.required
    assert raw.beliefs["board_end"].worth_after == pytest.approx(raw.beliefs["board_end"].worth)


@pytest.mark.parametrize(
    ("measure", "reading", "told"),
    [
        ({"quantity": "mass", "unit": "g", "tools": ("kitchen_scale",)}, "98 g", "no tool named here would decide"),
        ({"quantity": "mass", "unit": "g", "tools": ("kitchen_scale", "gram_scale")}, "98 g", "a scale in grams"),
        ({"quantity": "length", "unit": "mm", "tools": ("steel_rule",)}, "99.8 mm", "no tool named here would decide"),
        ({"quantity": "length", "unit": "mm", "tools": ("steel_rule", "caliper")}, "99.8 mm", "a caliper"),
    ],
)
def test_only_the_tools_of_its_check_may_settle_a_reading(measure: dict[str, Any], reading: str, told: str) -> None:
    rubric = rubric_of(check_of("size", measure=measure, standard={"high": 100.0}))
    case = case_of(rubric, {"size": {"reading": reading, "tool": measure["tools"][0]}})
    settle = assess(rubric, case, draws=50).conformity["size"].settle
    assert settle is not None and told in settle_words(settle)


@pytest.mark.parametrize(
    ("reading", "tool", "statement", "settles"),
    [
        (428, "kitchen_scale", "cannot_tell", False),
        (432, "kitchen_scale", "cannot_tell", False),
        (428, "gram_scale", "meets", None),
        (432, "gram_scale", "does_not", None),
        (426, "kitchen_scale", "probably", True),
        (434, "kitchen_scale", "probably_not", True),
        (415, "kitchen_scale", "meets", None),
        (460, "kitchen_scale", "does_not", None),
    ],
)
def test_a_weight_near_the_limit(reading: float, tool: str, statement: str, settles: bool | None) -> None:
    """A kitchen scale cannot part 428 g from 432 g; a scale in grams can."""
    whole = judged({"weight": {"reading": f"{reading} g", "tool": tool}})
    found = whole.conformity["weight"]
    usual = judged({}).beliefs["weight"].probability["meets"]
    assert likely(whole, "weight", "meets") == pytest.approx(0.95 * found.probability + 0.05 * usual)
    if reading in {428, 432} and tool == "kitchen_scale":
        assert found.statement in {"cannot_tell", "probably", "probably_not"}
        assert found.settle is not None and "scale in grams, in steps of 1 g" in settle_words(found.settle)
        return
    assert found.statement == statement
    assert (found.settle is None) == (settles is None)


def test_photos_only() -> None:
    """The same answers by photo: a wider range, and a belief between the photo and what is usual."""
    answers = {"purfling": "inlaid", "scroll": "clean", "bridge": "carved"}
    near, far = judged(answers), judged(answers, seen_by="photos")
    assert far.score.high - far.score.low > near.score.high - near.score.low
    assert likely(near, "purfling", "painted") < likely(far, "purfling", "painted") < 0.5


def test_a_fallen_post_asks_for_the_tone_again_and_forgives_nothing() -> None:
    """Dull through a fallen post is judged again once it stands; until then it counts as it was heard."""
    dull, waiting = judged({"soundpost": "fallen", "tone": "poor"}), judged({"soundpost": "fallen"})
    assert dull.beliefs["tone"].postponed is not None
    assert "soundpost (the post has fallen)" in in_the_way_words(dull.beliefs["tone"].postponed)
    assert dull.beliefs["tone"].waits_for == waiting.beliefs["tone"].waits_for == ("soundpost.fallen",)
    assert dull.beliefs["tone"].seen
    assert dull.score.expected < judged({"soundpost": "fallen", "tone": "good"}).score.expected
    assert [one.waits for one in dull.deductions if one.check == "tone"] == [True]
    assert all(one.waits and not one.required for one in dull.findings if one.check == "tone")
    assert judged({"soundpost": "standing", "tone": "poor"}).score.expected > dull.score.expected
    assert all(
        one.check != "tone"
        for one in next_checks(Looks(VIOLIN, case_of(VIOLIN), dull, None), "luthier", "in_person", 9)
    )
    assert judged({"soundpost": "standing", "tone": "poor"}).beliefs["tone"].postponed is None


def test_a_repaired_crack_disclosed() -> None:
    """Said by the seller and seen: no reason to walk away, but it costs soundness and resale."""
    found = judged({"back_crack": [{"outcome": "repaired", "seen_by": "seller_statement"}, "repaired"]})
    whole = judged({"back_crack": "none"})
    assert found.domains["soundness"].expected < whole.domains["soundness"].expected
    assert not found.beliefs["back_crack"].clash
    assert likely(found, "back_crack", "open") < 0.01
    assert found.disqualifying == ()


def test_a_seller_and_a_look_that_disagree() -> None:
    found = judged({"back_crack": [{"outcome": "none", "seen_by": "seller_statement"}, "open"]})
    assert found.beliefs["back_crack"].clash
    assert any("do not agree" in told(fact) for fact in found.beliefs["back_crack"].because)
    (stop,) = found.disqualifying
    assert (stop.check, stop.outcome) == ("back_crack", "open")
    assert stop.level in {"confirmed", "probable"}
    assert stop not in found.findings


def test_a_reason_to_walk_away_bites_more_than_any_fault() -> None:
    stop, repaired = judged({"back_crack": "open"}), judged({"back_crack": "repaired"})
    assert stop.score.expected < repaired.score.expected - 5
    assert stop.beliefs["back_crack"].worth < 0.1


def test_a_fiddle_set_up_judged_as_either() -> None:
    answers = {"bridge_height": "flat"}
    classical = judged(answers, instrument={"style": "classical"})
    fiddle = judged(answers, instrument={"style": "fiddle"})
    assert fiddle.domains["playability"].expected > classical.domains["playability"].expected
    assert [one.check for one in classical.findings if one.check == "bridge_height"] == ["bridge_height"]
    assert [one.check for one in fiddle.findings if one.check == "bridge_height"] == []


def test_everything_looked_at() -> None:
    answers: dict[str, Any] = {name: next(iter(check.outcomes)) for name, check in VIOLIN.checks.items()}
    found = judged(answers | {"weight": {"reading": "398 g", "tool": "gram_scale"}})
    nothing = judged({})
    assert found.coverage == pytest.approx(1.0)
    assert nothing.coverage == 0.0
    assert found.score.high - found.score.low < 0.5 * (nothing.score.high - nothing.score.low)
    assert found.score.expected > 90
    assert all(one.level == "possible" for one in found.findings)
