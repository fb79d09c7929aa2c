"""Decisions over evaluations as plain JSON values: candidates side by side, and what a shop can give for one.

Beside `snapshot`: pages, papers and `--json` draw these from here. Figures are rounded for reading, sentences are in.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from .assessment.model import NextCheck
from .basis.message import Message, Messages, problem
from .basis.problem import Problem
from .basis.show import money
from .evaluation import Evaluation
from .rubric.shop import Shop
from .valuation.compare import Candidate, Comparison, Row, compare
from .valuation.trade_in import OPINION, Answers, Materials, Offer, TradeIn, before_any_figure, trade_in

FORMAT = 1
SETTLED = 0.95  # of the views: from here no single look is likely to change who is first
CLOSE = 0.2  # of the views, between first and second
STILL_IN_IT = 0.05  # of the views: below this a candidate is not worth another look
ASKED_OF_MATERIALS = ("restricted_materials_papers", "bow_material_restrictions")
FREE = ("none", "free")  # their outcomes that say that nothing protected is on it

MESSAGES: Messages = {
    "decision.ready_value": Message(
        "nothing says what it would be marked at when ready.",
        "Give the shop's own price with --ticket, or a ready value in the evaluation.",
    ),
}


def candidates_of(evaluations: Sequence[tuple[str, Evaluation]]) -> tuple[Candidate, ...]:
    """Each evaluation under a name that no other candidate has; an empty name is numbered."""
    found: list[Candidate] = []
    for number, (name, one) in enumerate(evaluations, 1):
        plain = name.strip() or f"Candidate {number}"
        used = {other.name for other in found}
        free = (plain, *(f"{plain} ({again})" for again in range(2, len(found) + 3)))
        only = next(text for text in free if text not in used)
        found.append(Candidate(only, one.rubric, one.case, one.assessment, one.estimate, one.verdict))
    return tuple(found)


def comparison_json(
    evaluations: Sequence[tuple[str, Evaluation]], shop: Shop, seed: int = 1, *, count_set_up_more: bool = False
) -> dict[str, Any] | tuple[Problem, ...]:
    """Two to six named evaluations side by side, the most often first at the top, or what keeps them apart.

    `candidates[].place` is the candidate's number, counted from 0, among those that were given.
    """
    candidates = candidates_of(evaluations)
    found = compare(candidates, shop, seed, count_set_up_more=count_set_up_more)
    if not isinstance(found, Comparison):
        return found
    place = {one.name: number for number, one in enumerate(candidates)}
    rows = [_candidate(row, place[row.name], evaluations[place[row.name]][1]) for row in found.rows]
    rivals = _rivals(rows)
    return {
        "format": FORMAT,
        "currency": found.currency,
        "seed": seed,
        "shop": {"name": shop.shop, "is_default": shop.is_default},
        "sentence": _first_sentence(found.rows, unsettled=bool(rivals)),
        "unsettled": bool(rivals),
        "notes": [*_standards_note(rows), *([found.note] if found.note else [])],
        "candidates": rows,
        "look_next": _look_next(rows, rivals),
        "opinion": OPINION,
    }


def _range(value: Any) -> dict[str, float]:
    return {"expected": round(value.expected, 2), "low": round(value.low, 2), "high": round(value.high, 2)}


def _candidate(row: Row, place: int, one: Evaluation) -> dict[str, Any]:
    verdict, work = one.verdict, one.estimate
    return {
        "place": place,
        "name": row.name,
        "size": one.case.instrument.size,
        "tier": one.case.instrument.tier,
        "family": one.rubric.family,
        "asking": round(row.asking, 2),
        "work": round(work.with_extras_mean, 2),
        "cost_to_own": round(row.cost_to_own, 2),
        "cost_to_own_p80": round(row.cost_to_own_p80, 2),
        "counted_cost": round(row.counted_cost, 2),
        "score": _range(row.score),
        "score_after_work": _range(row.score_after),
        "verdict": {
            "advice": verdict.advice,
            "sentence": verdict.sentence,
            "ready_value": None if verdict.ready_value is None else float(verdict.ready_value.amount),
            "ready_value_from": verdict.ready_value_from,
            "walk_away_price": _rounded(verdict.walk_away_price),
            "target_price": _rounded(verdict.target_price),
            "probability_worth_it": _rounded(verdict.probability_worth_it, 4),
            "stopped_by": list(verdict.stopped_by),
        },
        "first_share": round(row.first_share, 4),
        "coverage": round(row.coverage, 4),
        "unknown": _unknown(row, one),
        "next_look": _look(one),
    }


def _rounded(value: float | None, digits: int = 2) -> float | None:
    return None if value is None else round(value, digits)


def _unknown(row: Row, one: Evaluation) -> dict[str, Any]:
    """The checks that nobody looked at: how many, what they could add in work, and the parts where they are."""
    checks = one.rubric.checks
    by_part: dict[str, int] = {}
    for name in row.not_seen:
        by_part[checks[name].part] = by_part.get(checks[name].part, 0) + 1
    parts = sorted(by_part, key=lambda part: -by_part[part])
    return {
        "checks": len(row.not_seen),
        "work": round(one.estimate.unseen_mean, 2),
        "parts": [{"say": one.rubric.parts[part].say, "checks": by_part[part]} for part in parts],
    }


def _look(one: Evaluation) -> dict[str, Any] | None:
    """The look that brings most for its minutes; None when nothing is left to look at."""
    looks = [look for look in one.next_checks if look.gain > 0]
    if not looks:
        return None
    best = max(looks, key=_per_minute)
    check = one.rubric.checks[best.check]
    return {"check": best.check, "ask": check.ask, "minutes": best.minutes, "why": best.why}


def _per_minute(look: NextCheck) -> float:
    return look.gain / max(look.minutes, 0.5)


def _rivals(rows: Sequence[Mapping[str, Any]]) -> list[str]:
    """Those behind the first that could still be both better and cheaper than it, by what is not yet known."""
    first, *others = rows
    dearest = first["cost_to_own"] + first["unknown"]["work"]
    lowest = first["score_after_work"]["low"]
    return [
        row["name"]
        for row in others
        if row["verdict"]["advice"] != "walk_away"
        and row["cost_to_own"] < dearest
        and row["score_after_work"]["high"] > lowest
    ]


def _look_next(rows: Sequence[Mapping[str, Any]], rivals: Sequence[str]) -> dict[str, Any] | None:
    """The shortest of the next looks at those that may still come first; None where the order is settled."""
    if rows[0]["first_share"] >= SETTLED and not rivals:
        return None
    within = [row for row in rows if row["next_look"] and (row["first_share"] >= STILL_IN_IT or row["name"] in rivals)]
    if not within:
        return None
    row = min(within, key=lambda one: one["next_look"]["minutes"])
    return {"name": row["name"], "place": row["place"], **row["next_look"]}


def _standards_note(rows: Sequence[Mapping[str, Any]]) -> list[str]:
    """A sentence where the scores do not answer to one standard."""
    tiers = list(dict.fromkeys(row["tier"] for row in rows))
    if len(tiers) < 2:
        return []
    return [f"They are held to different standards ({', '.join(tiers)}), so their scores do not mean the same."]


def _first_sentence(rows: Sequence[Row], *, unsettled: bool) -> str:
    """Who comes first, and whether that is worth anything: one that ought to be left is never praised."""
    sound = [row for row in rows if row.advice != "walk_away"]
    if not sound:
        return "None of them is worth buying at the price that is asked."
    first, second = rows[0], rows[1]
    name = f"“{first.name}”"
    if first is not sound[0]:
        return f"{name} is ahead on paper, but should be left at its price. Of the rest “{sound[0].name}” is first."
    if second in sound and first.first_share - second.first_share < CLOSE:
        return f"It is close between {name} and “{second.name}”: it hangs on what counts most for you."
    if first.first_share < SETTLED:
        text = f"{name} comes first in {first.first_share:.0%} of the ways of weighing quality and price."
    else:
        text = f"{name} comes first, whatever counts most for you."
    if unsettled:
        return f"So far, {text} Look further before you decide."
    return text


# Trade-in


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted of a trade-in: the answers given first, the price of what is bought, the ticket when ready."""

    answers: Answers
    new_price: float = 0.0
    ticket: float | None = None


