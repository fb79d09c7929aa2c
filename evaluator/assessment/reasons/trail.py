"""The trace of each check and cause in few words, for pages that open "why this number?" beside a figure.

`why` holds the whole tree. Here it is cut to what a check does not share with others: its cause is named, and told once
by itself. A step is a sentence, or a sentence with the steps below it.
"""

from typing import Any, TypeAlias

from .why import Reason, Trace

Step: TypeAlias = "str | dict[str, Any]"


def step(reason: Reason) -> Step:
    """A sentence, or {"say": sentence, "because": steps}."""
    if not reason.parts:
        return reason.say
    return {"say": reason.say, "because": [step(part) for part in reason.parts]}


def check_trails(trace: Trace) -> dict[str, dict[str, Any]]:
    """For each check that counts: the share of the score it carries (0..1), the points it takes, its cause, the steps.

    The sentences of its belief are not among the steps: the belief has them.
    """
    found = {}
    for place, name in enumerate(trace.assessment.relevant):
        belief, share = trace.assessment.beliefs[name], float(trace.known.weights.total[place])
        cause = trace.rubric.checks[name].cause
        statement, rules = trace.own_parts(name)
        found[name] = {
            "share": round(share, 4),
            "takes": round(100.0 * share * (1.0 - belief.worth), 2),
            "cause": cause if cause in trace.assessment.causes else None,
            "steps": [step(part) for part in (*statement, *rules)],
        }
    return found


def cause_trails(trace: Trace) -> dict[str, list[Step]]:
    """For each cause: the signs that moved it, the strongest first, and what was held before any look."""
    return {name: [step(part) for part in trace.cause(name).parts] for name in trace.assessment.causes}
