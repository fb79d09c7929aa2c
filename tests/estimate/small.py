"""A builder of small rubrics, shops and assessments for the tests of the plan and its price."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from evaluator.assessment.model import Assessment, Case, Finding, Instrument, Range, Worlds
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.rubric.written.checks import Check
from evaluator.rubric.written.work import Job, PartPrice, SharedLabour
from tests.known import JUDGED

RATES = {"set_up": [60, 85, 120], "repair": [75, 100, 140], "restoration": [85, 120, 180]}


def three(low: float, likely: float, high: float) -> dict[str, float]:
    return {"low": low, "likely": likely, "high": high}


def shop_of(**keys: Any) -> Shop:
    """A shop with the usual rates; job and part prices as lists of three."""
    for name in ("job_prices", "part_prices"):
        if name in keys:
            keys[name] = {key: three(*value) for key, value in keys[name].items()}
    rates = {key: three(*value) for key, value in RATES.items()}
    return Shop.model_validate({"shop": "The Test Bench", "rates": rates} | keys)


def job_of(name: str, hours: tuple[float, float, float] = (1, 2, 3), **keys: Any) -> dict[str, Any]:
    base = {"job": name, "say": name.replace("_", " "), "plain": f"We do the {name}.", "skill": "set_up"}
    return base | {"hours": three(*hours)} | keys


def shared_of(name: str, hours: tuple[float, float, float] = (0.2, 0.3, 0.5), **keys: Any) -> dict[str, Any]:
    return {"shared": name, "say": name.replace("_", " "), "hours": three(*hours)} | keys


def rubric_of(
    jobs: tuple[Mapping[str, Any], ...],
    faults: Mapping[str, tuple[str, ...]],
    shared: tuple[Mapping[str, Any], ...] = (),
    parts: Mapping[str, tuple[float, float, float]] | None = None,
    family: Any = "violin",
    checks: tuple[Mapping[str, Any], ...] = (),
) -> Rubric:
    """A rubric with one check a fault; `faults[check]` are the jobs that cure its outcome "poor"."""
    made = [Check.model_validate(_check(name, cured_by)) for name, cured_by in faults.items()]
    made += [Check.model_validate(one) for one in checks]
    prices = {
        name: PartPrice.model_validate({"part": name, "say": name, "prices": {family: {"good": three(*price)}}})
        for name, price in (parts or {}).items()
    }
    return Rubric(
        name="small",
        version="1",
        title="A small rubric",
        family=family,
        sizes=("4/4",),
        default_size="4/4",
        hash="",
        judged=JUDGED,
        parts={},
        checks={check.check: check for check in made},
        standards={},
        tools={},
        causes={},
        cautions={},
        sources={},
        jobs={one["job"]: Job.model_validate(one) for one in jobs},
        shared_labour={one["shared"]: SharedLabour.model_validate(one) for one in shared},
        part_prices=prices,
        domain_shares={},
        formulas={},
        relevant={},
    )


def _check(name: str, cured_by: tuple[str, ...]) -> dict[str, Any]:
    cure: dict[str, Any] = {"cured_by": cured_by} if cured_by else {"inherent": True}
    outcomes = {"good": {"say": "Fine", "class": "sound"}, "poor": {"say": f"{name} is poor", "class": "fault"} | cure}
    return {"check": name, "part": "whole", "ask": "How is it?", "outcomes": outcomes, "minutes": 2.0}


def finding_of(rubric: Rubric, check: str, probability: float = 1.0, **keys: Any) -> Finding:
    """The fault of a check of `rubric_of`, believed with this probability; required unless the keys say otherwise."""
    outcome = rubric.checks[check].outcomes["poor"]
    level = "confirmed" if probability >= 0.95 else "probable" if probability >= 0.5 else "possible"
    base: dict[str, Any] = {
        "check": check,
        "outcome": "poor",
        "class_": "fault",
        "probability": probability,
        "level": level,
        "say": outcome.say,
        "means": None,
        "cured_by": outcome.cured_by,
        "inherent": outcome.inherent,
        "urgency": "to_standard",
        "required": True,
        "seen": True,
    }
    return Finding(**(base | keys))


def assessment_of(
    rubric: Rubric,
    *findings: Finding,
    disqualifying: tuple[Finding, ...] = (),
    score_after: float = 80.0,
    seed: int = 1,
    count: int = 4000,
) -> Assessment:
    """An assessment that holds these findings; its worlds have each fault with the finding's probability."""
    checks = tuple(rubric.checks)
    chance = {one.check: one.probability for one in (*findings, *disqualifying)}
    random = np.random.default_rng(seed)
    outcome = np.zeros((count, len(checks)), dtype=np.int16)
    for place, name in enumerate(checks):
        outcome[:, place] = random.random(count) < chance.get(name, 0.0)
    score = np.full(count, score_after)
    return Assessment(
        score=Range(60.0, 55.0, 65.0),
        score_after=Range(score_after, score_after, score_after),
        domains={},
        domains_after={},
        coverage=1.0,
        beliefs={},
        causes={},
        conformity={},
        findings=tuple(findings),
        disqualifying=disqualifying,
        relevant=checks,
        set_aside={},
        worlds=Worlds(seed, checks, outcome, score, score, np.zeros(len(score), dtype=np.int16)),
        usual=70.0,
    )


def case_of(rubric: Rubric, **keys: Any) -> Case:
    base: dict[str, Any] = {
        "rubric": rubric.name,
        "instrument": Instrument(size="4/4", style="classical", tier="student"),
        "purpose": "buying",
        "observations": {},
    }
    return Case(**(base | keys))
