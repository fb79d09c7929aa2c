"""The whole assessment: closed forms against its draws, the laws of a few plain cases, and what is put aside."""

import pytest

from evaluator.assessment.reasons.facts import Expected
from evaluator.assessment.scoring.draws import assess
from evaluator.wording.reasons import told
from tests.assessment.small import case_of, check_of, rubric_of

CORNERS = {
    "cause": "cut_corners",
    "say": "Corners were cut",
    "if_not": "Nothing was spared",
    "about": "made_in",
    "prior": 0.3,
}
TWO = rubric_of(
    check_of("board", cause="cut_corners", seen_by={"in_person": 1.0, "photos": 0.0}),
    check_of("blocks", cause="cut_corners"),
    causes=(CORNERS,),
)


def test_a_sure_look_leaves_no_doubt_about_the_check() -> None:
    found = assess(TWO, case_of(TWO, {"board": "poor"}))
    assert found.beliefs["board"].probability == {"good": 0.0, "poor": 1.0}
    assert found.beliefs["board"].seen and not found.beliefs["blocks"].seen


def test_a_sign_moves_the_belief_about_what_was_not_seen() -> None:
    nothing = assess(TWO, case_of(TWO)).beliefs["blocks"].probability["poor"]
    bad_sign = assess(TWO, case_of(TWO, {"board": "poor"})).beliefs["blocks"]
    good_sign = assess(TWO, case_of(TWO, {"board": "good"})).beliefs["blocks"]
    assert good_sign.probability["poor"] < nothing < bad_sign.probability["poor"]
    assert any("corners were cut" in told(fact) for fact in bad_sign.because)
    assert any("nothing was spared" in told(fact) for fact in good_sign.because)


@pytest.mark.parametrize("answer", ["poor", "good"])
def test_a_cause_is_told_with_how_likely_it_is_the_way_it_points(answer: str) -> None:
    found = assess(TWO, case_of(TWO, {"board": answer}))
    (*_, fact) = found.beliefs["blocks"].because
    assert isinstance(fact, Expected)
    bad = found.causes["cut_corners"].probability
    assert (bad > 0.5) == (answer == "poor") == fact.at_fault
    assert (fact.link, fact.cause_say) == ("because", CORNERS["say"] if answer == "poor" else CORNERS["if_not"])
    assert fact.cause_share == pytest.approx(max(bad, 1.0 - bad))
    assert fact.share == pytest.approx(max(found.beliefs["blocks"].probability.values()))
    assert ([sign.check for sign in fact.signs], fact.more) == (["board"], 0)


def test_without_a_look_it_goes_by_what_is_usual_and_names_no_cause() -> None:
    (*_, fact) = assess(TWO, case_of(TWO)).beliefs["blocks"].because
    assert isinstance(fact, Expected)
    assert (fact.link, fact.cause_say, fact.cause_share, fact.signs, fact.at_fault) == (
        "no_sign",
        None,
        None,
        (),
        False,
    )


@pytest.mark.parametrize("answers", [{}, {"board": "poor"}, {"board": "good", "blocks": "good"}])
def test_what_is_usual_is_the_score_before_any_look(answers: dict[str, str]) -> None:
    assert assess(TWO, case_of(TWO, answers)).usual == pytest.approx(assess(TWO, case_of(TWO)).score.expected)


def test_a_way_of_seeing_that_shows_nothing_changes_nothing() -> None:
    nothing = assess(TWO, case_of(TWO))
    blind = assess(TWO, case_of(TWO, {"board": {"outcome": "poor", "seen_by": "photos"}}))
    assert blind.score == nothing.score
    assert blind.coverage == 0.0


@pytest.mark.parametrize("answers", [{}, {"board": "poor"}, {"board": "good", "blocks": "poor"}])
def test_the_worlds_agree_with_the_closed_form(answers: dict[str, str]) -> None:
    found = assess(TWO, case_of(TWO, answers), seed=3, draws=200_000)
    assert found.worlds.score.mean() == pytest.approx(found.score.expected, abs=0.3)
    for belief in found.beliefs.values():
        for index, share in enumerate(belief.probability.values()):
            assert found.worlds.has(belief.check, index).mean() == pytest.approx(share, abs=0.005)
