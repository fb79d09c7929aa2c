"""The trace of each check and cause in few words, for pages that open "why this number?" beside a figure.

`assessment.reasons.why` holds the whole tree. Here it is cut to what a check does not share with others: its cause is
named, and told once by itself.
"""

import math

from ...assessment.reasons.steps import AnswersCount
from ...assessment.reasons.why import Reason, Trace
from ..model.score import Step, Trail


def step(reason: Reason) -> Step:
    """The fact of a reason with the steps below it."""
    return Step(fact=reason.fact, because=tuple(step(part) for part in reason.parts))


def check_trail(trace: Trace, place: int) -> Trail:
    """For the check at this place of those that count: the share of the score it carries (0..1), the points it takes,
    its cause, the steps. The facts of its belief and what each answer counts are not among them: the check has them.
    """
    name = trace.assessment.relevant[place]
    share = float(trace.known.weights.total[place])
    cause = trace.rubric.checks[name].cause
    statement, rules = trace.own_parts(name)
    return Trail(
        share=round(share, 4),
        takes=round(math.fsum(one.points for one in trace.assessment.deductions if one.check == name), 2),
        cause=cause if cause in trace.assessment.causes else None,
        steps=tuple(step(part) for part in (*statement, *rules) if not isinstance(part.fact, AnswersCount)),
    )


def cause_trail(trace: Trace, name: str) -> tuple[Step, ...]:
    """The signs that moved a cause, the strongest first, and what was held before any look."""
    return tuple(step(part) for part in trace.cause(name).parts)
