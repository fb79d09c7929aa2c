"""The laws of the score, over random rubrics and answers."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Assessment
from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.rubric import Rubric
from tests.assessment.random_cases import CLASSES, answers, rubrics
from tests.assessment.small import case_of

SURE, BLIND = st.just(1.0), st.just(0.0)
NEAR = 1e-7


def assessed(rubric: Rubric, answered: dict[str, Any]) -> Assessment:
    return assess(rubric, case_of(rubric, answered), draws=100)


@given(st.data())
def test_scores_and_shares_stay_within_their_bounds(data: st.DataObject) -> None:
    rubric = data.draw(rubrics())
    found = assessed(rubric, data.draw(answers(rubric)))
    every = [found.score, found.score_after, *found.domains.values(), *found.domains_after.values()]
    for one in every:
        assert 0.0 <= one.low <= one.expected <= one.high <= 100.0
    assert 0.0 <= found.coverage <= 1.0
    assert found.score_after.expected >= found.score.expected - NEAR
    for belief in found.beliefs.values():
        assert sum(belief.probability.values()) == pytest.approx(1.0, abs=1e-9)
        assert all(-1e-12 <= share <= 1.0 + 1e-12 for share in belief.probability.values())
        assert 0.0 <= belief.worth <= belief.worth_after + NEAR <= 1.0 + 2 * NEAR
    assert found.worlds.score.min() >= -NEAR
    assert found.worlds.score_after.max() <= 100.0 + NEAR


@given(st.data())
def test_a_better_outcome_never_lowers_the_score(data: st.DataObject) -> None:
    rubric = data.draw(rubrics(by_class=True))
    answered = data.draw(answers(rubric))
    worded = [name for name, check in rubric.checks.items() if check.measure is None]
    if not worded:
        return
    name = data.draw(st.sampled_from(worded))
    outcomes = list(rubric.checks[name].outcomes.items())
    worse_at, better_at = sorted(data.draw(st.tuples(*[st.integers(0, len(outcomes) - 1)] * 2)), reverse=True)
    seen_by = data.draw(st.sampled_from(("in_person", "photos", "seller_statement")))
    better, worse = (
        assessed(rubric, answered | {name: {"outcome": outcomes[i][0], "seen_by": seen_by}})
        for i in (better_at, worse_at)
    )
    assert CLASSES.index(outcomes[better_at][1].class_) <= CLASSES.index(outcomes[worse_at][1].class_)
    assert better.score.expected >= worse.score.expected - NEAR
    assert all(better.domains[d].expected >= worse.domains[d].expected - NEAR for d in better.domains)


@given(st.data())
def test_a_sure_look_leaves_no_doubt_about_its_check(data: st.DataObject) -> None:
    rubric = data.draw(rubrics(SURE))
    answered = data.draw(answers(rubric))
    found = assessed(rubric, answered)
    for name, answer in answered.items():
        outcome = answer.get("outcome")
        if outcome in rubric.checks[name].outcomes:
            belief = found.beliefs[name]
            assert belief.probability[outcome] == 1.0
            assert belief.worth_sd == pytest.approx(0.0, abs=1e-9)


@given(st.data())
def test_a_blind_look_leaves_everything_as_it_was(data: st.DataObject) -> None:
    rubric = data.draw(rubrics(BLIND))
    found, nothing = assessed(rubric, data.draw(answers(rubric))), assessed(rubric, {})
    assert (found.score, found.score_after, found.coverage) == (nothing.score, nothing.score_after, 0.0)
    assert {k: b.probability for k, b in found.beliefs.items()} == {
        k: b.probability for k, b in nothing.beliefs.items()
    }
    assert found.findings == nothing.findings


@given(st.data())
def test_the_order_of_looking_does_not_matter(data: st.DataObject) -> None:
    rubric = data.draw(rubrics())
    answered: dict[str, Any] = {name: [answer] for name, answer in data.draw(answers(rubric, often=True)).items()}
    for name, answer in data.draw(answers(rubric)).items():
        answered.setdefault(name, []).append(answer)
    names = data.draw(st.permutations(list(answered)))
    turned = {name: data.draw(st.permutations(answered[name])) for name in names}
    one, other = assessed(rubric, answered), assessed(rubric, turned)
    assert one.score.expected == pytest.approx(other.score.expected, abs=1e-7)
    for name, belief in one.beliefs.items():
        for outcome, share in belief.probability.items():
            assert share == pytest.approx(other.beliefs[name].probability[outcome], abs=1e-9)


@given(st.data())
def test_everything_seen_surely_leaves_no_range(data: st.DataObject) -> None:
    rubric = data.draw(rubrics(SURE, measured=False))
    answered = {name: data.draw(st.sampled_from(list(check.outcomes))) for name, check in rubric.checks.items()}
    found = assessed(rubric, answered)
    if found.domains:
        assert found.score.low == pytest.approx(found.score.high, abs=1e-9)
        assert found.coverage == pytest.approx(1.0)


@given(st.data())
def test_another_bad_sign_of_a_cause_never_makes_it_less_likely(data: st.DataObject) -> None:
    rubric = data.draw(rubrics(by_class=True, measured=False))
    caused = [name for name, check in rubric.checks.items() if check.cause and _bad(rubric, name)]
    if not caused:
        return
    name = data.draw(st.sampled_from(caused))
    answered = {key: one for key, one in data.draw(answers(rubric)).items() if key != name}
    before = assessed(rubric, answered)
    after = assessed(rubric, answered | {name: _bad(rubric, name)})
    cause = rubric.checks[name].cause
    assert cause is not None
    assert after.causes[cause].probability >= before.causes[cause].probability - 1e-12


def _bad(rubric: Rubric, name: str) -> str | None:
    """The worst outcome of a check, if it is a fault or worse."""
    bad = [k for k, outcome in rubric.checks[name].outcomes.items() if outcome.class_ in ("fault", "disqualifying")]
    return bad[-1] if bad else None
