"""What to look at next, what to ask, and the order of a short visit."""

from typing import Any

import numpy as np
import pytest

from evaluator.assessment.looking.next_checks import (
    Looks,
    next_checks,
    photos_to_ask_for,
    questions_for_seller,
    visit,
)
from evaluator.assessment.model import Assessment
from evaluator.assessment.scoring.draws import assess
from tests.assessment.small import SOUND, case_of, check_of, rubric_of

HIDDEN = {"cause": "hidden", "say": "It was dropped", "if_not": "It was spared", "about": "condition", "prior": 0.3}
RUBRIC = rubric_of(
    check_of("sound_evenness", part="sound", evidence_of={"tone": 2.0}, minutes=3.0),
    check_of("purfling", minutes=0.5, weight=3.0, photo="The edge, close"),
    check_of("scroll", minutes=5.0, weight=3.0, photo="The head from the side"),
    check_of("trifle", minutes=0.5, weight=0.1),
    check_of("edge", minutes=0.5, weight=1.0, photo="The edge, close"),
    check_of(
        "blocks",
        ask="Are the corners filled inside?",
        who="luthier",
        seen_by={"in_person": 0.9, "seller_statement": 0.4},
        weight=4.0,
    ),
    check_of("return_terms", seen_by={"seller_statement": 0.8}, seller_question="May I bring it back in two weeks?"),
    check_of(
        "crack",
        part="cracks",
        minutes=2.0,
        seen_by={"in_person": 0.9},
        outcomes={
            "none": SOUND | {"if_good": 0.9},
            "at_post": {"say": "Open", "class": "disqualifying", "inherent": True, "if_bad": 0.4},
        },
    ),
    check_of(
        "length",
        measure={"quantity": "length", "unit": "mm", "tools": ("steel_rule",)},
        standard={"low": 325.0, "high": 332.0},
        minutes=1.0,
        weight=2.0,
    ),
    check_of("sign", cause="hidden", minutes=1.0, weight=0.5),
    check_of("told_by_sign", cause="hidden", who="luthier", weight=5.0),
    causes=(HIDDEN,),
)


def at(answers: dict[str, Any] | None = None, **keys: Any) -> tuple[Any, Assessment]:
    case = case_of(RUBRIC, answers, **keys)
    return case, assess(RUBRIC, case)


def names(answers: dict[str, Any] | None = None, **keys: Any) -> list[str]:
    case, found = at(answers, **keys)
    return [one.check for one in next_checks(Looks(RUBRIC, case, found), case.looker, case.seen_by, 20)]


def net(found: Assessment, walk_away: float, asking: float, edge: float) -> np.ndarray:
    """What buying gains in each world: a poor edge costs so much beyond its mean, a crack most of it."""
    worlds = found.worlds
    place = {name: at for at, name in enumerate(worlds.checks)}
    poor = worlds.outcome[:, place["edge"]] == list(RUBRIC.checks["edge"].outcomes).index("poor")
    gain = walk_away - asking - edge * (poor - poor.mean())
    cracked = worlds.outcome[:, place["crack"]] == list(RUBRIC.checks["crack"].outcomes).index("at_post")
    return np.where(cracked, -0.7 * asking, gain)


def test_the_weighty_quick_look_comes_before_the_slow_and_the_trifle() -> None:
    order = names()
    assert order.index("purfling") < order.index("scroll")
    assert order.index("purfling") < order.index("trifle")
    assert order.index("crack") < order.index("trifle")


def test_what_was_looked_at_is_not_asked_again() -> None:
    assert "purfling" not in names({"purfling": "good"})
    assert "purfling" in names({"purfling": "cannot_tell"})
    assert names({name: next(iter(check.outcomes)) for name, check in RUBRIC.checks.items()}) == []


def test_who_looks_and_how() -> None:
    student, luthier, photos = names(), names(looker="luthier"), names(seen_by="photos")
    assert "blocks" not in student and "blocks" in luthier
    assert "crack" in student and "crack" not in photos
    assert "return_terms" not in luthier


def test_a_look_that_tells_of_others_is_worth_more_than_its_own_weight() -> None:
    case, found = at()
    gain = {one.check: one.gain for one in next_checks(Looks(RUBRIC, case, found, None), "luthier", "in_person", 20)}
    assert gain["sign"] > 3 * gain["edge"] * (0.5 / 1.0) ** 2


def test_the_gain_is_the_fall_of_variance() -> None:
    """Of two checks that are alike and independent, each seen surely, a look takes away what it alone explains."""
    rubric = rubric_of(check_of("a", seen_by={"in_person": 1.0}), check_of("b", seen_by={"in_person": 1.0}))
    case = case_of(rubric)
    found = assess(rubric, case, draws=100_000)
    by_outcome = [found.worlds.score[found.worlds.has("a", k)] for k in range(2)]
    poor = len(by_outcome[1]) / found.worlds.count
    expected = (by_outcome[0].mean() - by_outcome[1].mean()) ** 2 * poor * (1 - poor)
    for look in next_checks(Looks(rubric, case, found, None), "student", "in_person"):
        assert look.gain == pytest.approx(expected, rel=0.03)
        assert (look.gain_unit, look.why) == ("score variance", "narrows")


