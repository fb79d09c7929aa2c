"""One candidate by its decision: what it costs beyond its price, the worst of it, and what money does not cure."""

from ..result.model.decision import Reason, Verdict
from ..result.model.result import Result
from ..result.model.score import Finding
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


def worst_of(shown: Result) -> str | None:
    """The worst that was found on it, in words; None where nothing was."""
    named = [one for fact in WORST_FIRST for one in shown.verdict.because if one.fact is fact]
    return next((said for one in named if (said := said_of(shown, one))), None)


def stays_of(shown: Result) -> list[str]:
    """What money does not cure, in words."""
    kept = (one for one in shown.verdict.because if one.fact in NOT_CURED)
    return list(dict.fromkeys(said for one in kept if (said := said_of(shown, one))))


def said_of(shown: Result, reason: Reason) -> str | None:
    """What a reason is about, in words: the check's title with what was found."""
    if reason.fact is Fact.SOUNDS_BAD:
        return "It sounds poor"
    check = next((one for one in shown.checks if one.check == reason.check), None)
    say = next((one.say for one in check.belief if one.outcome == reason.outcome), None) if check else None
    return _titled(check.term, check.check, say) if check and say else None


def titled(item: Finding) -> str:
    """A finding by itself: what it is about and what was found."""
    return _titled(item.term, item.check, item.say)


def _titled(term: str | None, check: str, say: str) -> str:
    subject, found = term or check.removeprefix("bow_").replace("_", " "), say.strip().rstrip(".")
    first = found[:1] if found[1:2].isupper() else found[:1].lower()
    return f"{subject[:1].upper()}{subject[1:]}: {first}{found[1:]}"
