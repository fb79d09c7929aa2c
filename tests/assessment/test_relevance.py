"""What counts, what is kept but set aside, what follows from readings, and what a doubtful standard may say."""

from typing import Any

import pytest

from evaluator.assessment.model import Assessment
from evaluator.assessment.observing.relevance import reliability
from evaluator.assessment.scoring.bites import MOST, WEAR
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.findings import on_limit as is_on_limit
from evaluator.assessment.scoring.known import know
from evaluator.rubric.rubric import Rubric
from evaluator.wording.reasons import not_asked_words, told
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

LENGTH = {"measure": {"quantity": "length", "unit": "mm", "tools": ("steel_rule",)}}


def judged(rubric: Rubric, answers: dict[str, Any], **keys: Any) -> Assessment:
    return assess(rubric, case_of(rubric, answers, **keys), draws=200)


ASKED = rubric_of(
    check_of("papers", outcomes={"none": SOUND, "some": SOUND}),
    check_of("papers_agree", relevant_if='papers == "some"'),
    check_of("papers_dated", relevant_if='papers_agree == "good"'),
    check_of("length", **LENGTH, standard={"low": 325.0, "high": 332.0}),
    check_of("too_long", relevant_if="length > 332"),
    check_of("off_standard", relevant_if='length == "too_high"'),
    check_of("for_fiddle", relevant_if='style == "fiddle" and size == "4/4"'),
    check_of("only_fiddle", styles=("fiddle",)),
    check_of("only_cello", families=("cello",)),
    check_of("old", relevant_if="year < 1900"),
    check_of(
        "tuners", count={"of": "tuners"}, outcomes={"few": SOUND | {"at_most": 1}, "many": FAULT | {"at_least": 2}}
    ),
    check_of("tuner_mass", relevant_if="tuners > 1"),
    check_of("tuner_fit", relevant_if='tuners == "many"'),
)
ALWAYS = {"papers", "length", "tuners"}


@pytest.mark.parametrize(
    ("answers", "keys", "also"),
    [
        ({}, {}, set()),
        ({"papers": "none"}, {}, set()),
        ({"papers": "cannot_tell"}, {}, set()),
        ({"papers": "some"}, {}, {"papers_agree"}),
        ({"papers": "some", "papers_agree": "good"}, {}, {"papers_agree", "papers_dated"}),
        ({"papers": "none", "papers_agree": "good"}, {}, set()),
        ({"length": 340}, {}, {"too_long", "off_standard"}),
        ({"length": "too_high"}, {}, {"off_standard"}),
        ({"length": 328}, {}, set()),
        ({"tuners": 4}, {}, {"tuner_mass", "tuner_fit"}),
        ({"tuners": 1}, {}, set()),
        ({}, {"instrument": {"style": "fiddle"}}, {"for_fiddle", "only_fiddle"}),
        ({}, {"instrument": {"style": "fiddle", "size": "3/4"}}, {"only_fiddle"}),
        ({}, {"instrument": {"year": 1880}}, {"old"}),
        ({}, {"instrument": {"year": 1920}}, set()),
    ],
)
def test_which_checks_count(answers: dict[str, Any], keys: dict[str, Any], also: set[str]) -> None:
    assert set(judged(ASKED, answers, **keys).relevant) == ALWAYS | also


def test_an_answer_that_no_longer_applies_is_kept_and_not_counted() -> None:
    without = judged(ASKED, {"papers": "none"})
    found = judged(ASKED, {"papers": "none", "papers_agree": "poor", "only_cello": "poor"})
    assert found.score == without.score
    assert set(found.set_aside) == {"papers_agree", "only_cello"}
    assert not_asked_words(found.set_aside["only_cello"]) == "Kept, but not counted: it is not asked of a violin."
    assert 'papers == "some"' in not_asked_words(found.set_aside["papers_agree"])


RATIO = rubric_of(
    check_of("string_length", **LENGTH, standard={"low": 325.0, "high": 332.0}),
    check_of("afterlength", **LENGTH, standard={"low": 53.0, "high": 56.0}),
    check_of("ratio", formula="string_length / afterlength", unit="ratio", standard={"target": 6.0, "tolerance": 0.15}),
)