def test_with_a_price_the_look_that_may_turn_the_decision_comes_first() -> None:
    case, found = at()
    looks = Looks(RUBRIC, case, found, net(found, 530.0, 500.0, 300.0))
    first = next_checks(looks, "student", "in_person")[0]
    assert first.check in {"edge", "crack"}
    assert first.gain_unit == "money"
    assert first.gain > 0
    edge = [one for one in next_checks(looks, "student", "in_person", 20) if one.check == "edge"]
    # Half-reliable at the most, it cannot be worth more than what it may save.
    assert edge and 0 < edge[0].gain < 300.0


def test_a_price_far_from_the_turning_point_makes_no_look_worth_money() -> None:
    case, found = at({"crack": "none"})
    looks = Looks(RUBRIC, case, found, net(found, 2000.0, 100.0, 30.0))
    assert all(one.gain_unit == "score variance" for one in next_checks(looks, "student", "in_person"))


def test_what_a_way_of_seeing_cannot_show_is_taken_as_seen_in_person() -> None:
    rubric = rubric_of(check_of("edge", seen_by={"in_person": 0.9, "photos": 0.5, "recording": 0.0}))
    case = case_of(rubric)
    looks = Looks(rubric, case, assess(rubric, case, draws=500))
    heard, photo, seen = (looks.gains(one, ["edge"])[0].points for one in ("recording", "photos", "in_person"))
    assert 0 < photo < seen == heard


def test_the_same_case_gives_the_same_looks() -> None:
    assert names() == names()


def test_a_visit_fits_its_minutes_and_keeps_its_order() -> None:
    """Looks before readings, readings before cracks, cracks before sound."""
    case, found = at()
    looks = visit(Looks(RUBRIC, case, found), minutes=10.0)
    assert sum(one.minutes for one in looks) <= 10.0
    order = [one.check for one in looks]
    assert "blocks" not in order
    places = [order.index(name) for name in ("purfling", "length", "crack", "sound_evenness") if name in order]
    assert len(places) == 4
    assert places == sorted(places)
    assert visit(Looks(RUBRIC, case, found), minutes=0.1) == ()


def test_what_must_be_safe_is_looked_at_before_anything_is_tuned() -> None:
    standing = {"good": SOUND, "fallen": {"say": "Fallen", "class": "fault", "inherent": True, "unsafe": True}}
    rubric = rubric_of(
        check_of("pegs", minutes=1.0, weight=5.0, under_tension=True),
        check_of("post", minutes=2.0, weight=0.1, outcomes=standing),
        check_of("neck", minutes=2.0, weight=0.1, outcomes=standing),
        check_of("edge", minutes=1.0, weight=3.0),
        safety=("neck", "post"),
    )

    def looks(answers: dict[str, Any]) -> Looks:
        case = case_of(rubric, answers)
        return Looks(rubric, case, assess(rubric, case))

    assert [one.check for one in visit(looks({}), minutes=6.0)] == ["neck", "post", "pegs", "edge"]
    hasty = [one.check for one in visit(looks({}), minutes=3.0)]
    assert "edge" in hasty, "where safety would take most of the minutes, what tells most is looked at"
    assert "pegs" not in hasty, "and nothing is tuned"
    assert "pegs" not in [one.check for one in next_checks(looks({"post": "good"}), "student", "in_person")]
    safe = {"post": "good", "neck": "good"}
    assert next(one.check for one in next_checks(looks(safe), "student", "in_person")) == "pegs"
    fallen = safe | {"post": "fallen"}
    assert "pegs" not in [one.check for one in visit(looks(fallen))]


def test_what_cannot_be_done_becomes_a_question() -> None:
    case, found = at()
    questions = questions_for_seller(Looks(RUBRIC, case, found))
    assert {one.check for one in questions} == {"blocks", "return_terms", "told_by_sign"}
    assert "May I bring it back in two weeks?" in [one.text for one in questions]
    answered, without = at({"return_terms": {"outcome": "good", "seen_by": "seller_statement"}})
    assert "return_terms" not in {one.check for one in questions_for_seller(Looks(RUBRIC, answered, without))}


def test_a_seller_is_not_asked_for_what_sellers_cannot_tell() -> None:
    rubric = rubric_of(
        check_of("told", who="luthier", seen_by={"in_person": 0.9, "seller_statement": 0.4}),
        check_of("never_known", who="luthier", seen_by={"in_person": 0.9, "seller_statement": 0.0}),
        check_of("in_the_hand", who="luthier", seen_by={"in_person": 0.9}),
        check_of("anyhow", who="luthier", ask="Does it hum?"),
    )
    case = case_of(rubric)
    asked = questions_for_seller(Looks(rubric, case, assess(rubric, case, draws=200)))
    assert {one.check for one in asked} == {"told", "anyhow"}


def test_what_may_stop_the_purchase_adds_the_variance_of_a_score_of_nought() -> None:
    """Derived: a score that is nought with probability p and S otherwise varies by p (1 - p) S squared."""
    case, found = at()
    p = found.beliefs["crack"].probability["at_post"]
    told = Looks(RUBRIC, case, found).told("crack")
    assert told.disqualifying == pytest.approx(p)
    assert told.stop == pytest.approx(p * (1 - p) * found.score.expected**2)
    assert Looks(RUBRIC, case, found).told("edge").stop == 0


def test_each_photo_is_asked_for_once() -> None:
    case, found = at()
    wishes = photos_to_ask_for(Looks(RUBRIC, case, found))
    assert [one.text for one in wishes].count("The edge, close") == 1
    (edge,) = [one for one in wishes if one.text == "The edge, close"]
    assert set(edge.checks) == {"purfling", "edge"}
