"""One candidate by its decision: what it costs beyond its price, the worst of it, and what money does not cure."""

from ..result.model.decision import Reason, Verdict
from ..result.model.result import Result
from ..valuation.model import Fact

WORST_FIRST = (Fact.STOPS, Fact.LASTS, Fact.SOUNDS_BAD, Fact.FAULT)
NOT_CURED = (Fact.STOPS, Fact.LASTS, Fact.SOUNDS_BAD)


def unpriced(verdict: Verdict) -> bool:
    """Whether something stops the purchase and the price is not that of such an instrument: it is never first."""
    return bool(verdict.stopped_by) and verdict.advice in ("walk_away", "negotiate")


def work_of(shown: Result) -> float:
    """What the buyer pays for the work, with tax; older results are without it."""
    return shown.with_possible_extras.mean if shown.verdict.work is None else shown.verdict.work


def dear_work_of(shown: Result) -> float:
    """The same where it comes out dear: four of five cases stay within."""
    extras = shown.with_possible_extras
    return max(extras.mean, extras.p80) if shown.verdict.work_dear is None else shown.verdict.work_dear


def unseen_of(shown: Result) -> float:
    """What faults that nobody has looked for usually cost."""
    return shown.not_looked_at.mean if shown.verdict.unseen is None else shown.verdict.unseen


def worst_of(shown: Result) -> Reason | None:
    """The worst that was found on it; None where nothing was."""
    named = (one for fact in WORST_FIRST for one in shown.verdict.because if one.fact is fact)
    return next((one for one in named if _is_there(shown, one)), None)


def stays_of(shown: Result) -> tuple[Reason, ...]:
    """What money does not cure."""
    return tuple(one for one in shown.verdict.because if one.fact in NOT_CURED and _is_there(shown, one))


def _is_there(shown: Result, reason: Reason) -> bool:
    """Whether a reason is about a check that counts for this one, or about its sound."""
    return reason.fact is Fact.SOUNDS_BAD or any(one.check == reason.check for one in shown.checks)
