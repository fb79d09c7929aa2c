"""Before and after: a finding is gone only if somebody looked again; readings that stayed are left out."""

from typing import Any

import pytest

from evaluator.assessment.model import Instrument
from evaluator.papers.before_after import before_after, hours_sum, score_figure, to_look_at, worked
from evaluator.quoting.answers import all_yes
from evaluator.quoting.work_order import noted, work_order
from evaluator.result.json_form import read_result
from evaluator.result.model.result import Result
from tests.papers.cases import FEW, snapshot_of
from tests.quoting.test_quote import RUBRIC, quote_of


def finding(check: str, say: str = "Bad", **keys: Any) -> dict[str, Any]:
    return {"check": check, "term": None, "say": say, "level": "confirmed", "seen": True} | keys


def reading(check: str, value: float, statement: str) -> dict[str, Any]:
    return {
        "check": check, "term": None, "value": value, "standard_uncertainty": 0.1, "unit": "mm", "low": 0.2,
        "high": 0.4, "statement": statement,
    }  # fmt: skip


def snapshot(score: float = 60.0, findings: Any = (), stops: Any = (), unseen: Any = (), readings: Any = ()) -> Result:
    names = {one["check"] for one in (*findings, *stops)} | {"bar", "nut", "peg", *unseen}
    triple = {"expected": score, "low": score - 5, "high": score + 5}
    whole = snapshot_of(FEW)
    check, one = whole["checks"][0], whole["findings"][0]
    changes = {
        "score": triple,
        "domains": {"tone": {"as_it_stands": triple, "after_work": triple}},
        "findings": [one | found for found in findings],
        "disqualifying": [one | found for found in stops],
        "checks": [check | {"check": name, "seen": name not in unseen} for name in sorted(names)],
        "conformity": {one["check"]: next(iter(whole["conformity"].values())) | one for one in readings},
    }
    return read_result(whole | changes)


@pytest.mark.parametrize(
    ("before", "after", "became"),
    [
        ({"findings": [finding("nut")]}, {}, [("gone", "Nut: bad", None)]),
        ({"findings": [finding("nut")]}, {"unseen": ["nut"]}, [("open", "Nut: bad", None)]),
        ({"findings": [finding("nut", "High")]}, {"findings": [finding("nut", "Low")]},
         [("left", "Nut: high", "Nut: low")]),
        ({}, {"findings": [finding("peg")]}, [("new", None, "Peg: bad")]),
        ({"findings": [finding("nut", level="possible")]}, {}, []),
        ({"findings": [finding("nut", seen=False)]}, {}, []),
        ({"stops": [finding("bar")]}, {}, [("gone", "Bar: bad", None)]),
        ({"findings": [finding("nut"), finding("peg")]}, {"findings": [finding("nut"), finding("bar")]},
         [("new", None, "Bar: bad"), ("gone", "Peg: bad", None), ("left", "Nut: bad", "Nut: bad")]),
    ],
)  # fmt: skip
def test_what_became_of_each_finding(before: Any, after: Any, became: list[tuple[str, str | None, str | None]]) -> None:
    found = before_after(snapshot(**before), snapshot(**after))
    assert [(pair.became, pair.before, pair.after) for pair in found.findings] == became
    for word in ("gone", "left", "new", "open"):
        assert found.count(word) == sum(one[0] == word for one in became)


def test_scores_and_readings_side_by_side() -> None:
    high, right = reading("nut", 0.8, "does_not"), reading("nut", 0.3, "meets")
    same = reading("bar", 0.3, "meets")
    found = before_after(snapshot(60, readings=[high, same]), snapshot(80, readings=[right, same]))
    assert [score[0] for score in found.scores] == [60, 80]
    assert [(one.subject, one.standard, one.before, one.after) for one in found.readings] == [
        ("Nut", "0.2 to 0.4 mm", "0.8 ± 0.2 mm, does not meet", "0.3 ± 0.2 mm, meets")
    ]
    assert "Score 60 of 100 before the work, between 55 and 65; 80 after it" in score_figure(found, 160).alt
    gone = before_after(snapshot(readings=[high]), snapshot())
    assert [(one.before, one.after) for one in gone.readings] == [("0.8 ± 0.2 mm, does not meet", None)]


def test_hours_as_reckoned_and_as_they_were() -> None:
    quote = quote_of()
    order = work_order(RUBRIC, Instrument("4/4", "classical", "student"), quote, all_yes(quote))
    order = noted(order, "post_new", 1.25, "one stick")
    rows = {one.say: (one.hours_likely, one.hours, one.parts_used) for one in worked(order)}
    assert rows["Fit a new post"] == ("36 min", "1 h 15 min", "one stick")
    assert rows["Clean it"] == ("48 min", None, "")
    reckoned, was = hours_sum(order)
    assert (reckoned, was) == (pytest.approx(0.6 + 1.3 + 0.2 + 0.8), 1.25)


def test_only_what_was_answered_and_can_change_is_looked_at_again() -> None:
    assert to_look_at(RUBRIC.checks, {"warp", "dirt"}, {"bridge_new", "post_new"}) == ("warp",)
