"""The score on small rubrics: what bites, what is unseen, what a finding took, and what the draws add."""

import math
from typing import Any

import numpy as np
import pytest

from evaluator.assessment.believing.beliefs import Held, held
from evaluator.assessment.believing.evidence import Evidence, Sign
from evaluator.assessment.believing.terms import term_of
from evaluator.assessment.model import Assessment, Instrument
from evaluator.assessment.scoring.bites import MOST
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.score import shown_by
from evaluator.assessment.scoring.weights import FULL, ranges, shares_of
from evaluator.rubric.making import MakingClass, MakingSign, SignGroup, sign_tables
from evaluator.rubric.rubric import Rubric
from tests.assessment.small import SHARES, case_of, check_of, rubric_of

SURE = {"in_person": 1.0, "photos": 0.6}
OUTCOMES = {
    "good": {"say": "Good", "class": "sound"},
    "worn": {"say": "Worn", "class": "acceptable"},
    "poor": {"say": "Poor", "class": "fault", "cured_by": ("mend",)},
    "open": {"say": "Open", "class": "disqualifying", "bite": 0.8, "cured_by": ("mend",)},
    "patched": {"say": "Patched", "class": "fault", "worth": 0.6,
                "lasting_loss": {"low": 0.2, "likely": 0.4, "high": 0.5}},
}  # fmt: skip
MEND = ({"job": "mend", "leaves": 0.95},)
DOMAINS = tuple(SHARES)


def one_check(domain: str = "soundness", weight: float = 3.0, strength: float = 3.0, **keys: Any) -> Rubric:
    """A rubric of one check that is evidence of one domain, and of one that nobody looks at in every domain."""
    checks = [check_of("it", outcomes=OUTCOMES, evidence_of={domain: strength}, weight=weight, seen_by=SURE) | keys]
    checks += [check_of(f"other_{name}", evidence_of={name: 1.0}) for name in DOMAINS]
    return rubric_of(*checks, jobs=MEND)


def scored(rubric: Rubric, answers: dict[str, Any] | None = None, **keys: Any) -> Assessment:
    return assess(rubric, case_of(rubric, answers, **keys), draws=200)


def left(rubric: Rubric, outcome: str) -> float:
    """The share that an outcome leaves of the score, beside the same look that finds nothing."""
    return scored(rubric, {"it": outcome}).score.expected / scored(rubric, {"it": "good"}).score.expected


def test_a_fault_takes_its_share_by_weight_strength_and_lost_worth() -> None:
    """`MOST` of the domain at weight 5 and strength 3 with nothing left; in step for the making, faster elsewhere."""
    share = SHARES["soundness"]
    assert left(one_check(), "poor") == pytest.approx((1 - MOST * 9 / 15 * 0.75**1.35) ** share)
    assert left(one_check(weight=5.0), "worn") == pytest.approx((1 - MOST * 0.25**1.35) ** share)
    assert left(one_check("workmanship"), "poor") == pytest.approx((1 - MOST * 9 / 15 * 0.75) ** SHARES["workmanship"])


def test_a_written_bite_holds_by_strength_until_it_is_mended() -> None:
    assert left(one_check(), "open") == pytest.approx(0.2 ** SHARES["soundness"])
    assert left(one_check(strength=1.5), "open") == pytest.approx(0.2 ** (SHARES["soundness"] / 2))
    after = scored(one_check(), {"it": "open"}).score_after.expected
    assert after / scored(one_check(), {"it": "good"}).score.expected > 0.99


def test_a_lasting_loss_takes_at_least_itself_from_the_resale_and_a_part_from_the_soundness() -> None:
    resale, sound = SHARES["resale"], SHARES["soundness"]
    assert left(one_check("resale", strength=1.0), "patched") == pytest.approx(0.6**resale * 0.7**sound)
    assert left(one_check("tone", weight=0.5), "patched") == pytest.approx(
        0.6**resale * 0.7**sound * (1 - MOST * 0.1 * 0.4**1.35) ** SHARES["tone"]
    )


def test_what_is_of_the_purchase_takes_nothing() -> None:
    rubric = one_check(about="purchase")
    assert scored(rubric, {"it": "open"}).score.expected == scored(rubric).score.expected
    assert any(one.check == "it" for one in scored(rubric, {"it": "open"}).disqualifying)


def test_the_score_is_the_weighted_geometric_mean_of_its_domains() -> None:
    found = scored(one_check(), {"it": "poor"} | {f"other_{name}": "poor" for name in DOMAINS[:3]})
    mean = math.prod((one.expected / FULL) ** SHARES[name] for name, one in found.domains.items())
    assert found.score.expected == pytest.approx(FULL * mean)