def materials_seen(one: Evaluation) -> Materials:
    """What the evaluation itself says of protected materials, from looks in person; 'unknown' where it says nothing."""
    for name in ASKED_OF_MATERIALS:
        for seen in one.case.observations.get(name, ()):
            outcome = one.rubric.checks[name].outcomes.get(seen.outcome or "")
            if outcome is None or seen.seen_by != "in_person":
                continue
            if seen.outcome in FREE:
                return "none"
            if outcome.class_ == "disqualifying":
                return "not_allowed"
            return "allowed" if outcome.class_ in {"sound", "acceptable"} else "unknown"
    return "unknown"


def trade_in_json(one: Evaluation, asked: Asked) -> dict[str, Any] | tuple[Problem, ...]:
    """The ways out for the owner side by side, or what must be settled before any figure is named."""
    wrong = list(before_any_figure(asked.answers))
    ticket, source = _ticket(one, asked)
    if ticket is None and not wrong:
        wrong.append(problem(MESSAGES, "decision.ready_value", "trade-in"))
    if wrong or ticket is None:
        return tuple(wrong)
    found = trade_in(one.estimate, ticket, one.shop, asked.new_price)
    kinds = {offer.kind: offer for offer in found.offers}
    return {
        "format": FORMAT,
        "title": one.case.title,
        "family": one.rubric.title,
        "size": one.case.instrument.size,
        "about": one.case.instrument.about,
        "currency": found.currency,
        "shop": {"name": one.shop.shop, "is_default": one.shop.is_default},
        "materials": asked.answers.materials,
        "ticket_price": round(ticket, 2),
        "ticket_price_from": source,
        "new_price": round(asked.new_price, 2),
        "sale_price": round(found.sale_price, 2),
        "making_ready": round(found.making_ready, 2),
        "work": round(one.estimate.mean, 2),
        "not_known": round(max(0.0, one.estimate.with_extras_mean - one.estimate.mean), 2),
        "chance_of_sale": one.shop.buying.chance_of_sale,
        "terms": one.shop.buying.model_dump(),
        "offers": [_offer(offer) for offer in found.offers],
        "profits_shop_most": found.profits_shop_most,
        "nothing_left": kinds["cash"].to_owner <= 0,
        "disqualifying": [item.say for item in one.assessment.disqualifying],
        "opinion": found.opinion,
        "sentence": _offer_sentence(found),
        "shop_sentence": _shop_sentence(found),
    }


