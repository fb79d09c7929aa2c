"""The contract of `score --json`, laws of the whole, and that no kind of check is forgotten."""

import json
import math
from collections.abc import Iterator
from typing import Any, get_args

import pytest
from flask import Flask
from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Assessment
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.reasons.why import Trace
from evaluator.assessment.scoring.draws import assess
from evaluator.assessment.scoring.score import FULL
from evaluator.papers.sections.costs import numbers_of
from evaluator.papers.story import paper
from evaluator.result.json_form import read_result, to_json
from evaluator.result.making.result import result_of
from evaluator.rubric.written.kinds import Kind
from evaluator.web.looking.forms import part_form
from evaluator.wording.answer.verdict import words_of
from tests.laws import tried
from tests.papers.cases import (
    FEW,
    answers,
    content,
    evaluated_anew,
    evaluation_of,
    full,
    full_snapshot,
    in_numbers,
    paper_of,
    rubric,
    snapshot_of,
)

# The names of the contract, one line a mapping; "x[]" is a list of mappings, "x{}" a mapping by id.
CONTRACT = {
    "score": "expected low high",
    "score_after_work": "expected low high",
    "findings[]": "check outcome probability level",
    "conformity{}": "probability statement",
    "plan": "lines mean p50 p80 currency",
    "plan.lines[]": "job because forced_by low likely high",
    "verdict": "advice offer ceiling because could_change probability_worth_it ready_value ready_range",
    "verdict.because[]": "fact check outcome amount share",
    "next_checks[]": "check minutes gain",
    "views": "verdict_holds",
}
TOP = "coverage domains disqualifying possible_extras"
RANK = {"buy": 0, "buy_if_it_suits": 1, "negotiate": 2, "walk_away": 3}


def at(snapshot: dict[str, Any], path: str) -> list[dict[str, Any]]:
    """The mappings at a path of the contract."""
    found: Any = snapshot
    for step in path.rstrip("[]{}").split("."):
        found = found[step]
    if path.endswith("[]"):
        return list(found)
    return list(found.values()) if path.endswith("{}") else [found]


@pytest.mark.parametrize("path", list(CONTRACT))
def test_every_name_of_the_contract_is_there(path: str) -> None:
    found = at(snapshot_of(FEW), path)
    assert found
    for one in found:
        assert set(CONTRACT[path].split()) <= one.keys()


def test_every_name_at_the_top_is_there() -> None:
    assert set(TOP.split()) <= snapshot_of(FEW).keys()


def test_there_is_no_advice_without_a_price() -> None:
    data = content(FEW)
    del data["asking"]
    assert to_json(evaluation_of(data))["verdict"]["advice"] is None


def numbers(value: Any) -> Iterator[float]:
    if isinstance(value, dict):
        for inner in value.values():
            yield from numbers(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, float):
        yield value


@pytest.mark.parametrize(
    ("name", "size"), [("violin", "4/4"), ("viola", "405 mm"), ("cello", "4/4"), ("bow", "cello 4/4")]
)
@pytest.mark.parametrize("kind", ["sound", "wanting"])
def test_a_snapshot_is_plain_json_of_bounded_size(name: str, size: str, kind: str) -> None:
    snapshot = full_snapshot(name, kind, size)
    text = json.dumps(snapshot, allow_nan=False)
    assert json.loads(text) == snapshot
    assert all(math.isfinite(value) for value in numbers(snapshot))
    assert len(text) < 700_000


def test_equal_arguments_give_equal_json_and_another_seed_the_same_expectations() -> None:
    data = content(FEW)
    one, again, other = (to_json(evaluated_anew(data, seed=seed)) for seed in (1, 1, 2))
    assert one == again != other
    assert one["score"]["expected"] == other["score"]["expected"]
    assert one["plan"]["lines"] == other["plan"]["lines"]


