"""Candidates side by side as plain JSON values, from their results: a finished one keeps the figures it was shown by.

The draws of a draft come from its evaluation. A finished one has none any more: its draws are made anew from the ranges
that its result holds, and no look at it is proposed, since it cannot change.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from zlib import crc32

import numpy as np

from ..assessment.looking.information import can_look, open_checks
from ..assessment.model import NextCheck
from ..basis.amounts import with_amounts
from ..basis.chance import generator
from ..basis.problem import Problem
from ..result.evaluation import Evaluation
from ..result.making.result import result_of
from ..result.model.decision import Verdict
from ..result.model.result import Result
from ..result.model.score import Score
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..valuation.deciding.stops import stopped_worlds
from .candidates import Bools, Candidate, Comparison, Floats, Look, OpenGroup, compare, wrong_candidates
from .one_of_them import dear_work_of, stays_of, unpriced, unseen_of, work_of, worst_of
from .told import CandidateTold, ComparisonTold, LookNext, LookTold, SpanTold, Unseen, VerdictTold
from .trade_in import OPINION

FORMAT = 2  # 1: money as plain numbers
SETTLED = 0.95  # of the draws: from here nothing is likely to change who is first
CLOSE = 0.2  # of the draws, between first and second
WORTH_A_LOOK = 0.1  # chance that a look turns the order, from which the order counts as not settled
DRAWS = 4000
Z_90, Z_80 = 3.29, 0.8416  # standard deviations across the middle 90 %, and up to the 80 % level


@dataclass(frozen=True, slots=True)
class Entrant:
    """What is compared: a name, the result with its figures, and for a draft the evaluation that it came from."""

    name: str
    result: Result
    rubric: Rubric
    evaluation: Evaluation | None = None


def entrant_of(name: str, evaluation: Evaluation) -> Entrant:
    return Entrant(name, result_of(evaluation), evaluation.rubric, evaluation)


def comparison_json(
    entrants: Sequence[Entrant], shop: Shop, seed: int = 1, *, count_set_up_more: bool = True
) -> ComparisonTold | tuple[Problem, ...]:
    """Two to six named evaluations side by side, the most often first at the top, or what keeps them apart.

    `candidates[].place` is the candidate's number, counted from 0, among those that were given.
    """
    candidates = [_candidate(name, one) for name, one in zip(names_of(entrants), entrants, strict=True)]
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


def names_of(entrants: Sequence[Entrant]) -> list[str]:
    """A name for each that no other has; an empty name is numbered."""
    used: list[str] = []
    for number, one in enumerate(entrants, 1):
        plain = one.name.strip() or f"Candidate {number}"
        free = (plain, *(f"{plain} ({again})" for again in range(2, len(used) + 3)))
        used.append(next(text for text in free if text not in used))
    return used


def _candidate(name: str, one: Entrant) -> Candidate:
    shown, verdict = one.result, one.result.verdict
    asking = verdict.asking
    amount = float(asking.amount) if asking else None
    tier = shown.instrument.tier
    spent, off, barred = _drawn(one) if one.evaluation is None else _worlds(one.evaluation)
    if unpriced(verdict):
        barred = np.ones_like(barred)
    return Candidate(
        name=name,
        family=shown.instrument.family,
        currency=shown.plan.currency,
        asking=amount,
        asking_currency=asking.currency if asking else None,
        cost_to_own=(amount or 0.0) + work_of(shown),
        set_up=shown.plan.set_up_mean or 0.0,
        domains={domain: value.after_work.expected for domain, value in shown.domains.items()},
        shares={str(domain): share for domain, share in one.rubric.domain_shares.get(tier, {}).items()},
        work=spent,
        off=off,
        barred=barred,
        to_be_left=verdict.advice == "walk_away",
        open_groups=() if one.evaluation is None else _open_groups(one.evaluation),
    )


def _worlds(one: Evaluation) -> tuple[Floats, Floats, Bools]:
    """(price of the work and of what nobody looked at, score after it less the expected one, stopped) by world."""
    found = one.assessment
    off = found.worlds.score_after - found.score_after.expected
    return one.weighed.spent, off, stopped_worlds(one.rubric, one.case, found)


def _drawn(one: Entrant) -> tuple[Floats, Floats, Bools]:
    """The same, drawn from the ranges of a kept result: a bell for score and price, and what was not looked at as
    a sum that is mostly small and now and then large.
    """
    shown = one.result
    after, price, dear = shown.score_after_work, work_of(shown), dear_work_of(shown)
    stops: dict[str, float] = {}
    for finding in shown.disqualifying:
        stops[finding.check] = stops.get(finding.check, 0.0) + finding.probability
    unseen = unseen_of(shown)
    figures = (after.expected or 0.0, after.low, after.high, price, dear, unseen, *stops.values())
    random = generator(crc32(repr(figures).encode()))
    off = random.standard_normal(DRAWS) * (after.high - after.low) / Z_90
    spread = max(0.0, dear - price) / Z_80
    work = np.maximum(0.0, price + random.standard_normal(DRAWS) * spread)
    work = work + unseen * random.standard_exponential(DRAWS)
    barred = random.random(DRAWS) < 1.0 - prod(1.0 - min(1.0, chance) for chance in stops.values())
    return work, off, barred


def _open_groups(one: Evaluation) -> tuple[OpenGroup, ...]:
    """The checks that this person could still look at, by part."""
    by_part: dict[str, list[str]] = {}
    for name in open_checks(one.rubric, one.assessment):
        check = one.rubric.checks[name]
        if can_look(check, one.case.looker, one.case.seen_by):
            by_part.setdefault(check.part, []).append(name)
    worlds = one.assessment.worlds
    place = {name: i for i, name in enumerate(worlds.checks)}
    groups = []
    for part, names in by_part.items():
        columns = [
            (worlds.outcome[:, place[name]] == index).astype(float)
            for name in names
            for index in range(1, len(one.rubric.checks[name].outcomes))
        ]
        minutes = sum(one.rubric.checks[name].minutes for name in names)
        groups.append(OpenGroup(part, tuple(names), minutes, np.column_stack(columns)))
    return tuple(groups)


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
