"""What is known of the risk of the purchase, from the answers of checks that are about it."""

from collections.abc import Mapping

from ...assessment.model import Assessment, Case
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import OutcomeClass
from ..model.purchase import Risk, RiskLevel

LEVELS: Mapping[OutcomeClass, RiskLevel] = {
    "disqualifying": "stops", "fault": "great", "acceptable": "some", "sound": "none"}  # fmt: skip
GRAVEST: tuple[RiskLevel, ...] = ("stops", "great", "some", "none", "open")


def purchase(rubric: Rubric, case: Case, found: Assessment) -> tuple[Risk, ...]:
    """Every check that is about the purchase and applies here, the gravest first, then in the order of the rubric."""
    checks = [rubric.checks[name] for name in found.relevant if rubric.checks[name].about == "purchase"]
    return tuple(sorted((_risk(check, case) for check in checks), key=lambda one: GRAVEST.index(one.level)))


def _risk(check: Check, case: Case) -> Risk:
    here = case.instrument
    told = {one.outcome for one in case.observations.get(check.check, ()) if one.outcome in check.outcomes}
    levels = {
        name: LEVELS[one.class_at(here.tier, here.style, here.age)]
        for name, one in check.outcomes.items()
        if name in told
    }
    gravest = min(levels, key=lambda name: GRAVEST.index(levels[name]), default=None)
    outcome = check.outcomes[gravest] if gravest else None
    return Risk(
        check=check.check,
        part=check.part,
        ask=check.ask,
        term=check.term,
        outcome=gravest,
        say=outcome.say if outcome else "",
        means=outcome.means if outcome else None,
        level=levels[gravest] if gravest else "open",
    )
