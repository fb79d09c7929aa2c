"""A builder of small rubrics for the tests of the sums: checks as YAML-like mappings in, a Rubric out."""

from collections.abc import Mapping
from typing import Any

from evaluator.assessment.model import Case
from evaluator.assessment.observing.case import read_case
from evaluator.basis.formulas.formula import Formula, parse_formula
from evaluator.rubric.files.waits import with_waits
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.written.checks import Check
from evaluator.rubric.written.kinds import ThreePoint
from evaluator.rubric.written.surroundings import Cause, Part, Safety, StandardTable, Tool
from evaluator.rubric.written.work import Job
from tests.known import JUDGED

SHARES = {"workmanship": 0.2, "soundness": 0.3, "playability": 0.3, "tone": 0.1, "authenticity": 0.05, "resale": 0.05}
TOOLS = (
    {"tool": "kitchen_scale", "say": "a kitchen scale", "unit": "g", "half_width": 5.0, "step": 2.0},
    {"tool": "gram_scale", "say": "a scale in grams", "unit": "g", "half_width": 1.0, "step": 1.0},
    {"tool": "steel_rule", "say": "a steel rule", "unit": "mm", "half_width": 0.5, "step": 0.5},
    {"tool": "caliper", "say": "a caliper", "unit": "mm", "half_width": 0.05, "step": 0.01},
)
SOUND = {"say": "As it should be", "class": "sound"}
FAULT = {"say": "Wrong", "class": "fault", "inherent": True}


def check_of(name: str, **keys: Any) -> dict[str, Any]:
    """A choice between sound and fault, workmanship, unless the keys say otherwise."""
    base = {"check": name, "part": "whole", "ask": "How is it?", "evidence_of": {"workmanship": 1.0}}
    if "measure" not in keys and "formula" not in keys:
        base["outcomes"] = {"good": SOUND, "poor": FAULT}
    else:
        base["outcomes"] = {"too_low": FAULT, "meets": SOUND, "too_high": FAULT}
    return base | keys


def rubric_of(
    *checks: Mapping[str, Any],
    causes: tuple[Mapping[str, Any], ...] = (),
    jobs: tuple[Mapping[str, Any], ...] = (),
    standards: tuple[Mapping[str, Any], ...] = (),
    shares: Mapping[str, float] | None = None,
    family: Any = "violin",
    safety: tuple[str, ...] = (),
) -> Rubric:
    """A rubric of these checks; an unknown key or a bad formula raises."""
    made = [Check.model_validate(check) for check in checks]
    return Rubric(
        name="small",
        version="1",
        title="A small rubric",
        family=family,
        sizes=("4/4", "3/4"),
        default_size="4/4",
        hash="",
        judged=JUDGED,
        parts={"whole": Part(part="whole", say="The whole")},
        checks=with_waits({check.check: check for check in made}, {}),
        safety=Safety(say="First of all", checks=safety) if safety else None,
        standards={one["standard"]: StandardTable.model_validate(one) for one in standards},
        tools={one["tool"]: Tool.model_validate(one) for one in TOOLS},
        causes={one["cause"]: Cause.model_validate(one) for one in causes},
        cautions={},
        sources={},
        jobs={one["job"]: _job(one) for one in jobs},
        shared_labour={},
        part_prices={},
        domain_shares={tier: dict(shares or SHARES) for tier in ("student", "intermediate", "professional")},
        formulas={check.check: _formula(check.formula) for check in made if check.formula},
        relevant={check.check: _formula(check.relevant_if) for check in made if check.relevant_if},
    )


def case_of(rubric: Rubric, observations: Mapping[str, Any] | None = None, **keys: Any) -> Case:
    """A case with these answers; any mistake in it fails the test."""
    case, problems = read_case(rubric, {"format": 1, "rubric": "small", "observations": observations or {}} | keys)
    assert case is not None, problems
    return case


def _formula(text: str) -> Formula:
    found = parse_formula(text)
    assert isinstance(found, Formula), found
    return found


def _job(one: Mapping[str, Any]) -> Job:
    base = {"say": "Mend it", "plain": "We mend it.", "skill": "set_up", "hours": ThreePoint(low=1, likely=2, high=3)}
    return Job.model_validate(base | one)
