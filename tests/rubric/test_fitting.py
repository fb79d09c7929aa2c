"""Whether a job fits: limits on readings and degrees, outcomes that rule it out, standards and classes of making."""

from typing import Any

import pytest

from evaluator.rubric.fitting import Seen, Setting, reasons, unfit_jobs, worth_left
from evaluator.rubric.show import show
from evaluator.rubric.written.work import Job
from tests.estimate.small import job_of, rubric_of
from tests.papers.cases import rubric

GROOVES = {
    "check": "grooves", "part": "whole", "ask": "How deep?", "degree_of": "depth, mm",
    "outcomes": {
        "none": {"say": "None", "class": "sound"},
        "felt": {"say": "Felt", "class": "fault", "degree": 0.15, "inherent": True},
        "deep": {"say": "Deep", "class": "fault", "degree": 0.4, "inherent": True},
        "old": {"say": "Dressed before", "class": "acceptable", "worth": 0.8},
    },
}  # fmt: skip


def bounds(setting: Setting, family: Any = "violin", **keys: Any) -> list[str]:
    rubric = rubric_of((job_of("dress", **keys),), {}, checks=(GROOVES,), family=family)
    return [one.bound for one in reasons(rubric, rubric.jobs["dress"], setting)]


def seen(outcome: str | None = None, reading: float | None = None, off: float | None = None) -> Setting:
    return Setting("student", {}, {"grooves": Seen(outcome, reading, off)})


@pytest.mark.parametrize(
    ("limit", "looked", "wanted"),
    [
        ({"at_most": 0.15}, seen("felt"), []),
        ({"at_most": 0.15}, seen("deep"), ["too_much"]),
        ({"at_least": 0.3}, seen("felt"), ["too_little"]),
        ({"at_most": 0.15}, seen("none"), []),  # an outcome without a degree limits nothing
        ({"at_most": 0.15}, Setting("student"), []),  # nor does what nobody looked at
        ({"at_most": 0.15}, seen("deep", 0.1), []),  # a reading tells more than a word
        ({"at_most": 0.15}, seen("felt", 0.2), ["too_much"]),
        ({"off_at_most": 3}, seen(None, 20, 3), []),
        ({"off_at_most": 3}, seen(None, 20, 3.1), ["too_far_off"]),
        ({"not_when": ["old"]}, seen("old"), ["does_not_go"]),
        ({"not_when": ["old"]}, seen("felt"), []),
    ],
)
def test_a_limit_speaks_of_what_was_seen(limit: dict[str, Any], looked: Setting, wanted: list[str]) -> None:
    assert bounds(looked, limits=[{"check": "grooves", **limit}]) == wanted


def test_a_family_stretches_readings_and_not_degrees() -> None:
    limit = [{"check": "grooves", "at_most": 0.15, "family": {"cello": 2}}]
    assert bounds(seen(None, 0.29), "cello", limits=limit, families=["cello"]) == []
    assert bounds(seen(None, 0.31), "cello", limits=limit, families=["cello"]) == ["too_much"]
    assert bounds(seen("deep"), "cello", limits=limit, families=["cello"]) == ["too_much"]


@pytest.mark.parametrize(
    ("keys", "setting", "wanted"),
    [
        ({"fit_for": ["student"]}, Setting("professional"), ["standard"]),
        ({"not_for": ["professional"]}, Setting("professional"), ["standard"]),
        ({"not_for": ["professional"]}, Setting("student"), []),
        (
            {"not_for": ["maker"]},
            Setting("student"),
            [],
        ),  # nothing tells of the making
        ({"fit_for": ["outfit"]}, Setting("student"), ["making"]),
        ({"not_for": ["maker"]}, Setting("student", {"maker": 0.4, "fine_workshop": 0.6}), []),
        ({"not_for": ["maker", "fine_workshop"]}, Setting("student", {"maker": 0.3, "fine_workshop": 0.3}), ["making"]),
        ({"fit_for": ["outfit", "factory"]}, Setting("student", {"workshop": 0.6, "factory": 0.4}), ["making"]),
        ({"fit_for": ["student", "outfit"]}, Setting("student", {"maker": 1.0}), ["making"]),
    ],
)
def test_a_job_is_for_standards_and_classes(keys: dict[str, Any], setting: Setting, wanted: list[str]) -> None:
    assert bounds(setting, **keys) == wanted


def test_a_limit_goes_before_a_class() -> None:
    rubric = rubric_of(
        (job_of("dress", not_for=["student"], limits=[{"check": "grooves", "at_most": 0.15}]),), {}, checks=(GROOVES,)
    )
    assert unfit_jobs(rubric, seen("deep"))["dress"].is_physical
    assert not unfit_jobs(rubric, seen("felt"))["dress"].is_physical


@pytest.mark.parametrize(
    ("keys", "left"),
    [({}, 0.95), ({"leaves": 0.7}, 0.7), ({"leaves_as": {"grooves": "old"}}, 0.8),
     ({"leaves": 0.6, "leaves_as": {"grooves": "old"}}, 0.6), ({"leaves": 1.0, "leaves_as": {"grooves": "none"}}, 1.0)],
)  # fmt: skip
def test_work_leaves_no_more_than_its_mend_is_worth_where_it_is_found(keys: dict[str, Any], left: float) -> None:
    rubric = rubric_of((job_of("dress", **keys),), {}, checks=(GROOVES,))
    assert worth_left(rubric, rubric.checks["grooves"], "dress", "student", "classical") == left
    assert worth_left(rubric, rubric.checks["grooves"], "polish", "student", "classical") is None


def test_years_are_those_of_the_player() -> None:
    job = Job.model_validate(job_of("dress", holds_years={"student": 2, "daily": 1}))
    assert job.holds_years is not None
    assert [job.holds_years.at(tier) for tier in ("student", "intermediate", "professional")] == [2, 2, 1]


def test_a_job_is_shown_with_what_it_is_fit_for() -> None:
    text = show(rubric("violin"), "fingerboard_plane")
    assert isinstance(text, str)
    assert "fingerboard_edge: at least 5 mm" in text
    assert "One smooth, slight hollow (fingerboard_hollow)" in text
    assert "Holds: 6 years as a student plays, 3 played daily" in text
