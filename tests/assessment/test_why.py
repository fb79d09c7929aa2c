"""Why this number: every trace adds up and ends in observations, rules and sources."""

import json
import math
from collections.abc import Iterator

import pytest

from evaluator.assessment.reasons.facts import Answered, Observed
from evaluator.assessment.reasons.steps import ScoreIs
from evaluator.assessment.reasons.why import Reason, Trace
from evaluator.assessment.scoring.draws import assess
from evaluator.wording.reasons import told, told_tree
from tests.assessment.small import case_of
from tests.assessment.test_stories import VIOLIN

ANSWERS = {
    "purfling": {"outcome": "painted", "note": "at the lower bout"},
    "bridge": "raw",
    "soundpost": "fallen",
    "tone": "poor",
    "weight": {"reading": "432 g", "tool": "kitchen_scale"},
    "back_crack": [{"outcome": "none", "seen_by": "seller_statement"}, "open"],
}
CASE = case_of(VIOLIN, ANSWERS)
FOUND = assess(VIOLIN, CASE)
TRACE = Trace(VIOLIN, CASE, FOUND)


def leaves(reason: Reason) -> Iterator[str]:
    if not reason.parts:
        yield told(reason.fact)
    for part in reason.parts:
        yield from leaves(part)


@pytest.mark.parametrize("after", [False, True])
def test_the_score_is_the_geometric_mean_of_what_the_trace_shows(after: bool) -> None:
    score = TRACE.score(after=after)
    shares = {"workmanship": 0.2, "soundness": 0.3, "playability": 0.3, "tone": 0.1, "resale": 0.05}
    total = sum(shares.values())
    logs = [shares[d.about] / total * math.log((d.value or 0.0) / 100) for d in score.parts]
    assert score.value == pytest.approx(100 * math.exp(sum(logs)))
    for domain in score.parts:
        assert domain.value == pytest.approx(100.0 - sum(part.value or 0.0 for part in domain.parts), abs=0.05)


def test_a_trace_ends_in_what_was_seen_and_what_the_rubric_says() -> None:
    ends = list(leaves(TRACE.score()))
    assert any(end.startswith("Seen in person: painted (reliable to 95 %)") for end in ends)
    assert any(end.startswith("What each answer counts. ") for end in ends)
    assert any(end.startswith("Before any look: ") for end in ends)
    assert any("Counted as answered" in end for end in ends)


def test_a_belief_about_something_unseen_names_its_cause_and_signs() -> None:
    reason = TRACE.check("corner_blocks")
    text = json.dumps(told_tree(reason))
    assert "Corners were cut when the body was built" in text
    assert "Purfling makes its odds" in text
    cause = TRACE.cause("cut_corners_body", without="purfling")
    assert "Purfling" not in json.dumps(told_tree(cause))


def test_a_statement_opens_to_value_doubt_and_limits() -> None:
    ends = list(leaves(TRACE.statement("weight")))
    assert any("432 g" in end and "2.9 g" in end for end in ends)
    assert any("at most 430 g" in end for end in ends)


def test_a_trace_says_whose_score_it_is_and_how_each_answer_was_had() -> None:
    score = TRACE.score().fact
    assert isinstance(score, ScoreIs)
    assert (score.tier, score.after_work) == ("student", False)
    (weighed,) = observed("weight")
    assert (weighed.measured, weighed.answered) == (True, Answered(readings=("432 g",), unit="g"))
    (purfling,) = observed("purfling")
    assert (purfling.measured, purfling.seen_by, purfling.share) == (False, "in_person", 0.95)
    assert [one.seen_by for one in observed("back_crack")] == ["seller_statement", "in_person"]


def observed(check: str) -> list[Observed]:
    return [part.fact for part in TRACE.check(check).parts if isinstance(part.fact, Observed)]


def test_every_finding_and_cause_has_a_trace_in_plain_json() -> None:
    everything = TRACE.everything()
    assert len(everything) == 2 + len(FOUND.causes) + len(FOUND.findings) + len(FOUND.disqualifying)
    again = json.loads(json.dumps([told_tree(one) for one in everything], allow_nan=False))
    assert again[0]["value"] == pytest.approx(FOUND.score.expected, abs=1e-3)
    assert set(again[0]) == {"about", "say", "value", "because"}


def test_an_answer_that_says_nothing_holds_nothing() -> None:
    assert Answered() == Answered(say="", readings=(), unit=None)
