"""What a shop can give for an instrument as plain JSON values, from its result: a finished one keeps its figures.

Pages, papers and `--json` draw these from here. Figures are rounded for reading, sentences are in. The shop's own terms
are today's: an offer is made today.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, log

from ..assessment.model import Case
from ..basis.amounts import with_amounts
from ..basis.message import Message, Messages, problem
from ..basis.problem import Problem
from ..basis.show import money
from ..result.model.result import Result
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .one_of_them import titled, unseen_of
from .told import CashStep, Months, OfferTold, TradeInTold
from .trade_in import OPINION, Answers, Kind, Materials, Offer, TradeIn, Work, before_any_figure, said, trade_in

FORMAT = 2  # 1: money as plain numbers
ASKED_OF_MATERIALS = ("restricted_materials_papers", "bow_material_restrictions")
FREE = ("none", "free")  # their outcomes that say that nothing protected is on it

MESSAGES: Messages = {
    "decision.ready_value": Message(
        "nothing says what it would be marked at when ready.",
        "Enter the shop's own price for it, ready (--ticket), or a ready value in the evaluation.",
    ),
    "decision.old_figures": Message(
        "it was finished before the prices of parts were kept, so the shop's own cost cannot be told.",
        "Look at it again, and make the offer from the new evaluation.",
    ),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted of a trade-in: the answers given first, the price of what is bought, the ticket when ready."""

    answers: Answers
    new_price: float = 0.0
    ticket: float | None = None


def materials_seen(rubric: Rubric, case: Case) -> Materials:
    """What was seen of protected materials, from looks in person; 'unknown' where nothing says it."""
    for name in ASKED_OF_MATERIALS:
        for seen in case.observations.get(name, ()):
            outcome = rubric.checks[name].outcomes.get(seen.outcome or "")
            if outcome is None or seen.seen_by != "in_person":
                continue
            if seen.outcome in FREE:
                return "none"
            if outcome.class_ == "disqualifying":
                return "not_allowed"
            return "allowed" if outcome.class_ in {"sound", "acceptable"} else "unknown"
    return "unknown"


def trade_in_json(shown: Result, shop: Shop, asked: Asked) -> TradeInTold | tuple[Problem, ...]:
    """The ways out for the owner side by side, or what must be settled before any figure is named."""
    wrong = list(before_any_figure(asked.answers))
    work = work_of(shown)
    ticket, source = _ticket(shown, shop, asked)
    if not wrong and ticket is None:
        wrong.append(problem(MESSAGES, "decision.ready_value", "trade-in"))
    if not wrong and work is None:
        wrong.append(problem(MESSAGES, "decision.old_figures", "trade-in"))
    if wrong or ticket is None or work is None:
        return tuple(wrong)
    exact = trade_in(work, ticket, shop, asked.new_price, private_share_of(shown, shop))
    found = said(exact, shop.buying)
    kinds = {offer.kind: offer for offer in found.offers}
    return {
        "format": FORMAT,
        "title": shown.title,
        "family": shown.rubric.title,
        "size": shown.instrument.size,
        "about": shown.instrument.about,
        "currency": found.currency,
        "shop": {"name": shop.shop, "is_default": shop.is_default, "borrowed": list(shop.borrowed)},
        "materials": asked.answers.materials,
        "ticket_price": round(ticket, 2),
        "ticket_price_from": source,
        "new_price": round(asked.new_price, 2),
        "sale_price": round(found.sale_price, 2),
        "making_ready": round(found.making_ready, 2),
        "work": round(work.price, 2),
        "not_seen": round(work.not_seen, 2),
        "seen": shown.verdict.seen,
        "months_to_sell": months_of(shown, shop),
        "chance_of_sale": shop.buying.chance_of_sale,
        "terms": shop.buying.model_dump(),
        "offers": [_offer(offer) for offer in found.offers],
        "cash_steps": _cash_steps(found, shop),
        "profits_shop_most": found.profits_shop_most,
        "nothing_left": kinds["cash"].to_owner <= 0,
        "disqualifying": [titled(item) for item in shown.disqualifying if item.seen and item.level != "possible"],
        "opinion": OPINION,
        "sentence": _offer_sentence(found),
        "shop_sentence": _shop_sentence(found),
    }


MONEY = frozenset(
    {"ticket_price", "new_price", "sale_price", "making_ready", "work", "not_seen", "to_owner", "expected",
     "shop_earns", "amount", "bench_cost_per_hour"}
)  # fmt: skip


