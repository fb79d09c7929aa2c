"""Candidates side by side as plain JSON values, from their results: a finished one keeps the figures it was shown by,
and no look at it is proposed, since it cannot change.
"""

from collections.abc import Sequence

from ..assessment.model import NextCheck
from ..basis.amounts import with_amounts
from ..basis.problem import Problem
from ..result.evaluation import Evaluation
from ..result.model.decision import Verdict
from ..result.model.result import Result
from ..result.model.score import Score
from ..rubric.shop import Shop
from .candidates import Candidate, Comparison, Look, compare, wrong_candidates
from .entrants import Entrant, candidate_of, names_of
from .one_of_them import dear_work_of, stays_of, unseen_of, work_of, worst_of
from .told import CandidateTold, ComparisonTold, LookNext, LookTold, SpanTold, Unseen, VerdictTold
from .trade_in import OPINION

FORMAT = 2  # 1: money as plain numbers
SETTLED = 0.95  # of the draws: from here nothing is likely to change who is first
CLOSE = 0.2  # of the draws, between first and second
WORTH_A_LOOK = 0.1  # chance that a look turns the order, from which the order counts as not settled


def comparison_json(
    entrants: Sequence[Entrant], shop: Shop, seed: int = 1, *, count_set_up_more: bool = True
) -> ComparisonTold | tuple[Problem, ...]:
    """Two to six named evaluations side by side, the most often first at the top, or what keeps them apart.

    `candidates[].place` is the candidate's number, counted from 0, among those that were given.
    """
    candidates = [candidate_of(name, one) for name, one in zip(names_of(entrants), entrants, strict=True)]
    wrong = wrong_candidates(candidates)
    if wrong:
        return wrong
    found = compare(candidates, shop.money_with_luthier_counts if count_set_up_more else 1.0, seed)
    rows = [_row(place, candidates[place], entrants[place], found) for place in found.order]
    look = _look_next(found, candidates, entrants)
    unsettled = look is not None and look["chance"] >= WORTH_A_LOOK
    return {
        "format": FORMAT,
        "currency": candidates[0].currency,
        "seed": seed,
        "shop": {"name": shop.shop, "is_default": shop.is_default, "borrowed": list(shop.borrowed)},
        "sentence": _first_sentence(rows, unsettled=unsettled),
        "unsettled": unsettled,
        "notes": [*_standards_note(rows), *_left_note(rows), *([found.note] if found.note else [])],
        "candidates": rows,
        "look_next": look,
        "opinion": OPINION,
    }


MONEY = frozenset(
    {"asking", "work", "cost_to_own", "cost_to_own_p80", "counted_cost", "offer", "ceiling", "ready_value"}
)


def comparison_told(found: ComparisonTold) -> dict[str, object]:
    """A comparison for other programs: its money as text with the currency."""
    return with_amounts(found, MONEY, found["currency"])


def _row(place: int, candidate: Candidate, one: Entrant, found: Comparison) -> CandidateTold:
    shown, verdict = one.result, one.result.verdict
    asking, work = candidate.asking or 0.0, work_of(shown)
    return {
        "place": place,
        "name": candidate.name,
        "size": shown.instrument.size,
        "tier": shown.instrument.tier,
        "family": candidate.family,
        "asking": round(asking, 2),
        "work": round(work, 2),
        "cost_to_own": round(candidate.cost_to_own, 2),
        "cost_to_own_p80": round(asking + dear_work_of(shown), 2),
        "counted_cost": round(found.counted_costs[place], 2),
        "score": _span(shown.score),
        "score_after_work": _span(shown.score_after_work),
        "verdict": _verdict(verdict),
        "first_share": round(found.first_shares[place], 4),
        "coverage": shown.coverage,
        "worst": worst_of(shown),
        "stays": stays_of(shown),
        "unknown": _unknown(shown),
        "next_look": None if one.evaluation is None else _look(one.evaluation),
    }


