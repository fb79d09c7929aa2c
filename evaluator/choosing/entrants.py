"""What is compared: each candidate by its decision, what it costs beyond its price, the worst of it and what money
does not cure; and what its figures may turn out as.

The draws of a draft come from its evaluation. A finished one has none any more: its draws are made anew from the
ranges that its result holds.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from zlib import crc32

import numpy as np

from ..assessment.looking.information import can_look, open_checks
from ..basis.chance import generator
from ..result.evaluation import Evaluation
from ..result.making.result import result_of
from ..result.model.decision import Reason, Verdict
from ..result.model.result import Result
from ..rubric.rubric import Rubric
from ..valuation.deciding.stops import stopped_worlds
from ..valuation.model import Fact
from .candidates import Bools, Candidate, Floats, OpenGroup

DRAWS = 4000
WORST_FIRST = (Fact.STOPS, Fact.LASTS, Fact.SOUNDS_BAD, Fact.FAULT)
NOT_CURED = (Fact.STOPS, Fact.LASTS, Fact.SOUNDS_BAD)
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


def names_of(entrants: Sequence[Entrant]) -> list[str]:
    """A name for each that no other has; an empty name is numbered."""
    used: list[str] = []
    for number, one in enumerate(entrants, 1):
        plain = one.name.strip() or f"Candidate {number}"
        free = (plain, *(f"{plain} ({again})" for again in range(2, len(used) + 3)))
        used.append(next(text for text in free if text not in used))
    return used


def candidate_of(name: str, one: Entrant) -> Candidate:
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