def test_the_trail_of_each_check_adds_up_to_the_score() -> None:
    for snapshot in (full_snapshot("violin", "sound", "4/4"), full_snapshot("violin", "wanting", "4/4")):
        rest = sum(one["points"] for one in snapshot["deductions"] if one["check"] is None or one["set_aside"])
        taken = rest + sum(check["why"]["takes"] for check in snapshot["checks"])
        assert FULL - taken == pytest.approx(snapshot["score"]["expected"], abs=0.01 * len(snapshot["checks"]))
        # Answers that another answer sets aside carry their share too, and are not among the checks.
        assert 0.9 < sum(check["why"]["share"] for check in snapshot["checks"]) <= 1.02
        causes = snapshot["causes"]
        assert all(check["why"]["cause"] in {None, *causes} for check in snapshot["checks"])
        assert all(cause["why"] for cause in causes.values())


def test_the_trail_of_a_reading_ends_in_a_source() -> None:
    weighed = next(check for check in snapshot_of(FEW)["checks"] if check["check"] == "weight_without_chin_rest")
    codes = [step["fact"]["code"] for step in weighed["why"]["steps"]]
    assert codes == ["statement", "sources"]
    value, limits, *_ = weighed["why"]["steps"][0]["because"]
    assert value["fact"]["code"] == "value" and value["fact"]["u"] > 0
    assert limits["because"][0]["fact"]["code"] == "source"
    assert all(one["counts"] >= 0 for one in weighed["belief"])


def test_the_full_trace_holds_score_causes_and_findings() -> None:
    evaluation = evaluation_of(content(FEW))
    about = [one.about for one in Trace(evaluation.rubric, evaluation.case, evaluation.assessment).everything()]
    assert about[:2] == ["score", "score"]
    assert set(evaluation.assessment.causes) <= set(about)
    assert {finding.check for finding in evaluation.assessment.findings} <= set(about)


ANSWERS = {kind: answers("violin", kind, readings=5) for kind in ("sound", "wanting")}
CHOICES = [check for check in rubric("violin").checks.values() if check.kind == "choice"]
POSTPONING = {name.split(".")[0] for check in rubric("violin").checks.values() for name in check.postponed_by} | {
    name for formula in rubric("violin").relevant.values() for name in formula.names
}


@st.composite
def looks(draw: Any) -> dict[str, Any]:
    """Some answers to the violin rubric, sound and wanting."""
    chosen = draw(st.lists(st.sampled_from(sorted(ANSWERS["sound"])), max_size=25, unique=True))
    return {name: ANSWERS[draw(st.sampled_from(("sound", "wanting")))].get(name, "cannot_tell") for name in chosen}


def assessed(observations: dict[str, Any]) -> Assessment:
    case, problems = read_case(rubric("violin"), full("violin", "sound", "4/4") | {"observations": observations})
    assert case is not None and not problems, problems
    return assess(rubric("violin"), case, seed=1, draws=2)


@tried(60)
@given(looks(), st.sampled_from([check for check in CHOICES if check.check not in POSTPONING]))
def test_a_sound_look_in_place_of_a_fault_never_lowers_the_score(seen: dict[str, Any], check: Any) -> None:
    """Checks that others wait for are left out: a fault there takes the other's own poor mark out of the sum."""
    classes = {outcome.class_at("intermediate", "classical"): key for key, outcome in check.outcomes.items()}
    if "sound" not in classes or "fault" not in classes:
        return
    sound, fault = (assessed({**seen, check.check: classes[kind]}).score.expected for kind in ("sound", "fault"))
    assert sound >= fault - 1e-9


@tried(60)
@given(looks(), st.randoms(use_true_random=False))
def test_the_order_of_observations_does_not_matter(seen: dict[str, Any], random: Any) -> None:
    shuffled = list(seen.items())
    random.shuffle(shuffled)
    one, other = assessed(seen), assessed(dict(shuffled))
    assert one.score.expected == pytest.approx(other.score.expected, abs=1e-9)
    for name, belief in one.beliefs.items():
        assert belief.probability == pytest.approx(other.beliefs[name].probability, abs=1e-12)


