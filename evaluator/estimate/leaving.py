"""What the planned work leaves of each check: a mend is worth what it is worth where it is found, a new part is new.

A check whose fault the plan cures stands, whatever curable outcome the bench meets there, at what the curing job
leaves. A check at which a job of the plan leaves a known outcome (`leaves_as`: a new bridge is flat and fitted) stands
at that, whether anybody had looked at it or not. What no job of the plan cures stays as it is.
"""

from collections.abc import Collection, Sequence

from ..assessment.believing.beliefs import Held, Left
from ..assessment.model import Case
from ..rubric.fitting import worth_left
from ..rubric.written.checks import Check, Outcome
from .planning.catalogue import Need
from .planning.plan import Plan, Planner


def left_by(planner: Planner, plan: Plan, case: Case, beliefs: Sequence[Held]) -> tuple[Left, ...]:
    """For each belief what the plan leaves of its outcomes, in their order."""
    wanted = {need.check for need in plan.needs}
    checks = planner.prices.rubric.checks
    return tuple(_left(planner, plan.jobs, case, checks[one.term.check], wanted) for one in beliefs)


def _left(planner: Planner, jobs: Sequence[str], case: Case, check: Check, wanted: Collection[str]) -> Left:
    renewing = [job for job in jobs if check.check in planner.jobs[job].leaves_as]
    if check.check not in wanted and not renewing:
        return (None,) * len(check.outcomes)
    found = []
    for name, outcome in check.outcomes.items():
        curing = _curing(planner, jobs, check, name, outcome)
        found.append(_worth(planner, case, check, curing, renewing if _is_renewed(outcome) else []))
    return tuple(found)


def _curing(planner: Planner, jobs: Sequence[str], check: Check, name: str, outcome: Outcome) -> Collection[str]:
    if not outcome.cured_by:
        return ()
    return planner.cured_with(Need(check.check, name, outcome.say, outcome.cured_by), jobs)


def _is_renewed(outcome: Outcome) -> bool:
    """Whether a new part takes an outcome with it: not one that lies elsewhere, or that asks for work of its own."""
    return not outcome.inherent and not outcome.cured_by


def _worth(
    planner: Planner, case: Case, check: Check, curing: Collection[str], renewing: Collection[str]
) -> float | None:
    """The least that the curing jobs leave; else the best that a new part gives; None where nothing touches it."""
    rubric, tier, style = planner.prices.rubric, case.instrument.tier, case.instrument.style
    jobs, choose = (curing, min) if curing else (renewing, max)
    left = [worth_left(rubric, check, job, tier, style) for job in jobs]
    return choose((one for one in left if one is not None), default=None)