@pytest.mark.parametrize("answers", [{}, {"it": "poor"}, {"it": "open", "other_tone": "poor"}])
def test_deductions_add_up_to_what_is_missing(answers: dict[str, str]) -> None:
    found = scored(one_check(), answers)
    for score, taken in ((found.score, found.deductions), (found.score_after, found.deductions_after)):
        assert math.fsum(one.points for one in taken) == pytest.approx(FULL - score.expected, abs=1e-9)
    for name, domain in found.domains.items():
        parts = [one.of_domain for one in found.deductions if one.domain == name]
        assert math.fsum(parts) == pytest.approx(FULL - domain.expected, abs=0.1)
    named = [one.check for one in found.deductions if one.check]
    assert set(named) == set(answers)
    assert [one.points for one in found.deductions if one.check] == sorted(
        (one.points for one in found.deductions if one.check), reverse=True
    )


def test_what_rounds_to_nothing_is_told_with_the_unseen_and_stays_in_the_sum() -> None:
    rubric = one_check(weight=0.002, strength=1.0)
    found, sound = scored(rubric, {"it": "poor"}), scored(rubric, {"it": "good"})
    assert 0 < sound.score.expected - found.score.expected < 0.005
    assert [one.check for one in found.deductions if one.check] == []
    assert math.fsum(one.points for one in found.deductions) == pytest.approx(FULL - found.score.expected, abs=1e-9)


def test_nothing_is_deducted_from_what_was_seen_whole_and_sound() -> None:
    rubric = rubric_of(*(check_of(f"all_{name}", evidence_of={name: 1.0}, seen_by=SURE) for name in DOMAINS))
    found = scored(rubric, {f"all_{name}": "good" for name in DOMAINS})
    assert found.score.expected == FULL
    assert found.deductions == found.deductions_after == ()


def held_of(*signs: Sign) -> Held:
    term = term_of(one_check(), one_check().checks["it"], Instrument("4/4", "classical", "student"))
    return held(term, Evidence(signs), {}, None)


def test_looks_that_disagree_miss_what_all_miss_and_the_surer_counts_by_its_odds() -> None:
    """Worked by hand: 0.8 and 0.5 miss 0.1 together; their odds are 4 and 1, so 0.9 falls 0.72 to 0.18."""
    poor, worn = Sign((0.8,) * 5, (0.0, 0.0, 1.0, 0.0, 0.0)), Sign((0.5,) * 5, (0.0, 1.0, 0.0, 0.0, 0.0))
    assert shown_by(held_of(poor, worn), (poor, worn)) == pytest.approx((0.0, 0.18, 0.72, 0.0, 0.0))
    assert shown_by(held_of(poor, poor), (poor, poor)) == pytest.approx((0.0, 0.0, 0.96, 0.0, 0.0))
    assert shown_by(held_of(poor), (poor,)) == pytest.approx((0.0, 0.0, 0.8, 0.0, 0.0))
    assert shown_by(held_of(), ()) == (0.0,) * 5


def test_two_sure_looks_that_disagree_count_alike() -> None:
    good, poor = Sign((1.0,) * 5, (1.0, 0.0, 0.0, 0.0, 0.0)), Sign((1.0,) * 5, (0.0, 0.0, 1.0, 0.0, 0.0))
    assert shown_by(held_of(good, poor), (good, poor)) == pytest.approx((0.5, 0.0, 0.5, 0.0, 0.0))


def test_domains_share_as_the_rubric_says_or_alike() -> None:
    """Worked by hand: of 0.2, 0.3 and 0.1 those of the two that are there are stretched to 2/3 and 1/3."""
    known = {"workmanship": 0.2, "soundness": 0.3, "tone": 0.1}
    assert shares_of(("workmanship", "tone"), known).tolist() == pytest.approx([2 / 3, 1 / 3])
    assert shares_of(("workmanship", "resale"), known).tolist() == [1.0, 0.0]
    assert shares_of(("resale", "playability"), known).tolist() == [0.5, 0.5]
    assert shares_of(("resale", "playability", "tone"), {}).tolist() == pytest.approx([1 / 3] * 3)
    assert shares_of((), known).tolist() == []


def test_a_range_holds_nine_of_ten_draws_and_its_own_middle() -> None:
    """Worked by hand: of 0 to 100 in 101 draws the 5th and the 95th percentile are 5 and 95."""
    draws = np.arange(101.0)[None, ::-1]
    (inside,) = ranges([50.0], draws)
    assert (inside.expected, inside.low, inside.high) == (50.0, 5.0, 95.0)
    assert [(one.low, one.high) for mean in (3.0, 97.0) for one in ranges([mean], draws)] == [(3.0, 95.0), (5.0, 97.0)]
    (bounded,) = ranges([120.0], draws * 3 - 50)
    assert (bounded.expected, bounded.low, bounded.high) == (FULL, 0.0, FULL)
    assert ranges([], np.zeros((0, 0))) == ()