@tried(15)
@given(looks())
def test_a_dearer_asking_price_never_gives_better_advice(seen: dict[str, Any]) -> None:
    data = full("violin", "sound", "4/4") | {"observations": seen}
    ranks = []
    for price in (1, 900, 2400, 4000, 8000):
        found = to_json(evaluation_of(data | {"asking": {"amount": price, "currency": "USD"}}, draws=50))
        if found["verdict"]["advice"] in RANK:  # to look first stands outside the ladder
            ranks.append(RANK[found["verdict"]["advice"]])
    assert ranks == sorted(ranks)


@tried(15)
@given(looks())
def test_scores_and_money_stay_in_order(seen: dict[str, Any]) -> None:
    snapshot = in_numbers(to_json(evaluation_of(full("violin", "sound", "4/4") | {"observations": seen}, draws=50)))
    for score in (snapshot["score"], snapshot["score_after_work"]):
        assert 0 <= score["low"] <= score["high"] <= 100
        assert score["expected"] is None or score["low"] <= score["expected"] <= score["high"]
    now, then = snapshot["score"]["expected"], snapshot["score_after_work"]["expected"]
    assert (now is None) == (then is None)
    assert now is None or then >= now - 1e-9
    assert 0 <= snapshot["coverage"] <= 1
    for line in snapshot["plan"]["lines"]:
        assert 0 <= line["low"] <= line["likely"] <= line["high"]
    assert snapshot["with_possible_extras"]["mean"] >= snapshot["plan"]["mean"] - 0.01


KINDS = get_args(Kind)


def of_kind(kind: str) -> tuple[str, str]:
    """A rubric and one of its checks of this kind."""
    for name in ("violin", "bow"):
        for check in rubric(name).checks.values():
            if check.kind == kind and check.outcomes and check.about == "instrument":
                return name, check.check
    raise AssertionError(f"no rubric has a check of the kind {kind}")


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_form_in_json_and_a_score(kind: str) -> None:
    name, check = of_kind(kind)
    snapshot = full_snapshot(name, "wanting", "4/4" if name == "violin" else "violin 4/4")
    found = next(one for one in snapshot["checks"] if one["check"] == check)
    assert found["kind"] == kind and found["seen"]
    assert sum(one["probability"] for one in found["belief"]) == pytest.approx(1.0, abs=0.01)
    assert 0 <= found["worth"] < 1
    assert found["observations"] or kind == "derived"


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_row_on_paper(kind: str) -> None:
    name, check = of_kind(kind)
    snapshot = full_snapshot(name, "wanting", "4/4" if name == "violin" else "violin 4/4")
    found = numbers_of(read_result(snapshot))
    never_a_fault = all(one.class_ in ("sound", "acceptable") for one in rubric(name).checks[check].outcomes.values())
    assert check in found or check in snapshot["conformity"] or never_a_fault
    assert paper(read_result(snapshot), "shop").blocks and paper_of(snapshot, "shop")


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_that_is_asked_has_its_fields(kind: str) -> None:
    name, check = of_kind(kind)
    app = Flask("test")
    app.config["SECRET_KEY"] = "only for this test"
    with app.test_request_context():
        fields = set(part_form(rubric(name), rubric(name).checks[check].part)()._fields)
    asked = {
        "choice": {"q"},
        "measure": {"q", "r", "u", "t"},
        "count": {"q", "r"},
        "rating": {"q", "r"},
        "derived": set(),
    }
    wanted = {f"{field}-{check}" for field in asked[kind]}
    assert wanted <= fields
    if kind == "derived":
        assert f"q-{check}" not in fields


def test_with_nothing_looked_at_there_is_no_advice_in_words() -> None:
    data = content(FEW) | {"observations": {}}
    told = words_of(result_of(evaluation_of(data)))
    assert told.sentence == "Nothing has been looked at yet. Begin with ten minutes."
    assert (told.reasons, told.say_to_seller) == ((), None)