def _ticket(one: Evaluation, asked: Asked) -> tuple[float | None, str | None]:
    """What it would be marked at when ready: as given, else the ready value of the evaluation in the shop's money."""
    if asked.ticket is not None:
        return asked.ticket, "the shop's own figure"
    ready = one.verdict.ready_value
    if ready is None or ready.currency != one.shop.currency:
        return None, None
    return float(ready.amount), one.verdict.ready_value_from


Kind = Literal["cash", "trade", "consignment", "alone"]
OFFER_TITLES: Mapping[Kind, str] = {
    "cash": "Cash today",
    "trade": "Against the next instrument",
    "consignment": "The shop sells it for you",
    "alone": "You sell it yourself",
}
OFFER_TERMS: Mapping[Kind, str] = {
    "cash": "outright purchase",
    "trade": "trade-in allowance",
    "consignment": "consignment",
    "alone": "private sale",
}


def _offer(offer: Offer) -> dict[str, Any]:
    return {
        "kind": offer.kind,
        "title": OFFER_TITLES[offer.kind],
        "term": OFFER_TERMS[offer.kind],
        "to_owner": round(offer.to_owner, 2),
        "expected": round(offer.expected, 2),
        "shop_earns": round(offer.shop_earns, 2),
        "say": offer.say,
    }


def _offer_sentence(found: TradeIn) -> str:
    """What the shop can give, in one sentence."""
    offers = {offer.kind: offer for offer in found.offers}
    cash = round(offers["cash"].to_owner)
    if cash <= 0:
        return "No cash offer: making it ready would cost the shop more than it brings."
    text = f"{money(cash, found.currency)} in cash today"
    if "trade" in offers:
        text += f", or {money(round(offers['trade'].to_owner), found.currency)} against the next instrument"
    return f"{text}."


def _shop_sentence(found: TradeIn) -> str:
    """Which way profits the shop most, said openly."""
    most = max(found.offers, key=lambda offer: offer.shop_earns)
    if most.shop_earns <= 0:
        return "The shop earns nothing on any of these."
    title = OFFER_TITLES[most.kind]
    new = " (what it earns on the next instrument is counted in)" if most.kind == "trade" else ""
    return f"The shop earns most with this one: {title[:1].lower()}{title[1:]}{new}."