def trade_in_told(found: TradeInTold) -> dict[str, object]:
    """A trade-in for other programs: its money as text with the currency."""
    return with_amounts(found, MONEY, found["currency"])


def work_of(shown: Result) -> Work | None:
    """Hours, parts and price of the plan that a result holds; None where it keeps no prices of parts."""
    plan = shown.plan
    if plan.parts_likely is None:
        return None
    not_seen = max(0.0, shown.with_possible_extras.mean - plan.mean) + unseen_of(shown)
    return Work(sum(line.hours_likely for line in plan.lines), plan.parts_likely, plan.mean, not_seen)


def private_share_of(shown: Result, shop: Shop) -> float | None:
    """What one like it brings without a shop, over the classes that it may be of; None where the guide has no such."""
    private, shares = shop.guide.private_share, shown.making.shares
    if not shares or any(name not in private for name in shares):
        return None
    return exp(sum(share * log(private[name].likely) for name, share in shares.items()))


def months_of(shown: Result, shop: Shop) -> Months | None:
    """How many months such an instrument takes to sell; None where the guide does not say."""
    usual = shop.guide.months_to_sell.get(shown.making.likeliest or "")
    return None if usual is None else {"low": usual.low, "high": usual.high}


def _ticket(shown: Result, shop: Shop, asked: Asked) -> tuple[float | None, str | None]:
    """What it would be marked at when ready: as given, else the ready value of the evaluation in the shop's money."""
    if asked.ticket is not None:
        return asked.ticket, "the shop's own figure"
    ready = shown.verdict.ready_value
    if ready is None or ready.currency != shop.currency:
        return None, None
    return float(ready.amount), _told_by_the_shop(shown.verdict.ready_value_from)


def _told_by_the_shop(source: str | None) -> str:
    """The source of a value as a shop writes it to an owner, to whom "your own" would mean the owner's."""
    return (source or "").split("; they go before", maxsplit=1)[0].replace("your own", "the shop's own")


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


def _offer(offer: Offer) -> OfferTold:
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
    trade = round(offers["trade"].to_owner) if "trade" in offers else 0
    if cash <= 0:
        if trade > 0:
            return f"No cash offer, but {money(trade, found.currency)} against the next instrument."
        if found.making_ready >= found.sale_price:
            return "No cash offer: making it ready would cost the shop more than it brings."
        return "No cash offer: making it ready and the shop's margin take all that it would bring."
    text = f"{money(cash, found.currency)} in cash today"
    if trade > 0:
        text += f", or {money(trade, found.currency)} against the next instrument"
    return f"{text}."


def _cash_steps(found: TradeIn, shop: Shop) -> list[CashStep]:
    """From the sale price down to the cash, and up again to what is allowed in trade, in whole units that add up.

    What keeping it until it sells costs is the rest, with what is rounded off as one says a price, so that the lines
    come to their sum.
    Where nothing is left the steps end at what is missing.
    """
    offers = {offer.kind: round(offer.to_owner) for offer in found.offers}
    sale, ready = round(found.sale_price), round(found.making_ready)
    margin = round(found.sale_price * shop.buying.margin)
    left = sale - margin - ready
    steps = [
        _step("Sells for about", sale),
        _step(f"The shop's margin, {shop.buying.margin * 100:.0f} of 100", -margin),
        *([_step("Making it ready", -ready)] if ready else []),
    ]
    if offers["cash"] <= 0:
        return [*steps, _step("What is left", left, is_sum=True)]
    if left != offers["cash"]:
        steps.append(_step("Keeping it until it sells, and rounding", offers["cash"] - left))
    steps.append(_step("In cash today", offers["cash"], is_sum=True))
    if "trade" in offers:
        steps.append(_step("Part of the margin on the next instrument", offers["trade"] - offers["cash"]))
        steps.append(_step("Against the next instrument", offers["trade"], is_sum=True))
    return steps


def _step(say: str, amount: float, is_sum: bool = False) -> CashStep:
    return {"say": say, "amount": amount, "sum": is_sum}


def _shop_sentence(found: TradeIn) -> str:
    """Which way profits the shop most, said openly."""
    most = found.profits_shop_most
    if most is None:
        return "The shop earns nothing on any of these."
    title = OFFER_TITLES[most]
    new = " (what it earns on the next instrument is counted in)" if most == "trade" else ""
    return f"The shop earns most with this one: {title[:1].lower()}{title[1:]}{new}."