def test_unseen_is_what_is_usual_however_many_checks_there_are() -> None:
    few = one_check()
    more = [check_of(f"more_{i}", evidence_of={name: 2.0}, weight=4.0) for i, name in enumerate(DOMAINS * 5)]
    checks = [one.model_dump(by_alias=True, exclude_unset=True) for one in few.checks.values()]
    many = rubric_of(*checks, *more, jobs=MEND)
    assert scored(many).score.expected == pytest.approx(scored(few).score.expected)
    # A fault that was seen bites as much as before: no less than nine tenths, and no more.
    assert left(many, "open") == pytest.approx(left(few, "open"), rel=0.01)


def test_a_doubtful_look_takes_less_and_leaves_the_rest_unseen() -> None:
    rubric = one_check()
    sure, photo = (scored(rubric, {"it": "open"}, seen_by=way).score.expected for way in ("in_person", "photos"))
    nothing = scored(rubric).score.expected
    assert sure < photo < nothing
    good = scored(rubric, {"it": "good"}, seen_by="photos").score.expected
    assert nothing < good < scored(rubric, {"it": "good"}).score.expected


def making_class(name: str, care: float, usual: float) -> MakingClass:
    both: dict[str, Any] = {"prior": {"violin": 0.5}, "usual": dict.fromkeys(DOMAINS, usual)}
    return MakingClass.model_validate({"making": name, "say": name, "means": name, "care": care} | both)


CLASSES = (making_class("cheap", -2.0, 30.0), making_class("dear", 6.0, 90.0))


def with_classes() -> Rubric:
    """The rubric of one check, which is a sign of the making too."""
    plain = one_check("workmanship")
    groups = {"hand": SignGroup(group="hand", say="the hand", signs={"it": MakingSign()})}
    kept = {field: getattr(plain, field) for field in Rubric.__dataclass_fields__}
    classes = {one.making: one for one in CLASSES}
    signs = sign_tables(CLASSES, tuple(groups.values()), plain.checks)
    return Rubric(**(kept | {"classes": classes, "sign_groups": groups, "signs": signs}))


def test_what_is_usual_follows_the_class_that_the_signs_speak_for() -> None:
    rubric = with_classes()
    nothing, fine, crude = (scored(rubric, answers) for answers in ({}, {"it": "good"}, {"it": "poor"}))
    assert nothing.domains["tone"].expected == pytest.approx(60.0)
    assert crude.domains["tone"].expected < 50 < 70 < fine.domains["tone"].expected
    assert nothing.usual == fine.usual == pytest.approx(60.0)


def test_the_place_among_its_own_class_falls_with_what_is_found() -> None:
    rubric = with_classes()
    good, worn = (scored(rubric, {"other_tone": answer, "it": "good"}) for answer in ("good", "poor"))
    assert good.better_in_class is not None
    assert worn.better_in_class is not None
    assert good.better_in_class < 50 < worn.better_in_class
    assert scored(rubric).better_in_class is None
    assert scored(one_check(), {"it": "good"}).better_in_class is None


@pytest.mark.parametrize("answers", [{}, {"it": "worn"}, {"it": {"outcome": "poor", "seen_by": "photos"}}])
def test_the_worlds_lie_round_the_closed_form(answers: dict[str, Any]) -> None:
    rubric = with_classes()
    found = assess(rubric, case_of(rubric, answers), draws=50_000)
    for worlds, score in ((found.worlds.score, found.score), (found.worlds.score_after, found.score_after)):
        assert worlds.mean() == pytest.approx(score.expected, abs=0.05)
        assert worlds.min() >= 0
        assert worlds.max() <= FULL


def test_in_the_worlds_a_bad_outcome_that_nobody_saw_scores_less() -> None:
    found = assess(one_check(), case_of(one_check()), draws=20_000)
    poor = found.worlds.has("it", 2)
    assert found.worlds.score[poor].mean() < found.worlds.score[~poor].mean()
    assert np.corrcoef(found.worlds.score, found.worlds.score_after)[0, 1] == pytest.approx(1.0)


def test_too_little_seen_gives_no_number() -> None:
    assert not scored(one_check()).enough
    assert scored(one_check(), {f"other_{name}": "good" for name in DOMAINS}).enough