def _verdict(verdict: Verdict) -> VerdictTold:
    ready = verdict.ready_value
    return {
        "advice": verdict.advice,
        "sentence": verdict.sentence,
        "ready_value_from": verdict.ready_value_from,
        "offer": verdict.offer,
        "ceiling": verdict.ceiling,
        "probability_worth_it": verdict.probability_worth_it,
        "ready_value": float(ready.amount) if ready else None,
        "stopped_by": list(verdict.stopped_by),
    }


def _span(span: Score) -> SpanTold:
    return {"expected": span.expected, "low": span.low, "high": span.high}


def _unknown(shown: Result) -> Unseen:
    """The checks that nobody looked at: how many, what they could add in work, and the parts where they are."""
    by_part: dict[str, int] = {}
    for check in shown.checks:
        if not check.seen:
            by_part[check.part] = by_part.get(check.part, 0) + 1
    says = {part.part: part.say for part in shown.parts}
    parts = sorted(by_part, key=lambda part: -by_part[part])
    return {
        "checks": sum(by_part.values()),
        "work": unseen_of(shown),
        "parts": [{"say": says[part], "checks": by_part[part]} for part in parts],
    }


def _look(one: Evaluation) -> LookTold | None:
    """The look that brings most for its minutes; None when nothing is left to look at."""
    looks = [look for look in one.next_checks if look.gain > 0]
    if not looks:
        return None
    best = max(looks, key=_per_minute)
    check = one.rubric.checks[best.check]
    return {"check": best.check, "ask": check.ask, "minutes": best.minutes, "why": best.why}


def _per_minute(look: NextCheck) -> float:
    return look.gain / max(look.minutes, 0.5)


def _look_next(found: Comparison, candidates: Sequence[Candidate], entrants: Sequence[Entrant]) -> LookNext | None:
    """The look at one part of the first two that is likeliest, by the minute, to change which of them is ahead."""
    if not found.looks:
        return None
    look: Look = found.looks[0]
    parts = {part.part: part.say for part in entrants[look.candidate].result.parts}
    return {
        "name": candidates[look.candidate].name,
        "place": look.candidate,
        "part": look.part,
        "say": parts[look.part],
        "checks": list(look.checks),
        "minutes": round(look.minutes, 2),
        "chance": round(look.chance, 4),
    }


def _standards_note(rows: Sequence[CandidateTold]) -> list[str]:
    """A sentence where the scores do not answer to one standard."""
    tiers = list(dict.fromkeys(row["tier"] for row in rows))
    if len(tiers) < 2:
        return []
    return [f"They are held to different standards ({', '.join(tiers)}), so their scores do not mean the same."]


def _left_note(rows: Sequence[CandidateTold]) -> list[str]:
    """A sentence on the ones that ought to be left and yet stand before one that need not be."""
    left = [row["verdict"]["advice"] == "walk_away" for row in rows]
    names = [f"“{row['name']}”" for at, row in enumerate(rows) if left[at] and not all(left[at:])]
    if not names:
        return []
    told = f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
    verb, its, them = ("stand", "their", "them") if len(names) > 1 else ("stands", "its", "it")
    return [f"{told} {verb} where cost and quality alone put {them}; at {its} price, leave {them}."]


def _first_sentence(rows: Sequence[CandidateTold], *, unsettled: bool) -> str:
    """Who comes first, and whether that is worth anything: one that ought to be left is never praised."""
    sound = [row for row in rows if row["verdict"]["advice"] != "walk_away"]
    if not sound:
        return "None of them is worth buying at the price that is asked."
    first, ahead = rows[0], sound[0]
    name = f"“{first['name']}”"
    if first is not ahead:
        return f"{name} is ahead on paper, but should be left at its price. Of the rest “{ahead['name']}” is first."
    second = sound[1] if len(sound) > 1 else None
    if second is not None and first["first_share"] - second["first_share"] < CLOSE:
        why = "what counts most for you, and on what is still to be seen" if unsettled else "what counts most for you"
        return f"It is close between {name} and “{second['name']}”: it hangs on {why}."
    if first["first_share"] < SETTLED:
        text = f"{name} comes first more often than the others, in {first['first_share']:.0%} of cases."
    else:
        text = f"{name} comes first, whatever counts most for you."
    return f"So far, {text} Look further before you decide." if unsettled else text
