"""Several candidates as plain JSON values with their sentences: pages, papers and `--json` draw these.

Figures are rounded for reading.
"""

from collections.abc import Iterator, Sequence
from dataclasses import asdict

from ...assessment.model import NextCheck
from ...basis.problem import Problem
from ...basis.record import with_amounts
from ...choosing.entrants import Entrant, dear_work_of, stays_of, unseen_of, work_of, worst_of
from ...choosing.side_by_side import Ahead, SideBySide, first_of, left_before, side_by_side
from ...choosing.told import (
    CandidateTold,
    ComparisonTold,
    LookNext,
    LookTold,
    PartUnseen,
    ShopTold,
    SpanTold,
    Unseen,
    VerdictTold,
)
from ...result.evaluation import Evaluation
from ...result.model.decision import Reason
from ...result.model.result import Result
from ...result.model.score import Score
from ...rubric.shop import Shop
from ...valuation.model import Fact
from ..answer.headline import subject
from ..answer.source import source_words
from ..answer.verdict import words_of
from ..names import OPINION

FORMAT = 2  # 1: money as plain numbers

# Who comes first.
AHEAD: dict[Ahead, str] = {
    Ahead.NONE: "None of them is worth buying at the price that is asked.",
    Ahead.TO_BE_LEFT: "“{first}” is ahead on paper, but should be left at its price. Of the rest “{other}” is first.",
    Ahead.CLOSE: "It is close between “{first}” and “{other}”: it hangs on {why}.",
    Ahead.OFTENER: "“{first}” comes first more often than the others, in {share:.0%} of cases.",
    Ahead.ALWAYS: "“{first}” comes first, whatever counts most for you.",
}
SO_FAR: dict[Ahead, str] = {
    Ahead.OFTENER: "So far, “{first}” comes first more often than the others, in {share:.0%} of cases. "
    "Look further before you decide.",
    Ahead.ALWAYS: "So far, “{first}” comes first, whatever counts most for you. Look further before you decide.",
}
HANGS_ON: dict[bool, str] = {
    False: "what counts most for you",
    True: "what counts most for you, and on what is still to be seen",
}
SOUNDS_POOR = "It sounds poor"
NOTES: dict[str, str] = {
    "standards": "They are held to different standards ({tiers}), so their scores do not mean the same.",
    "one_left": "{names} stands where cost and quality alone put it; at its price, leave it.",
    "left": "{names} stand where cost and quality alone put them; at their price, leave them.",
    "set_up": "Money spent on set-up counts {times:g} times here: common practice, no source, a setting of the shop.",
}


def comparison_json(
    entrants: Sequence[Entrant], shop: Shop, seed: int = 1, *, count_set_up_more: bool = True
) -> ComparisonTold | tuple[Problem, ...]:
    """Two to six named evaluations side by side, the most often first at the top, or what keeps them apart.

    `candidates[].place` is the candidate's number, counted from 0, among those that were given.
    """
    compared = side_by_side(entrants, shop, seed, count_set_up_more=count_set_up_more)
    if isinstance(compared, tuple):
        return compared
    return ComparisonTold(
        format=FORMAT,
        currency=compared.candidates[0].currency,
        seed=seed,
        shop=ShopTold(name=shop.shop, is_default=shop.is_default, borrowed=shop.borrowed),
        sentence=sentence_of(compared),
        unsettled=compared.unsettled,
        notes=tuple(_notes(compared)),
        candidates=tuple(_row(place, compared) for place in compared.found.order),
        look_next=_look_next(compared),
        opinion=OPINION,
    )


MONEY = frozenset(
    {"asking", "work", "cost_to_own", "cost_to_own_p80", "counted_cost", "offer", "ceiling", "ready_value"}
)


def comparison_told(found: ComparisonTold) -> dict[str, object]:
    """A comparison for other programs: its money as text with the currency."""
    return with_amounts(asdict(found), MONEY, found.currency)


def sentence_of(compared: SideBySide) -> str:
    """Who comes first, and whether that is worth anything."""
    found = first_of(compared)
    names = [one.name for one in compared.candidates]
    table = SO_FAR if compared.unsettled and found.ahead in SO_FAR else AHEAD
    return table[found.ahead].format(
        first=names[found.first],
        other="" if found.other is None else names[found.other],
        share=round(found.share, 4),
        why=HANGS_ON[compared.unsettled],
    )