def test_a_derived_check_follows_from_readings_with_their_doubt() -> None:
    found = judged(RATIO, {"string_length": "328 mm", "afterlength": "54.5 mm"})
    ratio = found.conformity["ratio"]
    u = (0.5**2 / 3 + 0.5**2 / 12) ** 0.5
    assert ratio.value == pytest.approx(328 / 54.5)
    assert ratio.u == pytest.approx(ratio.value * ((u / 328) ** 2 + (u / 54.5) ** 2) ** 0.5, rel=1e-5)
    assert ratio.statement == "meets"
    assert found.beliefs["ratio"].seen
    assert told(found.beliefs["ratio"].because[0]).startswith("Reckoned as string_length / afterlength: 6.0")


@pytest.mark.parametrize("answers", [{}, {"string_length": 328}, {"string_length": 328, "afterlength": 0}])
def test_a_derived_check_without_a_number_is_not_seen(answers: dict[str, Any]) -> None:
    found = judged(RATIO, answers)
    assert not found.beliefs["ratio"].seen
    assert "ratio" not in found.conformity


def test_repeats_with_two_tools_are_pooled() -> None:
    rule = {"reading": "328 mm", "tool": "steel_rule"}
    fine = {"reading": "328.4 mm", "tool": "caliper"}
    found = judged(RATIO, {"string_length": [rule, fine]}).conformity["string_length"]
    assert 328.3 < found.value < 328.4
    assert found.u < 0.04


@pytest.mark.parametrize(
    ("standard", "reading", "statement", "on_limit"),
    [
        ({"low": 325.0}, 325.0, "cannot_tell", True),
        ({"low": 325.0}, 329.0, "meets", False),
        ({"low": 325.0}, 321.0, "does_not", False),
        ({"high": 332.0}, 332.0, "cannot_tell", True),
        ({"high": 332.0}, 328.0, "meets", False),
        ({"high": 332.0}, 336.0, "does_not", False),
        ({"low": 325.0, "high": 332.0}, 332.0, "cannot_tell", True),
        ({"low": 325.0, "high": 332.0}, 328.5, "meets", False),
    ],
)
def test_a_standard_may_be_open_on_one_side_and_a_reading_on_its_limit_says_nothing(
    standard: dict[str, float], reading: float, statement: str, on_limit: bool
) -> None:
    rubric = rubric_of(check_of("length", **LENGTH, standard=standard), check_of("other", **LENGTH))
    answers = {"length": f"{reading} mm", "other": "100 mm"}
    found = judged(rubric, answers).conformity
    assert {name: one.statement for name, one in found.items()} == {"length": statement}
    (length, other) = know(rubric, case_of(rubric, answers)).held
    assert (is_on_limit(length), is_on_limit(other)) == (on_limit, False)
    (unseen, _) = know(rubric, case_of(rubric, {})).held
    assert not is_on_limit(unseen)


@pytest.mark.parametrize("looker", ["student", "teacher", "luthier"])
def test_a_way_of_seeing_that_nothing_is_written_for_is_a_share_and_the_hand_tells_most(looker: Any) -> None:
    """Of the last two nobody can say which tells more; a figure that somebody wrote stands."""
    plain = rubric_of(check_of("it"), check_of("said", seen_by={"photos": 0.95}))
    hand, photos, seller, recording = (
        reliability(plain.checks["it"], way, looker) for way in ("in_person", "photos", "seller_statement", "recording")
    )
    assert 1.0 > hand > photos > max(seller, recording) and min(seller, recording) > 0.0
    assert reliability(plain.checks["said"], "photos", looker) == 0.95


def test_a_reading_without_outcomes_of_its_own_serves_the_formula_that_asks_for_it() -> None:
    """Nothing is held of it; what is reckoned from it is."""
    rubric = rubric_of(
        check_of("neck", **LENGTH, outcomes={}, evidence_of={}),
        check_of("body", **LENGTH, outcomes={}, evidence_of={}),
        check_of("stop_ratio", formula="neck / body", unit="ratio", standard={"low": 0.5, "high": 0.8}),
    )
    found = judged(rubric, {"neck": "130 mm", "body": "195 mm"})
    assert found.conformity["stop_ratio"].value == pytest.approx(2 / 3)
    assert found.beliefs["stop_ratio"].seen
    assert (found.beliefs["neck"].probability, found.beliefs["neck"].seen) == ({}, False)