def _notes(compared: SideBySide) -> Iterator[str]:
    """What else must be known of the comparison."""
    in_order = [compared.entrants[place] for place in compared.found.order]
    tiers = list(dict.fromkeys(one.result.instrument.tier for one in in_order))
    if len(tiers) > 1:
        yield NOTES["standards"].format(tiers=", ".join(tiers))
    left = [f"“{compared.candidates[place].name}”" for place in left_before(compared)]
    if left:
        names = f"{', '.join(left[:-1])} and {left[-1]}" if len(left) > 1 else left[0]
        yield NOTES["left" if len(left) > 1 else "one_left"].format(names=names)
    if compared.found.set_up_counts != 1.0:
        yield NOTES["set_up"].format(times=compared.found.set_up_counts)


def _row(place: int, compared: SideBySide) -> CandidateTold:
    candidate, one, found = compared.candidates[place], compared.entrants[place], compared.found
    shown, worst = one.result, worst_of(one.result)
    asking, work = candidate.asking or 0.0, work_of(shown)
    return CandidateTold(
        place=place,
        name=candidate.name,
        size=shown.instrument.size,
        tier=shown.instrument.tier,
        family=candidate.family,
        asking=round(asking, 2),
        work=round(work, 2),
        cost_to_own=round(candidate.cost_to_own, 2),
        cost_to_own_p80=round(asking + dear_work_of(shown), 2),
        counted_cost=round(found.counted_costs[place], 2),
        score=_span(shown.score),
        score_after_work=_span(shown.score_after_work),
        verdict=_verdict(shown),
        first_share=round(found.first_shares[place], 4),
        coverage=shown.coverage,
        worst=None if worst is None else _said(shown, worst),
        stays=tuple(dict.fromkeys(_said(shown, one) for one in stays_of(shown))),
        unknown=_unknown(shown),
        next_look=None if one.evaluation is None else _look(one.evaluation),
    )


def _verdict(shown: Result) -> VerdictTold:
    verdict = shown.verdict
    ready = verdict.ready_value
    return VerdictTold(
        advice=verdict.advice,
        sentence=words_of(shown).sentence,
        ready_value_from=source_words(shown),
        offer=verdict.offer,
        ceiling=verdict.ceiling,
        probability_worth_it=verdict.probability_worth_it,
        ready_value=float(ready.amount) if ready else None,
        stopped_by=verdict.stopped_by,
    )


def _said(shown: Result, reason: Reason) -> str:
    """What a reason is about, in words."""
    return SOUNDS_POOR if reason.fact is Fact.SOUNDS_BAD else subject(shown, reason)


def _span(span: Score) -> SpanTold:
    return SpanTold(expected=span.expected, low=span.low, high=span.high)


def _unknown(shown: Result) -> Unseen:
    """The checks that nobody looked at: how many, what they could add in work, and the parts where they are."""
    by_part: dict[str, int] = {}
    for check in shown.checks:
        if not check.seen:
            by_part[check.part] = by_part.get(check.part, 0) + 1
    says = {part.part: part.say for part in shown.parts}
    parts = sorted(by_part, key=lambda part: -by_part[part])
    return Unseen(
        checks=sum(by_part.values()),
        work=unseen_of(shown),
        parts=tuple(PartUnseen(say=says[part], checks=by_part[part]) for part in parts),
    )


def _look(one: Evaluation) -> LookTold | None:
    """The look that brings most for its minutes; None when nothing is left to look at."""
    looks = [look for look in one.next_checks if look.gain > 0]
    if not looks:
        return None
    best = max(looks, key=_per_minute)
    check = one.rubric.checks[best.check]
    return LookTold(check=best.check, ask=check.ask, minutes=best.minutes, why=best.why)


def _per_minute(look: NextCheck) -> float:
    return look.gain / max(look.minutes, 0.5)


def _look_next(compared: SideBySide) -> LookNext | None:
    """The look at one part of the first two that is likeliest, by the minute, to change which of them is ahead."""
    look = compared.look
    if look is None:
        return None
    parts = {part.part: part.say for part in compared.entrants[look.candidate].result.parts}
    return LookNext(
        name=compared.candidates[look.candidate].name,
        place=look.candidate,
        part=look.part,
        say=parts[look.part],
        checks=look.checks,
        minutes=round(look.minutes, 2),
        chance=round(look.chance, 4),
    )