def doubtful(confidence: str, points: dict[float, float]) -> Assessment:
    standard = {"low": 325.0, "high": 332.0, "confidence": confidence}
    rubric = rubric_of(check_of("length", **LENGTH, standard=standard, worth_at=points, seen_by={"in_person": 1.0}))
    return judged(rubric, {"length": 350})


@pytest.mark.parametrize("points", [{}, {320.0: 0.0, 328.0: 1.0, 340.0: 0.0}])
def test_a_standard_of_low_confidence_never_makes_a_fault(points: dict[float, float]) -> None:
    sure, unsure = doubtful("high", points), doubtful("low", points)
    assert [one.outcome for one in sure.findings if one.level == "confirmed"] == ["too_high"]
    assert unsure.findings == ()
    assert sure.beliefs["length"].worth <= 0.25
    assert unsure.beliefs["length"].worth == pytest.approx(0.75)
    assert unsure.conformity["length"].statement == "does_not"
    assert unsure.conformity["length"].confidence == "low"


def test_a_reading_without_a_standard_for_this_size_says_nothing() -> None:
    row = {
        "family": "violin",
        "size": ("4/4",),
        "low": 325.0,
        "high": 332.0,
        "confidence": "high",
        "sources": ("memory",),
    }
    table = {"standard": "length", "say": "Length", "unit": "mm", "rows": (row,)}
    rubric = rubric_of(check_of("length", **LENGTH, standard={"table": "length"}), standards=(table,))
    assert judged(rubric, {"length": 328}).beliefs["length"].seen
    small = judged(rubric, {"length": 328}, instrument={"size": "3/4"})
    assert not small.beliefs["length"].seen
    assert small.conformity == {}


def test_a_rubric_without_weights_knows_nothing() -> None:
    found = judged(rubric_of(check_of("a", evidence_of={})), {"a": "good"})
    assert (found.score.expected, found.domains, found.coverage) == (50.0, {}, 0.0)
    assert found.score.low < 10 < 90 < found.score.high


def test_domains_without_checks_leave_their_share_to_the_others() -> None:
    """By hand: workmanship 0.2 and tone 0.1 of the shares, so 2/3 and 1/3 (derived)."""
    sure = {"in_person": 1.0}
    rubric = rubric_of(
        check_of("a", seen_by=sure, weight=2.0),
        check_of("b", seen_by=sure, weight=1.0),
        check_of("c", seen_by=sure, evidence_of={"tone": 2.0}),
    )
    found = judged(rubric, {"a": "good", "b": "poor", "c": "poor"})
    workmanship, tone = 1 - MOST / 15 * 0.75, 1 - MOST * 2 / 15 * 0.75**WEAR
    assert found.domains["workmanship"].expected == pytest.approx(100 * workmanship)
    assert found.score.expected == pytest.approx(100 * workmanship ** (2 / 3) * tone ** (1 / 3))


def test_a_sellers_figure_is_weighed_and_not_mixed_into_ones_own() -> None:
    said = {"reading": "331 mm", "seen_by": "seller_statement"}
    found = judged(RATIO, {"string_length": [said, "336 mm"]})
    assert found.conformity["string_length"].value == 336.0
    assert found.conformity["string_length"].statement == "does_not"
    belief = found.beliefs["string_length"]
    assert belief.clash
    alone = judged(RATIO, {"string_length": "336 mm"}).beliefs["string_length"]
    assert alone.probability["too_high"] > belief.probability["too_high"] > 0.5


@pytest.mark.parametrize(("second", "clash"), [("328.1 mm", False), ("330 mm", True)])
def test_readings_too_far_apart_clash_though_both_meet(second: str, clash: bool) -> None:
    said = {"reading": second, "seen_by": "seller_statement", "tool": "caliper"}
    found = judged(RATIO, {"string_length": [said, {"reading": "328 mm", "tool": "caliper"}]})
    assert found.beliefs["string_length"].clash is clash
